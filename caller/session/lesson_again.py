"""What of a lesson is danced or told once more, from its start or from a count on. Pure.

Conventions: each answer takes a programme and an outcome and returns another programme; raises CanNot where what was
asked for isn't there. How everybody is to stand is told before they dance it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import takewhile
from typing import TYPE_CHECKING

from caller.calls.places import stretch_at
from caller.dance.walls import Dance
from caller.routine.facing import NO_TURN, Facing
from caller.session.asked import back_from, resumed_from
from caller.session.lesson_places import danced_count, steps_told
from caller.session.programme import CanNot, ProgrammeEvent
from caller.session.route import bar_start, bars_end
from caller.session.told_in_a_dance import NO_STEPS
from caller.teaching.alone import weak_stage
from caller.teaching.own_stages import by_itself_first
from caller.teaching.rungs import not_well
from caller.teaching.running import StageOutcome, at_start, next_stage
from caller.teaching.stage import Stage
from caller.teaching.standing import again_words, facing_at, go_words, stage_ends, turn_after, turn_before
from caller.teaching.telling import figure_told_at

if TYPE_CHECKING:
    from caller.session.taught import TaughtProgramme

NONE_BEFORE = "Nothing was danced before this. There are no counts to go back by."


def again(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """The telling again, where it is told; else the stage's goes."""
    if taught.left_well:
        return taught.at(not_well(taught.running))
    if taught.alone:
        return _rung_again(taught, outcome)
    if taught.summing or (outcome.line is not None and not taught.aside):
        return replace(taught, line=0)
    return _anew(taught, outcome)


def _rung_again(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """The rung again, with its calls; where it was stopped in a section, that by itself first. A rung that has not
    begun is meant for the one before it: a second tap comes too late to stop the first."""
    if outcome.line is not None and taught.running.well and not taught.aside:
        return taught.at(not_well(taught.running))
    if outcome.count is not None and taught.on_a_rung:
        wall = taught.dance.wall_at(outcome.count)
        section = stretch_at(wall, outcome.count).section
        weak = weak_stage(taught.floors.plain, wall, section, taught.running.speed)
        if weak is not None:
            return taught.at(by_itself_first(taught.running, weak))
    return _anew(taught, outcome)


def _anew(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """The stage's goes from the first; how everybody is to stand is said."""
    stage = taught.running.stage
    anew = replace(taught.at(next_stage(taught.running, StageOutcome.AGAIN)), turn=taught.turn)
    if not stage.danced:
        return anew
    stands = None if outcome.count is None else facing_at(taught.dance, outcome.count)
    words = again_words(taught.dance, taught.dance, stage, stands)
    return replace(anew, aside=(words,))


def stood(taught: TaughtProgramme, on: TaughtProgramme) -> TaughtProgramme:
    """Another go of the stage, from where everybody stands, or turned back; how they stand is said."""
    turn = turn_after(taught.dance, taught.running.stage, taught.turn)
    dance = taught.floors.of_stage(on.running.stage, turn)
    words = again_words(taught.dance, dance, on.running.stage)
    return replace(on, turn=turn, aside=(words,))


def wall_again(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """From the wall's first count that is of the stage; what is told from its start."""
    if outcome.count is None:
        return again(taught, outcome)
    return once_more_from(taught, taught.dance.wall_at(outcome.count).at, outcome.count)


def back(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """From so many counts before the bar under way; before a loop is counted in, of the counts before it. Where no
    count is under way, the last ones that were danced. Raises CanNot where there were none."""
    stage, kept = taught.running.stage, taught.kept
    count = taught.start if outcome.count is None else outcome.count
    counting_in = count == stage.start
    if count is not None and not counting_in:
        return once_more_from(taught, back_from(taught.dance, count, outcome), count)
    if counting_in and kept is not None and kept.start < stage.start:
        start = max(back_from(taught.dance, stage.start, outcome), kept.start)
        return _told_to_stand(taught, start, facing_at(taught.dance, stage.start))
    if taught.running.goes:
        return _last_of_go(taught, outcome)
    return _last_of_stage_before(taught, outcome)


def _last_of_go(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """The last counts of the go that was danced, facing as then, and on from there; it is that go still, no other."""
    running, stage = taught.running, taught.running.stage
    turn = taught.turn if running.waiting else turn_before(taught.dance, stage, taught.turn)
    go = next_stage(replace(running, goes=running.goes - 1, waiting=False, announced=True), StageOutcome.PAUSED)
    return _last_counts(replace(taught, running=go, turn=turn, line=0), outcome)


def _last_of_stage_before(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """While a stage opens, the last counts of the one danced before it, whatever has been told since, and on from
    there. Raises CanNot where none was, or another one that is danced lies between."""
    running = taught.running
    go = running.done[-1] if running.done else None
    between = [] if go is None else running.programme.stages[go.index + 1 : running.index]
    if go is None or go.index > running.index or any(stage.danced for stage in between):
        raise CanNot(NONE_BEFORE)
    stage = running.programme.stages[go.index]
    if (stage.name, stage.start, stage.end) != (go.stage.name, go.stage.start, go.stage.end):
        raise CanNot(NONE_BEFORE)
    goes = len(list(takewhile(lambda done: done.index == go.index, reversed(running.done))))
    turn = NO_TURN
    for _ in range(goes - 1):
        turn = turn_after(taught.floors.of_stage(stage, turn), stage, turn)
    done = min(goes, stage.times) if stage.times else goes
    there = at_start(running, go.index)
    there = replace(there, goes=done - 1, speed=go.speed / there.ease, announced=True)
    return _last_counts(replace(taught.at(next_stage(there, StageOutcome.PAUSED)), turn=turn), outcome)


def _last_counts(before: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """From so many counts before the end of the stage's go."""
    stage = before.running.stage
    ends = stage_ends(before.dance, stage)
    stands = before.dance.wall_at(stage.start).starts if ends is None else ends.facing
    start = max(back_from(before.dance, bars_end(before.dance, stage.end), outcome), stage.start)
    return _told_to_stand(before, start, stands)


def once_more_from(taught: TaughtProgramme, count: Fraction, stands: Fraction) -> TaughtProgramme:
    """From a count of the stage on, for those who stand as before another; how they do there is said."""
    return _told_to_stand(taught, max(count, taught.running.stage.start), facing_at(taught.dance, stands))


def _told_to_stand(taught: TaughtProgramme, start: Fraction, stands: Facing) -> TaughtProgramme:
    """From a count on, for those who face that way; how they do there is said."""
    told = go_words(taught.dance, start, stands)
    return replace(taught, start=start, silence_seconds=Fraction(0), aside=(told,), stays=False)


def resumed(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """On from where it was stopped."""
    if outcome.line is not None:
        return _from_line(taught, outcome.line)
    return _from(taught, resumed_from(taught.dance, count_of(taught, outcome), outcome.go_on))


def told_again(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """The sentence; or the steps of the section, then on from the bar, or waiting or paused as before."""
    if outcome.line is not None and outcome.stopped and not taught.aside:
        return _told_while_paused(taught, outcome.line, steps_told)
    if outcome.line is not None:
        return replace(_from_line(taught, outcome.line), stays=taught.stays or outcome.stopped)
    if not taught.running.stage.danced:
        return again(taught, outcome)
    count = count_of(taught, outcome)
    on = taught if outcome.count is None else _from(taught, bar_start(taught.dance, count))
    return replace(on, aside=steps_told(taught.stages.stages, taught.dance, count), stays=outcome.stopped)


def figure_told(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """The figure under way, then on from the bar, or paused as before."""
    if outcome.line is not None and outcome.stopped and not taught.aside:
        return _told_while_paused(taught, outcome.line, _figure)
    told_from = taught.start if outcome.count is None else None
    count = danced_count(outcome, "There is no figure to tell.") if told_from is None else told_from
    there = _from(taught, bar_start(taught.dance, count))
    return replace(there, aside=_figure((), taught.dance, count), stays=outcome.stopped)


def _told_while_paused(
    taught: TaughtProgramme, line: int, told: Callable[[Sequence[Stage], Dance, Fraction], tuple[str, ...]]
) -> TaughtProgramme:
    """Paused in what is said first of a stage: what is danced in it first; of one that is only told, the sentence."""
    stage, here = taught.running.stage, taught.line + line
    if stage.danced:
        words = told(taught.stages.stages, taught.dance, stage.start)
    else:
        words = taught.floors.said_first(stage)[here : here + 1]
    return replace(taught, line=here, aside=words, stays=True)


def _figure(stages: Sequence[Stage], dance: Dance, count: Fraction) -> tuple[str, ...]:
    """What is told of the figure that a count is in."""
    wall = dance.wall_at(count)
    return (figure_told_at(wall, stretch_at(wall, count), dance.routine, count) or NO_STEPS,)


def count_of(taught: TaughtProgramme, outcome: ProgrammeEvent) -> Fraction:
    """Where the stage is danced, or stands; else its start."""
    return taught.running.stage.start if outcome.count is None else outcome.count


def _from(taught: TaughtProgramme, count: Fraction) -> TaughtProgramme:
    """From a count of the stage on, or its start."""
    start = max(count, taught.running.stage.start)
    return replace(taught, start=start, silence_seconds=Fraction(0), aside=(), stays=False)


def _from_line(taught: TaughtProgramme, line: int) -> TaughtProgramme:
    """From a sentence of what is told on."""
    return replace(taught, aside=taught.aside[line:]) if taught.aside else replace(taught, line=taught.line + line)
