"""How much of a dance has been danced while it is under way: its walls, and how fast. Pure.

Conventions: counts and tempo as in :mod:`caller.session.programme`. A wall is danced once it was danced from its first
count to its last without leaving any out, in whatever go; what is looped within it leaves nothing out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from caller.dance.walls import Dance
from caller.session.route import CountSpan
from caller.session.whole import WholeDance

# Danced as long as this, a tempo was danced, and not only passed through.
HELD_COUNTS = 16


@dataclass(frozen=True, slots=True)
class WallsDanced:
    """at: the count of the route that it was last seen at, None before; since: of the sheet, from which none had been
    left out then. walls: numbers of those that were danced, by the dance's title: of what is called, and of what is
    beside it. lately: what was danced last, no more of it than ``HELD_COUNTS`` need, as counts a minute and for how
    many counts; top: the quickest that it was danced for so many counts, 0 before."""

    at: Fraction | None = None
    since: Fraction = Fraction(0)
    walls: tuple[tuple[str, frozenset[int]], ...] = ()
    lately: tuple[tuple[Fraction, Fraction], ...] = ()
    top: Fraction = Fraction(0)

    def on(self, whole: WholeDance, count: Fraction, tempo: Fraction) -> WallsDanced:
        """Once a count of the route is reached, at so many counts a minute."""
        if count == self.at:
            return self
        there = tuple((dance.routine.header.title, walls_through(whole, dance, count)) for dance in dances_of(whole))
        walls = tuple((title, self.of(title) | more) for title, more in there)
        step = Fraction(0) if self.at is None or whole.since != self.since else max(count - self.at, Fraction(0))
        lately = _lately(self.lately, tempo, step)
        held = sum(counts for _, counts in lately) >= HELD_COUNTS
        top = max(self.top, min(pace for pace, _ in lately)) if held else self.top
        return WallsDanced(count, whole.since, walls, lately, top)

    def of(self, title: str) -> frozenset[int]:
        """The walls of the dance of that title."""
        return dict(self.walls).get(title, frozenset())

    def tempo(self, now: Fraction) -> Fraction:
        """The quickest that was danced for some while, in counts a minute; now: what it is, where nothing was."""
        return self.top or min((pace for pace, _ in self.lately), default=now)


def _lately(
    before: tuple[tuple[Fraction, Fraction], ...], tempo: Fraction, step: Fraction
) -> tuple[tuple[Fraction, Fraction], ...]:
    """With so many counts more at that tempo, without what is further back than need be."""
    if not step:
        return before
    same = before[-1][1] if before and before[-1][0] == tempo else Fraction(0)
    lately = (*(before[:-1] if same else before), (tempo, same + step))
    while sum(counts for _, counts in lately[1:]) >= HELD_COUNTS:
        lately = lately[1:]
    return lately


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
