"""Two dances on one floor, to one song: which ways they face, and where they begin together. Pure.

Conventions: both begin with the same count, from the front; counts are since then. The way a dance faces on a count is
that in which it begins it. What is dense or apart enough is common practice, without a source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby

from caller.dance.unroll import MOST_WALLS, unroll
from caller.dance.walls import Dance
from caller.routine.facing import EIGHTHS, FRONT, Facing
from caller.routine.parts import Routine

CAUTION = "Only facings are looked at, not where each dance travels: walk both through together first, and leave room."
# Of all counts, so many face the same way where both may be danced in the same lines.
MIXED = Fraction(9, 10)


@dataclass(frozen=True, slots=True)
class Meeting:
    """A count on which both begin a wall. walls: their numbers; facings: the way each of them begins it."""

    at: Fraction
    walls: tuple[int, int]
    facings: tuple[Facing, Facing]

    @property
    def alike(self) -> bool:
        return self.facings[0] == self.facings[1]


@dataclass(frozen=True, slots=True)
class SharedFloor:
    """dance: the second, as it is danced beside the first. counts: of the first one, over which both are looked at.
    alike, opposed: of those, on how many they face the same way, and each the other's back wall. meetings: after the
    start, in order. face_to_face: from count to count, where they are opposed; left_out: events of the second that are
    not danced."""

    dance: Dance
    counts: int
    alike: int
    opposed: int
    meetings: tuple[Meeting, ...]
    face_to_face: tuple[tuple[int, int], ...] = ()
    left_out: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        return self.dance.routine.header.title

    @property
    def mixed(self) -> bool:
        """Whether both may be danced in the same lines; else each has a side of the floor."""
        return self.alike >= MIXED * self.counts


def danced_beside(main: Dance, routine: Routine) -> Dance:
    """A routine as it is danced beside another, for as long and without end: straight through, without the tags,
    restarts and changes that its own song asks for, unless both sheets are written to the same one. Raises ValueError,
    with why, where the two can't be danced to one song."""
    meters = (main.routine.header.meter.counts, routine.header.meter.counts)
    if meters[0] != meters[1]:
        raise ValueError(f"one is counted in {meters[0]}, the other in {meters[1]}: no song serves both")
    endless = replace(routine, ending=None)
    if left_out(main.routine, routine):
        endless = replace(endless, tags=(), restarts=(), changes=())
    walls = 1
    dance = unroll(endless, walls)
    while dance.counts < main.counts and walls < MOST_WALLS:
        walls = min(2 * walls, MOST_WALLS)
        dance = unroll(endless, walls)
    if dance.counts < main.counts:
        raise ValueError(f"it is over after {dance.counts} counts, the other after {main.counts}")
    return dance


def left_out(main: Routine, routine: Routine) -> tuple[str, ...]:
    """Which events of a routine another one's song does not ask for: ("tag", "restart"). None where both are written to
    one song, or where an order of parts says when each is danced."""
    if routine.order or (main.header.music and main.header.music.casefold() == routine.header.music.casefold()):
        return ()
    kinds = {"tag": routine.tags, "restart": routine.restarts, "step change": routine.changes}
    return tuple(kind for kind, events in kinds.items() if events)


def shared_floor(main: Dance, routine: Routine) -> SharedFloor:
    """How a routine stands to a dance that it is danced beside, for as long as that lasts. Raises ValueError as
    :func:`danced_beside`."""
    beside = danced_beside(main, routine)
    pairs = list(zip(_facings(main, main.counts), _facings(beside, main.counts), strict=True))
    half = EIGHTHS // 2
    opposed = [(one.eighths - other.eighths) % EIGHTHS == half for one, other in pairs]
    return SharedFloor(
        beside,
        main.counts,
        sum(one == other for one, other in pairs),
        sum(opposed),
        tuple(_meetings(main, beside)),
        tuple(_runs(opposed)),
        left_out(main.routine, routine),
    )


def _runs(held: Sequence[bool]) -> Iterator[tuple[int, int]]:
    """Where it holds: counts from, to."""
    at = 0
    for holds, run in groupby(held):
        length = len(list(run))
        if holds:
            yield at, at + length
        at += length


def floor_words(shared: SharedFloor) -> Iterator[str]:
    """What a teacher has to know of it, a sentence each; the last is the caution."""
    if shared.left_out:
        yield (
            f"{shared.title} is danced straight through: its {' and '.join(shared.left_out)} "
            f"{'are' if len(shared.left_out) > 1 else 'is'} of its own song."
        )
    yield from _met(shared)
    if shared.face_to_face:
        longest = max(shared.face_to_face, key=lambda run: run[1] - run[0])
        yield f"Longest face to face: from count {longest[0] + 1} to {longest[1]}."
    yield CAUTION


def _met(shared: SharedFloor) -> Iterator[str]:
    alike, opposed = (round(Fraction(100 * n, shared.counts)) for n in (shared.alike, shared.opposed))
    where = "by that both may dance in the same lines" if shared.mixed else "give each a side of the floor"
    yield f"They face the same way on {alike} of 100 counts, and opposite ways on {opposed}: {where}."
    if not shared.meetings:
        yield "After the start they never begin a wall together."
        return
    again = next((meeting for meeting in shared.meetings if meeting.alike), None)
    times = _times(len(shared.meetings))
    last = f", last {_place(shared.meetings[-1])}" if len(shared.meetings) > 1 else ""
    yield f"They begin a wall together {times} after the start, first {_place(shared.meetings[0])}{last}."
    if again is None:
        yield "They never begin one together facing the same way."
    elif again is not shared.meetings[0]:
        yield f"Facing the same way first {_place(again)}."


def _times(number: int) -> str:
    return "once" if number == 1 else f"{number} times"


def _place(meeting: Meeting) -> str:
    """ "after 64 counts, walls 3 and 5, facing 6:00 and 3:00"."""
    one, other = (facing.clock for facing in meeting.facings)
    faces = f"both facing {one}" if meeting.alike else f"facing {one} and {other}"
    return f"after {meeting.at} counts, walls {meeting.walls[0]} and {meeting.walls[1]}, {faces}"


def _meetings(main: Dance, beside: Dance) -> Iterator[Meeting]:
    others = {wall.at: wall for wall in beside.walls}
    for wall in main.walls[1:]:
        if (other := others.get(wall.at)) is not None:
            yield Meeting(wall.at, (wall.number, other.number), (wall.starts, other.starts))


def _facings(dance: Dance, counts: int) -> Iterator[Facing]:
    """The way in which each count is begun."""
    movements = [danced for wall in dance.walls for danced in wall.movements]
    facing, passed = FRONT, 0
    for count in range(counts):
        while passed < len(movements) and movements[passed].at < count:
            facing = movements[passed].after.facing
            passed += 1
        yield facing
