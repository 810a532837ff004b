"""Counts as written ("1-4", "3&4", "&1", "1e&a2") to exact positions.

Conventions: written count n falls at n - 1; the parts between n and n + 1 are exact fractions that depend on the
feel. A part before the first number of a line belongs to the count before it, so "&1" is at -1/2.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from caller.routine.meter import Feel

_HALF, _QUARTER = Fraction(1, 2), Fraction(1, 4)
_TWO_THIRDS, _THIRD = Fraction(2, 3), Fraction(1, 3)
_MOST_MARKS = 400  # more on one line are no counts

# Where each part falls between two counts; swing moves "&" and "a" onto the triplet.
_PARTS: dict[Feel, dict[str, Fraction]] = {
    Feel.STRAIGHT: {"": Fraction(0), "e": _QUARTER, "&": _HALF, "a": 3 * _QUARTER},
    Feel.SWING: {"": Fraction(0), "e": _QUARTER, "&": _TWO_THIRDS, "a": _TWO_THIRDS},
}
_SWUNG_PAIR = {"&": _THIRD, "a": _TWO_THIRDS}

_PREFIX = re.compile(r"\s*(?:counts?|cts?\.?)\s+(?=[\d&a])", re.IGNORECASE)
_NUMBER = re.compile(r"\d{1,3}(?![\d/:.]\d)(?!\s*/)")
_PART = re.compile(
    r"&|^\s*(?:and|(?-i:[ea]))(?=\s{2})|\+(?=\s*\d)|and(?=\s*\d)|(?-i:[ea])(?=[\s&ea]*\d)|(?<=[\d&e])a(?![a-z])|(?<=\d\s)(?-i:a)(?=\s{2})|(?<=\d)e(?=[&a\s]*[&a\d])",
    re.IGNORECASE,
)
_GAP = re.compile(r"[ \t]*,?[ \t]*")
_DASH = re.compile(r"\s*(?:[-\u2010-\u2015]|to(?=\s*\d))\s*(?=\d)")
_MIXED = re.compile(r"\d+\s+\d+/\d")
_AND_WORDS = re.compile(r"&\s+[(\[]?[A-Za-z]{2}|&\s+[RL]\b")  # behind a gap: "&1  & step R"
_AFTER = re.compile(r"\s*[:.)]?(?=\s|$)\s*")


@dataclass(frozen=True, slots=True)
class Beat:
    """One written beat part: count 3, part "&" is "3&". number = its count (0 for a pick-up); over: written
    as 1 after the last count of a bar or section ("8&1"), and so the first count of what comes next."""

    number: int
    part: str
    at: Fraction
    over: bool = False

    @property
    def label(self) -> str:
        if self.over:
            return f"1{self.part}"
        return f"{self.number if self.number > 0 else ''}{self.part}"


@dataclass(frozen=True, slots=True)
class Counts:
    """The counts at the head of a line. end: where the description starts; backward: a range that runs backwards."""

    beats: tuple[Beat, ...]
    end: int
    backward: bool = False


class _Reader:
    """Reads marks from the head of a line: (number, "") for a whole count, (None, part) for a part of one."""

    def __init__(self, text: str) -> None:
        self.text = text
        prefix = _PREFIX.match(text)
        self.at = prefix.end() if prefix else len(text) - len(text.lstrip())
        self.marks: list[tuple[int | None, str]] = []
        self.last: int | None = None
        self.backward = False

    def run(self) -> None:
        while len(self.marks) <= _MOST_MARKS and (self._range() or self._whole() or self._part()):
            pass

    def _start(self) -> int:
        gap = _GAP.match(self.text, self.at) if self.marks else None
        return gap.end() if gap else self.at

    def _range(self) -> bool:
        if self.last is None:
            return False
        dash = _DASH.match(self.text, self.at)
        number = _NUMBER.match(self.text, dash.end()) if dash else None
        if number is None:
            return False
        begun, until = self.last, int(number.group())
        if until < begun:  # told once as running backwards, and read as if it ran on
            self.backward = True
            self.marks.pop()
            begun, until = until - 1, begun
        self.marks += ((n, "") for n in range(begun + 1, until + 1))
        self.last, self.at = until, number.end()
        return True

    def _whole(self) -> bool:
        start = self._start()
        number = _NUMBER.match(self.text, start)
        if number is None:
            return False
        value = int(number.group())
        if (
            self.marks
            and self.marks[-1][0] is not None
            and value != (self.last or 0) + 1
            and _MIXED.match(self.text, start)
        ):
            return False
        if start > self.at and self.marks[-1][0] is not None:
            follows = value == (self.last or 0) + 1
            if not follows and "," not in self.text[self.at : start]:
                return False
        self.marks.append((value, ""))
        self.last, self.at = value, number.end()
        return True

    def _part(self) -> bool:
        start = self._start()
        part = _PART.match(self.text, start)
        if part is None or (start - self.at >= 2 and _AND_WORDS.match(self.text, start)):
            return False
        word = part.group().strip().lower()
        self.marks.append((None, "&" if word in ("and", "+") else word))
        self.at = part.end()
        return True


def _beats(marks: list[tuple[int | None, str]], feel: Feel, base: int, previous: int) -> tuple[Beat, ...]:
    """Marks to beats; parts in the same gap are looked at together, for the swung pair."""
    current = next((n for n, _ in marks if n is not None), previous + 1) - 1
    numbers: list[int] = []
    overs: list[bool] = []
    parts: dict[int, str] = {}  # of each gap
    over = False
    for number, part in marks:
        if number == 1 and numbers and current > 1:
            over, number = True, current + 1
        current = number if number is not None else current
        overs.append(over)
        numbers.append(current)
        parts[current] = parts.get(current, "") + part
    usual = _PARTS[feel]
    swung = usual | _SWUNG_PAIR if feel is Feel.SWING else usual
    beats = []
    for (_, part), belongs, beyond in zip(marks, numbers, overs, strict=True):
        written = belongs - base
        table = swung if "&" in parts[belongs] and "a" in parts[belongs] else usual
        beats.append(Beat(written, part, table[part] + (written - 1), beyond))
    return tuple(beats)


# All that counts can be made of, and the two characters after it that decide where they end.
_HEAD = re.compile(r"\s*(?:counts?|cts?\.?)?(?:[^A-Za-z]|and(?![a-z])|to(?![a-z])|[ae](?![a-z]))*.{0,2}", re.IGNORECASE)


_OPENERS = frozenset("aAcCeE")  # letters that counts can begin with: "and 4", "counts 1-8", "e 2"


def read_counts(text: str, feel: Feel = Feel.STRAIGHT, base: int = 0, previous: int = 0) -> Counts | None:
    """The counts that ``text`` begins with, or None.

    base: counts before this section where the numbers run on; previous: the last number written before, for a line
    that has only "&".
    """
    if text[:1].isalpha() and text[0] not in _OPENERS:
        return None
    head = _HEAD.match(text)
    return _read_head(head.group() if head else text, feel, base, previous)


@lru_cache(maxsize=1024)  # sheets write few different ones, and several stages look at each line
def _read_head(text: str, feel: Feel, base: int, previous: int) -> Counts | None:
    reader = _Reader(text)
    reader.run()
    if not reader.marks or len(reader.marks) > _MOST_MARKS:
        return None
    after = _AFTER.match(text, reader.at)
    if after is None:
        return None
    return Counts(_beats(reader.marks, feel, base, previous), after.end(), reader.backward)


def label_again(label: str, at: Fraction) -> str:
    """The label of a beat part that is danced once more at another count: "3&" at 13/2 is "7&"."""
    whole = at.numerator // at.denominator + 1
    return f"{whole if whole > 0 else ''}{label.lstrip('0123456789')}"


def label_of(at: Fraction, feel: Feel = Feel.STRAIGHT) -> str:
    """How a position is written: 5/2 is "3&" ("3a" for the last quarter)."""
    whole = at.numerator // at.denominator
    rest = at - whole
    names = {Fraction(0): "", _QUARTER: "e", _HALF: "&", 3 * _QUARTER: "a", _THIRD: "&", _TWO_THIRDS: "&"}
    if feel is Feel.SWING and rest == _TWO_THIRDS:
        names[_TWO_THIRDS] = "a"
    return f"{whole + 1 if whole >= 0 else ''}{names.get(rest, '~')}"
