"""What the header lines of the standard layout tell, each in the type of its field."""

from __future__ import annotations

import re
from fractions import Fraction

from caller.routine.layout.fact_patterns import FASTEST, METERS, MOST_COUNTS, MOST_INTRO, MOST_WALLS, SLOWEST
from caller.routine.meter import Feel
from caller.routine.step import Foot


class OtherForm(Exception):
    """This line, or what it says, is not of the standard layout."""


def value_of(key: str, text: str) -> object:
    """What a header line tells, in the type of its field."""
    if key in ("Counts", "Walls", "Intro"):
        least, most = {"Counts": (1, MOST_COUNTS), "Walls": (1, MOST_WALLS), "Intro": (0, MOST_INTRO)}[key]
        return _sure(int(text) if text.isdecimal() and least <= int(text) <= most else None)
    if key == "Tempo":
        tempo = Fraction(text) if re.fullmatch(r"\d{1,3}(?:\.\d{1,16})?", text) else Fraction(0)
        return _sure(tempo if SLOWEST <= tempo <= FASTEST else None)
    if key == "Meter":
        return _sure(METERS.get(text))
    if key == "Feel":
        return _sure(next((feel for feel in Feel if feel.value == text), None))
    if key == "Starts":
        return _sure(next((foot for foot in Foot if foot.word == text), None))
    return text


def _sure(value: object) -> object:
    if value is None:
        raise OtherForm
    return value
