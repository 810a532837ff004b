"""Where tags, restarts, changes and endings stand: inside the routine, and no two at one place."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from caller.routine.findings import Finding, Place
from caller.routine.parts import Change, Cut, Replacement, Restart, Routine

_MOST_WALLS = 40  # a song of six minutes at 180 a minute, danced in walls of 32 counts, has 34


@dataclass(frozen=True, slots=True)
class _Standing:
    """One event's one place: kind, cut, and the counts of the wall that it stands in."""

    kind: str
    cut: Cut
    total: int
    routine: Routine


def events(routine: Routine) -> Iterator[Finding]:
    """``event-place``: one finding an event, at its heading."""
    cuts: dict[int, int] = {}  # wall: counts after which a restart cuts it
    taken: set[tuple[str, Cut]] = set()
    for kind, place, all_cuts in _event_cuts(routine):
        reasons = []
        for cut in all_cuts:
            why = _outside(_Standing(kind, cut, _counts_of(routine, cut.wall), routine))
            if not why and (kind, cut) in taken:
                why = f"another {kind} stands at this place; take one of them out"
            if kind == "restart" and cut.after is not None:
                if not why and cut.wall in cuts:
                    why = f"wall {cut.wall} is cut already, after {cuts[cut.wall]} counts"
                cuts.setdefault(cut.wall, cut.after)
            taken.add((kind, cut))
            reasons += [why] if why else []
        if reasons:
            yield Finding(place, "event-place", f"this {kind} can't be danced: {reasons[0]}")
    yield from _tags_beyond_cuts(routine, cuts)
    yield from _replacements(routine)


def _event_cuts(routine: Routine) -> list[tuple[str, Place, tuple[Cut, ...]]]:
    """All events as they stand in the sheet."""
    found: list[tuple[str, Place, tuple[Cut, ...]]] = [("tag", t.place, t.cuts) for t in routine.tags]
    found += [("restart", r.place, r.cuts) for r in routine.restarts]
    found += [("change", c.place, tuple(Cut(w) for w in c.walls)) for c in routine.changes]
    if routine.ending is not None:
        found.append(("ending", routine.ending.place, (routine.ending.cut,)))
    return sorted(found, key=lambda event: event[1])


def _counts_of(routine: Routine, wall: int) -> int:
    """Counts of the sections danced in a wall, uncut."""
    parts = [item.part for item in routine.order if item.part]
    if not parts or not 1 <= wall <= len(parts):
        return routine.counts
    return sum(s.passage.counts for s in routine.sections if s.part == parts[wall - 1])


# -- why an event can't be danced: each rule gives a reason, or ""


def _past_any_song(standing: _Standing) -> str:
    return f"no song has {standing.cut.wall} walls" if standing.cut.wall > _MOST_WALLS else ""


def _below_one(standing: _Standing) -> str:
    return "" if standing.cut.wall >= 1 else "walls are numbered from 1"


def _past_the_order(standing: _Standing) -> str:
    walls = sum(1 for item in standing.routine.order if item.part)
    past = bool(standing.routine.order) and standing.cut.wall > walls
    return f"the order has only {walls} walls" if past else ""


def _past_the_wall(standing: _Standing) -> str:
    after, total = standing.cut.after, standing.total
    if after is not None and not 0 < after <= total:
        return f"a wall has {total} counts, not {after}"
    if after == total and standing.kind == "restart":
        return f"a wall ends after {total} counts anyway"
    return ""


def _past_the_ending(standing: _Standing) -> str:
    if standing.routine.ending is None or standing.kind == "ending":
        return ""
    last, cut = standing.routine.ending.cut, standing.cut
    cut_short = last.after is not None and cut.after is not None and cut.after > last.after
    after_it = cut.wall > last.wall
    at_its_end = cut.wall == last.wall and (cut_short or (standing.kind == "tag" and cut.after is None))
    return f"the dance ends on wall {last.wall} before it" if after_it or at_its_end else ""


_RULES: tuple[Callable[[_Standing], str], ...] = (
    _below_one,
    _past_any_song,
    _past_the_order,
    _past_the_wall,
    _past_the_ending,
)


def _outside(standing: _Standing) -> str:
    return next((why for rule in _RULES if (why := rule(standing))), "")


# -- events against one another


def _tags_beyond_cuts(routine: Routine, cuts: dict[int, int]) -> Iterator[Finding]:
    for tag in routine.tags:
        for cut in tag.cuts:
            if cut.after is not None and cut.wall in cuts and cut.after > cuts[cut.wall]:
                message = f"wall {cut.wall} restarts after {cuts[cut.wall]} counts, before this tag"
                yield Finding(tag.place, "event-place", message)


def _replacements(routine: Routine) -> Iterator[Finding]:
    for holder in routine.holders:
        for one in holder.replacements:
            message = _misplaced(routine, holder, one)
            if message:
                yield Finding(one.place, "event-place", message)


def _misplaced(routine: Routine, holder: Restart | Change, one: Replacement) -> str:
    """Why these steps can't take the place of others, or ""."""
    own = [s for s in routine.sections if s.part == one.part]
    numbers = [s.number for s in own]
    index = numbers.index(one.section)
    length = own[index].passage.counts
    if one.last > length:
        return f"section {one.section} has {length} counts, so counts {one.first}-{one.last} are not all in it"
    until = sum(s.passage.counts for s in own[:index]) + one.last
    cuts = holder.cuts if isinstance(holder, Restart) else ()
    cut = next((c.after for c in cuts if c.after is not None and c.after < until), None)
    if cut is None:
        return ""
    return f"the wall is cut after {cut} counts, before section {one.section} count {one.last}"
