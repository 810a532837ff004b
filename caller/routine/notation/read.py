"""A whole sheet read: text in, a routine and findings out."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from caller.routine.count import read_counts
from caller.routine.findings import Finding, Place
from caller.routine.notation.blocks import Blocks, OptionBlock, SectionBlock, gather
from caller.routine.notation.events import Laid, read_events, weight_before
from caller.routine.notation.grammar import read_specs
from caller.routine.notation.lines import MOST_LINES, Line, decode, sort_lines
from caller.routine.notation.passage import Context, ReadPassage, read_passage
from caller.routine.notation.spec import Spec
from caller.routine.notation.words import lex
from caller.routine.parts import Header, Option, OrderItem, Passage, Routine, Section, Tag
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
    if text.count("\n") + text.count("\r") > 2 * MOST_LINES:
        message = f"this has far more than {MOST_LINES:,} lines; a step sheet has some fifty"
        return SheetRead(Routine(Header()), (Finding(Place(1), "unreadable", message),), text)
    reader = _SheetReader(gather(sort_lines(text)), vocabulary or shipped())
    routine = reader.read()
    findings = sorted(reader.findings, key=lambda f: (f.place, f.code))
    return SheetRead(routine, tuple(findings), text)


class _SheetReader:
    def __init__(self, blocks: Blocks, vocabulary: Vocabulary) -> None:
        self.blocks = blocks
        self.vocabulary = vocabulary
        self.findings: list[Finding] = list(blocks.findings)

    def read(self) -> Routine:
        header = self.blocks.reader.finish()
        self.findings += self.blocks.reader.findings
        if not self.blocks.sections:
            message = "there are no steps here; a step line begins with its counts, such as '1-2  Walk R, L'"
            self._find(Place(1), "unreadable", message)
        self.header = replace(header, starts=header.starts or self._first_foot())
        self.laid = Laid(Weight.on((self.header.starts or Foot.RIGHT).other))
        self._read_sections()
        order = self.blocks.reader.order
        events, findings = read_events(self.blocks.events, self.laid, order, self.header.feel, self.vocabulary)
        self.findings += findings
        return Routine(
            self.header,
            tuple(self.laid.sections),
            tuple(events.tags),
            tuple(events.restarts),
            tuple(events.changes),
            events.ending,
            self._order(events.tags),
            tuple(self.blocks.comments),
        )

    def _first_foot(self) -> Foot:
        """The foot named first, where the header does not say it."""
        lines = self.blocks.sections[0].lines if self.blocks.sections else []
        for line in lines:
            counts = read_counts(line.text)
            for spec in self._specs(line.text[counts.end :]) if counts else ():
                foot = _foot_named(spec)
                if foot is not None or not (spec.verb is not None and spec.verb.footless):
                    return foot or Foot.RIGHT
        return Foot.RIGHT

    def _specs(self, text: str) -> list[Spec]:
        return read_specs(lex(text, self.vocabulary), self.vocabulary).specs

    # -- sections

    def _read_sections(self) -> None:
        laid = self.laid
        weight: Weight | None = laid.start
        part: str | None = None
        for block in self.blocks.sections:
            if block.part != part:
                part, weight = block.part, self._start_of(block)
            section, weight = self._section(block, weight)
            laid.sections.append(section)
            laid.after.append(weight)

    def _start_of(self, block: SectionBlock) -> Weight | None:
        """The weight before a part: off the foot that it names first, else what is danced before it leaves."""
        first = next((counts for line in block.lines if (counts := read_counts(line.text))), None)
        specs = self._specs(block.lines[0].text[first.end :]) if first else []
        named = _foot_named(specs[0]) if specs else None
        if block.part and named is not None:
            return Weight.on(named.other)
        before: OrderItem | None = None
        for item in self.blocks.reader.order:
            if item.part == block.part and before is not None:
                return self.laid.part_end(before.part, before.counts)
            before = item if item.part else before
        return self.laid.start

    def _base(self, block: SectionBlock) -> int:
        """Counts that stand before this section where its numbers run on."""
        wholes = [b.number for line in block.lines if (c := read_counts(line.text)) for b in c.beats if not b.part]
        first = wholes[0] if wholes else None
        if block.said is not None:
            return 0 if first == 1 != block.said[0] else block.said[0] - 1
        before = sum(s.passage.counts for s in self.laid.sections if s.part == block.part)
        return before if before and first == before + 1 else 0

    def _section(self, block: SectionBlock, weight: Weight | None) -> tuple[Section, Weight | None]:
        base, place = self._base(block), block.heading.place
        self.laid.bases.append(base)
        earlier = {s.number: s.passage for s in self.laid.sections if s.part == block.part}
        context = Context(self.header.feel, self.vocabulary, base, earlier=earlier)
        read = self._passage(block.lines, context, weight)
        if not block.lines:
            self._find(
                place, "unreadable", "this section has no step lines; write them below, such as '1-2  Walk R, L'"
            )
        elif block.said is not None and read.passage.counts != block.said[1] - block.said[0] + 1:
            said = f"the heading says counts {block.said[0]} to {block.said[1]}"
            self._find(place, "counts-gap", f"{said}, and {read.passage.counts} counts stand below it")
        passage = replace(
            read.passage,
            notes=(*read.passage.notes, *(note for note, _ in block.notes)),
            note_lines=(*read.passage.note_lines, *(number for _, number in block.notes)),
        )
        options = tuple(self._option(option, read.passage, weight, base) for option in block.options)
        return Section(block.number, block.name, passage, options, block.part, place), read.weight

    def _option(self, block: OptionBlock, passage: Passage, weight: Weight | None, base: int) -> Option:
        first, last, place = block.first - base, block.last - base, block.heading.place
        before = weight_before(passage, Fraction(first - 1), weight)
        if not block.lines:
            self._find(place, "option", "this option has no step lines; write those to dance instead below it")
        length = max(last - first + 1, 0)
        context = Context(self.header.feel, self.vocabulary, base, length, ("option", place), first)
        return Option(first, last, block.name, self._passage(block.lines, context, before).passage, place)

    def _passage(self, lines: list[Line], context: Context, weight: Weight | None) -> ReadPassage:
        read = read_passage(lines, context, weight)
        self.findings += read.findings
        return read

    # -- order

    def _order(self, tags: list[Tag]) -> tuple[OrderItem, ...]:
        """ "Tag A" is the tag of that name, or the one tag and then part A."""
        names = {tag.name for tag in tags}
        parts = {section.part for section in self.laid.sections}
        order: list[OrderItem] = []
        for item in self.blocks.reader.order:
            if item.tag and item.tag not in names and item.tag in parts:
                order += [OrderItem(tag="", place=item.place), OrderItem(part=item.tag, place=item.place)]
            else:
                order.append(item)
        return tuple(order)

    def _find(self, place: Place, code: str, message: str) -> None:
        self.findings.append(Finding(place, code, message))


def _foot_named(spec: Spec) -> Foot | None:
    """The foot that it says moves first."""
    if spec.feet:
        return spec.feet[0]
    leads = spec.figure is not None and spec.figure.by_direction
    return spec.travel if leads else None
