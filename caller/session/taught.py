"""A taught programme: its stages told, counted in and danced. Pure.

Conventions: what comes of a stage is :mod:`caller.teaching.running`'s concern; here stands what a teacher's orders make
of it, and what is heard of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from caller.calls.places import stretch_at
from caller.calls.plan import Manner
from caller.dance.walls import Dance
from caller.routine.facing import NO_TURN, Turn
from caller.session.asked import counts_asked, counts_back
from caller.session.lesson_facts import facts_of, last_words, left_of, stands_of, stood_of
from caller.session.lesson_places import (
    danced_count,
    go_of,
    over_and_over,
    own_loop,
    resumed_from,
    stage_numbered,
    stage_of_section,
    steps_told,
)
from caller.session.lesson_ways import WAYS
from caller.session.programme import CanNot, Passed, ProgrammeEvent, ProgrammeFacts, Segment, ToDance, ToTell
from caller.session.route import CountSpan, bar_start
from caller.session.so_far import ELSEWHERE, LEAVES, may_be_said, put_in, so_far, taken_out
from caller.session.whole import NO_EASIER, NO_STEPS
from caller.teaching.alone import weak_stage
from caller.teaching.floors import Floors
from caller.teaching.minutes import stage_seconds
from caller.teaching.play import bar_seconds
from caller.teaching.running import (
    Running,
    StageOutcome,
    Waits,
    answered,
    at_stage,
    begin,
    by_itself_first,
    easier,
    looped,
    next_stage,
    not_well,
    waiting_when,
    went_well,
    with_tempo,
)
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.teaching.standing import again_words, every_way_again, facing_at, go_words, turn_after, turns_back
from caller.teaching.summary import summary_of
from caller.teaching.telling import figure_told_at, options_told
from caller.transport.order import Order
from caller.transport.tempo import Slowing

NOT_YET_WELL = "A rung goes well once it is danced: Space goes on with it."


@dataclass(frozen=True)
class TaughtProgramme:
    """stages: the programme as it was at first. begun: it has been started. summing: all is done, and a practice is
    summed up. start: the count from which a go that was stopped goes on, counted in by a bar; line: the sentence from
    which a telling does. silence_seconds: before what is next heard. kept: the stage as it was before it was looped,
    None where it is not. marked: where a loop of the teacher's own is to begin. aside: sentences told before it goes
    on. turn: how far from where the sheet has them everybody stands, over and over. left: seconds that are
    left at the start of each stage.
    both: half the hall dances the easier way; untold: which is still to be told, before the next go."""

    stages: LessonPlan
    floors: Floors
    running: Running
    begun: bool = False
    summing: bool = False
    start: Fraction | None = None
    line: int = 0
    silence_seconds: Fraction = Fraction(0)
    kept: Stage | None = None
    marked: Fraction | None = None
    aside: tuple[str, ...] = ()
    turn: Turn = NO_TURN
    left: tuple[Fraction | None, ...] = ()
    both: bool = False
    untold: bool = False

    @classmethod
    def of(cls, stages: LessonPlan, dance: Dance, first_stage: int = 0, waits: Waits = Waits.NEVER) -> TaughtProgramme:
        """At the start of a stage, from 0. Raises ValueError where there is none."""
        floors = Floors.of(dance)
        running = waiting_when(begin(stages, first_stage), waits)
        return cls(stages, floors, running, left=left_of(stages.stages, stage_seconds(stages, floors)))

    @property
    def over(self) -> bool:
        return self.running.over and not self.summing

    @property
    def waits(self) -> bool:
        return self.running.waiting and not self.aside

    @property
    def dance(self) -> Dance:
        """What is danced in the stage; the dance as it is when all is over."""
        return self.floors.plain if self.running.over else self.floors.of_stage(self.running.stage, self.turn)

    @property
    def manner(self) -> Manner:
        return Manner.AHEAD if self.running.over else self.running.stage.manners[0]

    @cached_property
    def facts(self) -> ProgrammeFacts:
        # Kept, since time, pedal and screen each ask for them many times a second.
        running = self.running
        known = not running.over and len(self.left) == len(running.programme.stages)
        left = self.left[running.index] if known else None
        facts = facts_of(running, self.dance, self.manner, self.kept is not None, self.alone, left)
        stands = stands_of(self.running, self.floors, self.turn)
        told = () if running.over or self.aside or running.waiting else self.floors.stands_told(running.stage)
        calling = replace(facts.calling, both=self.both)
        stood = stood_of(self.running, self.floors)
        return replace(facts, calling=calling, stands=stands, stood=stood, told=told[self.line :])

    def segment(self, slowing: Slowing) -> Segment:
        if self.aside:
            turning = any(map(turns_back, self.aside))
            return ToTell(self.aside, bar_seconds(self.dance, self.running.tempo) if turning else Fraction(0))
        if self.summing:
            return ToTell(summary_of(self.running)[self.line :])
        if self.running.over:
            raise ValueError("all is over: there is nothing to be heard")
        stage = self.running.stage
        if not self.running.announced and (self.running.says or not stage.danced):
            pause = Fraction(0) if stage.danced else stage.pause_seconds
            return ToTell(self.floors.said_first(stage)[self.line :], pause, self.silence_seconds, stage.step_seconds)
        return self._go(self.running, slowing, self.start, self.turn)

    def shown(self, slowing: Slowing) -> ToDance | None:
        stages, running = self.running.programme.stages, self.running
        if not running.over and running.stage.danced:
            return self._go(running, slowing, self.start, self.turn)
        index = next((n for n in range(running.index, len(stages)) if stages[n].danced), None)
        return None if index is None else self._go(begin(running.programme, index), slowing)

    def may_say(self) -> Iterable[str]:
        """How a practice is summed up; how everybody stands before another go of a loop of the teacher's own; what is
        said before all that was taught so far."""
        over = self.running.over
        looped = set() if self.kept is None or over else every_way_again(self.dance, self.running.stage)
        return last_words(self.running) | looped | set(self._easier_told()) | set(may_be_said(self.running))

    def after(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        if self.over and outcome.what in _IN_A_STAGE:
            return self
        if self._beside and outcome.what in LEAVES:
            return self._so_far(outcome)
        if self._beside and outcome.what in ELSEWHERE:
            return self._at(taken_out(self.running)).after(outcome)
        if (way := WAYS.get(outcome.what)) is not None:
            came = self._with(way(self.running, outcome, self._dancing))
        else:
            answer = _ANSWERS.get(outcome.what)
            came = answer(self, outcome) if answer else self
        by_itself = outcome.what in (Passed.DONE, Passed.WENT_ON, Passed.TIMED)
        return came if by_itself or came.running.answered else came._with(answered(came.running))

    def _go(self, running: Running, slowing: Slowing, start: Fraction | None = None, turn: Turn = NO_TURN) -> ToDance:
        return go_of(running, self.floors.of_stage(running.stage, turn), slowing, start, self.silence_seconds)

    # -- where it is

    def _at(self, running: Running) -> TaughtProgramme:
        """From the start of what is heard there; a loop is over with its stage."""
        same = running.index == self.running.index
        kept, marked = (self.kept, self.marked) if same else (None, None)
        ends = running.over and not self.running.over and self.stages.way == "practice"
        here = TaughtProgramme(self.stages, self.floors, running, True, ends, kept=kept, marked=marked)
        return replace(here, left=self.left, both=self.both, untold=self.untold)

    def _with(self, running: Running) -> TaughtProgramme:
        """The same place; what is taught there is another."""
        return replace(self, running=running)

    def _done(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        if self.aside:
            return replace(self, aside=())
        if self.summing:
            return replace(self, summing=False, line=0)
        after, stage = next_stage(self.running, StageOutcome.DONE), self.running.stage
        pause = stage.pause_seconds if after.index != self.running.index and stage.danced else Fraction(0)
        on = replace(self._at(after), silence_seconds=pause)
        return self._stood(on) if after.goes > self.running.goes and not after.waiting else on

    def _stood(self, on: TaughtProgramme) -> TaughtProgramme:
        """Another go of the stage, from where everybody stands, or turned back; how they stand is said."""
        turn = turn_after(self.dance, self.running.stage, self.turn)
        dance = self.floors.of_stage(on.running.stage, turn)
        words = again_words(self.dance, dance, on.running.stage)
        return replace(on, turn=turn, aside=(*self._easier_told(), words), untold=False)

    def _easier_told(self) -> tuple[str, ...]:
        """What half the hall dances, where that is still to be told."""
        if not self.untold or self.running.over:
            return ()
        stage = self.running.stage
        return options_told(self.floors.plain, stage.start, stage.end)

    def _on(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        return replace(self, summing=False) if self.summing else self._at(next_stage(self.running, StageOutcome.ON))

    @property
    def alone(self) -> bool:
        """On a rung of a practice, which is left when it went well."""
        stages = self.running.programme.stages
        return not self.over and not self.summing and stages[self.running.index].kind is StageKind.PRACTICE

    def _well(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        """The rung went well: on from it; while it stands, at once where it has been danced, else once this go is."""
        if not self.alone:
            return self
        if outcome.stopped and outcome.count is None and not self.running.goes:
            raise CanNot(NOT_YET_WELL)
        stands = outcome.stopped and self.running.goes > 0
        well = went_well(replace(self.running, waiting=True) if stands else self.running)
        if outcome.stopped and not stands:
            return self._with(well)._resumed(outcome)
        return self._at(well) if well.index != self.running.index else self._with(well)

    def _with_calls(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        """The rung again, with its calls; where it was stopped in a section, that by itself first. A rung that has not
        begun is meant for the one before it: a second tap comes too late to stop the first."""
        if outcome.line is not None and self.running.well and not self.aside:
            return self._at(not_well(self.running))
        if outcome.count is not None:
            wall = self.dance.wall_at(outcome.count)
            section = stretch_at(wall, outcome.count).section
            weak = weak_stage(self.floors.plain, wall, section, self.running.speed)
            if weak is not None:
                return self._at(by_itself_first(self.running, weak))
        return self._anew(outcome)

    def _anew(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        """The stage's goes from the first; how everybody is to stand is said."""
        again, stage = (
            replace(self._at(next_stage(self.running, StageOutcome.AGAIN)), turn=self.turn),
            self.running.stage,
        )
        stands = None if outcome.count is None else facing_at(self.dance, outcome.count)
        if not stage.danced:
            return again
        words = again_words(self.dance, self.dance, stage, stands)
        return replace(again, aside=(*self._easier_told(), words), untold=False)

    def _again(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        """The telling again, where it is told; else the stage's goes."""
        if self.alone:
            return self._with_calls(outcome)
        if self.summing or (outcome.line is not None and not self.aside):
            return replace(self, line=0)
        return self._anew(outcome)

    def _wall_again(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        if outcome.count is None:
            return self._again(outcome)
        return self._once_more_from(self.dance.wall_at(outcome.count).at, outcome.count)

    def _top(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        stages = with_tempo(begin(self.stages), self.running.programme.tempo).programme
        return replace(self._at(waiting_when(begin(stages), self.running.waits)), summing=False)

    def _resumed(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        if outcome.line is not None:
            return self._from_line(outcome.line)
        count = self.running.stage.start if outcome.count is None else outcome.count
        return self._from(resumed_from(self.dance, count, outcome.go_on))

    def _from(self, count: Fraction) -> TaughtProgramme:
        """From a count of the stage on, or its start."""
        start = max(count, self.running.stage.start)
        return replace(self, start=start, silence_seconds=Fraction(0), aside=())

    def _from_line(self, line: int) -> TaughtProgramme:
        """From a sentence of what is told on."""
        return replace(self, aside=self.aside[line:]) if self.aside else replace(self, line=self.line + line)

    def _back(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        """From so many counts before the bar under way."""
        count = danced_count(outcome)
        return self._once_more_from(bar_start(self.dance, count) - counts_back(self.dance, outcome), count)

    def _once_more_from(self, count: Fraction, stands: Fraction) -> TaughtProgramme:
        """From a count of the stage on, for those who stand as before another; how they do there is said."""
        back = self._from(count)
        start = self.running.stage.start if back.start is None else back.start
        return replace(back, aside=(go_words(self.dance, start, facing_at(self.dance, stands)),))

    def _told_again(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        """The sentence; or the steps of the section, then on from the bar, or waiting as before."""
        if outcome.line is not None:
            return self._from_line(outcome.line)
        if not self.running.stage.danced:
            return self._again(outcome)
        count = self.running.stage.start if outcome.count is None else outcome.count
        on = self if outcome.count is None else self._from(bar_start(self.dance, count))
        return replace(on, aside=steps_told(self.stages.stages, self.dance, count))

    def _figure_told(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        """The figure under way, then on from the bar."""
        count = danced_count(outcome)
        wall = self.dance.wall_at(count)
        words = figure_told_at(wall, stretch_at(wall, count), self.dance.routine, count)
        return replace(self._from(bar_start(self.dance, count)), aside=(words or NO_STEPS,))

    def _both(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        """Half the hall the easier way, or all one way again."""
        if self.floors.easier is self.floors.plain:
            raise CanNot(NO_EASIER)
        return replace(self, both=not self.both, untold=not self.both)

    @property
    def _beside(self) -> bool:
        """In a stage that the teacher has put in."""
        return not self.running.over and self.running.stage.beside

    def _so_far(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        """What has been taught so far, over and over; from there, back to the lesson."""
        if self._beside:
            return self._at(taken_out(self.running))
        stage = so_far(self.running, 2 * self.dance.routine.header.meter.counts)
        return replace(self._at(put_in(self.running, stage)), kept=replace(stage, times=1), marked=None)

    def _to_section(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        running = self.running
        return self._to(stage_of_section(running.programme.stages, int(outcome.amounts[0]), running.index))

    def _to_stage(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        return self._to(stage_numbered(self.running.programme.stages, int(outcome.amounts[0])))

    def _to(self, index: int) -> TaughtProgramme:
        return replace(self._at(at_stage(self.running, index)), summing=False)

    # -- how it is taught

    @property
    def _dancing(self) -> bool:
        """Whether a go is under way, stands, or is about to be."""
        return self.begun and not self.running.over and self.running.stage.danced

    def _eased(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        """The easier way from here on, or the full steps again."""
        if self.floors.easier is self.floors.plain:
            raise CanNot(NO_EASIER)
        stages = self.running.programme.stages[self.running.index :]
        now = any(stage.easier for stage in stages if stage.danced and stage.kind is not StageKind.OPTION)
        return self._with(easier(self.running, not now))

    def _looped(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        running, kept = over_and_over(self.running, self.kept)
        return replace(self, running=running, kept=kept)

    def _mark(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        return replace(self, marked=bar_start(self.dance, danced_count(outcome)))

    def _loop_closed(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        return self._looping(own_loop(self.dance, self.running.stage, self.marked, danced_count(outcome)))

    def _counts_looped(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        count = self.running.stage.start if outcome.count is None else outcome.count
        return self._looping(counts_asked(self.dance, count, outcome))

    def _looping(self, span: CountSpan) -> TaughtProgramme:
        kept = self.kept or self.running.programme.stages[self.running.index]
        return replace(self._at(looped(self.running, span.first, span.last)), marked=None, kept=kept)


# What needs a stage: when all is over there is none.
_IN_A_STAGE = frozenset(
    {
        *(Order.SECTION_AGAIN, Order.WALL_AGAIN, Order.LAST_FOUR, Order.LAST_EIGHT, Order.LAST_COUNTS),
        *(Order.SAY_AGAIN, Order.SAY_FIGURE, Order.MANNER),
        *(Order.LOOP, Order.LOOP_FROM, Order.LOOP_TO, Order.LOOP_COUNTS, Order.LOOP_WALL),
        *(Passed.DONE, Passed.RESUMED),
    }
)
_ANSWERS: dict[Order | Passed, Callable[[TaughtProgramme, ProgrammeEvent], TaughtProgramme]] = {
    Passed.DONE: TaughtProgramme._done,
    Passed.STOPPED: lambda taught, outcome: taught._with(next_stage(taught.running, StageOutcome.PAUSED)),
    Passed.RESUMED: TaughtProgramme._resumed,
    Order.GO: lambda taught, outcome: replace(taught, begun=True),
    Order.SECTION_AGAIN: TaughtProgramme._again,
    Order.WALL_AGAIN: TaughtProgramme._wall_again,
    Order.PREVIOUS: lambda taught, outcome: replace(
        taught._at(next_stage(taught.running, StageOutcome.BACK)), summing=False
    ),
    Order.NEXT: TaughtProgramme._on,
    Order.WELL: TaughtProgramme._well,
    Order.SECTION: TaughtProgramme._to_section,
    Order.STAGE: TaughtProgramme._to_stage,
    Order.LAST_FOUR: TaughtProgramme._back,
    Order.LAST_EIGHT: TaughtProgramme._back,
    Order.LAST_COUNTS: TaughtProgramme._back,
    Order.SAY_AGAIN: TaughtProgramme._told_again,
    Order.SO_FAR: TaughtProgramme._so_far,
    Order.TOP: TaughtProgramme._top,
    Order.EASIER: TaughtProgramme._eased,
    Order.BOTH_WAYS: TaughtProgramme._both,
    Order.SAY_FIGURE: TaughtProgramme._figure_told,
    Order.LOOP: TaughtProgramme._looped,
    Order.LOOP_FROM: TaughtProgramme._mark,
    Order.LOOP_TO: TaughtProgramme._loop_closed,
    Order.LOOP_COUNTS: TaughtProgramme._counts_looped,
    Order.LOOP_WALL: TaughtProgramme._counts_looped,
}
