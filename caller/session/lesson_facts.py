"""What a lesson shows beside the dance: its stages. Pure.

Conventions: short phrases without a full stop.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from caller.calls.plan import Manner
from caller.dance.walls import Dance
from caller.routine.facing import Turn
from caller.session.changes import Calling
from caller.session.programme import ProgrammeFacts
from caller.session.so_far import is_put_in
from caller.teaching.floors import Floors, Stands
from caller.teaching.running import Running, StageOutcome, Waits, next_stage
from caller.teaching.stage import Stage, StageKind
from caller.teaching.standing import changes_weight
from caller.teaching.summary import summary_of


def facts_of(
    running: Running, dance: Dance, manner: Manner, looping: bool, alone: bool, left: Fraction | None = None
) -> ProgrammeFacts:
    """dance: as it is danced in the stage. looping: it goes over and over. alone: danced in a practice, and left when
    it went well. left: seconds that it still takes, None where that is not known."""
    over, stages = running.over, running.programme.stages
    danced = not over and running.stage.danced
    wrong_foot = danced and changes_weight(dance, running.stage.start, running.stage.end)
    return ProgrammeFacts(
        running.programme.title,
        dance,
        running.programme.tempo,
        Calling(
            manner, _eased(running), looping, waiting=running.waits is Waits.STAGES, wrong_foot=looping and wrong_foot
        ),
        running.speed * running.ease,
        lesson=True,
        danced=danced,
        alone=alone,
        by_heart=not over and manner is Manner.COUNTS and stages[running.index].kind is not StageKind.DEMONSTRATE,
        left=left,
        stages=tuple(stage.name for stage in stages),
        stage=stage_words(running),
        place=stage_place(running),
        after=name_after(running),
        until=None if over else running.stage.end,
        time_round=running.goes + 1 if danced and not running.stage.times else 0,
    )


def _eased(running: Running) -> bool:
    """Whether the next go, apart from those that show an option, is danced the easier way."""
    left = running.programme.stages[running.index :]
    return next((stage.easier for stage in left if stage.danced and stage.kind is not StageKind.OPTION), False)


def stood_of(running: Running, floors: Floors) -> Stands:
    """How everybody stands now, in a lesson whose stage is done and waits; else not known."""
    if not running.waiting or running.over or running.programme.way != "walkthrough":
        return None, None
    return floors.stood(running.programme.stages[running.index])


def stands_of(running: Running, floors: Floors, turn: Turn, start: Fraction | None) -> Stands:
    """How everybody stands before what is danced next: the stage; where it is done and waits, the next one. start: the
    count of the stage from which it goes on, None = from its own."""
    stages, index = running.programme.stages, running.index + running.waiting
    if index >= len(stages):
        return None, None
    if running.waiting:
        return floors.stands(stages[index])
    begins = stages[index].start if start is None else start
    return floors.stands(replace(stages[index], start=begins), turn)


def left_of(stages: Sequence[Stage], seconds: Sequence[Fraction]) -> tuple[Fraction | None, ...]:
    """Seconds that are left at the start of each stage, from what each takes; None where one has no end of its own."""
    found: list[Fraction | None] = []
    left: Fraction | None = Fraction(0)
    for stage, own in zip(reversed(stages), reversed(seconds), strict=True):
        left = None if left is None or (stage.danced and not stage.times) else left + own
        found.append(left)
    return tuple(reversed(found))


def stage_words(running: Running) -> str:
    """ "Section 2, words on the count, 2 of 3"; "" when all is over."""
    if running.over:
        return ""
    stage, goes = running.stage, running.goes + 1
    often = f", {goes} of {stage.times}" if stage.danced and stage.times > 1 and not running.waiting else ""
    ever = f", time {goes}" if stage.danced and stage.times == 0 else ""
    return f"{stage.name}{often}{ever}"


def stage_place(running: Running) -> str:
    """ "7 of 41"; "" when all is over, and of a stage that the teacher has put in."""
    return "" if running.over or is_put_in(running) else f"{running.index + 1} of {len(running.programme.stages)}"


def name_after(running: Running) -> str:
    """The next stage's name, "" after the last."""
    return next((stage.name for stage in running.programme.stages[running.index + 1 :]), "")


def last_words(running: Running) -> set[str]:
    """What a practice may be summed up by once its last go, under way, is over: clean or not. None before that."""
    if running.programme.way != "practice" or running.index != len(running.programme.stages) - 1:
        return set()
    ways = (running, next_stage(running, StageOutcome.PAUSED), next_stage(running, StageOutcome.SLOWER))
    return {
        sentence for way in ways for sentence in summary_of(next_stage(replace(way, announced=True), StageOutcome.DONE))
    }
