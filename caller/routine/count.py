"""Counts as written ("1-4", "3&4", "&1", "1e&a2") to exact positions.

Conventions: written count n falls at n - 1; the parts between n and n + 1 are exact fractions that depend on the feel. A part
before the first number of a line belongs to the count before it, so "&1" is at -1/2.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from caller.routine.parts import Feel

_HALF, _QUARTER = Fraction(1, 2), Fraction(1, 4)
_TWO_THIRDS, _THIRD = Fraction(2, 3), Fraction(1, 3)

# Where each part falls between two counts; swing moves "&" and "a" onto the triplet.
_PARTS: dict[Feel, dict[str, Fraction]] = {
    Feel.STRAIGHT: {"e": _QUARTER, "&": _HALF, "a": 3 * _QUARTER},
    Feel.SWING: {"e": _QUARTER, "&": _TWO_THIRDS, "a": _TWO_THIRDS},
}
_SWUNG_PAIR = {"&": _THIRD, "a": _TWO_THIRDS}

_PREFIX = re.compile(r"\s*(?:counts?|cts?\.?)\s+(?=[\d&a])", re.IGNORECASE)
_NUMBER = re.compile(r"\d{1,3}(?![\d/:.]\d)(?!\s*/)")
_PART = re.compile(
    r"&|^\s*and(?=\s{2})|\+(?=\s*\d)|and(?=\s*\d)|[ea](?=[\s&ea]*\d)|(?<=[\d&e])a(?![a-z])|(?<=\d)e(?=[&a\s]*[&a\d])",
    re.IGNORECASE,
)
_GAP = re.compile(r"[ \t]*,?[ \t]*")
_DASH = re.compile(r"\s*(?:[-\u2010-\u2015]|to(?=\s*\d))\s*(?=\d)")
_MIXED = re.compile(r"\d+\s+\d+/\d")
_AFTER = re.compile(r"\s*[:.)]?(?=\s|$)\s*")


@dataclass(frozen=True, slots=True)
class Beat:
    """One written beat part: count 3, part "&" is "3&". number = the count it belongs to (0 for a pick-up)."""

    number: int
    part: str
    at: Fraction

    @property
    def label(self) -> str:
        return f"{self.number if self.number > 0 else ''}{self.part}"


@dataclass(frozen=True, slots=True)
class Counts:
    """The counts at the head of a line. end: where the description starts; backward: a range that runs backwards."""

    beats: tuple[Beat, ...]
    end: int
    backward: bool = False


def _marks(text: str) -> tuple[list[tuple[int | None, str]], int, bool] | None:
    """(number, "") or (None, part) in order, the position after them, and whether a range ran backwards."""
    prefix = _PREFIX.match(text)
    at = prefix.end() if prefix else len(text) - len(text.lstrip())
    marks: list[tuple[int | None, str]] = []
    last: int | None = None
    backward = False
    while True:
        start = _GAP.match(text, at).end() if marks else at  # type: ignore[union-attr]
        dash = _DASH.match(text, at) if marks and last is not None else None
        if dash and (number := _NUMBER.match(text, dash.end())):
            begun, until = last, int(number.group())
            if until < begun:  # told once as running backwards, and read as if it ran on
                backward = True
                marks.pop()
                begun, until = until - 1, begun
            marks.extend((n, "") for n in range(begun + 1, until + 1))
            last, at = until, number.end()
        elif (number := _NUMBER.match(text, start)) and not (marks and _MIXED.match(text, start)):
            if (
                start > at
                and marks[-1][0] is not None
                and int(number.group()) != (last or 0) + 1
                and "," not in text[at:start]
            ):
                break
            last, at = int(number.group()), number.end()
            marks.append((last, ""))
        elif part := _PART.match(text, start):
            word = part.group().lower()
            marks.append((None, "&" if word in ("and", "+") else word))
            at = part.end()
        else:
            break
    if not marks or len(marks) > 400:
        return None
    return marks, at, backward


def _beats(marks: list[tuple[int | None, str]], feel: Feel, base: int, previous: int) -> tuple[Beat, ...]:
    """Marks to beats; parts in the same gap are looked at together, for the swung pair."""
    first = next((n for n, _ in marks if n is not None), previous + 1)
    numbers: list[int] = []
    current = first - 1
    for number, _ in marks:
        current = number if number is not None else current
        numbers.append(current)
    beats = []
    for (_, part), belongs in zip(marks, numbers, strict=True):
        together = {p for (_, p), n in zip(marks, numbers, strict=True) if n == belongs and p}
        table = _PARTS[feel]
        if feel is Feel.SWING and {"&", "a"} <= together:
            table = table | _SWUNG_PAIR
        written = belongs - base
        beats.append(Beat(written, part, Fraction(written - 1) + (table[part] if part else 0)))
    return tuple(beats)


def read_counts(text: str, feel: Feel = Feel.STRAIGHT, base: int = 0, previous: int = 0) -> Counts | None:
    """The counts that ``text`` begins with, or None.

    base: counts before this section where the numbers run on; previous: the last number written before, for a line that
    has only "&".
    """
    found = _marks(text)
    if found is None:
        return None
    marks, at, backward = found
    after = _AFTER.match(text, at)
    if after is None:
        return None
    return Counts(_beats(marks, feel, base, previous), after.end(), backward)


def label_of(at: Fraction, feel: Feel = Feel.STRAIGHT) -> str:
    """How a position is written: 5/2 is "3&" ("3a" for the last quarter)."""
    whole = at.numerator // at.denominator
    rest = at - whole
    names = {Fraction(0): "", _QUARTER: "e", _HALF: "&", 3 * _QUARTER: "a", _THIRD: "&", _TWO_THIRDS: "&"}
    if feel is Feel.SWING and rest == _TWO_THIRDS:
        names[_TWO_THIRDS] = "a"
    return f"{whole + 1 if whole >= 0 else ''}{names.get(rest, '~')}"
