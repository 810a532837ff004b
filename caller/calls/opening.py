"""Before the first step: one short call with the foot and the first figure, and the count-in.

Conventions: the call is over at least one count before the count-in's numbers begin. Up to beginner level, and where
the sheet tells none, every number of the last bar is said on its count (in threes of both bars), for dancers step on
whatever is said last; from improver on the first call may stand in the place of the last numbers.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil

from caller.calls.group import Group, group_forms
from caller.calls.meters import counting
from caller.calls.plan import CallKind, CountIn, Cue, Lexicon
from caller.calls.wording import counted_to, spoken_number
from caller.dance.walls import Dance
from caller.routine.meter import Meter
from caller.routine.parts import Header

ON_BEAT = Fraction(0)
# Between the first call and the count-in's first number.
_AIR_COUNTS = 1
# Groups that begin so soon after the first step are told with it.
_WITH_IT_COUNTS = 1
_BEGINNER = re.compile(r"beginner|novice|newcomer|first", re.IGNORECASE)
_ABOVE = re.compile(r"improver|intermediate|advanced|phrased", re.IGNORECASE)


def numbers_said(header: Header, how: CountIn, count_in: int) -> tuple[tuple[int, int], ...]:
    """The count-in's numbers as far as counts are clicked, each with how many counts before the first step it falls."""
    numbers = _numbers(header.meter, wholly(header, how))
    return tuple((number, before) for number, before in numbers if before <= count_in)


def wholly(header: Header, how: CountIn) -> bool:
    """Whether the numbers go on to the first step."""
    if how is CountIn.LEVEL:
        return not _ABOVE.search(header.level) or bool(_BEGINNER.search(header.level))
    return how is CountIn.NUMBERS


def for_beginners(header: Header) -> bool:
    """Whether the sheet is for those who need each eight's first figure on any wall."""
    return bool(_BEGINNER.search(header.level))


def _numbers(meter: Meter, whole: bool) -> list[tuple[int, int]]:
    last, from_one = counted_to(meter), counting(meter).from_one
    half = last // 2
    first = 1 if from_one else half + 1
    every = [(number, last + 1 - number) for number in range(first, last + 1)]
    if whole:
        return every
    return every[: half if from_one else len(every) // 2]


def count_in_cues(dance: Dance, wall: int, start: Fraction, count_in: int, how: CountIn) -> Iterator[Cue]:
    for number, before in numbers_said(dance.routine.header, how, count_in):
        words = (spoken_number(number),)
        yield Cue(CallKind.COUNT_IN, wall, start - before, str(number), words, lead_counts=ON_BEAT)


def told_before(groups: Sequence[Group], start: Fraction, header: Header, how: CountIn) -> int:
    """How many groups the call before the count-in is for."""
    if not wholly(header, how) or not groups:
        return 0
    return max(1, sum(group.at - start < _WITH_IT_COUNTS for group in groups))


def opening_cue(groups: Sequence[Group], dance: Dance, start: Fraction, how: CountIn, count_in: int) -> Cue | None:
    """ "right foot, two shuffles": None where nothing is danced or nothing counted in."""
    header = dance.routine.header
    numbers = numbers_said(header, how, count_in)
    if not groups or not numbers:
        return None
    first = groups[0]
    heard = numbers[0][1] + _AIR_COUNTS
    movement = first.wall.movements[first.first].step.movement
    foot = movement.foot.word if movement.foot else ""
    plain = [replace(group, like=False) for group in groups]
    told = [group_forms(group, thin=True, marked=False) for group in plain]
    words = [", ".join(one.wordings[0] for one in told), min(told[0].wordings, key=len)]
    wordings = [*(f"{foot} foot, {one}" for one in words), f"{foot} foot"] if foot else words
    found = tuple(dict.fromkeys(wordings))
    return Cue(
        CallKind.STEP,
        first.wall.number,
        first.at,
        first.wall.movements[first.first].step.count,
        found,
        lead_counts=start - first.at + heard + 3 if start > first.at else Fraction(heard + 3),
        ahead_counts=Fraction(4 * heard + 16),
        heard_counts=Fraction(heard),
        lost=tuple(15 * index for index in range(len(found))),
        steps=True,
    )


def lead_for(
    cue: Cue | None,
    header: Header,
    how: CountIn,
    lexicon: Lexicon,
    pace: tuple[Fraction, int],
    count_in: int,
    margin: float,
) -> Fraction:
    """Counts that are needed before a count-in: for the call that comes before its numbers, and for a number on the
    first click, whose sound begins before its beat. pace: counts a minute, frames a second; margin: seconds."""
    tempo, rate = pace
    numbers = numbers_said(header, how, count_in)
    first = lexicon.utterance(spoken_number(numbers[0][0]), 1.0) if numbers else None
    early = first is not None and numbers[0][1] == count_in
    beat = Fraction(first.beat, rate) if first is not None and early else Fraction(0)
    lead = Fraction(ceil(beat * tempo / 60 * 4), 4)
    if cue is None:
        return lead
    said = (lexicon.utterance(words, 1.0) for words in cue.wordings)
    longest = next((one.frames for one in said if one is not None), None)
    if longest is None:
        return lead
    counts = (Fraction(longest, rate) + Fraction(margin).limit_denominator(1000)) * tempo / 60
    return max(Fraction(ceil(cue.heard_counts + counts - count_in)), lead)
