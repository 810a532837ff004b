"""Where the events of a wall lie for those who teach them: which are one, and what is danced round each."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from caller.dance.walls import Dance, Stretch, Wall, WallEvent


def at_one_place(wall: Wall) -> Iterator[tuple[WallEvent, ...]]:
    """A wall's events in their order; a change and a restart that comes with it are one thing to learn."""
    left = list(wall.events)
    while left:
        event = left.pop(0)
        then = left[0] if left and event.kind == "change" and left[0].kind == "restart" else None
        if then is not None and then.after <= event.after + event.counts:
            yield event, left.pop(0)
        else:
            yield (event,)


# An eight before an event it is announced.
_ANNOUNCED_COUNTS = 8


def event_span(dance: Dance, wall: Wall, event: WallEvent) -> tuple[Fraction, Fraction]:
    """From the first count of the section danced before an event to the last of the section danced after it; from a
    section further back where in the last one there is no time to announce it, as in a waltz."""
    at = wall.at + event.after
    over = at + event.counts
    stretches = [stretch for other in dance.walls for stretch in other.stretches if stretch.section and stretch.counts]
    before = [stretch for stretch in stretches if stretch.at < at]
    after = [stretch for stretch in stretches if stretch.at >= over]
    if event.kind == "change":  # it lies within a section: that one whole, and its neighbours
        within = [stretch for stretch in stretches if stretch.at < over and end_of(stretch) > at]
        before = [stretch for stretch in stretches if within and stretch.at < within[0].at] or within
        after = [stretch for stretch in stretches if within and stretch.at >= end_of(within[-1])]
    early = [stretch for stretch in before if at - stretch.at >= _ANNOUNCED_COUNTS] or before[:1]
    return early[-1].at if early else at, end_of(after[0]) if after else Fraction(dance.counts)


def end_of(stretch: Stretch) -> Fraction:
    return stretch.at + stretch.counts
