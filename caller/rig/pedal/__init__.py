"""The foot pedal: MIDI in, gestures out."""

from caller.rig.pedal.kept import keep_settings, kept_settings
from caller.rig.pedal.port import PedalReport, pedal_report
from caller.rig.pedal.watch import MidiPedal, open_pedal

__all__ = ["MidiPedal", "PedalReport", "keep_settings", "kept_settings", "open_pedal", "pedal_report"]
