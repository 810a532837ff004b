"""The running order: which passages are danced in which wall, cut, tagged and changed as the sheet says.

Conventions: a piece is a stretch of one passage with the steps that are danced of it; positions are counts since the
wall began. Wall n is the nth start from the top, restarts included; in a phrased routine each part danced is a wall.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from caller.dance.pieces import (
    BuiltWall,
    Occurrence,
    PlacedStretch,
    add_section,
    changed_steps,
    close,
    left_out_of,
    own_steps,
)
from caller.routine.findings import Place
from caller.routine.parts import OrderItem, Restart, Routine, Section, Tag


@dataclass(frozen=True, slots=True)
class WallPlan:
    """cut_by: the restart that cuts it. plain: danced as the sheet stands; such walls share their pieces."""

    number: int
    part: str
    pieces: tuple[PlacedStretch, ...]
    events: tuple[Occurrence, ...] = ()
    cut_by: Place | None = None
    last: bool = False
    plain: bool = False

    @property
    def counts(self) -> int:
        return sum(piece.counts for piece in self.pieces)


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
        built = BuiltWall()
        passed = 0
        for section in asked.sections:
            if passed >= cut:
                break
            end = min(passed + section.passage.counts, cut)
            inside = [t for t in tags if passed <= t[0] < end]
            left_out = left_out_of(section, restart, changes)
            add_section(built, section, passed, end, changed_steps(section, restart, changes), inside, left_out)
            passed += section.passage.counts
        if restart is not None and cut == restart_after and _begins_on_one(asked.sections):
            built.let_go()
        at_end = [tag for after, tag in tags if after >= cut]
        close(built, restart, ending, [*at_end, *asked.tags])
        cut_by = restart.place if restart else None
        return WallPlan(number, asked.part, tuple(built.pieces), tuple(built.events), cut_by, ending is not None)

    def _plain(self, asked: _Asked, cut: int) -> tuple[PlacedStretch, ...]:
        key = asked.part, cut
        if key not in self.plain:
            built = BuiltWall()
            passed = 0
            for section in asked.sections:
                if passed < cut:
                    end = min(passed + section.passage.counts, cut)
                    add_section(built, section, passed, end, (own_steps(section.passage), []), [])
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
