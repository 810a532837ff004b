"""What a lesson shows beside the dance: its stages. Pure.

Conventions: short phrases without a full stop.
"""

from __future__ import annotations

from dataclasses import replace

from caller.calls.plan import Manner
from caller.dance.walls import Dance
from caller.session.changes import Calling
from caller.session.programme import ProgrammeFacts
from caller.teaching.running import Running, StageOutcome, Waits, next_stage
from caller.teaching.summary import summary_of


def facts_of(running: Running, dance: Dance, manner: Manner, looping: bool, alone: bool) -> ProgrammeFacts:
    """dance: as it is danced in the stage. looping: it goes over and over. alone: on a rung of a practice."""
    over = running.over
    return ProgrammeFacts(
        running.programme.title,
        dance,
        running.programme.tempo,
        Calling(manner, not over and running.stage.easier, looping, waiting=running.waits is Waits.STAGES),
        running.speed * running.ease,
        lesson=True,
        danced=not over and running.stage.danced,
        alone=alone,
        stages=tuple(stage.name for stage in running.programme.stages),
        stage=stage_words(running),
        place=stage_place(running),
        after=name_after(running),
        until=None if over else running.stage.end,
    )


def stage_words(running: Running) -> str:
    """ "Section 2, words on the count, 2 of 3"; "" when all is over."""
    if running.over:
        return ""
    stage, goes = running.stage, running.goes + 1
    often = f", {goes} of {stage.times}" if stage.danced and stage.times > 1 and not running.waiting else ""
    ever = f", time {goes}" if stage.danced and stage.times == 0 else ""
    return f"{stage.name}{often}{ever}"


def stage_place(running: Running) -> str:
    """ "7 of 41"; "" when all is over."""
    return "" if running.over else f"{running.index + 1} of {len(running.programme.stages)}"


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
