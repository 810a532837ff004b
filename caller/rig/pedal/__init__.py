"""The foot pedal: MIDI in, gestures out."""

from caller.rig.pedal.kept import keep_settings, kept_settings
from caller.rig.pedal.port import PedalReport, pedal_report
from caller.rig.pedal.watch import Pedal, open_pedal

__all__ = ["Pedal", "PedalReport", "keep_settings", "kept_settings", "open_pedal", "pedal_report"]
