"""What wants to be said in a stretch of the dance, by manner of calling.

Conventions: a stretch runs from ``start`` on to before ``end``, in counts since the dance's first step; ``count_in``
counts are clicked before it. Cues come in the order in which they are wished: first the count-in, so that none of its
numbers follows a call (its last ones give way to the first call); then each at its count less its lead; at one
moment walls and reminders before steps, and warnings after them. The plan keeps that order.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from caller.calls.announce import event_cues, wall_cues
from caller.calls.places import movements_between, phrases_between, place_in_section, wall_at
from caller.calls.plan import Cue, Kind, Manner
from caller.calls.wording import counted_in, spoken_count, spoken_number
from caller.dance.walls import Dance
from caller.routine.count import label_of

ON_BEAT = Fraction(0)

# start, end, count_in of a stretch of a dance to the cues of one sort.
_Source = Callable[[Dance, Fraction, Fraction, int], Iterator[Cue]]


def _phrases(dance: Dance, start: Fraction, end: Fraction, count_in: int) -> Iterator[Cue]:
    """Each phrase, to be called before its first movement."""
    for wall, phrase in phrases_between(dance, start, end):
        count = wall.movements[phrase.first].step.count
        yield Cue(Kind.STEP, wall.number, phrase.at, count, phrase.wordings)


def _words(dance: Dance, start: Fraction, end: Fraction, count_in: int) -> Iterator[Cue]:
    """One word on each movement."""
    for wall, phrase in phrases_between(dance, start, end):
        movements = wall.movements[phrase.first : phrase.last + 1]
        for danced, word in zip(movements, phrase.each, strict=True):
            if word:
                yield Cue(Kind.STEP, wall.number, danced.at, danced.step.count, (word,), lead_counts=ON_BEAT)


def _counts(dance: Dance, start: Fraction, end: Fraction, count_in: int) -> Iterator[Cue]:
    """The number of each whole count, and "and" for the movements between."""
    header = dance.routine.header
    whole = {start + n for n in range(int(end - start))}
    between = {danced.at for _, danced in movements_between(dance, start, end)}
    for at in sorted(whole | between):
        wall = wall_at(dance, at)
        place = place_in_section(wall, at)
        label = label_of(place, header.feel)
        yield Cue(Kind.COUNT, wall.number, at, label, (spoken_count(label, place, header.meter),), lead_counts=ON_BEAT)


def _count_in(dance: Dance, start: Fraction, end: Fraction, count_in: int) -> Iterator[Cue]:
    """The numbers of the last bar before the first step ("five, six, seven, eight"), as far as counts are clicked."""
    numbers = counted_in(dance.routine.header.meter)
    wall = wall_at(dance, start).number
    for number, before in zip(numbers, range(len(numbers), 0, -1), strict=True):
        if before <= count_in:
            words = (spoken_number(number),)
            yield Cue(Kind.COUNT_IN, wall, start - before, str(number), words, lead_counts=ON_BEAT)


def _walls(dance: Dance, start: Fraction, end: Fraction, count_in: int) -> Iterator[Cue]:
    return wall_cues(dance, start, end)


_SOURCES: dict[Manner, tuple[_Source, ...]] = {
    Manner.AHEAD: (_count_in, event_cues, _walls, _phrases),
    Manner.ON_COUNT: (_count_in, event_cues, _walls, _words),
    Manner.COUNTS: (_count_in, _counts),
    Manner.PROMPTS: (_count_in, event_cues, _walls),
    Manner.QUIET: (),
}


def cues_for(dance: Dance, manner: Manner, start: Fraction, end: Fraction, count_in: int = 0) -> tuple[Cue, ...]:
    """The cues of a stretch in the order in which they are wished."""
    cues = (cue for source in _SOURCES[manner] for cue in source(dance, start, end, count_in))
    return tuple(sorted(cues, key=_order))


def _order(cue: Cue) -> tuple[bool, Fraction, bool]:
    # A warning can wait for a step wished at the same moment; a step can't wait for the warning.
    return cue.kind is not Kind.COUNT_IN, cue.at - cue.lead_counts, cue.heard_counts > 0
