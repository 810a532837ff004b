"""Announcements: walls, and the tags, restarts, step changes and endings, called ahead and again right before.

Conventions: an event is announced once for each place it stands at. Its first warning is wished 8 counts ahead and
must have been heard with half of that to go; it names the section or the wall ("restart after this section") only
where it can be said within it. Where a stretch begins too late for the warning, the word right before the event is
the one that must be said.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from caller.calls.places import event_between, place_in_section, walls_between
from caller.calls.plan import Cue, Kind
from caller.calls.wording import ahead_wordings, now_wordings, wall_wordings
from caller.dance.walls import Dance, Event, Stretch, Wall
from caller.routine.count import label_of

WARNING_LEAD = Fraction(8)
FURTHEST_AHEAD = Fraction(12)
WALL_LEAD = Fraction(4)
NOW_LEAD = Fraction(2)
# The shortest stretch that leaves time to say what comes after it.
_ROOM = Fraction(6)


def wall_cues(dance: Dance, start: Fraction, end: Fraction) -> Iterator[Cue]:
    """One for each wall that starts after ``start`` and before ``end``; none for a part of one that comes again."""
    for before, wall in pairwise(dance.walls):
        if start < wall.at < end and wall.number != before.number:
            yield Cue(
                kind=Kind.WALL,
                wall=wall.number,
                at=wall.at,
                count="1",
                wordings=wall_wordings(wall.number, wall.part, wall.starts),
                lead_counts=WALL_LEAD,
                ahead_counts=FURTHEST_AHEAD,
            )


def event_cues(dance: Dance, start: Fraction, end: Fraction, count_in: int) -> Iterator[Cue]:
    """Two for each event from ``start`` on and before ``end`` (a restart that ends the stretch included)."""
    said: set[tuple[str, Fraction]] = set()
    for wall in walls_between(dance, start, end):
        for event in wall.events:
            at = wall.at + event.after
            if not event_between(wall, event, start, end) or (event.kind, at) in said:
                continue
            said.add((event.kind, at))
            warning = _warning(dance, wall, event)
            warned = at - warning.lead_counts >= start - count_in
            if warned:
                yield warning
            yield _reminder(dance, wall, event, must=not warned and at > start)


def _warning(dance: Dance, wall: Wall, event: Event) -> Cue:
    place, room = _place(dance, wall, event)
    lead = min(WARNING_LEAD, room)
    return replace(
        _reminder(dance, wall, event, must=True),
        wordings=ahead_wordings(event.kind, place, event.name, event.counts),
        lead_counts=lead,
        ahead_counts=min(FURTHEST_AHEAD, room),
        heard_counts=lead / 2,
    )


def _reminder(dance: Dance, wall: Wall, event: Event, *, must: bool) -> Cue:
    at = wall.at + event.after
    place = place_in_section(wall, at) if at < wall.end else Fraction(0)
    return Cue(
        kind=Kind(event.kind),
        wall=wall.number,
        at=at,
        count=label_of(place, dance.routine.header.feel),
        wordings=now_wordings(event.kind, event.name, event.counts),
        must=must,
        lead_counts=NOW_LEAD,
    )


def _place(dance: Dance, wall: Wall, event: Event) -> tuple[str, Fraction]:
    """What the event comes after ("wall", "section", "" where neither can be said), and for how many counts before it
    that is true."""
    at = wall.at + event.after
    before = [stretch for stretch in wall.stretches if stretch.at < at]
    if not before or before[-1].section == 0:
        return "", FURTHEST_AHEAD
    whole = before[-1].at + before[-1].counts == at and not _is_cut(dance, wall, before[-1])
    in_section, in_wall = at - before[-1].at, at - wall.at
    closes = whole and not any(stretch.section for stretch in wall.stretches if stretch.at >= at)
    if in_wall >= _ROOM and (event.kind == "change" or (event.kind == "tag" and closes)):
        return "wall", in_wall
    if in_section >= _ROOM and whole and event.kind != "change":
        return "section", in_section
    return "", FURTHEST_AHEAD


def _is_cut(dance: Dance, wall: Wall, stretch: Stretch) -> bool:
    """Whether only the head of that section is danced there."""
    return any(
        section.number == stretch.section and section.part == wall.part and section.passage.counts > stretch.counts
        for section in dance.routine.sections
    )
