"""How much of a dance has been danced while it is under way: its walls, and how fast. Pure.

Conventions: counts and tempo as in :mod:`caller.session.programme`. A wall is danced once it was danced from its first
count to its last without leaving any out, in whatever go; what is looped within it leaves nothing out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from caller.clock.timeline import SECONDS_A_MINUTE
from caller.dance.walls import Dance
from caller.session.route import CountSpan
from caller.session.whole import WholeDance


@dataclass(frozen=True, slots=True)
class WallsDanced:
    """at: the count of the route that it was last seen at, None before; since: of the sheet, from which none had been
    left out then. walls: numbers of those that were danced, by the dance's title: of what is called, and of what is
    beside it. counts, seconds: danced so far."""

    at: Fraction | None = None
    since: Fraction = Fraction(0)
    walls: tuple[tuple[str, frozenset[int]], ...] = ()
    counts: Fraction = Fraction(0)
    seconds: Fraction = Fraction(0)

    def on(self, whole: WholeDance, count: Fraction, tempo: Fraction) -> WallsDanced:
        """Once a count of the route is reached, at so many counts a minute."""
        if count == self.at:
            return self
        there = tuple((dance.routine.header.title, walls_through(whole, dance, count)) for dance in dances_of(whole))
        walls = tuple((title, self.of(title) | more) for title, more in there)
        step = Fraction(0) if self.at is None or whole.since != self.since else max(count - self.at, Fraction(0))
        seconds = self.seconds + SECONDS_A_MINUTE * step / tempo
        return WallsDanced(count, whole.since, walls, self.counts + step, seconds)

    def of(self, title: str) -> frozenset[int]:
        """The walls of the dance of that title."""
        return dict(self.walls).get(title, frozenset())

    def tempo(self, now: Fraction) -> Fraction:
        """The mean of what was danced, in counts a minute, to a tenth where it is not what it is now."""
        mean = SECONDS_A_MINUTE * self.counts / self.seconds if self.seconds else now
        return mean if mean == now else Fraction(round(10 * mean), 10)


def dances_of(whole: WholeDance) -> Iterator[Dance]:
    """What is called, and what is danced beside it on the same floor, as their sheets have them."""
    yield whole.sheet
    if whole.other is not None:
        yield whole.other.plain


def walls_through(whole: WholeDance, dance: Dance, count: Fraction) -> frozenset[int]:
    """Numbers of the walls of a dance that a count of the route lies behind. dance: one of :func:`dances_of`."""
    passed = list(_joined(span for span in whole.route.until(count) if span.last > whole.since))
    first = [CountSpan(max(span.first, whole.since), span.last) for span in passed]
    return frozenset(
        wall.number for wall in dance.walls if any(span.first <= wall.at and wall.end <= span.last for span in first)
    )


def _joined(spans: Iterable[CountSpan]) -> Iterator[CountSpan]:
    """What they cover, in order, those that meet or overlap as one."""
    under_way: CountSpan | None = None
    for span in sorted(spans, key=lambda one: one.first):
        if under_way is not None and span.first <= under_way.last:
            under_way = CountSpan(under_way.first, max(under_way.last, span.last))
        else:
            if under_way is not None:
                yield under_way
            under_way = span
    if under_way is not None:
        yield under_way
