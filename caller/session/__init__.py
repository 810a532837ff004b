"""A class, running: the one owner of state. Orders in; scores and facts out."""

from caller.session.desk import BeatOut, Desk, Live, Pedal, Preparing, View, Voice
from caller.session.running import Session
from caller.session.taught import Taught
from caller.session.whole import WholeDance

__all__ = ["BeatOut", "Desk", "Live", "Pedal", "Preparing", "Session", "Taught", "View", "Voice", "WholeDance"]
