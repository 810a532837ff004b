"""How much is called as a section comes round again.

Conventions: the first time through every figure is called; the second without feet, recovers and the sides of turns;
the third the first word of each eight, every turn and every syncopated figure; from the fourth on the turns alone, for
beginners still what the third has.
Times are counted over the whole dance, whatever stretch of it a take is. What comes again right after itself went
wrong: it is called in full. Of a dance that is half taught, over and over, no less is called than the second time, but
where less is asked for. After an announcement the next eight is called as the second time through; a tag, a change
and an ending always in full. What a lesson or a drill teaches does not fade at all (``Stage.fading``).
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Sequence
from enum import IntEnum
from fractions import Fraction

from caller.calls.group import Group
from caller.calls.opening import for_beginners
from caller.calls.plan import Fading
from caller.calls.wording import counted_to
from caller.dance.walls import Dance

_Place = tuple[str, int]  # part and section; all tags and the ending are section 0 of theirs

# Counts after an announcement that are called more fully.
_EIGHT = 8


class Fullness(IntEnum):
    """How a group is called; less from one to the next."""

    FULL = 1
    SHORT = 2
    LANDMARKS = 3
    TURNS = 4


def fullness(dance: Dance, fading: Fading) -> Callable[[Group], Fullness]:
    """How fully each group of the dance is called."""
    times, marks, least = _times(dance), _marks(dance), _least(dance, fading)

    def full(group: Group) -> Fullness:
        if fading is Fading.ALL or not group.section or changes(group):
            return Fullness.FULL
        nth = times.get((group.wall.at, group.wall.part, group.section), 1)
        if fading is Fading.LESS and nth > 1:
            nth += 1
        found = Fullness(min(nth, least))
        return min(found, Fullness.SHORT) if _soon_after(marks, group.at) else found

    return full


def _least(dance: Dance, fading: Fading) -> Fullness:
    """As little as is called at last."""
    if fading is Fading.LESS:
        return Fullness.TURNS
    if dance.routine.only is not None:
        return Fullness.SHORT
    return Fullness.LANDMARKS if for_beginners(dance.routine.header) else Fullness.TURNS


def _times(dance: Dance) -> dict[tuple[Fraction, str, int], int]:
    """How often each section has been danced at each wall, that time included; 1 again where it is gone back to."""
    count: Counter[_Place] = Counter()
    found: dict[tuple[Fraction, str, int], int] = {}
    number, danced = 0, set[_Place]()  # of the wall under way, of which a part may come again
    for wall in dance.walls:
        if wall.number != number:
            number, danced = wall.number, set()
        places = dict.fromkeys((wall.part, stretch.section) for stretch in wall.stretches)
        for place in places:
            count[place] += place not in danced
            found[wall.at, *place] = 1 if place in danced else count[place]
        danced |= set(places)
    return found


def changes(group: Group) -> bool:
    """Whether other steps than usual are danced in it."""
    movements = group.wall.movements[group.first : group.last + 1]
    places = [danced.at - group.wall.at for danced in movements]
    changed = [event for event in group.wall.events if event.kind == "change"]
    return any(e.after <= place < e.after + e.counts for e in changed for place in places)


def _marks(dance: Dance) -> list[Fraction]:
    """Where the dance goes on after a tag, restart or change."""
    return sorted({wall.at + event.after + event.counts for wall in dance.walls for event in wall.events})


def _soon_after(marks: Sequence[Fraction], at: Fraction) -> bool:
    index = bisect_right(marks, at) - 1
    return index >= 0 and at < marks[index] + _EIGHT


def is_called(group: Group, before: Group | None, how: Fullness, dance: Dance) -> bool:
    """Whether a group is called at all."""
    if how <= Fullness.SHORT or group.turns:
        return True
    if how is Fullness.TURNS:
        return False
    eight = counted_to(dance.routine.header.meter)
    opens = before is None or before.section != group.section or before.place // eight != group.place // eight
    return opens or group.syncopated
