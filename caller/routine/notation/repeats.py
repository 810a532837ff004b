"""What was danced before, again: "repeat 1-4", "repeat section 1 leading left", "repeat 1-2 on the other foot x2"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from caller.routine.count import Counts, label_again
from caller.routine.passages import Passage, Step
from caller.routine.step import Foot, Movement, Weight

_REPEAT = re.compile(
    r"^(?:now\s+|then\s+)?(?P<verb>repeat(?:ing)?|rpt|same as"
    r"|(?:as|like)(?= (?:counts?|steps?|above|before|section|\d))"
    r"|mirror|reverse|(?:do|dance)(?= (?:counts?|steps?|the last|\d)))\s+"
    r"(?:(?:the\s+)?(?:above\s+|previous\s+|same\s+)?(?:counts?|steps?|cts?\.?|beats?)\s+)?(?:in\s+)?(?:from\s+)?"
    r"(?:(?P<first>\d+)\s*(?:-|\u2010|\u2013|\u2014|to|thru|through)\s*(?P<last>\d+)(?:\s*&|\s*counts?\b)?"
    r"|(?P<what>section|sec|set|s|[A-H](?=\d))\.?\s*(?P<section>\d+)"
    r"|(?:the\s+)?(?:last|previous|first)\s+(?P<count>\d+|two|three|four|six|eight)"
    r"(?:\s+(?:counts?|steps?|beats?|cts?))?"
    r"|(?P<above>above|before|the above|that|it|this|the same|again|all(?: that)?|same))(?P<rest>(?:[\s,;.(\[].*)?)$"
    r"|^(?P<bare>(?:(?:do|dance|take|and|now|then)\s+)*(?:(?:exactly|precisely|just)\s+)?(?:those|these|the\s+(?:very\s+|exact\s+)?same(?:\s+thing)?|same|all\s+of\s+that|all\s+that)"
    r"(?:\s+(?:two|three|four|six|eight|\d))?(?:\s+(?:counts?|steps?|beats?))?"
    r"\s+(?:again|once\s+more|one\s+more\s+time|once\s+again|over\s+again|a\s+second\s+time)"
    r"|repeat\s+(?:those|these|the)\s+(?:two|three|four|six|eight|\d)(?:\s+(?:counts?|steps?|beats?))?"
    r"|repeat|(?:the\s+)?same again|and the same again|and another(?: one)?"
    r"|do it again|again|as above|as before|repeat above|ditto"
    r"|do that again|(?:and\s+)?once\s+(?:more|again)|mirror|reverse)(?P<more>(?:[\s,;.(\[].*)?)$",
    re.IGNORECASE,
)
_MIRROR = re.compile(
    r"(?:leading|starting|start|lead|beginning|begin|but)\s+(?:with\s+|on\s+|from\s+|to\s+)*(?:the\s+|your\s+)?"
    r"(?P<foot>left|right|lf|rf|l|r)\b"
    r"|(?P<other>(?:on|with|to|using|from)\s+(?:the\s+|your\s+)?(?:other|opposite)\s+(?:foot|feet|side|direction|way)"
    r"|in\s+(?:the\s+)?opposite\s+direction|mirrored|mirror image|reversed|(?:on\s+)?opposite\s+(?:foot|feet|side))"
    r"|(?:on|to|with|from)\s+(?:the\s+|your\s+)?(?P<side>left|right|lf|rf|l|r)\b(?:\s+(?:foot|side|lead))?",
    re.IGNORECASE,
)
_OF = re.compile(
    r"\bof\s+(?:this\s+|the\s+)?(?:part|section|sec|dance|tag|routine|above)?\s*[A-Z0-9]*\b", re.IGNORECASE
)
_TIMES = re.compile(r"x\s?(\d)\b|\b(\d)\s?x|\b(twice)\b", re.IGNORECASE)
_ASIDE = re.compile(r"\([^)]*\)|\[[^\]]*\]|,\s*(?:left|right|[LR]F?)\s+(?:foot\s+)?leading\b", re.IGNORECASE)
_EMPTY = re.compile(
    r"\b(?:again|foot|side|counts?|steps?|exactly|above|all|but|once more|one more time|another time|over|the|same"
    r"|as)\b|[\s,;.:!&-]",
    re.IGNORECASE,
)
_NUMBERS = {"two": 2, "three": 3, "four": 4, "six": 6, "eight": 8}
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
        return str(self.match["rest"] or self.match["more"] or "")

    @property
    def asides(self) -> Iterator[tuple[str, int]]:
        """What stands in brackets, and how far into the line's words."""
        for found in _ASIDE.finditer(self.rest):
            start = self.match.start("rest") if self.match["rest"] is not None else self.match.start("more")
            yield found.group(), max(0, start) + found.start()


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


_OF_PARTS = re.compile(r"\b(\d{1,2})&(\d{1,2})\b")  # "repeat 5&6"


def read_repeat(text: str) -> Repeat | None:
    found = _REPEAT.match(_OF_PARTS.sub(r"\1-\2", text))
    return Repeat(found) if found else None


def repeated(repeat: Repeat, counts: Counts, danced: Danced) -> list[Step]:
    """The steps once more, on the counts of the line. Raises CannotRepeat."""
    start = counts.beats[0].at
    wanted = int(counts.beats[-1].at - start // 1) + 1
    source = _source(repeat.match, danced, wanted)
    mirrored = _mirrored(repeat, source.steps)
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


def _last(danced: Danced, counts: int) -> _Source:
    """The last so many counts before the line."""
    begin = danced.whole - counts
    steps = tuple(s for s in danced.steps if begin <= s.at < danced.whole)
    if begin < danced.first_count - 1 or not steps:
        raise CannotRepeat("unreadable", f"there are no {counts} counts before this line to repeat")
    return _Source(steps, Fraction(begin), counts)


def _from_earlier(first: int, last: int, danced: Danced) -> _Source | None:
    """Counts numbered through the sections before; None where they are those of the line's own section."""
    if first - danced.base >= danced.first_count and last - danced.base <= danced.whole:
        return None
    steps: list[Step] = []
    before = 0
    for _, passage in sorted(danced.earlier.items()):
        steps += [replace(s, at=s.at + before) for s in passage.steps]
        before += passage.counts
    chosen = tuple(s for s in steps if first - 1 <= s.at < last)
    if first > last or last > before or not chosen:
        return None
    return _Source(chosen, Fraction(first - 1), last - first + 1)


def _source(match: re.Match[str], danced: Danced, wanted: int = 0) -> _Source:
    if match["section"]:
        passage = danced.earlier.get(int(match["section"]))
        if passage is None:
            raise CannotRepeat("unreadable", f"there is no section {match['section']} before this line to repeat")
        return _Source(passage.steps, Fraction(0), passage.counts)
    if match["above"] or match["bare"]:
        length = danced.whole - danced.first_count + 1
        if wanted and length > wanted and length % wanted == 0:  # "5-8 repeat": as many as are to be filled
            return _last(danced, wanted)
        return _Source(tuple(danced.steps), Fraction(danced.first_count - 1), length)
    if match["count"]:
        return _last(danced, _NUMBERS.get(match["count"].lower()) or int(match["count"]))
    first, last = int(match["first"]) - danced.base, int(match["last"]) - danced.base
    if (from_earlier := _from_earlier(int(match["first"]), int(match["last"]), danced)) is not None:
        return from_earlier
    steps = tuple(s for s in danced.steps if first - 1 <= s.at < last or (first == 1 and s.at == -_AND))
    if not steps or first > last or last > danced.whole:
        counts = f"counts {match['first']}-{match['last']}"
        raise CannotRepeat("unreadable", f"{counts} are not danced before this line, so can't be repeated")
    return _Source(steps, Fraction(first - 1), last - first + 1)


# "repeat 1-2, end with weight on left", where both feet moved
_ENDS_ON = re.compile(
    r"\s*[,;(]?\s*(?:and\s+)?(?:(?:end|finish)(?:ing)?\s+)?(?:with\s+)?(?:the\s+|your\s+)?weight\s+on\s+(?:the\s+)?(?:left|right|[RL]F?)(?:\s+foot)?\s*\)?\s*$",
    re.IGNORECASE,
)


def _mirrored(repeat: Repeat, steps: Sequence[Step]) -> bool:
    """Whether the steps are done on the other foot."""
    rest = _ENDS_ON.sub("", repeat.rest)
    plain = _EMPTY.sub("", _OF.sub("", _TIMES.sub("", _ASIDE.sub("", _MIRROR.sub("", rest)))))
    if plain:
        message = f"can't read {rest.strip()!r} after 'repeat' (say 'leading left' or 'on the other foot')"
        raise CannotRepeat("unreadable", message)
    found = _MIRROR.search(_ASIDE.sub("", rest))
    foot = (found["foot"] or found["side"]) if found is not None else None
    if foot:
        lead = next((s.movement.foot for s in steps if s.movement.foot is not None), None)
        return lead is not None and lead is not Foot(foot[0].upper())
    verb = (repeat.match["verb"] or repeat.match["bare"] or "").lower()
    return found is not None or verb in ("mirror", "reverse")


def _again(step: Step, at: Fraction, flip: bool) -> Step:
    movement = mirror(step.movement) if flip else step.movement
    return replace(step, at=at, count=label_again(step.count, at), movement=movement)


def mirror(movement: Movement) -> Movement:
    """The movement on the other foot, turning the other way."""
    flipped = {Weight.LEFT: Weight.RIGHT, Weight.RIGHT: Weight.LEFT}
    weight = flipped.get(movement.weight, movement.weight) if movement.weight else None
    foot = movement.foot.other if movement.foot else None
    return Movement(movement.action, foot, movement.where, -movement.turn, weight)
