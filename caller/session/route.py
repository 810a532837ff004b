"""The way a class takes through the dance: spans of it one after another, so that a section can come again and again.

Conventions: counts are ``Fraction``; a count of the sheet's dance says where in the sheet, a count of the route how
much has been danced. Until the first repeat both are the same. Where spans meet, the class goes on facing as it stands:
what follows is turned to that. A part of a wall that comes again keeps the wall's number. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import takewhile
from math import ceil

from caller.calls.music import SongPassage
from caller.calls.places import own_place, stretch_at, wall_at
from caller.calls.wording import short_counts
from caller.dance.walls import Dance, DancedPhrase, DancedStep, Wall, WallEvent
from caller.routine.facing import NO_TURN, Turn
from caller.routine.step import Body
from caller.teaching.standing import facing_at

# A loop is laid out so far ahead, and again once there is no more than so much of it left.
LOOP_AHEAD, LOOP_LEAST = 256, 64


@dataclass(frozen=True, slots=True)
class CountSpan:
    """Counts of the sheet's dance, the last excluded."""

    first: Fraction
    last: Fraction


@dataclass(frozen=True, slots=True)
class Route:
    """spans: none empty, none going on where the one before it ended."""

    spans: tuple[CountSpan, ...]

    @classmethod
    def of(cls, spans: Iterable[CountSpan]) -> Route:
        """A route of any spans: empty ones left out, those that go on joined."""
        found: list[CountSpan] = []
        for span in spans:
            if found and found[-1].last == span.first:
                found[-1] = CountSpan(found[-1].first, span.last)
            elif span.first < span.last:
                found.append(span)
        return cls(tuple(found))

    @classmethod
    def straight(cls, dance: Dance) -> Route:
        """The dance as the sheet has it."""
        return cls((CountSpan(Fraction(0), Fraction(dance.counts)),))

    @property
    def counts(self) -> Fraction:
        return sum((span.last - span.first for span in self.spans), Fraction(0))

    @property
    def passages(self) -> tuple[SongPassage, ...]:
        """The spans, each with the count of the route at which it begins."""
        found, at = [], Fraction(0)
        for span in self.spans:
            found.append(SongPassage(at, at + span.last - span.first, span.first))
            at = found[-1].last
        return tuple(found)

    def sheet_count(self, count: Fraction) -> Fraction:
        """Where in the sheet's dance a count of the route is."""
        at = Fraction(0)
        for span in self.spans:
            if count < at + span.last - span.first:
                break
            at += span.last - span.first
        else:
            at -= span.last - span.first
        return span.first + count - at

    @property
    def rounds(self) -> tuple[Fraction, ...]:
        """The counts of the route at which what it ends with comes round, over and over, the first time among them."""
        again, danced = self.spans[-1], zip(reversed(self.spans), reversed(self.passages), strict=True)

        def comes_round(pair: tuple[CountSpan, SongPassage]) -> bool:
            return pair[0].last == again.last and pair[0].first <= again.first

        ends = [passage.last for _, passage in takewhile(comes_round, danced)]
        return tuple(end - (again.last - again.first) for end in reversed(ends))

    def until(self, count: Fraction) -> tuple[CountSpan, ...]:
        """The spans up to a count of the route."""
        left, found = count, []
        for span in self.spans:
            if left > 0:
                found.append(CountSpan(span.first, min(span.last, span.first + left)))
            left -= span.last - span.first
        return tuple(found)

    def looped(self, dance: Dance, count: Fraction, span: CountSpan | None = None) -> Route:
        """The same to the end of a span that a count of the route is in (None: the section), and then that span over
        and over. dance: the sheet's."""
        at = self.sheet_count(count)
        again = _around(dance, at, span)
        left = again.last - at
        times = ceil(LOOP_AHEAD / (again.last - again.first))
        return Route.of((*self.until(count + left), *[again] * times))

    def let_on(self, dance: Dance, count: Fraction, span: CountSpan | None = None) -> Route:
        """The same to the end of that span, then the rest of the sheet's dance."""
        at = self.sheet_count(count)
        ends = _around(dance, at, span).last
        return Route.of((*self.until(count + ends - at), CountSpan(ends, Fraction(dance.counts))))

    def through(self, dance: Dance) -> Dance:
        """The sheet's dance, danced this way."""
        if self == Route.straight(dance):
            return dance
        walls: list[Wall] = []
        at, facing = Fraction(0), dance.walls[0].starts
        for span in self.spans:
            turn = facing - facing_at(dance, span.first)
            for piece in _pieces(dance, span, at - span.first, turn):
                walls.append(piece)
                facing = piece.ends
            at += span.last - span.first
        return Dance(dance.routine, tuple(walls), dance.ended and self.spans[-1].last == dance.counts)


def _around(dance: Dance, at: Fraction, span: CountSpan | None) -> CountSpan:
    """The span, where a count of the sheet's dance is in it; else that count's section."""
    return span if span is not None and span.first <= at < span.last else section_at(dance, at)


def section_at(dance: Dance, count: Fraction) -> CountSpan:
    """The section, tag or ending that a count is in, as far as it is danced there."""
    wall = wall_at(dance, count)
    stretch = stretch_at(wall, count)
    return CountSpan(max(stretch.at, wall.at), min(stretch.at + stretch.counts, wall.end))


def bar_start(dance: Dance, count: Fraction) -> Fraction:
    """The first count of the bar that this count falls in, bars counted from the section's first."""
    begin = section_at(dance, count).first
    bar = dance.routine.header.meter.counts
    return begin + (count - begin) // bar * bar


def bar_end(dance: Dance, count: Fraction) -> Fraction:
    """Where the bar that this count falls in is over, or the section, if that is sooner."""
    bar = dance.routine.header.meter.counts
    return min(bar_start(dance, count) + bar, section_at(dance, count).last)


def bars_end(dance: Dance, count: Fraction) -> Fraction:
    """The end of the last whole bar before a count; the count itself where a bar ends there."""
    start, bar = bar_start(dance, count - 1), dance.routine.header.meter.counts
    return start + bar if start + bar <= count else start


def eight_end(dance: Dance, count: Fraction) -> Fraction:
    """Where the eight (in threes the six) danced at a count is over, or the section, if that is sooner."""
    section = section_at(dance, max(count, Fraction(0)))
    eight = 2 * short_counts(dance.routine.header.meter)
    return min(section.first + ((count - section.first) // eight + 1) * eight, section.last)


def section_starts(dance: Dance) -> list[Fraction]:
    """The first counts of all sections, tags and the ending, in order."""
    return [stretch.at for wall in dance.walls for stretch in wall.stretches]


def _pieces(dance: Dance, span: CountSpan, shift: Fraction, turn: Turn) -> Iterator[Wall]:
    for wall in dance.walls:
        first, last = max(span.first, wall.at), min(span.last, wall.end)
        if first < last:
            yield _piece(wall, CountSpan(first, last), last == span.last, shift, turn)


def _piece(wall: Wall, span: CountSpan, breaks_off: bool, shift: Fraction, turn: Turn) -> Wall:
    """What is danced of a wall in a span, moved and turned. breaks_off: something else than in the sheet follows."""
    kept = [
        index
        for index, danced in enumerate(wall.movements)
        if span.first <= own_place(wall, danced.at, danced.section) < span.last
    ]
    places = {index: place for place, index in enumerate(kept)}
    movements = tuple(_moved(wall.movements[index], shift, turn) for index in kept)
    # One that began before the span keeps its place, so that its counts keep their numbers.
    stretches = tuple(
        replace(stretch, at=stretch.at + shift, starts=stretch.starts + turn)
        for stretch in wall.stretches
        if stretch.at < span.last and (stretch.at + stretch.counts > span.first or stretch.at == span.first)
    )
    starts = movements[0].before.facing if movements else wall.starts + turn
    return Wall(
        wall.number,
        wall.part,
        span.first + shift,
        int(span.last - span.first),
        starts,
        movements[-1].after.facing if movements else starts,
        movements,
        tuple(_phrases(wall, places, shift)),
        stretches,
        tuple(_events(wall, span, breaks_off)),
    )


def _moved(danced: DancedStep, shift: Fraction, turn: Turn) -> DancedStep:
    def turned(body: Body) -> Body:
        return Body(body.facing + turn, body.weight) if turn != NO_TURN else body

    return replace(danced, at=danced.at + shift, before=turned(danced.before), after=turned(danced.after))


def _phrases(wall: Wall, places: dict[int, int], shift: Fraction) -> Iterator[DancedPhrase]:
    for phrase in wall.phrases:
        if phrase.first in places and phrase.last in places:
            yield replace(phrase, at=phrase.at + shift, first=places[phrase.first], last=places[phrase.last])


def _events(wall: Wall, span: CountSpan, breaks_off: bool) -> Iterator[WallEvent]:
    """The events danced in a span; a restart stands on the count where its wall ends, and is one only if it follows."""
    for event in wall.events:
        at = wall.at + event.after
        if span.first <= at < span.last or (at == span.last == wall.end and not breaks_off):
            yield replace(event, after=int(at - span.first))
