"""The running order: which passages are danced in which wall, cut, tagged and changed as the sheet says.

Conventions: a piece is a stretch of one passage with the steps that are danced of it; positions are counts since the
wall began. Wall n is the nth start from the top, restarts included; in a phrased routine each part danced is a wall.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import pairwise

from caller.dance.wall_plan import Occurrence, PlacedStep, PlacedStretch, WallPlan
from caller.routine.findings import Place
from caller.routine.parts import Change, Ending, OrderItem, Restart, Routine, Section, Tag
from caller.routine.passages import Passage


def plans(routine: Routine) -> Iterator[WallPlan]:
    """The walls in order: to the ending, to the end of a phrased order, else without end."""
    planner = _Planner(routine)
    parts = {section.part for section in routine.sections}
    if any(item.part in parts for item in routine.order if item.tag is None):
        yield from planner.phrased()
    elif routine.sections:
        yield from planner.endless()


@dataclass(frozen=True, slots=True)
class _Asked:
    """What is to be danced in one wall. limit: its first so many counts; tags: those that an order names after it."""

    number: int
    part: str
    sections: tuple[Section, ...]
    limit: int | None = None
    tags: tuple[Tag, ...] = ()

    @property
    def counts(self) -> int:
        return sum(s.passage.counts for s in self.sections)


class _Planner:
    def __init__(self, routine: Routine) -> None:
        self.routine = routine
        self.plain: dict[tuple[str, int], tuple[PlacedStretch, ...]] = {}  # walls without events, by part and length

    def endless(self) -> Iterator[WallPlan]:
        number = 0
        while True:
            number += 1
            plan = self._wall(_Asked(number, "", self.routine.sections))
            yield plan
            if plan.last:
                return

    def phrased(self) -> Iterator[WallPlan]:
        walls = self._ordered()
        for number, (item, tags) in enumerate(walls, 1):
            sections = tuple(s for s in self.routine.sections if s.part == item.part)
            plan = self._wall(_Asked(number, item.part, sections, item.counts, tuple(tags)))
            yield replace(plan, last=True) if number == len(walls) else plan
            if plan.last:
                return

    def _ordered(self) -> list[tuple[OrderItem, list[Tag]]]:
        """The parts of the order, each with the tags after it; those before the first part go with it too."""
        parts = {section.part for section in self.routine.sections}
        walls: list[tuple[OrderItem, list[Tag]]] = []
        leading: list[Tag] = []
        for item in self.routine.order:
            if item.tag is None and item.part in parts:
                walls.append((item, leading))
                leading = []
            elif item.tag is not None:
                tag = next((t for t in self.routine.tags if t.name == item.tag), None)
                if tag is not None:
                    (walls[-1][1] if walls else leading).append(tag)
        return walls

    def _wall(self, asked: _Asked) -> WallPlan:
        routine, number, total = self.routine, asked.number, asked.counts
        restart, restart_after = _restart_of(routine, number, total)
        ending = routine.ending if routine.ending is not None and routine.ending.cut.wall == number else None
        ends_after = ending.cut.after if ending is not None else None
        cut = min(c for c in (asked.limit, restart_after, ends_after, total) if c is not None)
        changes = [c for c in routine.changes if number in c.walls]
        tags = _tags_in(routine, number, cut, total)
        if not (restart or ending or changes or tags or asked.tags):
            return WallPlan(number, asked.part, self._plain(asked, cut), plain=True)
        built = _Building()
        passed = 0
        for section in asked.sections:
            if passed >= cut:
                break
            end = min(passed + section.passage.counts, cut)
            inside = [t for t in tags if passed <= t[0] < end]
            left_out = _left_out(section, restart, changes)
            _section(built, section, passed, end, _changed(section, restart, changes), inside, left_out)
            passed += section.passage.counts
        restarted = restart is not None and cut == restart_after and _begins_on_one(asked.sections)
        ended = ending is not None and cut == ends_after and any(step.at == 0 for step in ending.passage.steps[:2])
        if restarted or ended:
            built.let_go()
        at_end = [tag for after, tag in tags if after >= cut]
        _close(built, restart, ending, [*at_end, *asked.tags])
        cut_by = restart.place if restart else None
        return WallPlan(number, asked.part, tuple(built.pieces), tuple(built.events), cut_by, ending is not None)

    def _plain(self, asked: _Asked, cut: int) -> tuple[PlacedStretch, ...]:
        key = asked.part, cut
        if key not in self.plain:
            built = _Building()
            passed = 0
            for section in asked.sections:
                if passed < cut:
                    end = min(passed + section.passage.counts, cut)
                    _section(built, section, passed, end, (_own_steps(section.passage), []), [])
                passed += section.passage.counts
            self.plain[key] = tuple(built.pieces)
        return self.plain[key]


def _restart_of(routine: Routine, number: int, total: int) -> tuple[Restart | None, int | None]:
    """The restart that cuts this wall, and after how many counts."""
    for restart in routine.restarts:
        for cut in restart.cuts:
            if cut.wall == number and cut.after is not None and cut.after < total:
                return restart, cut.after
    return None, None


def _tags_in(routine: Routine, number: int, cut: int, total: int) -> list[tuple[int, Tag]]:
    """(counts into the sections, tag); at the wall's end where it says no count."""
    found = []
    for tag in routine.tags:
        for c in tag.cuts:
            if c.wall == number:
                after = cut if c.after is None or c.after >= total else c.after
                if after <= cut:
                    found.append((after, tag))
    return sorted(found, key=lambda pair: pair[0])


def _begins_on_one(sections: Sequence[Section]) -> bool:
    return bool(sections) and any(step.at == 0 for step in sections[0].passage.steps[:2])


# -- pieces


@dataclass(slots=True)
class _Building:
    """A wall so far. at: counts since it began."""

    pieces: list[PlacedStretch] = field(default_factory=list)
    events: list[Occurrence] = field(default_factory=list)
    at: int = 0

    def add(self, piece: PlacedStretch) -> None:
        self.pieces.append(piece)
        self.at += piece.counts

    def let_go(self) -> None:
        """Without the step that goes over into count 1 ("8&1"): a wall begun anew or an ending has its own."""
        if not self.pieces:  # nothing was danced before it
            return
        last = self.pieces[-1]
        self.pieces[-1] = replace(last, steps=tuple(p for p in last.steps if p.at < self.at))

    def event(self, kind: str, counts: int, name: str, heading: Place) -> None:
        self.events.append(Occurrence(kind, self.at, counts, name, heading))


def _section(
    built: _Building,
    section: Section,
    passed: int,
    end: int,
    steps: tuple[Sequence[PlacedStep], Sequence[Occurrence]],
    tags: Sequence[tuple[int, Tag]],
    left_out: Sequence[tuple[int, int]] = (),
) -> None:
    """Counts ``passed`` to ``end`` of the wall are danced from this section, with the tags inside it and without what
    is left out of it (counts from, to)."""
    placed, changes = steps
    until = end - passed
    built.events += [replace(c, after=built.at + c.after) for c in changes if c.after < until]
    bounds = [0, *(after - passed for after, _ in tags), until]
    for n, (first, last) in enumerate(pairwise(bounds)):
        if n > 0:
            _tag(built, tags[n - 1][1])
        for begins, ends in _kept(first, last, left_out):
            if ends > begins or (n == 0 and not tags):
                built.add(_piece(section, placed, begins, ends, built.at))


def _kept(first: int, last: int, left_out: Sequence[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """Counts first to last without those left out."""
    for begins, ends in left_out:
        if begins < last and ends > first:
            if begins > first:
                yield first, begins
            first = min(ends, last)
            if first == last:
                return
    yield first, last


def _left_out(section: Section, restart: Restart | None, changes: Sequence[Change]) -> list[tuple[int, int]]:
    holders: tuple[Restart | Change, ...] = (*([restart] if restart else []), *changes)
    return sorted(
        (one.first - 1, one.last)
        for holder in holders
        for one in holder.replacements
        if one.leaves_out and (one.section, one.part) == (section.number, section.part)
    )


def _changed(
    section: Section, restart: Restart | None, changes: Sequence[Change]
) -> tuple[list[PlacedStep], list[Occurrence]]:
    """The section's steps with those of a step change in their places, and the changes."""
    steps = _own_steps(section.passage)
    events: list[Occurrence] = []
    holders: tuple[Restart | Change, ...] = (*([restart] if restart else []), *changes)
    for holder in holders:
        for one in holder.replacements:
            if (one.section, one.part) == (section.number, section.part):
                new = _own_steps(one.passage)
                begins = min([Fraction(one.first - 1), *(p.at for p in new[:1])])  # a pick-up replaces that before it
                kept = [p for p in steps if not begins <= p.at < one.last]
                steps = sorted([*kept, *new], key=lambda p: p.at)
                counts = 0 if one.leaves_out else one.last - one.first + 1
                events.append(Occurrence("change", one.first - 1, counts, "", holder.place))
    return steps, events


def _own_steps(passage: Passage, at: int = 0) -> list[PlacedStep]:
    steps, source = passage.steps, id(passage)
    return [
        PlacedStep(steps[n].at + at if at else steps[n].at, steps[n], phrase, source)
        for phrase in passage.phrases
        for n in range(phrase.first, phrase.last + 1)
    ]


def _piece(section: Section, steps: Sequence[PlacedStep], first: int, last: int, at: int) -> PlacedStretch:
    """Counts first to last of a section. A pick-up before count 1 belongs to its first piece."""
    shift = at - first
    danced = tuple(
        PlacedStep(p.at + shift, p.step, p.phrase, p.source) if shift else p
        for p in steps
        if first <= p.at < last or (first == 0 and p.at < 0) or (p.at >= last == section.passage.counts)
    )
    counts = last - first
    return PlacedStretch("section", section.number, section.name, at, counts, danced, section.place, section.passage)


def _tag(built: _Building, tag: Tag) -> None:
    counts = tag.passage.counts
    built.event("tag", counts, tag.name, tag.place)
    steps = tuple(_own_steps(tag.passage, built.at))
    built.add(PlacedStretch("tag", 0, tag.name, built.at, counts, steps, tag.place, tag.passage))


def _close(built: _Building, restart: Restart | None, ending: Ending | None, tags: Sequence[Tag]) -> None:
    if ending is not None:
        counts = ending.passage.counts
        built.event("ending", counts, "", ending.place)
        steps = tuple(_own_steps(ending.passage, built.at))
        built.add(PlacedStretch("ending", 0, "", built.at, counts, steps, ending.place, ending.passage))
        return
    for tag in tags:
        _tag(built, tag)
    if restart is not None:
        built.event("restart", 0, "", restart.place)
