"""The way the class takes through the sheet's dance: the full steps or the easier ones, and what comes over and over.

Conventions: counts of the route say how much has been danced, counts of the sheet where in the dance; both in
``Fraction``. What can't be done is told in a sentence, and nothing changes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from caller.calls.easier import eased, ways
from caller.calls.music import Passage
from caller.calls.plan import Manner
from caller.dance.unroll import unroll
from caller.dance.walls import Dance, Wall
from caller.session.changes import Calling
from caller.session.desk import NO_EASIER
from caller.session.route import LOOP_LEAST, Route, Span, bar_end, bar_start, section_at, section_starts
from caller.transport.order import Order

MARK_BEGINS, MARK_ENDS = "[", "]"


class CanNot(Exception):
    """What was asked for isn't there: one sentence that says what is."""


class Way:
    """calling: how it is called and danced. dance: as it is danced, from the route's first count on."""

    def __init__(self, dance: Dance, manner: Manner) -> None:
        self.calling = Calling(manner)
        self.dance = dance
        self._sheet = {False: dance}  # the dance of the sheet, by whether the easier way is danced
        self._route = Route.straight(dance)
        self._span: Span | None = None  # what is looped, where it is no section
        self._marked: Fraction | None = None  # where such a loop is to begin

    @property
    def sheet(self) -> Dance:
        """The sheet's dance as it is danced now, full or eased; both have the same counts."""
        full, easier = self._sheet[False], self.calling.easier
        if easier not in self._sheet:
            self._sheet[easier] = unroll(eased(full.routine), len(full.walls))
        return self._sheet[easier]

    # -- where things are

    @property
    def passages(self) -> tuple[Passage, ...]:
        """Where in the sheet's dance the route is, from its first count on."""
        return self._route.passages

    def section_start(self, count: Fraction) -> Fraction:
        """Of the route: where the section danced at a count began."""
        return section_at(self.dance, count).first

    def wall(self, count: Fraction) -> Wall:
        """The wall of the sheet's dance that is danced at a count of the route."""
        return self.sheet.wall_at(self._route.sheet_count(count))

    def beside(self, count: Fraction, step: int) -> Fraction:
        """Of the sheet: where the section before this one or after it starts; this one's where there is none."""
        starts = section_starts(self.sheet)
        index = starts.index(section_at(self.sheet, self._route.sheet_count(count)).first)
        return starts[min(max(index + step, 0), len(starts) - 1)]

    def section(self, count: Fraction, number: int) -> Fraction:
        """Of the sheet: where that section of the wall starts. Raises CanNot."""
        places = {stretch.section: stretch.at for stretch in self.wall(count).stretches if stretch.section}
        if number not in places:
            raise CanNot(f"There is no section {number} in this wall; there are {', '.join(map(str, places))}.")
        return places[number]

    # -- what changes it

    def after(self, order: Order, count: Fraction | None) -> Iterator[str]:
        """Takes an order, as far as it is any of its business; sentences on what can't be, and on marks.

        count: of the route, None where nothing is being danced.
        """
        before, self.calling = self.calling, self.calling.after(order)
        if order is Order.EASIER and not ways(self._sheet[False].routine):
            self.calling = before
            yield NO_EASIER
        if order is Order.EASIER:
            self.dance = self._route.through(self.sheet)
        elif order is Order.LOOP:
            self._reroute(count or Fraction(0))
            self._span = self._span if self.calling.looping else None
        elif order is Order.LOOP_FROM and count is not None:
            self._marked = bar_start(self.sheet, self._route.sheet_count(count))
            yield f"The loop begins with this bar; {MARK_ENDS} ends it."
        elif order is Order.LOOP_TO and count is not None:
            yield from self._close_loop(count)

    def loop(self, count: Fraction, first: int, last: int) -> Fraction:
        """Counts of the wall danced at a count, from 1 and both included, over and over.

        Returns where they begin, of the sheet. Raises CanNot.
        """
        wall = self.wall(count)
        if not 1 <= first <= last <= wall.counts:
            raise CanNot(f"Counts {first} to {last} can't be looped: this wall has 1 to {wall.counts}.")
        self._loop_span(Span(wall.at + first - 1, wall.at + last))
        return wall.at + first - 1

    def jump(self, sheet_count: Fraction) -> None:
        """The sheet's dance from its start, or a loop round that count of it; facing as the sheet says there."""
        self._route = Route.straight(self.sheet)
        if self.calling.looping:
            self._reroute(sheet_count)
        self.dance = self._route.through(self.sheet)

    def laid_on(self, count: Fraction) -> bool:
        """Lays a loop out further, if there is little left of it. Returns whether it has."""
        if not self.calling.looping or self.dance.counts - count >= LOOP_LEAST:
            return False
        self._reroute(count)
        return True

    def _close_loop(self, count: Fraction) -> Iterator[str]:
        """From the mark, or the section's start, to the end of the bar under way."""
        at = self._route.sheet_count(count)
        begins = section_at(self.sheet, at).first if self._marked is None else self._marked
        if begins > at:
            yield f"The loop would end before it begins: {MARK_BEGINS} marks its beginning first."
            return
        self._marked = None
        self._loop_span(Span(begins, bar_end(self.sheet, at)))
        self._reroute(count)

    def _loop_span(self, span: Span) -> None:
        self._span = span
        self.calling = replace(self.calling, looping=True, counts=int(span.last - span.first))

    def _reroute(self, count: Fraction) -> None:
        """From the section or span of a count of the route: over and over, or on."""
        way = self._route.looped if self.calling.looping else self._route.let_on
        self._route = way(self.sheet, count, self._span)
        self.dance = self._route.through(self.sheet)
