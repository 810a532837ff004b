"""A taught programme: its stages told, counted in and danced. Pure.

Conventions: what comes of a stage is :mod:`caller.teaching.running`'s concern; here stands what a teacher's orders make
of it, and what is heard of it. A tempo is meant for the stage that is danced, and where none is, or nothing has begun,
for the whole programme.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from caller.calls.music import Passage
from caller.calls.places import stretch_at
from caller.calls.plan import Manner
from caller.dance.walls import Dance
from caller.routine.facing import NO_TURN, Turn
from caller.session.changes import MANNERS, Calling
from caller.session.lesson_facts import last_words, name_after, stage_place, stage_words
from caller.session.programme import CanNot, Facts, Outcome, Passed, Segment, ToDance, ToTell
from caller.session.route import bar_end, bar_start, section_at
from caller.session.whole import MARK_BEGINS, NO_EASIER, counts_asked, steps_of
from caller.teaching.alone import weak_stage
from caller.teaching.play import Floors, bar_seconds, count_in_of
from caller.teaching.running import (
    Outcome as Came,
)
from caller.teaching.running import (
    Running,
    Waits,
    answered,
    at_stage,
    at_tempo,
    begin,
    by_itself_first,
    called,
    easier,
    let_on,
    looped,
    next_stage,
    not_well,
    often,
    summary_of,
    waiting_when,
    went_well,
    with_tempo,
)
from caller.teaching.stage import Kind, Stage
from caller.teaching.stage import Programme as Stages
from caller.teaching.standing import back_words, facing_at, goes_on, starts_and_ends
from caller.transport.order import Order
from caller.transport.state import GoOn
from caller.transport.tempo import Slowing, floor_of, stepped

# What is danced to the class's own music, where there is any; before that it would be in the way.
TO_MUSIC = frozenset({Kind.LADDER, Kind.WHOLE, Kind.DRILL, Kind.PRACTICE})


@dataclass(frozen=True, slots=True)
class Taught:
    """stages: the programme as it was at first. begun: it has been started. summing: all is done, and a practice is
    summed up. start: the count from which a go that was stopped goes on, counted in by a bar; line: the sentence from
    which a telling does. silence_seconds: before what is next heard. kept: the stage as it was before it was looped,
    None where it is not. marked: where a loop of the teacher's own is to begin. aside: sentences told before it goes
    on. turn: how far from where the sheet has them everybody stands, over and over."""

    stages: Stages
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

    @classmethod
    def of(cls, stages: Stages, dance: Dance, first_stage: int = 0, waits: Waits = Waits.NEVER) -> Taught:
        """At the start of a stage, from 0. Raises ValueError where there is none."""
        return cls(stages, Floors.of(dance), waiting_when(begin(stages, first_stage), waits))

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

    @property
    def facts(self) -> Facts:
        running = self.running
        danced = not running.over and running.stage.danced
        eased = not running.over and running.stage.easier
        return Facts(
            running.programme.title,
            self.dance,
            running.programme.tempo,
            Calling(self.manner, eased, self.kept is not None, waiting=running.waits is Waits.STAGES),
            running.speed * running.ease,
            lesson=True,
            danced=danced,
            alone=self.alone,
            stages=tuple(stage.name for stage in running.programme.stages),
            stage=stage_words(running),
            place=stage_place(running),
            after=name_after(running),
            until=None if running.over else running.stage.end,
        )

    def segment(self, slowing: Slowing) -> Segment:
        if self.aside:
            return ToTell(self.aside, bar_seconds(self.dance, self.running.tempo))
        if self.summing:
            return ToTell(summary_of(self.running)[self.line :])
        if self.running.over:
            raise ValueError("all is over: there is nothing to be heard")
        stage = self.running.stage
        if not self.running.announced and (self.running.says or not stage.danced):
            pause = Fraction(0) if stage.danced else stage.pause_seconds
            return ToTell(self.floors.said_first(stage)[self.line :], pause, self.silence_seconds)
        return self._go(self.running, slowing, self.start, self.turn)

    def shown(self, slowing: Slowing) -> ToDance | None:
        stages, running = self.running.programme.stages, self.running
        if not running.over and running.stage.danced:
            return self._go(running, slowing, self.start, self.turn)
        index = next((n for n in range(running.index, len(stages)) if stages[n].danced), None)
        return None if index is None else self._go(begin(running.programme, index), slowing)

    def may_say(self) -> Iterable[str]:
        return last_words(self.running)

    def after(self, outcome: Outcome) -> Taught:
        answer = _ANSWERS.get(outcome.what)
        if self.over and outcome.what in _IN_A_STAGE:
            return self
        came = answer(self, outcome) if answer else self
        by_itself = outcome.what in (Passed.DONE, Passed.WENT_ON, Passed.TIMED)
        return came if by_itself or came.running.answered else came._with(answered(came.running))

    # -- what is heard

    def _go(self, running: Running, slowing: Slowing, start: Fraction | None = None, turn: Turn = NO_TURN) -> ToDance:
        """The stage's next go, whole; or what is left of it from a count on, counted in by a bar."""
        stage, dance = running.stage, self.floors.of_stage(running.stage, turn)
        return ToDance(
            dance,
            stage.start if start is None else start,
            stage.end,
            slowing.of(running.tempo, floor_of(dance.routine.header.meter.counts)),
            stage.manners[0],
            count_in_of(running, dance) if start is None else dance.routine.header.meter.counts,
            (Passage(Fraction(0), Fraction(dance.counts), Fraction(0)),) if stage.kind in TO_MUSIC else (),
            led=stage.kind is Kind.WHOLE and start is None,
            silence_seconds=self.silence_seconds,
        )

    # -- where it is

    def _at(self, running: Running) -> Taught:
        """From the start of what is heard there; a loop is over with its stage."""
        same = running.index == self.running.index
        kept, marked = (self.kept, self.marked) if same else (None, None)
        ends = running.over and not self.running.over and self.stages.way == "practice"
        return Taught(self.stages, self.floors, running, True, ends, kept=kept, marked=marked)

    def _with(self, running: Running) -> Taught:
        """The same place; what is taught there is another."""
        return replace(self, running=running)

    def _done(self, outcome: Outcome) -> Taught:
        if self.aside:
            return replace(self, aside=())
        if self.summing:
            return replace(self, summing=False, line=0)
        after, stage = next_stage(self.running, Came.DONE), self.running.stage
        pause = stage.pause_seconds if after.index != self.running.index and stage.danced else Fraction(0)
        on = replace(self._at(after), silence_seconds=pause)
        return self._stood(on) if after.goes > self.running.goes and not after.waiting else on

    def _stood(self, on: Taught) -> Taught:
        """Another go of the stage, from where everybody stands, or turned back."""
        stage, facings = self.running.stage, starts_and_ends(self.dance, self.running.stage)
        if goes_on(stage) and facings is not None:
            return replace(on, turn=self.turn + (facings[1] - facings[0]))
        back = back_words(self.dance, stage)
        return replace(on, aside=(back,)) if back else on

    def _on(self, outcome: Outcome) -> Taught:
        return replace(self, summing=False) if self.summing else self._at(next_stage(self.running, Came.ON))

    @property
    def alone(self) -> bool:
        """On a rung of a practice, which is left when it went well."""
        stages = self.running.programme.stages
        return not self.over and not self.summing and stages[self.running.index].kind is Kind.PRACTICE

    def _well(self, outcome: Outcome) -> Taught:
        """The rung went well: on from it."""
        well = went_well(self.running)
        return self._at(well) if well.index != self.running.index else self._with(well)

    def _with_calls(self, outcome: Outcome) -> Taught:
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
        return self._at(next_stage(self.running, Came.AGAIN))

    def _again(self, outcome: Outcome) -> Taught:
        """The telling again, where it is told; else the stage's goes."""
        if self.alone:
            return self._with_calls(outcome)
        if self.summing or (outcome.line is not None and not self.aside):
            return replace(self, line=0)
        again = replace(self._at(next_stage(self.running, Came.AGAIN)), turn=self.turn)
        stage = self.running.stage
        if not stage.danced:
            return again
        stands = None if outcome.count is None else facing_at(self.dance, outcome.count)
        back = back_words(self.dance, stage, stands)
        return replace(again, aside=(back,)) if back else again

    def _wall_again(self, outcome: Outcome) -> Taught:
        if outcome.count is None:
            return self._again(outcome)
        return self._from(self.dance.wall_at(outcome.count).at)

    def _top(self, outcome: Outcome) -> Taught:
        stages = with_tempo(begin(self.stages), self.running.programme.tempo).programme
        return replace(self._at(waiting_when(begin(stages), self.running.waits)), summing=False)

    def _resumed(self, outcome: Outcome) -> Taught:
        if outcome.line is not None:
            return self._from_line(outcome.line)
        count = self.running.stage.start if outcome.count is None else outcome.count
        match outcome.go_on:
            case GoOn.BAR:
                return self._from(bar_start(self.dance, count))
            case GoOn.SECTION:
                return self._from(section_at(self.dance, count).first)
            case GoOn.WALL:
                return self._from(self.dance.wall_at(count).at)

    def _from(self, count: Fraction) -> Taught:
        """From a count of the stage on, or its start."""
        start = max(count, self.running.stage.start)
        return replace(self, start=start, silence_seconds=Fraction(0), aside=())

    def _from_line(self, line: int) -> Taught:
        """From a sentence of what is told on."""
        return replace(self, aside=self.aside[line:]) if self.aside else replace(self, line=self.line + line)

    def _back(self, outcome: Outcome, bars: int) -> Taught:
        """From so many bars before the one under way."""
        count = self._danced_count(outcome)
        return self._from(bar_start(self.dance, count) - bars * self.dance.routine.header.meter.counts)

    def _told_again(self, outcome: Outcome) -> Taught:
        """The sentence; or the steps of the section, then on from the bar, or waiting as before."""
        if outcome.line is not None:
            return self._from_line(outcome.line)
        if not self.running.stage.danced:
            return self._again(outcome)
        count = self.running.stage.start if outcome.count is None else outcome.count
        on = self if outcome.count is None else self._from(bar_start(self.dance, count))
        return replace(on, aside=self._steps(count))

    def _steps(self, count: Fraction) -> tuple[str, ...]:
        """What is danced in the section that a count is in, as the programme tells it, else as it is called."""
        wall = self.dance.wall_at(count)
        own = ((wall.part, stretch_at(wall, count).section),)
        stages = (stage for stage in self.stages.stages if stage.kind is Kind.TELL and stage.sections == own)
        told = next(stages, None)
        return told.said if told is not None else steps_of(self.dance, count)

    def _to_section(self, outcome: Outcome) -> Taught:
        """To the stage that tells a section; where it has been told by now, to the first one that dances it."""
        number, stages = int(outcome.amounts[0]), self.running.programme.stages
        found = [n for n, stage in enumerate(stages) if [own for _, own in stage.sections] == [number]]
        if not found:
            there = dict.fromkeys(str(own) for stage in stages for _, own in stage.sections)
            which = f"there are {', '.join(there)}" if there else "it goes by stages"
            raise CanNot(f"No stage teaches section {number}; {which}.")
        danced = [n for n in found if stages[n].danced]
        index = danced[0] if danced and found[0] < self.running.index else found[0]
        return replace(self._at(at_stage(self.running, index)), summing=False)

    def _to_stage(self, outcome: Outcome) -> Taught:
        number, last = int(outcome.amounts[0]), len(self.running.programme.stages)
        if not 1 <= number <= last:
            raise CanNot(f"There is no stage {number}; there are 1 to {last}.")
        return replace(self._at(at_stage(self.running, number - 1)), summing=False)

    # -- how it is taught

    @property
    def _dancing(self) -> bool:
        """Whether a go is under way, stands, or is about to be."""
        return self.begun and not self.running.over and self.running.stage.danced

    def _quicker(self, outcome: Outcome) -> Taught:
        assert isinstance(outcome.what, Order)
        if self._dancing:
            return self._with(next_stage(self.running, Came.SLOWER if outcome.what is Order.SLOWER else Came.FASTER))
        return self._with(with_tempo(self.running, stepped(self.running.programme.tempo, outcome.what)))

    def _timed(self, outcome: Outcome) -> Taught:
        take = at_tempo if self._dancing else with_tempo
        return self._with(take(self.running, outcome.amounts[0]))

    def _called_next_way(self, outcome: Outcome) -> Taught:
        manner = MANNERS[(MANNERS.index(self.manner) + 1) % len(MANNERS)]
        return self._with(called(self.running, manner))

    def _eased(self, outcome: Outcome) -> Taught:
        """The easier way from here on, or the full steps again."""
        if self.floors.easier is self.floors.plain:
            raise CanNot(NO_EASIER)
        stages = self.running.programme.stages[self.running.index :]
        now = any(stage.easier for stage in stages if stage.danced and stage.kind is not Kind.OPTION)
        return self._with(easier(self.running, not now))

    def _waiting(self, outcome: Outcome) -> Taught:
        """After each stage, or only where nobody answers."""
        waits = Waits.UNANSWERED if self.running.waits is Waits.STAGES else Waits.STAGES
        return self._with(waiting_when(self.running, waits))

    def _looped(self, outcome: Outcome) -> Taught:
        """The stage over and over; or as it was to be, and at least once more: the way out of any loop."""
        stage = self.running.programme.stages[self.running.index]
        if self.kept is None:
            return replace(self, running=often(self.running, 0), kept=stage)
        if (stage.start, stage.end) == (self.kept.start, self.kept.end):
            times = max(self.kept.times, self.running.goes + 1)
            return replace(self, running=often(self.running, times), kept=None)
        return replace(self, running=let_on(self.running, self.kept), kept=None)

    def _mark(self, outcome: Outcome) -> Taught:
        return replace(self, marked=bar_start(self.dance, self._danced_count(outcome)))

    def _loop_closed(self, outcome: Outcome) -> Taught:
        """From the mark, or the section's start, to the end of the bar under way, in place of the stage."""
        count = self._danced_count(outcome)
        begins = self.marked
        if begins is None:
            begins = max(section_at(self.dance, count).first, self.running.stage.start)
        if begins > count:
            raise CanNot(f"The loop would end before it begins: {MARK_BEGINS} marks its beginning first.")
        return self._looping(begins, bar_end(self.dance, count))

    def _counts_looped(self, outcome: Outcome) -> Taught:
        count = self.running.stage.start if outcome.count is None else outcome.count
        span = counts_asked(self.dance, count, outcome)
        return self._looping(span.first, span.last)

    def _looping(self, start: Fraction, end: Fraction) -> Taught:
        kept = self.kept or self.running.programme.stages[self.running.index]
        return replace(self._at(looped(self.running, start, end)), marked=None, kept=kept)

    def _danced_count(self, outcome: Outcome) -> Fraction:
        if outcome.count is None:
            raise CanNot("Nothing is being danced now. A loop is marked in what is danced.")
        return outcome.count


# What needs a stage: when all is over there is none.
_IN_A_STAGE = frozenset(
    {
        *(Order.SECTION_AGAIN, Order.WALL_AGAIN, Order.LAST_FOUR, Order.LAST_EIGHT, Order.SAY_AGAIN, Order.MANNER),
        *(Order.LOOP, Order.LOOP_FROM, Order.LOOP_TO, Order.LOOP_COUNTS, Order.LOOP_WALL),
        *(Passed.DONE, Passed.RESUMED),
    }
)
_ANSWERS: dict[Order | Passed, Callable[[Taught, Outcome], Taught]] = {
    Passed.DONE: Taught._done,
    Passed.STOPPED: lambda taught, outcome: taught._with(next_stage(taught.running, Came.PAUSED)),
    Passed.RESUMED: Taught._resumed,
    Order.GO: lambda taught, outcome: replace(taught, begun=True),
    Order.SLOWER: Taught._quicker,
    Order.FASTER: Taught._quicker,
    Order.TEMPO: Taught._timed,
    Order.SECTION_AGAIN: Taught._again,
    Order.WALL_AGAIN: Taught._wall_again,
    Order.PREVIOUS: lambda taught, outcome: replace(taught._at(next_stage(taught.running, Came.BACK)), summing=False),
    Order.NEXT: Taught._on,
    Order.WELL: Taught._well,
    Order.SECTION: Taught._to_section,
    Order.STAGE: Taught._to_stage,
    Order.LAST_FOUR: lambda taught, outcome: taught._back(outcome, 1),
    Order.LAST_EIGHT: lambda taught, outcome: taught._back(outcome, 2),
    Order.SAY_AGAIN: Taught._told_again,
    Order.TOP: Taught._top,
    Order.WAIT: Taught._waiting,
    Order.MANNER: Taught._called_next_way,
    Order.EASIER: Taught._eased,
    Order.LOOP: Taught._looped,
    Order.LOOP_FROM: Taught._mark,
    Order.LOOP_TO: Taught._loop_closed,
    Order.LOOP_COUNTS: Taught._counts_looped,
    Order.LOOP_WALL: Taught._counts_looped,
}
