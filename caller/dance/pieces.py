"""The pieces of a wall: stretches of passages with the steps that are danced of them, cut, tagged and changed.

Conventions: positions are counts since the wall began.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import pairwise

from caller.routine.findings import Place
from caller.routine.parts import Change, Ending, Passage, Phrase, Restart, Section, Step, Tag


@dataclass(frozen=True, slots=True)
class PlacedStep:
    """A step in its wall, and the phrase of the sheet that it belongs to. source: its passage's, told by identity."""

    at: Fraction
    step: Step
    phrase: Phrase
    source: int


@dataclass(frozen=True, slots=True)
class PlacedStretch:
    """kind: "section", "tag" or "ending"; heading: where a fault of its joining is told. passage: whose steps these
    are, but for those that a change has put there."""

    kind: str
    section: int
    name: str
    at: int
    counts: int
    steps: tuple[PlacedStep, ...]
    heading: Place
    passage: Passage


@dataclass(frozen=True, slots=True)
class Occurrence:
    """An event in a wall: kind, counts into the wall, its own length, its name, where it is written."""

    kind: str
    after: int
    counts: int
    name: str
    heading: Place


@dataclass(slots=True)
class BuiltWall:
    """A wall so far. at: counts since it began."""

    pieces: list[PlacedStretch] = field(default_factory=list)
    events: list[Occurrence] = field(default_factory=list)
    at: int = 0

    def add(self, piece: PlacedStretch) -> None:
        self.pieces.append(piece)
        self.at += piece.counts

    def let_go(self) -> None:
        """Without the step that goes over into count 1 ("8&1"): a wall begun anew has a first step of its own."""
        last = self.pieces[-1]
        self.pieces[-1] = replace(last, steps=tuple(p for p in last.steps if p.at < self.at))

    def event(self, kind: str, counts: int, name: str, heading: Place) -> None:
        self.events.append(Occurrence(kind, self.at, counts, name, heading))


def add_section(
    built: BuiltWall,
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


def left_out_of(section: Section, restart: Restart | None, changes: Sequence[Change]) -> list[tuple[int, int]]:
    """Counts of a section that the restart or changes leave out, each from and to, in order."""
    holders: tuple[Restart | Change, ...] = (*([restart] if restart else []), *changes)
    return sorted(
        (one.first - 1, one.last)
        for holder in holders
        for one in holder.replacements
        if one.leaves_out and (one.section, one.part) == (section.number, section.part)
    )


def changed_steps(
    section: Section, restart: Restart | None, changes: Sequence[Change]
) -> tuple[list[PlacedStep], list[Occurrence]]:
    """The section's steps with those of a step change in their places, and the changes."""
    steps = own_steps(section.passage)
    events: list[Occurrence] = []
    holders: tuple[Restart | Change, ...] = (*([restart] if restart else []), *changes)
    for holder in holders:
        for one in holder.replacements:
            if (one.section, one.part) == (section.number, section.part):
                new = own_steps(one.passage)
                begins = min([Fraction(one.first - 1), *(p.at for p in new[:1])])  # a pick-up replaces that before it
                kept = [p for p in steps if not begins <= p.at < one.last]
                steps = sorted([*kept, *new], key=lambda p: p.at)
                counts = 0 if one.leaves_out else one.last - one.first + 1
                events.append(Occurrence("change", one.first - 1, counts, "", holder.place))
    return steps, events


def own_steps(passage: Passage, at: int = 0) -> list[PlacedStep]:
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


def _tag(built: BuiltWall, tag: Tag) -> None:
    counts = tag.passage.counts
    built.event("tag", counts, tag.name, tag.place)
    steps = tuple(own_steps(tag.passage, built.at))
    built.add(PlacedStretch("tag", 0, tag.name, built.at, counts, steps, tag.place, tag.passage))


def close(built: BuiltWall, restart: Restart | None, ending: Ending | None, tags: Sequence[Tag]) -> None:
    """What is danced after the sections: the ending, or the tags; then the restart."""
    if ending is not None:
        counts = ending.passage.counts
        built.event("ending", counts, "", ending.place)
        steps = tuple(own_steps(ending.passage, built.at))
        built.add(PlacedStretch("ending", 0, "", built.at, counts, steps, ending.place, ending.passage))
        return
    for tag in tags:
        _tag(built, tag)
    if restart is not None:
        built.event("restart", 0, "", restart.place)
