"""The running order: which passages are danced in which wall, cut, tagged and changed as the sheet says.

Conventions: a piece is a stretch of one passage with the steps that are danced of it; positions are counts since the wall
began. Wall n is the nth start from the top, restarts included; in a phrased routine each part danced is a wall.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction

from caller.routine.findings import Place
from caller.routine.parts import Change, Ending, OrderItem, Passage, Phrase, Restart, Routine, Section, Step, Tag


@dataclass(frozen=True, slots=True)
class Placed:
    """A step in its wall, and the phrase of the sheet that it belongs to."""

    at: Fraction
    step: Step
    phrase: Phrase
    source: int  # tells one phrase's passage from another's


@dataclass(frozen=True, slots=True)
class Piece:
    """kind: "section", "tag", "change" or "ending"; heading: where a fault of its joining is told."""

    kind: str
    section: int
    name: str
    at: int
    counts: int
    steps: tuple[Placed, ...]
    heading: Place


@dataclass(frozen=True, slots=True)
class Occurrence:
    """An event in a wall: kind, counts into the wall, its own length, its name, where it is written."""

    kind: str
    after: int
    counts: int
    name: str
    heading: Place


@dataclass(frozen=True, slots=True)
class WallPlan:
    number: int
    part: str
    pieces: tuple[Piece, ...]
    events: tuple[Occurrence, ...]
    cut_by: Place | None = None  # the restart that cuts it
    last: bool = False

    @property
    def counts(self) -> int:
        return sum(piece.counts for piece in self.pieces)


@dataclass(slots=True)
class _Building:
    pieces: list[Piece] = field(default_factory=list)
    events: list[Occurrence] = field(default_factory=list)
    at: int = 0


def plans(routine: Routine) -> Iterator[WallPlan]:
    """The walls in order: to the ending, to the end of a phrased order, else without end."""
    if routine.order:
        yield from _phrased(routine)
        return
    number = 0
    while routine.sections:
        number += 1
        plan = _wall(routine, number, routine.sections, "", None, ())
        yield plan
        if plan.last:
            return


def _phrased(routine: Routine) -> Iterator[WallPlan]:
    parts = {section.part for section in routine.sections}
    walls: list[tuple[OrderItem, list[Tag]]] = []
    leading: list[Tag] = []
    for item in routine.order:
        if item.part in parts:
            walls.append((item, leading))
            leading = []
        elif item.tag is not None:
            tag = next((t for t in routine.tags if t.name == item.tag), None)
            if tag is not None:
                (walls[-1][1] if walls else leading).append(tag)
    for number, (item, tags) in enumerate(walls, 1):
        sections = tuple(s for s in routine.sections if s.part == item.part)
        plan = _wall(routine, number, sections, item.part, item.counts, tuple(tags))
        yield replace(plan, last=plan.last or number == len(walls))
        if plan.last:
            return


def _wall(
    routine: Routine,
    number: int,
    sections: tuple[Section, ...],
    part: str,
    limit: int | None,
    after_tags: tuple[Tag, ...],
) -> WallPlan:
    total = sum(s.passage.counts for s in sections)
    restart = next(
        (r for r in routine.restarts for c in r.cuts if c.wall == number and c.after is not None and c.after < total),
        None,
    )
    ending = routine.ending if routine.ending is not None and routine.ending.cut.wall == number else None
    cut = min(
        limit if limit is not None else total,
        next((c.after for c in restart.cuts if c.wall == number and c.after is not None), total) if restart else total,
        ending.cut.after if ending is not None and ending.cut.after is not None else total,
        total,
    )
    changes = [c for c in routine.changes if number in c.walls]
    tags = _tags_in(routine, number, cut, total)
    built = _Building()
    passed = 0
    for section in sections:
        if passed >= cut:
            break
        _section(
            built,
            section,
            passed,
            cut,
            restart,
            changes,
            [t for t in tags if passed <= t[0] < passed + section.passage.counts and t[0] < cut],
        )
        passed += section.passage.counts
    _close(built, restart, ending, [t for after, t in tags if after >= cut], after_tags, cut)
    return WallPlan(
        number, part, tuple(built.pieces), tuple(built.events), restart.place if restart else None, ending is not None
    )


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


def _section(
    built: _Building,
    section: Section,
    passed: int,
    cut: int,
    restart: Restart | None,
    changes: list[Change],
    tags: list[tuple[int, Tag]],
) -> None:
    whole = section.passage.counts
    until = min(whole, cut - passed)
    passage, events = _changed(section, restart, changes)
    for event in events:
        if event.after < until:
            built.events.append(replace(event, after=built.at + event.after))
    bounds = [0, *(after - passed for after, _ in tags), until]
    for n, (first, last) in enumerate(zip(bounds, bounds[1:], strict=False)):
        if n > 0:
            _tag(built, tags[n - 1][1])
        if last > first or (n == 0 and not tags):
            built.pieces.append(_piece(section, passage, first, last, built.at))
            built.at += last - first


def _changed(section: Section, restart: Restart | None, changes: list[Change]) -> tuple[list[Placed], list[Occurrence]]:
    """The section's steps with those of a step change in their places."""
    steps = _own_steps(section.passage)
    events: list[Occurrence] = []
    for holder in [*([restart] if restart else []), *changes]:
        for one in holder.replacements:
            if one.section != section.number or one.part != section.part:
                continue
            kept = [p for p in steps if not one.first - 1 <= p.at < one.last]
            steps = sorted([*kept, *_own_steps(one.passage)], key=lambda p: p.at)
            events.append(Occurrence("change", one.first - 1, one.last - one.first + 1, "", holder.place))
    return steps, events


def _own_steps(passage: Passage) -> list[Placed]:
    return [
        Placed(passage.steps[n].at, passage.steps[n], phrase, id(passage))
        for phrase in passage.phrases
        for n in range(phrase.first, phrase.last + 1)
    ]


def _piece(section: Section, steps: list[Placed], first: int, last: int, at: int) -> Piece:
    """Counts first to last of a section. A pick-up before count 1 belongs to its first piece."""
    danced = tuple(
        replace(p, at=p.at - first + at) for p in steps if (first <= p.at < last) or (first == 0 and p.at < 0)
    )
    return Piece("section", section.number, section.name, at, last - first, danced, section.place)


def _tag(built: _Building, tag: Tag) -> None:
    steps = tuple(replace(p, at=p.at + built.at) for p in _own_steps(tag.passage))
    built.events.append(Occurrence("tag", built.at, tag.passage.counts, tag.name, tag.place))
    built.pieces.append(Piece("tag", 0, tag.name, built.at, tag.passage.counts, steps, tag.place))
    built.at += tag.passage.counts


def _close(
    built: _Building,
    restart: Restart | None,
    ending: Ending | None,
    tags: list[Tag],
    after_tags: tuple[Tag, ...],
    cut: int,
) -> None:
    if ending is not None:
        steps = tuple(replace(p, at=p.at + built.at) for p in _own_steps(ending.passage))
        built.events.append(Occurrence("ending", built.at, ending.passage.counts, "", ending.place))
        built.pieces.append(Piece("ending", 0, "", built.at, ending.passage.counts, steps, ending.place))
        built.at += ending.passage.counts
        return
    for tag in (*tags, *after_tags):
        _tag(built, tag)
    if restart is not None:
        built.events.append(Occurrence("restart", built.at, 0, "", restart.place))
