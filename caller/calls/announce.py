"""Announcements: walls, and the tags, restarts, step changes and endings.

Conventions: two notices at most for each, never back to back: one about an eight ahead, in the first gap that has
room, and one at the place, which says the first movement with it ("restart, right shuffle"). Two that stand at one
place, or a change that runs up to a restart, are one notice ahead. A notice ahead must be heard with four and a half
counts to go, and is not said in a count-in; it names the section or the wall ("restart after this section") only where
it can be said within it. Where a stretch begins too late for it, the notice at the place is the one that must be said.
A wall that a restart begins is called with it ("restart, wall four, right shuffle"), and the wall that it cuts short
says so at its start.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from caller.calls.places import event_between, place_in_section, walls_between
from caller.calls.plan import CallKind, Cue
from caller.calls.wording import ahead_wordings, now_words, wall_name, wall_wordings
from caller.dance.walls import Dance, Stretch, Wall, WallEvent
from caller.routine.count import label_of
from caller.routine.facing import Facing

WARNING_LEAD = Fraction(8)
FURTHEST_AHEAD = Fraction(14)
WALL_LEAD = Fraction(4)
NOW_LEAD = Fraction(2)
# A notice ahead is heard so far ahead; the one at the place begins no further ahead than that.
HEARD_AHEAD, NOW_AHEAD = Fraction(9, 2), Fraction(3)
# The least lead of a notice ahead, and the shortest stretch that leaves time to say in it what comes after it.
_LEAST_LEAD = Fraction(7)
# A change that ends so near before what comes next is announced with it.
_TOGETHER_COUNTS = Fraction(4)


@dataclass(frozen=True, slots=True)
class Notice:
    """What is announced together. places: of its events, in order; the notice ahead is for the first."""

    wall: Wall
    events: tuple[WallEvent, ...]

    @property
    def at(self) -> Fraction:
        return self.wall.at + self.events[0].after


def wall_cues(dance: Dance, start: Fraction, end: Fraction) -> Iterator[Cue]:
    """One for each wall that starts after ``start`` and before ``end``; none for a part of one that comes again, or
    where a restart says it (:func:`begun_by_restart`)."""
    last = last_wall_at(dance)
    for before, wall in pairwise(dance.walls):
        restarts = any(event.kind == "restart" for event in before.events)
        if start < wall.at < end and wall.number != before.number and not restarts:
            yield Cue(
                kind=CallKind.WALL,
                wall=wall.number,
                at=wall.at,
                count="1",
                wordings=wall_wordings(wall.number, wall.part, wall.starts, last=wall.at >= last),
                lead_counts=WALL_LEAD,
                ahead_counts=FURTHEST_AHEAD,
            )


def last_wall_at(dance: Dance) -> Fraction:
    """Where the last wall begins; not one that comes again before."""
    number = dance.walls[-1].number
    others = [wall.end for wall in dance.walls if wall.number != number]
    return others[-1] if others else Fraction(dance.counts)


def begun_by_restart(dance: Dance, at: Fraction) -> str:
    """The name of the wall that a restart at that count begins; "" where it begins none of its own."""
    index = bisect_left(dance.walls, at, key=lambda wall: wall.at)
    if index == 0 or index >= len(dance.walls):
        return ""
    before, wall = dance.walls[index - 1 : index + 1]
    fresh = wall.at == at and wall.number != before.number
    return wall_name(wall.number, wall.part, last=at >= last_wall_at(dance)) if fresh else ""


def notices(dance: Dance, start: Fraction, end: Fraction) -> Iterator[Notice]:
    """What is announced from ``start`` on and before ``end`` (a restart that ends the stretch included)."""
    said: set[tuple[str, Fraction]] = set()
    for wall in walls_between(dance, start, end):
        own: list[WallEvent] = []
        for event in sorted(wall.events, key=lambda one: one.after):
            at = wall.at + event.after
            if event_between(wall, event, start, end) and (event.kind, at) not in said:
                said.add((event.kind, at))
                own.append(event)
        yield from (Notice(wall, tuple(run)) for run in _runs(own))


def _runs(events: Sequence[WallEvent]) -> Iterator[list[WallEvent]]:
    run: list[WallEvent] = []
    for event in events:
        if run and event.after > run[-1].after + run[-1].counts + (_TOGETHER_COUNTS if run[-1].kind == "change" else 0):
            yield run
            run = []
        run.append(event)
    if run:
        yield run


def ahead_cue(dance: Dance, notice: Notice, start: Fraction, count_in: int, first: str = "") -> Cue | None:
    """The notice ahead; None where there is no time for one. first: what is danced at its place first."""
    wall, event = notice.wall, notice.events[0]
    place, room = _place(dance, wall, event) if len(notice.events) == 1 else ("", FURTHEST_AHEAD)
    lead = min(WARNING_LEAD, room)
    since = notice.at - start
    if lead < _LEAST_LEAD or since < (_LEAST_LEAD if count_in else lead):
        return None
    kinds = tuple(dict.fromkeys(one.kind for one in notice.events))
    forms = ahead_wordings(kinds, place, event.name, _faces(wall, notice.at), first)
    return replace(
        event_cue(dance, wall, event, must=True),
        wordings=tuple(words for words, _ in forms),
        lost=tuple(lost for _, lost in forms),
        lead_counts=lead,
        ahead_counts=min(FURTHEST_AHEAD, room),
        heard_counts=HEARD_AHEAD,
    )


def _faces(wall: Wall, at: Fraction) -> Facing:
    """The way the class faces as a count of the wall begins."""
    return next((danced.before.facing for danced in wall.movements if danced.at >= at), wall.ends)


def event_cue(dance: Dance, wall: Wall, event: WallEvent, *, must: bool) -> Cue:
    """The notice at the place, without what is danced there."""
    at = wall.at + event.after
    place = place_in_section(wall, at) if at < wall.end else Fraction(0)
    return Cue(
        kind=CallKind(event.kind),
        wall=wall.number,
        at=at,
        count=label_of(place, dance.routine.header.feel),
        wordings=(now_words(event.kind, event.name),),
        must=must,
        lead_counts=NOW_LEAD,
    )


def _place(dance: Dance, wall: Wall, event: WallEvent) -> tuple[str, Fraction]:
    """What the event comes after ("wall", "section", "" where neither can be said), and for how many counts before it
    that is true."""
    at = wall.at + event.after
    before = [stretch for stretch in wall.stretches if stretch.at < at]
    if not before or before[-1].section == 0:
        return "", FURTHEST_AHEAD
    whole = before[-1].at + before[-1].counts == at and not _is_cut(dance, wall, before[-1])
    in_section, in_wall = at - before[-1].at, at - wall.at
    closes = whole and not any(stretch.section for stretch in wall.stretches if stretch.at >= at)
    if in_wall >= _LEAST_LEAD and (event.kind == "change" or (event.kind == "tag" and closes)):
        return "wall", in_wall
    if in_section >= _LEAST_LEAD and whole and event.kind != "change":
        return "section", in_section
    return "", FURTHEST_AHEAD


def _is_cut(dance: Dance, wall: Wall, stretch: Stretch) -> bool:
    """Whether only the head of that section is danced there."""
    return any(
        section.number == stretch.section and section.part == wall.part and section.passage.counts > stretch.counts
        for section in dance.routine.sections
    )
