"""A class, running: the one owner of state. Orders in; scores and facts out."""

from caller.session.desk import BeatOut, Desk, Live, Pedal, Preparation, SpeakingVoice, View
from caller.session.running import Session
from caller.session.taught import TaughtProgramme
from caller.session.whole import WholeDance

__all__ = [
    "BeatOut",
    "Desk",
    "Live",
    "Pedal",
    "Preparation",
    "Session",
    "SpeakingVoice",
    "TaughtProgramme",
    "View",
    "WholeDance",
]
