"""A class, running: the one owner of state. Orders in; scores and facts out."""

from caller.session.desk import BeatOut, Desk, Live, Pedal, Preparing, View, Voice
from caller.session.lesson import Lesson
from caller.session.running import Session

__all__ = ["BeatOut", "Desk", "Lesson", "Live", "Pedal", "Preparing", "Session", "View", "Voice"]
