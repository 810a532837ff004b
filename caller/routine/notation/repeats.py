"""What was danced before, again: "repeat 1-4", "repeat section 1 leading left", "repeat 1-2 on the other foot x2"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from caller.routine.count import Counts
from caller.routine.parts import Passage, Step
from caller.routine.step import Foot, Movement, Weight

_REPEAT = re.compile(
    r"^(?:repeat|rpt|same as)\s+(?:(?:the\s+)?(?:counts?|steps?)\s+)?"
    r"(?:(?P<first>\d+)\s*(?:-|\u2010|\u2013|\u2014|to)\s*(?P<last>\d+)"
    r"|(?P<what>section|sec|s)\s*(?P<section>\d+)|(?P<above>above))(?P<rest>.*)$",
    re.IGNORECASE,
)
_MIRROR = re.compile(
    r"(?:leading|starting|start|lead|beginning)\s+(?:with\s+|on\s+)?(?:the\s+)?(?P<foot>left|right|l|r)\b"
    r"|(?P<other>(?:on|with|to|using)\s+(?:the\s+)?(?:other|opposite)\s+(?:foot|feet|side)"
    r"|mirrored|mirror image|reversed)",
    re.IGNORECASE,
)
_TIMES = re.compile(r"x\s?(\d)\b|\b(\d)\s?x|\b(twice)\b", re.IGNORECASE)
_ASIDE = re.compile(r"\([^)]*\)|\[[^\]]*\]")
_EMPTY = re.compile(r"again|foot|[\s,;.]", re.IGNORECASE)
_AND = Fraction(1, 2)


class CannotRepeat(Exception):
    """Why not: the finding's code and sentence."""

    def __init__(self, code: str, message: str) -> None:
        super().__init__(message)
        self.code, self.message = code, message


@dataclass(frozen=True, slots=True)
class Repeat:
    """A line that asks for earlier steps. rest: what is said of how."""

    match: re.Match[str]

    @property
    def rest(self) -> str:
        return str(self.match["rest"])

    @property
    def asides(self) -> Iterator[tuple[str, int]]:
        """What stands in brackets, and how far into the line's words."""
        for found in _ASIDE.finditer(self.rest):
            yield found.group(), self.match.start("rest") + found.start()


@dataclass(frozen=True, slots=True)
class _Source:
    """steps: those to do again; origin: where they began; counts: how long they last."""

    steps: tuple[Step, ...]
    origin: Fraction
    counts: int


@dataclass(frozen=True, slots=True)
class Danced:
    """What is danced before the line: in its own passage up to count ``whole``, and in earlier sections by number."""

    steps: Sequence[Step]
    first_count: int
    whole: int
    base: int
    earlier: Mapping[int, Passage]


def read_repeat(text: str) -> Repeat | None:
    found = _REPEAT.match(text)
    return Repeat(found) if found else None


def repeated(repeat: Repeat, counts: Counts, danced: Danced) -> list[Step]:
    """The steps once more, on the counts of the line. Raises CannotRepeat."""
    source = _source(repeat.match, danced)
    mirrored = _mirrored(repeat.rest, source.steps)
    start = counts.beats[0].at
    wanted = int(counts.beats[-1].at - start // 1) + 1
    times, over = divmod(wanted, source.counts) if source.counts else (0, 1)
    asked = _TIMES.search(repeat.rest)
    if over or (asked and times != int(asked[1] or asked[2] or 2)):
        message = f"what is repeated lasts {source.counts} counts, and {wanted} are given for it"
        raise CannotRepeat("counts-mismatch", message)
    return [
        _again(step, step.at - source.origin + start + time * source.counts, mirrored and time % 2 == 0)
        for time in range(times)
        for step in source.steps
    ]


def _source(match: re.Match[str], danced: Danced) -> _Source:
    if match["section"]:
        passage = danced.earlier.get(int(match["section"]))
        if passage is None:
            raise CannotRepeat("unreadable", f"there is no section {match['section']} before this line to repeat")
        return _Source(passage.steps, Fraction(0), passage.counts)
    if match["above"]:
        return _Source(tuple(danced.steps), Fraction(danced.first_count - 1), danced.whole - danced.first_count + 1)
    first, last = int(match["first"]) - danced.base, int(match["last"]) - danced.base
    steps = tuple(s for s in danced.steps if first - 1 <= s.at < last or (first == 1 and s.at == -_AND))
    if not steps or first > last or last > danced.whole:
        counts = f"counts {match['first']}-{match['last']}"
        raise CannotRepeat("unreadable", f"{counts} are not danced before this line, so can't be repeated")
    return _Source(steps, Fraction(first - 1), last - first + 1)


def _mirrored(rest: str, steps: Sequence[Step]) -> bool:
    """Whether the steps are done on the other foot."""
    plain = _EMPTY.sub("", _TIMES.sub("", _ASIDE.sub("", _MIRROR.sub("", rest))))
    if plain:
        message = f"can't read {rest.strip()!r} after 'repeat' (say 'leading left' or 'on the other foot')"
        raise CannotRepeat("unreadable", message)
    found = _MIRROR.search(rest)
    if found is None:
        return False
    if found["other"]:
        return True
    lead = next((s.movement.foot for s in steps if s.movement.foot is not None), None)
    return lead is not None and lead is not Foot(found["foot"][0].upper())


def _again(step: Step, at: Fraction, flip: bool) -> Step:
    part = step.count.lstrip("0123456789")
    whole = at.numerator // at.denominator + 1
    label = f"{whole if whole > 0 else ''}{part}"
    return replace(step, at=at, count=label, movement=mirror(step.movement) if flip else step.movement)


def mirror(movement: Movement) -> Movement:
    """The movement on the other foot, turning the other way."""
    flipped = {Weight.LEFT: Weight.RIGHT, Weight.RIGHT: Weight.LEFT}
    weight = flipped.get(movement.weight, movement.weight) if movement.weight else None
    foot = movement.foot.other if movement.foot else None
    return Movement(movement.action, foot, movement.where, -movement.turn, weight)
