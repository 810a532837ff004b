"""What a teacher's orders, and what comes to pass, make of a taught programme. Pure.

Conventions: each answer takes a programme and an outcome and returns another programme; raises CanNot where what was
asked for isn't there. What is danced once more is :mod:`caller.session.lesson_again`'s concern; how it is
taught, :mod:`caller.session.lesson_ways`'.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from caller.session.asked import counts_asked, loop_to, need_easier, need_tempo, wall_asked
from caller.session.lesson_again import (
    again,
    back,
    count_of,
    figure_told,
    once_more_from,
    resumed,
    stood,
    told_again,
    wall_again,
)
from caller.session.lesson_both import half_the_hall, told_before_go
from caller.session.lesson_places import danced_count, over_and_over, stage_numbered, stage_of_section, stage_of_wall
from caller.session.lesson_ways import WAYS
from caller.session.programme import CanNot, Passed, ProgrammeEvent
from caller.session.route import CountSpan, bar_start
from caller.session.so_far import ELSEWHERE, LEAVES, is_put_in, put_in, so_far, taken_out
from caller.teaching.paced import with_tempo
from caller.teaching.rungs import left_well, went_well
from caller.teaching.running import (
    StageOutcome,
    answered,
    at_stage,
    begin,
    easier,
    is_easier,
    looped,
    next_stage,
    waiting_when,
)
from caller.transport.order import Order

if TYPE_CHECKING:
    from caller.session.taught import TaughtProgramme

NOT_YET_WELL = "A rung goes well once it is danced: Space goes on with it."


def came_of(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """The programme after an outcome; itself where nothing comes of it. Raises CanNot."""
    if taught.over and outcome.what in _IN_A_STAGE:
        return taught
    if is_put_in(taught.running):
        if outcome.what in LEAVES:
            return _back_to_lesson(taught)
        if outcome.what in ELSEWHERE:
            return came_of(_back_to_lesson(taught), outcome)
    if outcome.what is Order.TEMPO:
        need_tempo(taught.floors.plain, taught.running.programme.tempo, outcome)
    if (way := WAYS.get(outcome.what)) is not None:
        came = replace(taught, running=way(taught.running, outcome, taught.dancing))
    else:
        answer = ANSWERS.get(outcome.what)
        came = told_before_go(answer(taught, outcome), outcome) if answer else taught
    if outcome.what in (Passed.DONE, Passed.WENT_ON, Passed.TIMED):
        return came
    heard = answered(came.running, to_telling=taught.begun and came.running.index == taught.running.index)
    return came if heard is came.running else replace(came, running=heard)


def _done(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    if taught.aside:
        return replace(taught, aside=(), stays=False)
    if taught.summing:
        return replace(taught, summing=False, line=0)
    after, stage = next_stage(taught.running, StageOutcome.DONE), taught.running.stage
    pause = stage.pause_seconds if after.index != taught.running.index and stage.danced else Fraction(0)
    on = replace(taught.at(after), silence_seconds=pause)
    return stood(taught, on) if after.goes > taught.running.goes and not after.waiting else on


def _on(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    return replace(taught, summing=False) if taught.summing else taught.at(next_stage(taught.running, StageOutcome.ON))


def _well(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """The rung went well: on from it; while it stands it is left, and what comes next waits."""
    if not taught.alone:
        return taught
    if outcome.stopped and outcome.count is None and not taught.running.goes:
        raise CanNot(NOT_YET_WELL)
    if outcome.stopped:
        return taught.at(left_well(taught.running))
    well = went_well(taught.running)
    return taught.at(well) if well.index != taught.running.index else replace(taught, running=well)


def _top(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    stages = with_tempo(begin(taught.stages), taught.running.programme.tempo).programme
    return replace(taught.at(waiting_when(begin(stages), taught.running.waits)), summing=False)


def _so_far(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """What has been taught so far, over and over."""
    stage = so_far(taught.running, 2 * taught.dance.routine.header.meter.counts)
    left = taught.running if taught.kept is None else over_and_over(taught.running, taught.kept)[0]
    return replace(taught.at(put_in(left, stage)), kept=replace(stage, times=1), marked=None)


def _back_to_lesson(taught: TaughtProgramme) -> TaughtProgramme:
    """Out of the stage that was put in, where the lesson was."""
    return replace(taught.at(taken_out(taught.running)), kept=None, marked=None)


def _to_section(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    running = taught.running
    return _to(taught, stage_of_section(running.programme.stages, int(outcome.amounts[0]), running.index))


def _to_stage(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    return _to(taught, stage_numbered(taught.running.programme.stages, int(outcome.amounts[0])))


def _to_wall(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """From that wall on, where it is danced in the stage under way; else to the first stage that dances it."""
    at, stage = wall_asked(taught.floors.plain, outcome), taught.running.programme.stages[taught.running.index :]
    if outcome.count is not None and stage and stage[0].start <= at < stage[0].end:
        return once_more_from(taught, at, outcome.count)
    return _to(taught, stage_of_wall(taught.running, taught.floors.plain, at))


def _to(taught: TaughtProgramme, index: int) -> TaughtProgramme:
    return replace(taught.at(at_stage(taught.running, index)), summing=False)


def _eased(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """The easier way from here on, or the full steps again."""
    need_easier(taught.floors)
    return replace(taught, running=easier(taught.running, not is_easier(taught.running)), both=False)


def _looped(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """Over and over, or out of the loop. Before the loop's next round that is still danced from where it begins, as is
    being told, and then on."""
    running, kept = over_and_over(taught.running, taught.kept)
    begins = taught.running.stage.start
    start = begins if taught.start is None and running.stage.start != begins else taught.start
    return replace(taught, running=running, kept=kept, start=start)


def _mark(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    return replace(taught, marked=bar_start(taught.dance, danced_count(outcome)))


def _loop_closed(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    start = taught.running.stage.start
    return _looping(taught, loop_to(taught.dance, danced_count(outcome), taught.marked, start))


def _counts_looped(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    return _looping(taught, counts_asked(taught.dance, count_of(taught, outcome), outcome))


def _looping(taught: TaughtProgramme, span: CountSpan) -> TaughtProgramme:
    kept = taught.kept or taught.running.programme.stages[taught.running.index]
    return replace(taught.at(looped(taught.running, span.first, span.last)), marked=None, kept=kept)


# What needs a stage: when all is over there is none.
_IN_A_STAGE = frozenset(
    {
        *(Order.SECTION_AGAIN, Order.WALL_AGAIN, Order.LAST_FOUR, Order.LAST_EIGHT, Order.LAST_COUNTS),
        *(Order.SAY_AGAIN, Order.SAY_FIGURE, Order.MANNER),
        *(Order.LOOP, Order.LOOP_FROM, Order.LOOP_TO, Order.LOOP_COUNTS, Order.LOOP_WALL),
        *(Passed.DONE, Passed.RESUMED),
    }
)
ANSWERS: dict[Order | Passed, Callable[[TaughtProgramme, ProgrammeEvent], TaughtProgramme]] = {
    Passed.DONE: _done,
    Passed.STOPPED: lambda taught, outcome: replace(taught, running=next_stage(taught.running, StageOutcome.PAUSED)),
    Passed.RESUMED: resumed,
    Order.GO: lambda taught, outcome: replace(taught, begun=True),
    Order.SECTION_AGAIN: again,
    Order.WALL_AGAIN: wall_again,
    Order.PREVIOUS: lambda taught, outcome: replace(
        taught.at(next_stage(taught.running, StageOutcome.BACK)), summing=False
    ),
    Order.NEXT: _on,
    Order.WELL: _well,
    Order.SECTION: _to_section,
    Order.STAGE: _to_stage,
    Order.TO_WALL: _to_wall,
    Order.LAST_FOUR: back,
    Order.LAST_EIGHT: back,
    Order.LAST_COUNTS: back,
    Order.SAY_AGAIN: told_again,
    Order.SO_FAR: _so_far,
    Order.TOP: _top,
    Order.EASIER: _eased,
    Order.BOTH_WAYS: half_the_hall,
    Order.SAY_FIGURE: figure_told,
    Order.LOOP: _looped,
    Order.LOOP_FROM: _mark,
    Order.LOOP_TO: _loop_closed,
    Order.LOOP_COUNTS: _counts_looped,
    Order.LOOP_WALL: _counts_looped,
}
