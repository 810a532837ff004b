"""Practice alone: from last time's rung on, within the minutes that there are, weak places more often. Common practice.

Conventions: a rung is a share of the full tempo (:data:`~caller.teaching.drill.RUNGS`), told by its place among them
from 0. Events are met early and slowly, after the first rung. Pure.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product

from caller.calls.plan import Manner
from caller.dance.walls import Dance, Wall
from caller.teaching.drill import FADING, RUNG_WALLS, RUNGS, practice_of
from caller.teaching.floors import Floors
from caller.teaching.minutes import stage_seconds
from caller.teaching.plain_walls import sections_of
from caller.teaching.stage import LessonPlan, MovesOn, Stage, StageKind
from caller.teaching.walkthrough import walkthrough_of

# What an answer takes that a rung waits for.
ANSWER_SECONDS = 5
# What may be made less of, where time is short: walls a rung, goes a rung, which rungs are left out, and what comes
# before and after them. So many rungs are worth more than all of that.
_WALLS, _GOES = (4, 3, 2, 1), (FADING, (Manner.AHEAD, Manner.QUIET))
WORTH_RUNGS = 3
WEAK_TIMES = 2


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of a practice. first: the rung that it begins with. minutes: None = as many as it takes. told: the
    steps are told first. weak: sections that are danced by themselves before rungs, the weakest first. waits: a rung is
    left when it went well, not by itself. wall, section: where it starts."""

    first: int = 0
    minutes: int | None = None
    told: bool = False
    weak: Sequence[int] = ()
    waits: bool = True
    wall: int = 1
    section: int | None = None


def practice_alone(dance: Dance, tempo: Fraction | None, asked: Asked) -> LessonPlan:
    """Raises NotThere, and ValueError for a rung that isn't one."""
    if not 0 <= asked.first < len(RUNGS):
        raise ValueError(f"there is no rung {asked.first}; there are 0 to {len(RUNGS) - 1}")
    left, whole = RUNGS[asked.first :], walkthrough_of(dance, tempo)
    if asked.minutes is None:
        return _laid(dance, tempo, asked, _Way(RUNG_WALLS, FADING, left), whole)
    floors, both = Floors.of(dance), (True, False)
    ways = [_Way(*way) for way in product(_WALLS, _GOES, _ladders(left), both, both)]
    programmes = [_laid(dance, tempo, asked, way, whole) for way in ways]
    seconds = [sum(stage_seconds(one, floors)) + ANSWER_SECONDS * len(_rungs(one)) for one in programmes]
    fits = [n for n, long in enumerate(seconds) if long <= 60 * asked.minutes]
    if not fits:
        return programmes[seconds.index(min(seconds))]
    return programmes[max(fits, key=lambda n: (*ways[n].worth, seconds[n]))]


@dataclass(frozen=True, slots=True)
class _Way:
    """How much of each there is. whole: the whole dance at the end; events: early."""

    walls: int
    fading: tuple[Manner, ...]
    rungs: tuple[Fraction, ...]
    whole: bool = True
    events: bool = True

    @property
    def worth(self) -> tuple[int, bool, bool]:
        return min(len(self.rungs), WORTH_RUNGS), self.events, self.whole


def weak_stage(dance: Dance, wall: Wall, section: int, speed: Fraction) -> Stage | None:
    """A section by itself, called; None where the wall has none of that number."""
    found = next((stretch for stretch in sections_of(wall) if stretch.section == section), None)
    if found is None:
        return None
    part = f"part {wall.part} section" if wall.part else "section"
    return Stage(
        f"{part.capitalize()} {section}, a weak place",
        StageKind.DRILL,
        found.at,
        found.at + found.counts,
        speed,
        WEAK_TIMES,
        said=(f"section {section} by itself.",),
        count_in=2 * dance.routine.header.meter.counts,
        sections=((wall.part, section),),
    )


def _ladders(left: tuple[Fraction, ...]) -> list[tuple[Fraction, ...]]:
    """The rungs that are left: all, every other one, the first and the last, the first."""
    return list(dict.fromkeys((left, left[::2], (left[0], left[-1]) if len(left) > 1 else left, left[:1])))


def _laid(dance: Dance, tempo: Fraction | None, asked: Asked, way: _Way, whole: LessonPlan) -> LessonPlan:
    """whole: the walkthrough, of which what is told and the events are taken."""
    ladder = practice_of(
        dance,
        tempo=tempo,
        wall_number=asked.wall,
        section=asked.section,
        rungs=way.rungs,
        walls=way.walls,
        fading=way.fading,
    )
    told = [stage for stage in whole.stages if stage.kind is StageKind.TELL] if asked.told else []
    early = [_waiting(replace(stage, times=1), asked.waits) for stage in whole.stages if _is_early(stage)]
    climbed = [stage for stage in _climbed(dance, ladder, asked) if way.whole or stage.kind is not StageKind.WHOLE]
    if way.events and asked.first == 0:
        first = 1 + next(n for n, stage in enumerate(climbed) if stage.kind is StageKind.PRACTICE)
        climbed[first:first] = early
    return replace(ladder, stages=(*told, *climbed))


def _is_early(stage: Stage) -> bool:
    """An event, told and with a word on each movement."""
    return stage.kind is StageKind.EVENT and stage.manners[0] is Manner.ON_COUNT


def _climbed(dance: Dance, ladder: LessonPlan, asked: Asked) -> Iterator[Stage]:
    """The rungs, each with a weak place before it, in turn."""
    wall = dance.walls[asked.wall - 1]
    for n, stage in enumerate(ladder.stages):
        if stage.kind is StageKind.PRACTICE and asked.weak:
            weak = weak_stage(dance, wall, asked.weak[n % len(asked.weak)], stage.speed)
            yield from [weak] if weak is not None else []
        yield _waiting(stage, asked.waits and stage.kind is StageKind.PRACTICE)


def _waiting(stage: Stage, waits: bool) -> Stage:
    """A rung, or an event among them, which waits until its dancer says how it went."""
    return replace(stage, moves_on=MovesOn.PEDAL) if waits else stage


def _rungs(programme: LessonPlan) -> list[Stage]:
    return [stage for stage in programme.stages if stage.kind is StageKind.PRACTICE]
