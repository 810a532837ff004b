"""A class, running: the one owner of state. Orders in; scores and facts out."""

from caller.session.desk import BeatOut, Desk, Pedal, Preparing, View, Voice
from caller.session.running import Session

__all__ = ["BeatOut", "Desk", "Pedal", "Preparing", "Session", "View", "Voice"]
