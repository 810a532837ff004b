"""Tags, restarts, changes and endings: their places in the routine, and the steps below their headings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from caller.routine.count import read_counts
from caller.routine.findings import Finding, Place
from caller.routine.notation.blocks import EventBlock, ReplacedLines
from caller.routine.notation.lines import Line, Sort
from caller.routine.notation.passage import Context, ReadPassage, read_passage
from caller.routine.parts import (
    Change,
    Cut,
    Ending,
    Feel,
    OrderItem,
    Passage,
    Replacement,
    Restart,
    Section,
    Tag,
)
from caller.routine.step import Weight
from caller.routine.vocabulary import Vocabulary


@dataclass(slots=True)
class Laid:
    """The sections read so far. after: the weight after each; bases: the counts that each one's numbers run on from;
    start: the weight before the first step."""

    start: Weight
    sections: list[Section] = field(default_factory=list)
    after: list[Weight | None] = field(default_factory=list)
    bases: list[int] = field(default_factory=list)

    @property
    def counts(self) -> int:
        return sum(section.passage.counts for section in self.sections)

    def counts_before(self, index: int) -> int:
        return sum(section.passage.counts for section in self.sections[:index])

    def weight_at(self, after: int | None) -> Weight | None:
        """The weight after so many counts of the sections, None = after all of them."""
        if after is None:
            return self.after[-1] if self.after else self.start
        return self._within(list(zip(self.sections, self.after, strict=True)), after)

    def part_end(self, part: str, counts: int | None) -> Weight | None:
        """The weight after a part, or its first so many counts."""
        own = [(s, w) for s, w in zip(self.sections, self.after, strict=True) if s.part == part]
        if not own:
            return self.start
        return own[-1][1] if counts is None else self._within(own, counts)

    def _within(self, sections: Sequence[tuple[Section, Weight | None]], counts: int) -> Weight | None:
        weight: Weight | None = self.start
        for section, ends in sections:
            if counts < section.passage.counts:
                return weight_before(section.passage, Fraction(counts), weight)
            counts -= section.passage.counts
            weight = ends
        return weight


def weight_before(passage: Passage, at: Fraction, start: Weight | None) -> Weight | None:
    """The weight just before a position of a passage; None after something unread."""
    weight = start
    for step in passage.steps:
        if step.at >= at:
            break
        weight = None if step.movement.action == "unread" else step.movement.weight or weight
    return weight


@dataclass(slots=True)
class Events:
    tags: list[Tag] = field(default_factory=list)
    restarts: list[Restart] = field(default_factory=list)
    changes: list[Change] = field(default_factory=list)
    ending: Ending | None = None


def read_events(
    blocks: Sequence[EventBlock], laid: Laid, order: Sequence[OrderItem], feel: Feel, vocabulary: Vocabulary
) -> tuple[Events, list[Finding]]:
    """The events of a sheet whose sections are laid already."""
    reader = _EventReader(laid, order, feel, vocabulary)
    for block in blocks:
        reader.take(block)
    return reader.out, reader.findings


class _EventReader:
    def __init__(self, laid: Laid, order: Sequence[OrderItem], feel: Feel, vocabulary: Vocabulary) -> None:
        self.laid = laid
        self.order = order
        self.feel = feel
        self.vocabulary = vocabulary
        self.out = Events()
        self.findings: list[Finding] = []

    def take(self, event: EventBlock) -> None:
        if event.place.unknown:
            message = f"can't read {event.place.unknown!r} in this heading; say, for one, 'after wall 2' "
            self._find(event.heading.place, "unreadable", f"{message}or 'wall 5 after 16 counts'")
        _READ[event.sort](self, event)

    def _passage(self, lines: Sequence[Line], weight: Weight | None) -> ReadPassage:
        return self._read(lines, Context(self.feel, self.vocabulary), weight)

    def _read(self, lines: Sequence[Line], context: Context, weight: Weight | None) -> ReadPassage:
        read = read_passage(lines, context, weight)
        self.findings += read.findings
        return read

    # -- places

    def _after(self, event: EventBlock) -> int | None:
        """Counts into the routine, None = at the end of the wall."""
        if event.place.section is not None:
            return self.laid.counts_before(event.place.section)
        if event.place.here and event.here is not None and event.place.after is None:
            index, count = event.here
            return self.laid.counts_before(index) + count - self.laid.bases[index]
        return event.place.after

    def _cuts(self, event: EventBlock, wants_count: bool = False) -> tuple[Cut, ...]:
        walls, name, place = event.place.walls, event.sort.value.capitalize(), event.heading.place
        if not walls:
            if not event.place.unknown:
                self._find(place, "unreadable", f"on which wall? Say, for one, '{name}: wall 3 after 16 counts'")
            return ()
        after = self._after(event)
        if wants_count and after is None:
            question = f"after how many counts? Say, for one, '{name}: wall {walls[0]} after 16 counts'"
            self._find(place, "unreadable", question)
            return ()
        if after is not None and after == self.laid.counts and event.sort is Sort.TAG:
            after = None
        return tuple(Cut(wall, after) for wall in walls)

    # -- each sort

    def _tag(self, event: EventBlock) -> None:
        name = event.place.name
        named_only = bool(self.order) and not event.place.walls
        cuts = () if named_only else self._cuts(event)
        weight = self.laid.weight_at(cuts[0].after) if cuts else self._weight_before_tag(name)
        read = self._passage(event.lines, weight)
        self._length(event, read)
        self.out.tags.append(Tag(name, cuts, read.passage, event.heading.place))

    def _length(self, event: EventBlock, read: ReadPassage) -> None:
        place = event.heading.place
        if not event.lines:
            self._find(place, "unreadable", f"this {event.sort.value} has no step lines")
        elif event.long is not None and read.passage.counts != event.long:
            message = f"the heading says {event.long} counts, and {read.passage.counts} stand below it"
            self._find(place, "counts-total", message)

    def _weight_before_tag(self, name: str) -> Weight | None:
        """In a phrased order: after the part that stands before the tag."""
        before: OrderItem | None = None
        for item in self.order:
            if item.tag is not None and item.tag in (name, "") and before is not None:
                return self.laid.part_end(before.part, before.counts)
            if item.part:
                before = item
        return self.laid.start

    def _restart(self, event: EventBlock) -> None:
        cuts = self._cuts(event, wants_count=True)
        self.out.restarts.append(Restart(cuts, self._replacements(event), event.heading.place))

    def _change(self, event: EventBlock) -> None:
        place = event.heading.place
        if not event.place.walls and not event.place.unknown:
            self._find(place, "unreadable", "on which wall? Say, for one, 'Change: wall 6'")
        replacements = self._replacements(event)
        if not event.replaced and event.place.walls:
            self._find(place, "unreadable", "this change has no step lines; write them as 'S3 5-8  ...'")
        self.out.changes.append(Change(event.place.walls, replacements, place))

    def _ending(self, event: EventBlock) -> None:
        place = event.heading.place
        if self.out.ending is not None:
            line = self.out.ending.place.line
            self._find(place, "event-place", f"there is an ending already, on line {line}; a dance ends once")
            return
        cuts = self._cuts(event)
        read = self._passage(event.lines, self.laid.weight_at(cuts[0].after) if cuts else None)
        self._length(event, read)
        if cuts:
            self.out.ending = Ending(cuts[0], read.passage, place)

    # -- steps that take the place of a section's

    def _replacements(self, event: EventBlock) -> tuple[Replacement, ...]:
        return tuple(r for block in event.replaced if (r := self._replacement(block, event)) is not None)

    def _replacement(self, block: ReplacedLines, event: EventBlock) -> Replacement | None:
        index = self._section_index(block, event)
        place = block.heading.place
        if index is None:
            name = f"section {block.section}" if block.section else "the section that these counts stand in"
            has = len(self.laid.sections)
            self._find(place, "event-place", f"there is no {name} in this routine; it has {has}")
            return None
        numbers = [b.number for line in block.lines if (c := read_counts(line.text)) for b in c.beats if not b.part]
        if not numbers:
            self._passage(block.lines, None)
            return None
        section = self.laid.sections[index]
        base = self.laid.bases[index] if min(numbers) > self.laid.bases[index] else 0
        first, last = min(numbers) - base, max(numbers) - base
        context = Context(self.feel, self.vocabulary, base, last - first + 1, first_count=first)
        read = self._read(
            block.lines, context, weight_before(section.passage, Fraction(first - 1), self._enters(index))
        )
        return Replacement(section.number, first, last, read.passage, section.part, place)

    def _enters(self, index: int) -> Weight | None:
        """The weight before a section."""
        sections = self.laid.sections
        goes_on = index > 0 and sections[index - 1].part == sections[index].part
        return self.laid.after[index - 1] if goes_on else self.laid.start

    def _section_index(self, block: ReplacedLines, event: EventBlock) -> int | None:
        sections = self.laid.sections
        if block.section:
            parts = (block.part,) if block.part else tuple(s.part for s in sections)
            return next((n for n, s in enumerate(sections) if s.number == block.section and s.part in parts), None)
        after = self._after(event)
        for n in range(len(sections)):
            if after is not None and after <= self.laid.counts_before(n + 1):
                return n
        return None

    def _find(self, place: Place, code: str, message: str) -> None:
        self.findings.append(Finding(place, code, message))


_READ: dict[Sort, Callable[[_EventReader, EventBlock], None]] = {
    Sort.TAG: _EventReader._tag,
    Sort.RESTART: _EventReader._restart,
    Sort.CHANGE: _EventReader._change,
    Sort.ENDING: _EventReader._ending,
}
