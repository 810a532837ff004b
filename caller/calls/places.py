"""Where a count stands: its wall, its stretch, the movement under way there.

Conventions: positions are counts since the dance's first step. A pick-up ("&1" at the head of a section) falls in the
count before its section and belongs to it all the same. Everything here searches by halves, so it may be asked at
every frame.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from fractions import Fraction
from itertools import islice

from caller.dance.walls import Dance, DancedPhrase, DancedStep, Stretch, Wall, WallEvent


def wall_at(dance: Dance, at: Fraction) -> Wall:
    """The wall danced at that count; the first before the dance, the last after it."""
    return dance.walls[max(bisect_right(dance.walls, at, key=lambda wall: wall.at) - 1, 0)]


def stretch_at(wall: Wall, at: Fraction) -> Stretch:
    """The section, tag or ending danced at that count of the wall; its first before it, its last after."""
    return wall.stretches[max(bisect_right(wall.stretches, at, key=lambda stretch: stretch.at) - 1, 0)]


def place_in_section(wall: Wall, at: Fraction) -> Fraction:
    """Counts from the first of its section, tag or ending; those of a section that a tag parts run on after it."""
    own = stretch_at(wall, at)
    before = (s.counts for s in wall.stretches if s.at < own.at and s.section == own.section) if own.section else ()
    return at - own.at + sum(before)


def own_place(wall: Wall, at: Fraction, section: int) -> Fraction:
    """Where a movement or phrase of ``section`` belongs: at its count, or, for a pick-up, where its section begins."""
    index = bisect_right(wall.stretches, at, key=lambda stretch: stretch.at)
    if index == len(wall.stretches):
        return at
    coming = wall.stretches[index]
    leads_in = coming.section == section and coming.at - at < 1
    return coming.at if leads_in and (index == 0 or wall.stretches[index - 1].section != section) else at


def event_between(wall: Wall, event: WallEvent, start: Fraction, end: Fraction) -> bool:
    """Whether an event is danced in a stretch: it begins in it, or is the restart that ends it."""
    at = wall.at + event.after
    return start <= at < end or (event.kind == "restart" and at == end)


def walls_between(dance: Dance, start: Fraction, end: Fraction) -> Iterator[Wall]:
    """The walls of which something is danced from ``start`` on and before ``end``."""
    return (wall for wall in dance.walls if wall.at < end and wall.end > start)


def phrases_between(dance: Dance, start: Fraction, end: Fraction) -> Iterator[tuple[Wall, DancedPhrase]]:
    """The phrases that begin from ``start`` on and before ``end``, with their walls."""
    for wall in walls_between(dance, start, end):
        for phrase in wall.phrases:
            if start <= own_place(wall, phrase.at, phrase.section) < end:
                yield wall, phrase


def movements_between(dance: Dance, start: Fraction, end: Fraction) -> Iterator[tuple[Wall, DancedStep]]:
    """The movements from ``start`` on and before ``end``, with their walls."""
    for wall in walls_between(dance, start, end):
        for danced in wall.movements:
            if start <= own_place(wall, danced.at, danced.section) < end:
                yield wall, danced


def movements_from(dance: Dance, at: Fraction) -> Iterator[tuple[Wall, DancedStep]]:
    """The movements that begin at ``at`` or later, in order, to the dance's end, with their walls."""
    index = max(bisect_right(dance.walls, at, key=_begins) - 1, 0)
    for wall in dance.walls[index:]:
        first = bisect_left(wall.movements, at, key=lambda danced: danced.at)
        for danced in islice(wall.movements, first, None):
            yield wall, danced


def last_movement_before(dance: Dance, at: Fraction) -> DancedStep | None:
    """The last movement that began before ``at``; None where there is none."""
    index = bisect_left(dance.walls, at, key=_begins) - 1
    while index >= 0:
        found = bisect_left(dance.walls[index].movements, at, key=lambda danced: danced.at) - 1
        if found >= 0:
            return dance.walls[index].movements[found]
        index -= 1
    return None


def _begins(wall: Wall) -> Fraction:
    """Where a wall's first movement falls, which a pick-up puts before the wall's first count."""
    return min(wall.at, wall.movements[0].at) if wall.movements else wall.at
