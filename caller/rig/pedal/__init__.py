"""The foot pedal: MIDI in, gestures out."""

from caller.rig.pedal.port import PedalReport, pedal_report
from caller.rig.pedal.watch import Pedal, open_pedal

__all__ = ["Pedal", "PedalReport", "open_pedal", "pedal_report"]
