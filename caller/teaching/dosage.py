"""How much of each a lesson needs: by the class's level, how slowly it begins, and nothing twice in a row.

Conventions: speeds are shares of the full tempo, tempo in counts a minute. What no source is named for is common
practice. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from caller.calls.places import phrases_between
from caller.dance.walls import Dance, DancedPhrase, Wall
from caller.teaching.stage import Stage, StageKind
from caller.transport.tempo import WALTZ_FLOOR, floor_of

HALF, THREE_QUARTERS = Fraction(1, 2), Fraction(3, 4)
LADDER = (Fraction(7, 8), Fraction(1))

# Between what is told and what is walked of it, or told next.
AT_ONCE = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Measure:
    """How much a level needs. words, join, add, wall, event: how often each is danced; together: how fast sections are
    put together; pause: seconds of breath between stages. walked: steps are walked without time, four counts and then
    all of them, as they are told; shown: each section is danced first for the class to watch."""

    words: int
    join: int
    add: int
    wall: int
    event: int
    together: Fraction
    pause: Fraction
    walked: bool = True
    shown: bool = False


# By what the sheet's level says, the first that fits; two times with words is what is usual.
LEVELS: tuple[tuple[str, Measure], ...] = (
    ("absolute", Measure(3, 2, 2, 2, 3, HALF, Fraction(3), shown=True)),
    ("beginner", Measure(3, 2, 2, 2, 2, HALF, Fraction(3), shown=True)),
    ("improver", Measure(2, 1, 1, 1, 2, HALF, Fraction(2))),
    ("intermediate", Measure(2, 1, 1, 1, 2, THREE_QUARTERS, Fraction(2), walked=False)),
    ("advanced", Measure(1, 1, 1, 1, 1, THREE_QUARTERS, Fraction(1), walked=False)),
)
USUAL = Measure(2, 1, 1, 1, 2, HALF, Fraction(2))


def measure_of(level: str) -> Measure:
    """What a sheet's level needs; the usual where it says none that is known."""
    return next((measure for name, measure in LEVELS if name in level.lower()), USUAL)


def told_briefly(stages: Iterable[Stage]) -> Iterator[Stage]:
    """Stages of which those that are only told, to a class that stands as it was told at the stage before, say the foot
    alone, and come after it at once."""
    before: Stage | None = None
    for stage in stages:
        same = before is not None and before.start == stage.start and not (before.danced or stage.danced)
        if before is not None:
            follows = not before.danced and not stage.danced
            yield replace(before, pause_seconds=min(before.pause_seconds, AT_ONCE)) if follows else before
        before = replace(stage, brief=same)
    if before is not None:
        yield before


def without_twins(stages: Iterable[Stage]) -> Iterator[Stage]:
    """Stages of which none is danced just as the one before it: of two such the first is left out, and the other is
    danced as often as both; the whole dance no longer than a song."""
    kept: Stage | None = None
    for stage in stages:
        if kept is not None and kept.danced and _as_danced(kept) == _as_danced(stage):
            often = max(kept.times, stage.times) if stage.kind is StageKind.WHOLE else kept.times + stage.times
            stage = replace(stage, times=often)
        elif kept is not None:
            yield kept
        kept = stage
    if kept is not None:
        yield kept


def _as_danced(stage: Stage) -> tuple[object, ...]:
    return stage.start, stage.end, stage.speed, stage.manners, stage.easier


def slow_speed(dance: Dance, wall: Wall, section: int, tempo: Fraction) -> Fraction:
    """The share of a full tempo, in whole per cents, at which a section is first danced: half, but never so slow that
    its steps are held and not danced. A waltz needs a little more, and whatever pivots, where there are no steps
    between the counts, whose words would not fit."""
    return _slow(dance, ((wall, phrase) for phrase in wall.phrases if phrase.section == section), tempo)


def slow_speed_between(dance: Dance, first: Fraction, last: Fraction, tempo: Fraction) -> Fraction:
    """The same of some counts of the dance."""
    return _slow(dance, phrases_between(dance, first, last), tempo)


def with_floors(dance: Dance, stages: Iterable[Stage], tempo: Fraction) -> Iterator[Stage]:
    """Stages laid out for a full tempo that are danced no slower than steps can be once that is lowered; what was laid
    out slower stays so."""
    for stage in stages:
        least = _floor(dance, phrases_between(dance, stage.start, stage.end)) if stage.danced else Fraction(0)
        yield replace(stage, floor=min(least, stage.speed * tempo))


def _slow(dance: Dance, phrases: Iterable[tuple[Wall, DancedPhrase]], tempo: Fraction) -> Fraction:
    return max(HALF, min(Fraction(ceil(100 * _floor(dance, phrases) / tempo), 100), Fraction(1)))


def _floor(dance: Dance, phrases: Iterable[tuple[Wall, DancedPhrase]]) -> Fraction:
    """The fewest counts a minute at which these are danced and not held."""
    own = list(phrases)
    pivots = any("pivot" in phrase.name for _, phrase in own)
    danced = [one for wall, phrase in own for one in wall.movements[phrase.first : phrase.last + 1]]
    quick = any(one.at.denominator != 1 for one in danced)
    return max(floor_of(dance.routine.header.meter.counts), WALTZ_FLOOR if pivots and not quick else Fraction(0))
