"""A class that runs without a sound card, speech or a pedal, for measuring the screen alone: its speaker goes by the
clock, its voice is of known lengths."""

from __future__ import annotations

import time
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

from caller.dance.unroll import unroll
from caller.rig.pedal import open_pedal
from caller.rig.speaker import SilentSpeaker
from caller.routine.notation.read import read_bytes
from caller.session import Desk, Session, WholeDance
from tests.fakes.lexicon import MeasuredVoice

ROUTINE = Path(__file__).parents[2] / "routines" / "lantern-row.txt"


class Voice(MeasuredVoice):
    why = ""
    note = ""


class Prepared:
    done, progress = True, (1, 1)


def running_class(tempo: int = 108, now: Callable[[], float] = time.perf_counter) -> Session:
    """Of the longest routine at hand, waiting for its start. now: seconds that don't run back."""
    dance = unroll(read_bytes(ROUTINE.read_bytes()).routine)
    desk = Desk(SilentSpeaker("none asked for", now=now), Voice(), Prepared(), open_pedal("none"), now)
    return Session(WholeDance.of(dance, Fraction(tempo)), desk)
