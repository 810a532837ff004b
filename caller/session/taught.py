"""A taught programme: its stages told, counted in and danced. Pure.

Conventions: what comes of a stage is :mod:`caller.teaching.running`'s concern; what a teacher's orders make of it,
:mod:`caller.session.lesson_answers`'. Here stands where it is, and what is heard and shown of it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from caller.calls.easier import Way
from caller.calls.plan import Manner
from caller.dance.walls import Dance
from caller.routine.facing import NO_TURN, Turn
from caller.session.lesson_answers import came_of
from caller.session.lesson_both import HALF_THE_HALL, ways_ahead
from caller.session.lesson_facts import facts_of, last_words, left_of, stands_of, stood_of
from caller.session.lesson_places import go_of
from caller.session.programme import ProgrammeEvent, ProgrammeFacts, Segment, ToDance, ToTell
from caller.session.so_far import may_be_said
from caller.teaching.floors import Floors
from caller.teaching.minutes import stage_seconds
from caller.teaching.play import bar_seconds
from caller.teaching.running import Running, Waits, begin, gone_beyond, waiting_when
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.teaching.standing import every_way_again, turns_back
from caller.teaching.summary import summary_of
from caller.transport.tempo import Slowing


@dataclass(frozen=True)
class TaughtProgramme:
    """stages: the programme as it was at first. begun: it has been started. summing: all is done, and a practice is
    summed up. start: the count from which a go that was stopped goes on, counted in by a bar; line: the sentence from
    which a telling does. silence_seconds: before what is next heard. kept: the stage as it was before it was looped,
    None where it is not. marked: where a loop of the teacher's own is to begin. aside: sentences told before it goes
    on; stays: they are told while it is paused. turn: how far from where the sheet has them everybody stands, over and
    over. left: seconds that are left at the start of each stage.
    both: half the hall dances the easier way; told_ways: those of them that have been told."""

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
    stays: bool = False
    turn: Turn = NO_TURN
    left: tuple[Fraction | None, ...] = ()
    both: bool = False
    told_ways: frozenset[Way] = frozenset()

    @classmethod
    def of(
        cls,
        stages: LessonPlan,
        dance: Dance,
        first_stage: int = 0,
        waits: Waits = Waits.NEVER,
        until: int | None = None,
    ) -> TaughtProgramme:
        """At the start of a stage, from 0. until: the stage before which it stops; None = its end. Raises ValueError
        where there is none."""
        floors = Floors.of(dance)
        running = replace(waiting_when(begin(stages, first_stage), waits), until=until)
        return cls(stages, floors, running, left=left_of(stages.stages, stage_seconds(stages, floors)))

    @property
    def over(self) -> bool:
        return self.running.over and not self.summing

    @property
    def waits(self) -> bool:
        return self.running.waiting and not self.aside

    @property
    def stopped(self) -> bool:
        """It has come as far as it was to come, and stands there."""
        return self.running.stopped

    @property
    def gone_beyond(self) -> TaughtProgramme:
        """On from where it was to stop."""
        return self.at(gone_beyond(self.running))

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
        stands = stands_of(self.running, self.floors, self.turn, self.start)
        told = () if running.over or self.aside or running.waiting else self.floors.stands_told(running.stage)
        calling = replace(facts.calling, both=self.both, both_told=True, counts=self._counts_looped)
        stood = stood_of(self.running, self.floors)
        return replace(facts, calling=calling, stands=stands, stood=stood, told=told[self.line :], turned=self.turn)

    @property
    def _counts_looped(self) -> int:
        """Of the teacher's own choice, 0 where all of the stage is."""
        if self.running.over or self.kept is None:
            return 0
        own, kept = self.running.stage, self.kept
        return int(own.end - own.start) if (own.start, own.end) != (kept.start, kept.end) else 0

    def segment(self, slowing: Slowing) -> Segment:
        if self.aside:
            turning = any(map(turns_back, self.aside))
            pause = bar_seconds(self.dance, self.running.tempo) if turning else Fraction(0)
            return ToTell(self.aside, pause, stays=self.stays)
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
        """How a practice is summed up; how everybody stands before another go of a loop of the teacher's own; what half
        the hall may dance in the stage; what is said before all that was taught so far."""
        over = self.running.over
        looped = set() if self.kept is None or over else every_way_again(self.dance, self.running.stage)
        ways = {sentence for told in ways_ahead(self).values() for sentence in (HALF_THE_HALL, *told)}
        return last_words(self.running) | looped | ways | set(may_be_said(self.running))

    def after(self, outcome: ProgrammeEvent) -> TaughtProgramme:
        return came_of(self, outcome)

    def _go(self, running: Running, slowing: Slowing, start: Fraction | None = None, turn: Turn = NO_TURN) -> ToDance:
        return go_of(running, self.floors.of_stage(running.stage, turn), slowing, start, self.silence_seconds)

    # -- where it is

    @property
    def on_a_rung(self) -> bool:
        """On a rung of a practice."""
        stages = self.running.programme.stages
        return not self.over and not self.summing and stages[self.running.index].kind is StageKind.PRACTICE

    @property
    def alone(self) -> bool:
        """In what is danced in a practice, and is left when it went well: a rung, a weak place, an event."""
        practised = self.stages.way == "practice" and not self.over and not self.summing
        return practised and self.running.stage.danced and not self.left_well

    @property
    def left_well(self) -> bool:
        """What went well stands there left, and waits for what comes next."""
        return self.running.waiting and self.running.index in self.running.well

    @property
    def dancing(self) -> bool:
        """Whether a go is under way, stands, or is about to be."""
        return self.begun and not self.running.over and self.running.stage.danced

    def at(self, running: Running) -> TaughtProgramme:
        """From the start of what is heard there; a loop is over with its stage."""
        same = running.index == self.running.index
        kept, marked = (self.kept, self.marked) if same else (None, None)
        ends = running.over and not self.running.over and self.stages.way == "practice"
        here = TaughtProgramme(self.stages, self.floors, running, True, ends, kept=kept, marked=marked)
        return replace(here, left=self.left, both=self.both, told_ways=self.told_ways)
