"""Where in a lesson an order leads, and what is heard there: stages by what they teach, goes, loops. Pure.

Conventions: counts are of the stage's dance. What can't be gone to is raised as CanNot, with what there is.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from caller.calls.music import straight
from caller.calls.places import stretch_at
from caller.dance.walls import Dance
from caller.session.programme import CanNot, ProgrammeEvent, ToDance
from caller.session.told_in_a_dance import steps_of
from caller.teaching.play import count_in_of
from caller.teaching.running import Running, let_on, often
from caller.teaching.stage import Stage, StageKind
from caller.transport.tempo import Slowing, floor_of


def go_of(
    running: Running, dance: Dance, slowing: Slowing, start: Fraction | None, silence_seconds: Fraction
) -> ToDance:
    """The stage's next go, whole; or what is left of it from a count on, counted in by a bar."""
    stage, bar = running.stage, dance.routine.header.meter.counts
    return ToDance(
        dance,
        stage.start if start is None else start,
        stage.end,
        slowing.of(running.tempo, floor_of(bar)),
        stage.manners[0],
        count_in_of(running, dance) if start is None else bar,
        straight(dance) if stage.to_music else (),
        fading=stage.fading,
        led=stage.led and start is None,
        silence_seconds=silence_seconds,
    )


def stage_of_section(stages: Sequence[Stage], number: int, now: int) -> int:
    """The stage that tells a section; where it has been told by now, the first one that dances it."""
    found = [n for n, stage in enumerate(stages) if [own for _, own in stage.sections] == [number]]
    if not found:
        there = dict.fromkeys(str(own) for stage in stages for _, own in stage.sections)
        which = f"there are {', '.join(there)}" if there else "it goes by stages"
        raise CanNot(f"No stage teaches section {number}; {which}.")
    danced = [n for n in found if stages[n].danced]
    return danced[0] if danced and found[0] < now else found[0]


def stage_of_wall(running: Running, dance: Dance, at: Fraction) -> int:
    """The first stage in which all sections of the wall that begins at a count are danced. Raises CanNot where none
    is."""
    wall, stages = dance.wall_at(at), running.programme.stages
    ends = max((own.at + own.counts for own in wall.stretches if own.section), default=wall.end)
    found = (n for n, stage in enumerate(stages) if stage.danced and stage.start <= at and ends <= stage.end)
    index = next(found, None)
    if index is None:
        raise CanNot(f"Wall {wall.number} is danced in no stage of this; a dance that is danced whole goes by walls.")
    return index


def stage_numbered(stages: Sequence[Stage], number: int) -> int:
    """The place of the stage of that number, from 0. Raises CanNot."""
    if not 1 <= number <= len(stages):
        raise CanNot(f"There is no stage {number}; there are 1 to {len(stages)}.")
    return number - 1


def steps_told(stages: Sequence[Stage], dance: Dance, count: Fraction) -> tuple[str, ...]:
    """What is danced in the section that a count is in, as the programme tells it, else as it is called."""
    wall = dance.wall_at(count)
    own = ((wall.part, stretch_at(wall, count).section),)
    told = [
        sentence
        for stage in stages
        if stage.kind is StageKind.TELL and stage.sections == own
        for sentence in stage.said
    ]
    return tuple(told) or steps_of(dance, count)


def danced_count(outcome: ProgrammeEvent, why: str = "A loop is marked in what is danced.") -> Fraction:
    """The count that is danced, or stands. Raises CanNot where nothing is danced, with why one is needed."""
    if outcome.count is None:
        raise CanNot(f"Nothing is being danced now. {why}")
    return outcome.count


def over_and_over(running: Running, kept: Stage | None) -> tuple[Running, Stage | None]:
    """The stage over and over; or as it was to be, and at least once more: the way out of any loop. kept: the stage as
    it was before it was looped, None where it is not."""
    stage = running.programme.stages[running.index]
    if kept is None:
        return often(running, 0), stage
    if (stage.start, stage.end) == (kept.start, kept.end):
        return often(running, max(kept.times, running.goes + 1)), None
    return let_on(running, kept), None
