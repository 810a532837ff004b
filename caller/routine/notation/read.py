"""A whole sheet read: text in, a routine and findings out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from caller.routine.count import read_counts
from caller.routine.facing import FRONT, Facing
from caller.routine.findings import Finding, Place
from caller.routine.layout.arrange import arrange
from caller.routine.layout.blocks import Blocks, OptionBlock, Role, SectionBlock, first_count, highest_count
from caller.routine.layout.lines import MOST_LINES, Line, decode
from caller.routine.meter import Meter
from caller.routine.notation.candidates import Effort
from caller.routine.notation.easier import read_easier
from caller.routine.notation.events import read_events
from caller.routine.notation.grammar import read_specs
from caller.routine.notation.passage import Context, ReadPassage, read_passage
from caller.routine.notation.sections import Laid, weight_before
from caller.routine.notation.spec import Spec
from caller.routine.notation.words import lex
from caller.routine.parts import Header, Option, OrderItem, Routine, Section, Tag, ToldLength
from caller.routine.passages import Passage
from caller.routine.step import Foot, Weight
from caller.routine.vocabulary import Vocabulary, shipped


@dataclass(frozen=True, slots=True)
class SheetRead:
    """The routine as far as it could be read, and what could not, in order. roles: of each line of the text."""

    routine: Routine
    findings: tuple[Finding, ...]
    text: str = ""
    roles: Mapping[int, Role] = field(default_factory=dict)


def read_bytes(raw: bytes, vocabulary: Vocabulary | None = None) -> SheetRead:
    """A sheet from the bytes of its file. Never raises: what is no sheet gives findings."""
    text, findings = decode(raw)
    if not text and findings:
        return SheetRead(Routine(Header()), tuple(findings))
    read = read_sheet(text, vocabulary)
    return replace(read, findings=(*findings, *read.findings)) if findings else read


def read_sheet(text: str, vocabulary: Vocabulary | None = None) -> SheetRead:
    """A sheet from its text. Never raises on any text."""
    text = text.removeprefix("\ufeff")
    if text.count("\n") + text.count("\r") > MOST_LINES:
        message = f"this has far more than {MOST_LINES:,} lines; a step sheet has some fifty"
        return SheetRead(Routine(Header()), (Finding(Place(1), "unreadable", message),), text)
    blocks = arrange(text)
    reader = _SheetReader(blocks, vocabulary or shipped())
    routine = reader.read()
    findings = sorted(reader.findings, key=lambda f: (f.place, f.code))
    for finding in findings:  # what could not be read is no step line
        if finding.code == "unread" and blocks.roles.get(finding.place.line) is Role.STEPS:
            blocks.roles[finding.place.line] = Role.UNREAD
    return SheetRead(routine, tuple(findings), text, blocks.roles)


class _SheetReader:
    def __init__(self, blocks: Blocks, vocabulary: Vocabulary) -> None:
        self.blocks = blocks
        self.vocabulary = vocabulary
        self.findings: list[Finding] = list(blocks.findings)
        self.effort = Effort()

    def read(self) -> Routine:
        header = _sounding(self.blocks.reader.finish(), self.blocks)
        self.findings += self.blocks.reader.findings
        if not self.blocks.sections:
            message = "there are no steps here; a step line has its counts with it, such as '1-2  Walk R, L'"
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
            tuple(self._told()),
            self.vocabulary.own_words,
        )

    def _told(self) -> Iterator[ToldLength]:
        for part, (counts, line) in self.blocks.parts.items():
            yield ToldLength(part, 0, counts, line.place)
        for block, section in zip(self.blocks.sections, self.laid.sections, strict=True):
            if block.long is not None:
                yield ToldLength(section.part, section.number, block.long, block.heading.place)

    def _first_foot(self) -> Foot:
        """The foot named first, where the header does not say it."""
        lines = self.blocks.sections[0].lines if self.blocks.sections else []
        for line in lines:
            counts = read_counts(line.text)
            text = line.text[counts.end :] if counts else ""
            for spec in self._specs(text):
                foot = _foot_named(spec)
                if foot is not None or not (spec.verb is not None and spec.verb.footless):
                    return foot or self._foot_behind_name(text) or Foot.RIGHT
        return Foot.RIGHT

    def _foot_behind_name(self, text: str) -> Foot | None:
        """ "FORWARD BASIC:  L fwd, R tog": that of the first step, where a name without one stands before it."""
        _, _, steps = text.partition(": ")
        first = next(iter(self._specs(steps)), None)
        return _foot_named(first) if first is not None else None

    def _specs(self, text: str) -> list[Spec]:
        return read_specs(lex(text, self.vocabulary), self.vocabulary).specs

    # -- sections

    def _read_sections(self) -> None:
        laid = self.laid
        weight: Weight | None = laid.start
        facing: Facing | None = None
        part: str | None = None
        for block in self.blocks.sections:
            if block.part != part:
                part, weight = block.part, self._start_of(block)
                facing = None if part else FRONT
            section, weight, facing = self._section(block, weight, facing)
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
        first = next((n for line in block.lines if (n := first_count(line)) is not None), None)
        before = sum(s.passage.counts for s in self.laid.sections if s.part == block.part)
        everything = sum(s.passage.counts for s in self.laid.sections)
        if first is None or first <= 1:
            return 0
        if first == before + 1 or (block.part and first == everything + 1):
            return first - 1
        if before and first == before + 2 and self._carried():
            return before
        if block.said is not None and first == block.said[0]:
            return block.said[0] - 1
        return 0

    def _carried(self) -> bool:
        """Whether the section before goes over into count 1 of this one ("8&1")."""
        if not self.laid.sections:
            return self.blocks.wraps
        passage = self.laid.sections[-1].passage
        return bool(passage.steps) and passage.steps[-1].at >= passage.counts

    def _headings_follow(self, block: SectionBlock) -> None:
        """The counts that headings give go on from one to the next."""
        if block.said is None:
            return
        place = block.heading.place
        own = [b for b in self.blocks.sections if b.part == block.part]
        index = next(n for n, b in enumerate(own) if b is block)
        before = own[index - 1] if index else None
        if before is None or before.said is None or all(b.said is None or b.said[0] == 1 for b in own):
            return
        if block.said[0] != before.said[1] + 1 and block.said[0] != 1:
            said, told = f"{block.said[0]}-{block.said[1]}", f"{before.said[0]}-{before.said[1]}"
            twice = next((b for b in own[:index] if b.said == block.said), None)
            if twice is not None:
                message = f"the heading gives counts {said}, and so does line {twice.heading.number}; number them on"
            else:
                line = before.heading.number
                message = f"the heading gives counts {said}, but the one before it, line {line}, gives {told}"
            self._find(place, "heading", message)

    def _as_said(self, said: tuple[int, int], counts: int) -> bool:
        """Whether so many counts are those of a heading; where counts go over ("8&1") one is the next section's too."""
        told = said[1] - said[0] + 1
        return counts == told or (self.blocks.wraps and abs(counts - told) == 1)

    def _section(
        self, block: SectionBlock, weight: Weight | None, facing: Facing | None
    ) -> tuple[Section, Weight | None, Facing | None]:
        base, place = self._base(block), block.heading.place
        self.laid.bases.append(base)
        earlier = {s.number: s.passage for s in self.laid.sections if s.part == block.part}
        carried = self._carried()
        context = Context(self.header.feel, self.vocabulary, base, earlier=earlier, carried=carried, effort=self.effort)
        context.facing = facing
        self._headings_follow(block)
        read = self._passage(block.lines, context, weight)
        if not block.lines:
            self._find(
                place, "unreadable", "this section has no step lines; write them below, such as '1-2  Walk R, L'"
            )
        elif block.said is not None and not self._as_said(block.said, read.passage.counts):
            said = f"the heading says counts {block.said[0]} to {block.said[1]}"
            if not any(f.code in ("counts-gap", "counts-order", "counts-overlap") for f in read.findings):
                self._find(place, "counts-gap", f"{said}, and {read.passage.counts} counts stand below it")
        notes = [*zip(read.passage.notes, read.passage.note_lines, strict=True), *block.notes]
        notes.sort(key=lambda note: note[1])
        passage = replace(
            read.passage, notes=tuple(note for note, _ in notes), note_lines=tuple(number for _, number in notes)
        )
        options = tuple(
            one for block_ in block.options if (one := self._option(block_, read.passage, weight, base)) is not None
        )
        return Section(block.number, block.name, passage, options, block.part, place), read.weight, read.facing

    def _option(self, block: OptionBlock, passage: Passage, weight: Weight | None, base: int) -> Option | None:
        first, last, place = block.first - base, block.last - base, block.heading.place
        before = weight_before(passage, Fraction(first - 1), weight)
        if not block.lines:
            self._find(place, "option", "this option has no step lines; write those to dance instead below it")
        length = max(last - first + 1, 0)
        context = Context(self.header.feel, self.vocabulary, base, length, ("option", place), first, effort=self.effort)
        read = read_easier(block, context, before)
        if read is None:
            if not block.quiet:
                message = f"this easier way can't be read on counts {first} to {last}, so it is kept as a note"
                self._find(place, "unread", f"{message}; write it such as 'Option {first}-{last}: walk R, walk L'")
            return None
        self.findings += read.findings
        return Option(first, last, block.name, read.passage, place)

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
            if item.short and item.part in self.blocks.shorts:
                order.append(replace(item, counts=self.blocks.shorts[item.part]))
            elif item.tag and item.tag not in names and item.tag in parts:
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


def _sounding(header: Header, blocks: Blocks) -> Header:
    """A waltz that is told only by its music or kind is in three where its counts go in threes."""
    reader = blocks.reader
    title = "waltz" in header.title.lower() and "meter" not in reader.seen
    if title and "meter" not in reader.inferred:
        header = replace(header, meter=Meter(3, 4))
        reader.inferred.add("meter")
    if "meter" not in reader.inferred:
        return header
    counts = header.counts or sum(_length(block) for block in blocks.sections)
    return header if counts % 3 == 0 else replace(header, meter=Meter())


def _length(block: SectionBlock) -> int:
    highest = highest_count(block.lines)
    return highest - (block.said[0] - 1 if block.said and highest >= block.said[0] > 1 else 0)
