"""The whole dance as a programme: one stage, with loops and a route within it. Pure.

Conventions: counts of the route say how much has been danced, counts of the sheet where in the dance; both in
``Fraction``. An order that goes elsewhere in the sheet starts anew there, facing as the sheet says; the section again
goes on facing as the class stands.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from caller.calls.plan import CountIn, Fading, Manner
from caller.dance.walls import Dance, Wall
from caller.session.asked import back_from, counts_asked, loop_to, need_easier, need_tempo, resumed_from, wall_asked
from caller.session.beside import Beside
from caller.session.changes import Calling
from caller.session.programme import CanNot, Passed, ProgrammeEvent, ProgrammeFacts, Segment, ToDance, ToTell
from caller.session.route import LOOP_LEAST, CountSpan, Route, bar_start, section_at, section_starts
from caller.session.told_in_a_dance import call_at, steps_of, wall_told
from caller.teaching.floors import Floors
from caller.teaching.standing import changes_weight
from caller.transport.order import Order
from caller.transport.state import GoOn
from caller.transport.tempo import Slowing, stepped

# Clicks before the first step, in bars: at the start, and when going on.
START_BARS, GO_ON_BARS = 2, 1
ONE_DANCE = "One dance is danced here: --beside SHEET has another beside it."


@dataclass(frozen=True, slots=True)
class WholeDance:
    """floors: the sheet's dance, full and eased; both have the same counts. dance: as it is danced, from the route's
    first count on. start: of the route, where it is next counted in, by so many bars. span: what is looped, where it is
    no section; marked: where such a loop is to begin, of the sheet. fading: fewer words each time round. aside:
    sentences told before it goes on; stays: while paused. how: the count-in ends. since: the count of the sheet from
    which none has been left out. other: what is danced beside it, of as many counts, and may be called in its place;
    beside: that as it is danced, from the route's first count on."""

    floors: Floors
    dance: Dance
    route: Route
    tempo: Fraction
    calling: Calling
    fading: Fading = Fading.USUAL
    start: Fraction = Fraction(0)
    bars: int = START_BARS
    span: CountSpan | None = None
    marked: Fraction | None = None
    over: bool = False
    aside: tuple[str, ...] = ()
    how: CountIn = CountIn.LEVEL
    since: Fraction = Fraction(0)
    other: Floors | None = None
    beside: Beside | None = None
    stays: bool = False

    @classmethod
    def of(
        cls, dance: Dance, tempo: Fraction, manner: Manner = Manner.AHEAD, fading: Fading = Fading.USUAL
    ) -> WholeDance:
        """From the first step, as the sheet has it."""
        return cls(Floors.of(dance), dance, Route.straight(dance), tempo, Calling(manner), fading)

    @classmethod
    def on_one_floor(cls, whole: WholeDance, other: Dance) -> WholeDance:
        """With another beside it, no shorter, for as many counts as the first one has."""
        return replace(whole, other=Floors(as_long := whole.route.through(other), as_long))._routed()

    @property
    def waits(self) -> bool:
        return False

    @property
    def all_of_it(self) -> bool:
        """None of the sheet's dance was left out so far."""
        return not self.since and self.sheet.routine.only is None

    @property
    def sheet(self) -> Dance:
        """The sheet's dance as it is danced now, full or eased."""
        return self.floors.easier if self.calling.easier else self.floors.plain

    @property
    def facts(self) -> ProgrammeFacts:
        title = self.dance.routine.shown_title
        calling, whole = self.calling, not self.since
        rounds = self.route.rounds if calling.looping else ()
        return ProgrammeFacts(title, self.dance, self.tempo, calling, beside=self.beside, whole=whole, rounds=rounds)

    def segment(self, slowing: Slowing) -> Segment:
        return ToTell(self.aside, stays=self.stays) if self.aside else self.shown(slowing)

    def shown(self, slowing: Slowing) -> ToDance:
        return ToDance(
            self.dance,
            self.start,
            Fraction(self.dance.counts),
            self.facts.danced_at(slowing),
            self.calling.manner,
            self.bars * self.dance.routine.header.meter.counts,
            self.route.passages,
            self.fading,
            led=self.bars == START_BARS,
            how=self.how,
        )

    def may_say(self) -> Iterable[str]:
        """Where all face, before any wall."""
        return map(wall_told, self.sheet.walls)

    def after(self, outcome: ProgrammeEvent) -> WholeDance:
        answer = _ANSWERS.get(outcome.what)
        came = answer(self, outcome) if answer else self
        if outcome.what not in _GO_ELSEWHERE:
            return came
        before, at = self.route.sheet_count(self._count(outcome)), came.route.sheet_count(came.start)
        return replace(came, since=at if at > before else min(self.since, at))

    # -- where things are

    def wall(self, count: Fraction) -> Wall:
        """The wall of the sheet's dance that is danced at a count of the route."""
        return self.sheet.wall_at(self.route.sheet_count(count))

    def _count(self, outcome: ProgrammeEvent) -> Fraction:
        """Of the route: where it is, or is to go on."""
        return self.start if outcome.count is None else outcome.count

    def _beside(self, count: Fraction, step: int) -> Fraction:
        """Of the sheet: where the section before this one or after it starts; this one's where there is none."""
        starts = section_starts(self.sheet)
        index = starts.index(section_at(self.sheet, self.route.sheet_count(count)).first)
        return starts[min(max(index + step, 0), len(starts) - 1)]

    def _section(self, count: Fraction, number: int) -> Fraction:
        places = {stretch.section: stretch.at for stretch in self.wall(count).stretches if stretch.section}
        if number not in places:
            raise CanNot(f"There is no section {number} in this wall; there are {', '.join(map(str, places))}.")
        return places[number]

    def at(self, count: Fraction, since: Fraction, tempo: Fraction) -> WholeDance:
        """From a count of the sheet, counted in, none left out since another."""
        return replace(self._jumped(count, GO_ON_BARS if count else START_BARS), since=since, tempo=tempo)

    # -- what changes it

    def _from(self, count: Fraction) -> WholeDance:
        """From a count of the route, counted in."""
        return replace(self, start=count, bars=GO_ON_BARS, over=False, aside=(), stays=False)

    def _jumped(self, sheet_count: Fraction, bars: int = GO_ON_BARS) -> WholeDance:
        """The sheet's dance from a count of it, or a loop round that; facing as the sheet says there."""
        straight = replace(self._from(sheet_count), route=Route.straight(self.sheet), bars=bars)
        return straight._rerouted(sheet_count) if self.calling.looping else straight._routed()

    def _to_wall(self, sheet_count: Fraction) -> WholeDance:
        """The wall that begins on a count of the sheet; all are told first where they face there."""
        return replace(self._jumped(sheet_count), aside=(wall_told(self.sheet.wall_at(sheet_count)),))

    def _rerouted(self, count: Fraction) -> WholeDance:
        """From the section or span of a count of the route: over and over, or on."""
        way = self.route.looped if self.calling.looping else self.route.let_on
        route = way(self.sheet, count, self.span)
        again = route.spans[-1]
        wrong_foot = self.calling.looping and changes_weight(self.sheet, again.first, again.last)
        return replace(self, route=route, calling=replace(self.calling, wrong_foot=wrong_foot))._routed()

    def _routed(self) -> WholeDance:
        beside = Beside.of(self.route.through(self.other.plain)) if self.other else None
        return replace(self, dance=self.route.through(self.sheet), beside=beside)

    def _spanned(self, span: CountSpan) -> WholeDance:
        calling = replace(self.calling, looping=True, counts=int(span.last - span.first))
        return replace(self, span=span, calling=calling)

    def _done(self, outcome: ProgrammeEvent) -> WholeDance:
        if self.aside:
            return replace(self, aside=(), stays=False)
        return replace(self, over=True, start=Fraction(0), bars=START_BARS)

    def _back(self, outcome: ProgrammeEvent) -> WholeDance:
        """From so many counts before the bar under way."""
        return self._from(max(back_from(self.dance, self._count(outcome), outcome), Fraction(0)))

    def _told_again(self, outcome: ProgrammeEvent) -> WholeDance:
        """The sentence, or the steps of the section."""
        if outcome.line is not None:
            return replace(self, aside=self.aside[outcome.line :], stays=self.stays or outcome.stopped)
        return self._telling(outcome, steps_of(self.dance, self._count(outcome)))

    def _figure_told(self, outcome: ProgrammeEvent) -> WholeDance:
        """What is called on the count."""
        return self._telling(outcome, (call_at(self.dance, self._count(outcome)),))

    def _telling(self, outcome: ProgrammeEvent, sentences: tuple[str, ...]) -> WholeDance:
        """Sentences, then on from the bar, or paused as before."""
        there = self._from(bar_start(self.dance, self._count(outcome)))
        return replace(there, aside=sentences, stays=outcome.stopped)

    def _resumed(self, outcome: ProgrammeEvent) -> WholeDance:
        if outcome.line is not None:
            return replace(self, aside=self.aside[outcome.line :])
        count = self._count(outcome)
        if outcome.go_on is GoOn.WALL:
            return self._jumped(self.wall(count).at)
        return self._from(resumed_from(self.dance, count, outcome.go_on))

    def _laid_on(self, outcome: ProgrammeEvent) -> WholeDance:
        """A loop laid out further, if there is little left of it."""
        count = self._count(outcome)
        if not self.calling.looping or self.dance.counts - count >= LOOP_LEAST:
            return self
        return self._rerouted(count)

    def _stepped(self, outcome: ProgrammeEvent) -> WholeDance:
        tempo = stepped(self.tempo, outcome.what) if isinstance(outcome.what, Order) else self.tempo
        return self if tempo == self.tempo else replace(self, tempo=tempo)

    def _timed(self, outcome: ProgrammeEvent) -> WholeDance:
        need_tempo(self.sheet, self.tempo, outcome)
        return replace(self, tempo=outcome.amounts[0])

    def _eased(self, outcome: ProgrammeEvent) -> WholeDance:
        need_easier(self.floors)
        return replace(self, calling=self.calling.after(Order.EASIER))._routed()

    def _changed_over(self, outcome: ProgrammeEvent) -> WholeDance:
        """The other dance is called, and the first one danced beside it."""
        if self.other is None:
            raise CanNot(ONE_DANCE)
        calling = replace(self.calling, easier=False, both=False)
        return replace(self, floors=self.other, other=self.floors, calling=calling)._routed()

    def _both(self, outcome: ProgrammeEvent) -> WholeDance:
        need_easier(self.floors)
        return replace(self, calling=self.calling.after(Order.BOTH_WAYS))._routed()

    def _looped(self, outcome: ProgrammeEvent) -> WholeDance:
        looped = replace(self, calling=self.calling.after(Order.LOOP))._rerouted(self._count(outcome))
        return looped if looped.calling.looping else replace(looped, span=None)

    def _mark(self, outcome: ProgrammeEvent) -> WholeDance:
        return replace(self, marked=bar_start(self.sheet, self.route.sheet_count(self._count(outcome))))

    def _loop_closed(self, outcome: ProgrammeEvent) -> WholeDance:
        """From the mark, or the section's start, to the end of the bar under way."""
        count = self._count(outcome)
        span = loop_to(self.sheet, self.route.sheet_count(count), self.marked)
        return replace(self, marked=None)._spanned(span)._rerouted(count)

    def _counts_looped(self, outcome: ProgrammeEvent) -> WholeDance:
        span = counts_asked(self.sheet, self.route.sheet_count(self._count(outcome)), outcome)
        return self._spanned(span)._jumped(span.first)


_GO_ELSEWHERE = frozenset(
    (Order.PREVIOUS, Order.NEXT, Order.SECTION, Order.TO_WALL, Order.TOP, Order.LOOP_COUNTS, Order.LOOP_WALL)
)
_ANSWERS: dict[Order | Passed, Callable[[WholeDance, ProgrammeEvent], WholeDance]] = {
    Passed.DONE: WholeDance._done,
    Passed.RESUMED: WholeDance._resumed,
    Passed.WENT_ON: WholeDance._laid_on,
    Order.SLOWER: WholeDance._stepped,
    Order.FASTER: WholeDance._stepped,
    Order.TEMPO: WholeDance._timed,
    Order.SECTION_AGAIN: lambda whole, outcome: whole._from(section_at(whole.dance, whole._count(outcome)).first),
    Order.WALL_AGAIN: lambda whole, outcome: whole._to_wall(whole.wall(whole._count(outcome)).at),
    Order.LAST_FOUR: WholeDance._back,
    Order.LAST_EIGHT: WholeDance._back,
    Order.LAST_COUNTS: WholeDance._back,
    Order.SAY_AGAIN: WholeDance._told_again,
    Order.PREVIOUS: lambda whole, outcome: whole._jumped(whole._beside(whole._count(outcome), -1)),
    Order.NEXT: lambda whole, outcome: whole._jumped(whole._beside(whole._count(outcome), 1)),
    Order.SECTION: lambda whole, outcome: whole._jumped(whole._section(whole._count(outcome), int(outcome.amounts[0]))),
    Order.TO_WALL: lambda whole, outcome: whole._to_wall(wall_asked(whole.sheet, outcome)),
    Order.TOP: lambda whole, outcome: whole._jumped(Fraction(0), START_BARS),
    Order.MANNER: lambda whole, outcome: replace(whole, calling=whole.calling.after(Order.MANNER)),
    Order.EASIER: WholeDance._eased,
    Order.BOTH_WAYS: WholeDance._both,
    Order.CHANGE_OVER: WholeDance._changed_over,
    Order.SAY_FIGURE: WholeDance._figure_told,
    Order.LOOP: WholeDance._looped,
    Order.LOOP_FROM: WholeDance._mark,
    Order.LOOP_TO: WholeDance._loop_closed,
    Order.LOOP_COUNTS: WholeDance._counts_looped,
    Order.LOOP_WALL: WholeDance._counts_looped,
}
