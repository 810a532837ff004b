"""What wants to be said in a stretch of the dance, by manner of calling.

Conventions: a stretch runs from ``start`` on to before ``end``, in counts since the dance's first step; ``count_in``
counts are clicked before it. Cues come in the order in which they are wished: first the count-in, so that none of its
numbers follows a call (its last ones give way to the first call); then each at its count less its lead; at one
moment walls and reminders before steps, and warnings after them. The plan keeps that order. Walls and warnings are
wished where the steps near their moment leave the most time between two calls.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from caller.calls.announce import event_cues, wall_cues
from caller.calls.fading import faded
from caller.calls.places import movements_between, phrases_between, place_in_section, wall_at
from caller.calls.plan import Cue, Fading, Kind, Manner
from caller.calls.shorten import on_count_forms, step_forms
from caller.calls.wording import counted_in, spoken_count, spoken_number
from caller.dance.walls import Dance
from caller.routine.count import label_of

ON_BEAT = Fraction(0)
# About two beats ahead (ROUNDALAB Reference Manual 1987), as every step is wished.
STEP_LEAD = Fraction(2)

# How far from its usual moment a wall's announcement or a warning is moved to where there is more time for it.
_MOVED_COUNTS = Fraction(3)


@dataclass(frozen=True, slots=True)
class _Stretch:
    dance: Dance
    start: Fraction
    end: Fraction
    count_in: int
    fading: Fading


# The cues of one sort in a stretch of a dance.
_Source = Callable[[_Stretch], Iterator[Cue]]


def _phrases(of: _Stretch) -> Iterator[Cue]:
    """Each phrase, to be called before its first movement."""
    left = faded(of.dance) if of.fading is Fading.FADE else None
    for wall, phrase in phrases_between(of.dance, of.start, of.end):
        every = _forms(phrase.wordings, phrase.last - phrase.first + 1)
        forms = left(wall, phrase, every) if left else every
        if forms:
            count = wall.movements[phrase.first].step.count
            said, lost, telling = forms
            yield Cue(Kind.STEP, wall.number, phrase.at, count, said, telling=telling, lost=lost)


# Sheets repeat a few phrases over and over.
_forms = lru_cache(maxsize=1024)(step_forms)


def _words(of: _Stretch) -> Iterator[Cue]:
    """One word on each movement."""
    for wall, phrase in phrases_between(of.dance, of.start, of.end):
        movements = wall.movements[phrase.first : phrase.last + 1]
        for danced, word in zip(movements, phrase.each, strict=True):
            if forms := on_count_forms(word):
                yield Cue(Kind.STEP, wall.number, danced.at, danced.step.count, forms, lead_counts=ON_BEAT)


def _counts(of: _Stretch) -> Iterator[Cue]:
    """The number of each whole count, and "and" for the movements between."""
    header = of.dance.routine.header
    whole = {of.start + n for n in range(int(of.end - of.start))}
    between = {danced.at for _, danced in movements_between(of.dance, of.start, of.end)}
    for at in sorted(whole | between):
        wall = wall_at(of.dance, at)
        place = place_in_section(wall, at)
        label = label_of(place, header.feel)
        yield Cue(Kind.COUNT, wall.number, at, label, (spoken_count(label, place, header.meter),), lead_counts=ON_BEAT)


def _count_in(of: _Stretch) -> Iterator[Cue]:
    """The numbers of the last bar before the first step ("five, six, seven, eight"), as far as counts are clicked."""
    numbers = counted_in(of.dance.routine.header.meter)
    wall = wall_at(of.dance, of.start).number
    for number, before in zip(numbers, range(len(numbers), 0, -1), strict=True):
        if before <= of.count_in:
            words = (spoken_number(number),)
            yield Cue(Kind.COUNT_IN, wall, of.start - before, str(number), words, lead_counts=ON_BEAT)


def _walls(of: _Stretch) -> Iterator[Cue]:
    return wall_cues(of.dance, of.start, of.end)


def _events(of: _Stretch) -> Iterator[Cue]:
    return event_cues(of.dance, of.start, of.end, of.count_in)


_SOURCES: dict[Manner, tuple[_Source, ...]] = {
    Manner.AHEAD: (_count_in, _events, _walls, _phrases),
    Manner.ON_COUNT: (_count_in, _events, _walls, _words),
    Manner.COUNTS: (_count_in, _counts),
    Manner.PROMPTS: (_count_in, _events, _walls),
    Manner.QUIET: (),
}


def cues_for(
    dance: Dance, manner: Manner, start: Fraction, end: Fraction, count_in: int = 0, fading: Fading = Fading.NONE
) -> tuple[Cue, ...]:
    """The cues of a stretch in the order in which they are wished. fading: of the steps called ahead."""
    stretch = _Stretch(dance, start, end, count_in, fading)
    cues = [cue for source in _SOURCES[manner] for cue in source(stretch)]
    steps = sorted(cue.at - cue.lead_counts for cue in cues if cue.kind is Kind.STEP)
    return tuple(sorted((_moved(cue, steps) if _can_wait(cue) else cue for cue in cues), key=_order))


def _can_wait(cue: Cue) -> bool:
    return cue.kind is Kind.WALL or (cue.must and cue.heard_counts > 0)


def _moved(cue: Cue, steps: Sequence[Fraction]) -> Cue:
    """The cue wished in the middle of the longest time between two steps' calls near its own moment; a warning, only
    where that is longer than the time it would have there. steps: the wished moments of the steps, in order."""
    wish = cue.at - cue.lead_counts
    earliest = max(wish - _MOVED_COUNTS, cue.at - cue.ahead_counts)
    latest = min(wish + _MOVED_COUNTS, cue.at - cue.heard_counts - STEP_LEAD)
    near = steps[max(bisect_right(steps, earliest) - 1, 0) : bisect_right(steps, latest) + 1]
    gaps = [(after - before, (before + after) / 2) for before, after in pairwise(near)]
    held = max((after - before for before, after in pairwise(near) if before <= wish <= after), default=Fraction(0))
    open_ = [(length, -abs(middle - wish), middle) for length, middle in gaps if earliest <= middle <= latest]
    longest, _, middle = max(open_, default=(held, 0, wish))
    return replace(cue, lead_counts=cue.at - middle) if longest > held or not cue.must else cue


def _order(cue: Cue) -> tuple[bool, Fraction, bool]:
    # A warning can wait for a step wished at the same moment; a step can't wait for the warning.
    return cue.kind is not Kind.COUNT_IN, cue.at - cue.lead_counts, cue.heard_counts > 0
