"""Takes of the shipped routines, spoken by a voice of known lengths."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path

from caller.calls.take import Take
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.notation.read import read_sheet
from caller.takehome.packet import take_of_version
from caller.takehome.versions import VERSIONS, Version
from tests.fakes.lexicon import MeasuredVoice

ROUTINES = Path(__file__).parents[2] / "routines"
STEMS = ("chalk-line", "lantern-row", "slow-water", "tin-roof-swing")


def version(name: str) -> Version:
    return next(v for v in VERSIONS if v.name == name)


@cache
def shipped_dance(stem: str, walls: int | None = None) -> Dance:
    return unroll(read_sheet((ROUTINES / f"{stem}.txt").read_text(encoding="utf-8")).routine, walls)


def dance_in(text: str, walls: int | None = None) -> Dance:
    return unroll(read_sheet(text).routine, walls)


@cache
def a_take(stem: str = "lantern-row", name: str = "full-called", walls: int | None = None) -> Take:
    dance = shipped_dance(stem, walls)
    voice = MeasuredVoice()
    tempo = dance.routine.header.tempo or Fraction(100)
    return take_of_version(dance, version(name), tempo, voice, voice.clip)
