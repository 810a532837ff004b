"""The stages of a lesson as ``--list`` shows them.

Conventions: one line a stage; times are minutes and seconds from the start, when nobody stops it.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import accumulate
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from caller.dance.walls import Dance
    from caller.teaching.stage import LessonPlan, Stage


def stage_lines(programme: LessonPlan, dance: Dance) -> Iterator[str]:
    """What it is and how long all of it takes, where it ends by itself; then each stage, with when it begins."""
    stages = stages_in(programme)
    begins = _begins_of(programme, dance)
    ends = all(stage.times or not stage.danced for stage in programme.stages)
    long = f", {_clock_words(begins[-1])} minutes" if ends else ""
    yield f"{programme.title}: {stages}, full tempo {float(programme.tempo):g}{long}"
    for number, (stage, at) in enumerate(zip(programme.stages, begins, strict=False), 1):
        yield f"{_stage_line(number, stage, programme)}, at {_clock_words(at)}"


def stages_in(programme: LessonPlan) -> str:
    """ "39 stages"."""
    return _so_many(len(programme.stages), "stage")


def _so_many(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _begins_of(programme: LessonPlan, dance: Dance) -> list[Fraction]:
    """Seconds until each stage begins when nobody stops it, and until all is over."""
    from caller.teaching.floors import Floors
    from caller.teaching.minutes import stage_seconds

    return list(accumulate(stage_seconds(programme, Floors.of(dance)), initial=Fraction(0)))


def _clock_words(seconds: Fraction) -> str:
    """ "3:20", minutes and seconds."""
    return f"{int(seconds // 60)}:{int(seconds % 60):02}"


def _stage_line(number: int, stage: Stage, programme: LessonPlan) -> str:
    if not stage.danced:
        return f"{number:>3}  {stage.name}: {_so_many(len(stage.said), 'sentence')}"
    times = {0: "until moved on", 1: "once", 2: "twice"}.get(stage.times, f"{stage.times} times")
    manners = " then ".join(manner.value for manner in stage.manners[: stage.times or None])
    creep = f", {float(100 * stage.creep):g}% more each time" if stage.creep else ""
    pace = f"{float(100 * stage.speed):g}% ({float(programme.tempo * stage.speed):.4g} a minute){creep}"
    return f"{number:>3}  {stage.name}: {int(stage.end - stage.start)} counts, {pace}, {times}, {manners}"
