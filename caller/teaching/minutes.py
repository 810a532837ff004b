"""How long a programme takes when nobody stops it, worked out without a voice. Pure.

Conventions: seconds, exact. What is told takes as long as is guessed without a voice.
"""

from __future__ import annotations

from fractions import Fraction

from caller.calls.guessed import said_seconds
from caller.clock.timeline import SECONDS_A_MINUTE
from caller.dance.walls import Dance
from caller.routine.facing import NO_TURN
from caller.teaching.floors import Floors
from caller.teaching.play import BREATH_SECONDS, bar_seconds, count_in_of
from caller.teaching.running import Running, StageOutcome, begin, next_stage
from caller.teaching.stage import LessonPlan, Stage
from caller.teaching.standing import again_words, turn_after, turns_back


def told_seconds(sentences: tuple[str, ...], step: Fraction = Fraction(0)) -> Fraction:
    """How long sentences take, a breath after each, and at least ``step`` for one."""
    return sum((max(said_seconds(sentence) + BREATH_SECONDS, step) for sentence in sentences), Fraction(0))


def stage_seconds(programme: LessonPlan, floors: Floors) -> tuple[Fraction, ...]:
    """How long each stage takes, with what is told, its count-ins, and the pause after it. What waits for the pedal is
    moved on; what is danced until somebody does is danced once."""
    running, turn, found = begin(programme), NO_TURN, [Fraction(0)] * len(programme.stages)
    while not running.over:
        stage, index = running.stage, running.index
        if running.waiting or (stage.times == 0 and running.goes):
            running = next_stage(running, StageOutcome.ON)
            continue
        after = next_stage(running, StageOutcome.DONE)
        found[index] += _seconds(running, stage, floors)
        if after.goes > running.goes and not after.waiting:
            danced = floors.of_stage(stage, turn)
            turn = turn_after(danced, stage, turn)
            words = again_words(danced, floors.of_stage(stage, turn), stage)
            found[index] += told_seconds((words,)) + (bar_seconds(danced, running.tempo) if turns_back(words) else 0)
        elif after.index != index and stage.danced:
            found[index] += stage.pause_seconds
        turn = turn if after.index == index else NO_TURN
        running = after
    return tuple(found)


def dance_seconds(dance: Dance, tempo: Fraction, count_in: int) -> Fraction:
    """How long a whole dance takes with its count-in."""
    return SECONDS_A_MINUTE * (dance.counts + count_in) / tempo


def _seconds(running: Running, stage: Stage, floors: Floors) -> Fraction:
    if not running.announced and (stage.said or not stage.danced):
        told = told_seconds(floors.said_first(stage), stage.step_seconds)
        return told + (0 if stage.danced else stage.pause_seconds)
    counts = stage.end - stage.start + count_in_of(running, floors.plain)
    return SECONDS_A_MINUTE * counts / running.tempo
