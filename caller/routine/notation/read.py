"""A whole sheet read: text in, a routine and findings out."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from caller.routine.findings import Finding, Place
from caller.routine.notation.blocks import Blocks, EventBlock, OptionBlock, ReplacedLines, SectionBlock, gather
from caller.routine.notation.grammar import read_specs
from caller.routine.notation.lines import Sort, decode, sort_lines
from caller.routine.notation.passage import Context, Line, PassageReader, ReadPassage
from caller.routine.notation.words import lex
from caller.routine.count import read_counts
from caller.routine.parts import (
    Change,
    Cut,
    Ending,
    Header,
    Option,
    OrderItem,
    Passage,
    Replacement,
    Restart,
    Routine,
    Section,
    Tag,
)
from caller.routine.step import Foot, Weight
from caller.routine.vocabulary import Vocabulary, shipped


@dataclass(frozen=True, slots=True)
class SheetRead:
    """The routine as far as it could be read, and what could not, in order of place."""

    routine: Routine
    findings: tuple[Finding, ...]
    text: str = ""


def read_bytes(raw: bytes, vocabulary: Vocabulary | None = None) -> SheetRead:
    """A sheet from the bytes of its file. Never raises: what is no sheet gives findings."""
    text, findings = decode(raw)
    if findings:
        return SheetRead(Routine(Header()), tuple(findings))
    return read_sheet(text, vocabulary)


def read_sheet(text: str, vocabulary: Vocabulary | None = None) -> SheetRead:
    """A sheet from its text. Never raises on any text."""
    text = text.removeprefix("\ufeff")
    reader = _SheetReader(gather(sort_lines(text)), vocabulary or shipped())
    routine = reader.read()
    findings = sorted(reader.findings, key=lambda f: (f.place, f.code))
    return SheetRead(routine, tuple(findings), text)


class _SheetReader:
    def __init__(self, blocks: Blocks, vocabulary: Vocabulary) -> None:
        self.blocks = blocks
        self.vocabulary = vocabulary
        self.findings: list[Finding] = list(blocks.findings)
        self.sections: list[Section] = []
        self.after: list[Weight | None] = []  # the weight after each section
        self.bases: list[int] = []

    def read(self) -> Routine:
        header = self.blocks.reader.finish()
        self.findings += self.blocks.reader.findings
        if not self.blocks.sections:
            self._find(Place(1), "unreadable", "there are no steps here; a step line begins with its counts, such as '1-2  Walk R, L'")
        self.header = replace(header, starts=header.starts or self._first_foot())
        self._read_sections()
        tags, restarts, changes, ending = self._read_events()
        return Routine(
            self.header,
            tuple(self.sections),
            tuple(tags),
            tuple(restarts),
            tuple(changes),
            ending,
            self._order(tags),
            tuple(self.blocks.comments),
        )

    # -- sections

    def _first_foot(self) -> Foot | None:
        """The foot named first, where the header does not say it."""
        for block in self.blocks.sections[:1]:
            for line in block.lines:
                counts = read_counts(line.text)
                specs = read_specs(lex(line.text[counts.end :], self.vocabulary), self.vocabulary).specs if counts else []
                for spec in specs:
                    if spec.feet:
                        return spec.feet[0]
                    if spec.travel is not None and spec.figure is not None and spec.figure.by_direction:
                        return spec.travel
                    if not (spec.verb is not None and spec.verb.footless):
                        return Foot.RIGHT
        return Foot.RIGHT

    def _start(self) -> Weight:
        return Weight.on((self.header.starts or Foot.RIGHT).other)

    def _read_sections(self) -> None:
        weight: Weight | None = self._start()
        part = None
        for block in self.blocks.sections:
            if block.part != part:
                weight = self._start()
                part = block.part
            section, weight = self._section(block, weight)
            self.sections.append(section)
            self.after.append(weight)

    def _base(self, block: SectionBlock) -> int:
        """Counts that stand before this section where its numbers run on."""
        if block.said is not None:
            first = next((c.beats[0].number for line in block.lines if (c := read_counts(line.text)) and not c.beats[0].part), None)
            if first is None or first == block.said[0] or first != 1:
                return block.said[0] - 1
            return 0
        before = sum(s.passage.counts for s in self.sections if s.part == block.part)
        first = next((b.number for line in block.lines if (c := read_counts(line.text)) for b in c.beats if not b.part), None)
        return before if before and first == before + 1 else 0

    def _section(self, block: SectionBlock, weight: Weight | None) -> tuple[Section, Weight | None]:
        base = self._base(block)
        self.bases.append(base)
        earlier = {s.number: s.passage for s in self.sections if s.part == block.part}
        read = self._passage(block.lines, weight, base=base, earlier=earlier)
        if not block.lines:
            self._find(Place(block.heading.number, block.heading.column), "unreadable", "this section has no step lines")
        if block.said is not None and block.lines and read.passage.counts != block.said[1] - block.said[0] + 1:
            self._find(
                Place(block.heading.number, block.heading.column),
                "counts-gap",
                f"the heading says counts {block.said[0]} to {block.said[1]}, and {read.passage.counts} counts stand below it",
            )
        passage = replace(read.passage, notes=(*read.passage.notes, *block.notes))
        options = tuple(self._option(option, read.passage, weight, base) for option in block.options)
        place = Place(block.heading.number, block.heading.column)
        return Section(block.number, block.name, passage, options, block.part, place), read.weight

    def _option(self, block: OptionBlock, passage: Passage, weight: Weight | None, base: int) -> Option:
        first, last = block.first - base, block.last - base
        before = weight_before(passage, Fraction(first - 1), weight)
        place = Place(block.heading.number, block.heading.column)
        if not block.lines:
            self._find(place, "option", "this option has no step lines")
        read = self._passage(block.lines, before, base=base, first=first, length=max(last - first + 1, 0), short=("option", place))
        return Option(first, last, block.name, read.passage, place)

    def _passage(
        self,
        lines: list[Line],
        weight: Weight | None,
        base: int = 0,
        first: int = 1,
        length: int | None = None,
        earlier: dict[int, Passage] | None = None,
        short: tuple[str, Place] | None = None,
    ) -> ReadPassage:
        context = Context(self.header.feel, self.vocabulary, base, length, short, first, earlier or {})
        read = PassageReader(context, weight).read(lines)
        self.findings += read.findings
        return read

    # -- events

    def _read_events(self) -> tuple[list[Tag], list[Restart], list[Change], Ending | None]:
        tags: list[Tag] = []
        restarts: list[Restart] = []
        changes: list[Change] = []
        ending: Ending | None = None
        for event in self.blocks.events:
            place = Place(event.heading.number, event.heading.column)
            if event.place.unknown:
                self._find(place, "unreadable", f"can't read {event.place.unknown!r} in this heading; say, for one, 'after wall 2' or 'wall 5 after 16 counts'")
            if event.sort is Sort.TAG:
                tags.append(self._tag(event, place))
            elif event.sort is Sort.RESTART:
                restarts.append(Restart(self._cuts(event, place, wants_count=True), self._replacements(event), place))
            elif event.sort is Sort.CHANGE:
                changes.append(self._change(event, place))
            elif ending is not None:
                self._find(place, "event-place", f"there is an ending already, on line {ending.place.line}")
            else:
                ending = self._ending(event, place)
        return tags, restarts, changes, ending

    def _after(self, event: EventBlock) -> int | None:
        """Counts into the routine, None = at the end of the wall."""
        if event.place.section is not None:
            return sum(s.passage.counts for s in self.sections[: event.place.section])
        if event.place.here and event.here is not None and event.place.after is None:
            index, count = event.here
            before = sum(s.passage.counts for s in self.sections[:index])
            return before + count - self.bases[index]
        return event.place.after

    def _cuts(self, event: EventBlock, place: Place, wants_count: bool) -> tuple[Cut, ...]:
        if not event.place.walls:
            if not event.place.unknown:
                self._find(place, "unreadable", f"on which wall? Say, for one, '{event.sort.value.capitalize()}: wall 3 after 16 counts'")
            return ()
        after = self._after(event)
        if wants_count and after is None:
            self._find(place, "unreadable", f"after how many counts? Say, for one, '{event.sort.value.capitalize()}: wall {event.place.walls[0]} after 16 counts'")
            return ()
        if after is not None and after == self._wall_counts() and event.sort is Sort.TAG:
            after = None
        return tuple(Cut(wall, after) for wall in event.place.walls)

    def _wall_counts(self) -> int:
        return sum(s.passage.counts for s in self.sections)

    def _tag(self, event: EventBlock, place: Place) -> Tag:
        phrased = bool(self.blocks.reader.order)
        named_only = phrased and not event.place.walls
        cuts = () if named_only else self._cuts(event, place, wants_count=False)
        weight = self._weight_at(cuts[0].after) if cuts else self._weight_before_tag(event.place.name)
        read = self._passage(event.lines, weight)
        self._length(event, read, place)
        return Tag(event.place.name, cuts, read.passage, place)

    def _length(self, event: EventBlock, read: ReadPassage, place: Place) -> None:
        if not event.lines:
            self._find(place, "unreadable", f"this {event.sort.value} has no step lines")
        elif event.long is not None and read.passage.counts != event.long:
            self._find(place, "counts-total", f"the heading says {event.long} counts, and {read.passage.counts} stand below it")

    def _weight_before_tag(self, name: str) -> Weight | None:
        """In a phrased order: after the part that stands before the tag."""
        before: OrderItem | None = None
        for item in self.blocks.reader.order:
            if item.tag is not None and item.tag in (name, "") and before is not None:
                return self._part_end(before)
            if item.part:
                before = item
        return self._start()

    def _part_end(self, item: OrderItem) -> Weight | None:
        sections = [(s, w) for s, w in zip(self.sections, self.after, strict=True) if s.part == item.part]
        if not sections:
            return self._start()
        if item.counts is None:
            return sections[-1][1]
        left = item.counts
        weight: Weight | None = self._start()
        for section, after in sections:
            if left < section.passage.counts:
                return weight_before(section.passage, Fraction(left), weight)
            left, weight = left - section.passage.counts, after
        return weight

    def _ending(self, event: EventBlock, place: Place) -> Ending | None:
        cuts = self._cuts(event, place, wants_count=False)
        read = self._passage(event.lines, self._weight_at(cuts[0].after) if cuts else None)
        self._length(event, read, place)
        return Ending(cuts[0], read.passage, place) if cuts else None

    def _change(self, event: EventBlock, place: Place) -> Change:
        if not event.place.walls and not event.place.unknown:
            self._find(place, "unreadable", "on which wall? Say, for one, 'Change: wall 6'")
        replacements = self._replacements(event)
        if not replacements and event.place.walls:
            self._find(place, "unreadable", "this change has no step lines; write them as 'S3 5-8  ...'")
        return Change(event.place.walls, replacements, place)

    def _replacements(self, event: EventBlock) -> tuple[Replacement, ...]:
        return tuple(r for block in event.replaced if (r := self._replacement(block, event)) is not None)

    def _replacement(self, block: ReplacedLines, event: EventBlock) -> Replacement | None:
        index = self._section_index(block, event)
        place = Place(block.heading.number, block.heading.column)
        if index is None:
            name = f"section {block.section}" if block.section else "the section that these counts stand in"
            self._find(place, "event-place", f"there is no {name} in this routine; it has {len(self.sections)}")
            return None
        numbers = [b.number for line in block.lines if (c := read_counts(line.text)) for b in c.beats if not b.part]
        if not numbers:
            self._passage(block.lines, None)
            return None
        base = self.bases[index] if min(numbers) > self.bases[index] else 0
        first, last = min(numbers) - base, max(numbers) - base
        section = self.sections[index]
        before = weight_before(section.passage, Fraction(first - 1), self.after[index - 1] if index and self.sections[index - 1].part == section.part else self._start())
        read = self._passage(block.lines, before, base=base, first=first, length=last - first + 1)
        return Replacement(section.number, first, last, read.passage, section.part, place)

    def _section_index(self, block: ReplacedLines, event: EventBlock) -> int | None:
        if block.section:
            found = [n for n, s in enumerate(self.sections) if s.number == block.section and (not block.part or s.part == block.part)]
            return found[0] if found else None
        after = self._after(event)
        passed = 0
        for n, section in enumerate(self.sections):
            passed += section.passage.counts
            if after is not None and after <= passed:
                return n
        return None

    def _weight_at(self, after: int | None) -> Weight | None:
        if after is None:
            return self.after[-1] if self.after else self._start()
        weight: Weight | None = self._start()
        for section, ends in zip(self.sections, self.after, strict=True):
            if after < section.passage.counts:
                return weight_before(section.passage, Fraction(after), weight)
            after -= section.passage.counts
            weight = ends
        return weight

    # -- order

    def _order(self, tags: list[Tag]) -> tuple[OrderItem, ...]:
        """ "Tag A" is the tag of that name, or the one tag and then part A."""
        names = {tag.name for tag in tags}
        parts = {section.part for section in self.sections}
        order: list[OrderItem] = []
        for item in self.blocks.reader.order:
            if item.tag and item.tag not in names and item.tag in parts:
                order += [OrderItem(tag="", place=item.place), OrderItem(part=item.tag, place=item.place)]
            else:
                order.append(item)
        return tuple(order)

    def _find(self, place: Place, code: str, message: str) -> None:
        self.findings.append(Finding(place, code, message))


def weight_before(passage: Passage, at: Fraction, start: Weight | None) -> Weight | None:
    """The weight just before a position of a passage; None after something unread."""
    weight = start
    for step in passage.steps:
        if step.at >= at:
            break
        if step.movement.action == "unread":
            weight = None
        weight = step.movement.weight or weight
    return weight
