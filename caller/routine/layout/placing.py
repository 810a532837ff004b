"""Step lines put where they belong: into the section, the option or the event that is open."""

from __future__ import annotations

from caller.routine.count import read_counts
from caller.routine.findings import Finding
from caller.routine.layout import kinds
from caller.routine.layout.abbreviations import expanded
from caller.routine.layout.blocks import (
    EventBlock,
    OptionBlock,
    ReplacedLines,
    SectionBlock,
    first_count,
    highest_count,
)
from caller.routine.layout.change_places import named_section
from caller.routine.layout.counted import shifted
from caller.routine.layout.headings import Heading
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import ENDING, RESTART, TAG
from caller.routine.layout.reading import Arrangement


def _goes_over(line: Line) -> bool:
    """Whether the line's counts go over the end of the eight: "8&1"."""
    counts = read_counts(line.text)
    return counts is not None and bool(counts.beats) and counts.beats[-1].over


class Placing(Arrangement):
    def _open(self, line: Line, heading: Heading) -> SectionBlock:
        if heading.part:
            self.part = heading.part
        if heading.number == 1:
            self._tag_of_the_head()
        siblings = [s for s in self.out.sections if s.part == self.part]
        number = heading.number if heading.number is not None else len(siblings) + 1
        if any(s.number == number for s in siblings):
            if heading.said is None and heading.number is not None:
                message = f"section {number} stands on line {next(s.heading.number for s in siblings if s.number == number)} already; number this one {len(siblings) + 1}"
                self.out.findings.append(Finding(line.place, "heading", message))
            number = max(s.number for s in siblings) + 1
        block = SectionBlock(line, self.part, number, heading.name.strip(), said=heading.said, long=heading.long)
        self.out.sections.append(block)
        self.event = self.option = None
        self.open_section = True
        self.last_steps = None
        return block

    def _tag_of_the_head(self) -> None:
        """Steps right below a tag that the header tells of, before the section that is numbered 1: the tag's own."""
        tag = self.out.events[-1] if self.out.events else None
        if len(self.out.sections) != 1 or tag is None or tag.mention.kind != TAG or tag.lines or tag.words:
            return
        first = self.out.sections[0]
        if (
            first.lines
            and first.heading.number == first.lines[0].number
            and tag.heading.number
            in (
                first.heading.number - 1,
                first.heading.number - 2,
            )
        ):
            tag.lines = first.lines
            self.out.sections.clear()

    def _add_steps(self, steps: list[Line], line: Line) -> None:
        for step in steps:
            self._add_step(expanded(step, self.short))
        if any(b.over for s in steps if (c := read_counts(s.text)) for b in c.beats):
            self.out.wraps = True

    def _add_step(self, line: Line) -> None:
        if self.option is not None and self._in_option(self.option, line):
            if self.option.told:
                self.option.told = False
                self.option.lines.clear()
            self.option.lines.append(line)
            self.last_steps = self.option.lines
            return
        self.option = None
        if self.event is not None and not self._goes_on_with_section(line):
            self._event_step(self.event, line)
            return
        self.event = None
        if self.out.sections and self.open_section:
            line = self._going_on(line)
        if not self.out.sections or not self.open_section or self._new_eight(line):
            self._open(line, Heading())
        self.out.sections[-1].lines.append(line)
        self.last_steps = self.out.sections[-1].lines

    def _event_step(self, event: EventBlock, line: Line) -> None:
        if event.mention.kind in (TAG, ENDING):
            event.lines.append(shifted(line, self.shifts.get(id(event.lines), 0)))
            self.last_steps = event.lines
            return
        tag = next((e for e in reversed(self.out.events[-3:-1]) if e.mention.kind == TAG), None)
        own = tag is not None and event.heading.number - tag.heading.number <= 1 and not event.replaced
        if tag is not None and own and not tag.words:  # "add this 4-count tag and restart", its steps below
            tag.lines.append(line)
            self.last_steps = tag.lines
            return
        if not event.replaced:
            event.replaced.append(ReplacedLines(line, "", named_section(event.text, event.mention)))
        told = event.replaced[-1]
        if told.lines and told.lines[0].number == event.heading.number != line.number:
            # What the sentence names is written out below it, perhaps in the counts of its section.
            first, counts = first_count(told.lines[0]) or 1, first_count(line) or 1
            if (first - 1) % 8 == (counts - 1) % 8:
                told.section = told.section or ((first - 1) // 8 + 1 if first > 8 >= counts else 0)
                told.lines.clear()
        told.lines.append(line)
        self.last_steps = event.replaced[-1].lines

    def _going_on(self, line: Line) -> Line:
        """Counts that begin again within a headed section of twelve ("1-2-3, 4-5-6, 1-2-3, 4-5-6") run on."""
        section = self.out.sections[-1]
        highest = self._highest(section.lines)
        by = self.shifts.get(id(section.lines), 0)
        if (
            section.heading.number != (section.lines[0].number if section.lines else 0)
            and first_count(line) == 1
            and highest % 6 == 0
            and highest % 8
            and first_count(section.lines[0]) == 1
        ):
            by = highest
            self.shifts[id(section.lines)] = by
        return shifted(line, by) if by and (first_count(line) or 0) + by <= highest + 1 else line

    def _new_eight(self, line: Line) -> bool:
        """Counts that begin again without a heading, or an empty line between eights that run on."""
        lines = self.out.sections[-1].lines
        if not lines:
            return False
        first, highest = first_count(line), self._highest(lines)
        bar = 12 if self.out.reader.header.meter.counts == 3 or "meter" in self.out.reader.inferred else 8
        if first == 1 and highest % (bar // 2 if bar == 12 else bar) == 0 and first_count(lines[0]) in (1, 2):
            return True
        if first == 2 and highest == bar and _goes_over(lines[-1]):  # "8&1", and the next begins on 2
            return True
        if first != highest + 1 or highest < 1:
            return False
        if self.out.sections[-1].said is None and self.out.sections[-1].heading.number == lines[0].number:
            return highest % bar == 0  # steps without any heading
        return (line.number - 1) in self.empty and highest % bar == 0 and highest == bar

    def _in_option(self, option: OptionBlock, line: Line) -> bool:
        """Until its counts are filled, and beyond for counts that the section has danced already: then it is too
        long."""
        first = first_count(line)
        if option.told and (first is None or not option.first <= first <= option.last or first == self._expected()):
            return False
        if first is not None and first == 1 < option.first:
            return False
        return self._highest(option.lines) < option.last or (
            highest_count([line]) <= self._highest(self.out.sections[-1].lines) and not option.told
        )

    def _told_above_its_section(self, first: int) -> bool:
        """A change told whole in its own line, between a section's heading and its first steps."""
        event = self.event
        lines = [line for told in event.replaced for line in told.lines] if event is not None else []
        own = event is not None and bool(lines) and all(line.number == event.heading.number for line in lines)
        return own and first == 1 and not self.out.sections[-1].lines

    def _goes_on_with_section(self, line: Line) -> bool:
        """Whether a step line after an event that stands inside a section goes on with that section."""
        assert self.event is not None
        told_here = not self.event.replaced and kinds.TO_BE_TOLD.search(self.event.text.rstrip()) is not None
        if not self.open_section or not self.out.sections or told_here:
            return False
        highest = self._highest(self.out.sections[-1].lines)
        counts = read_counts(line.text, previous=highest)
        if counts is None:
            return False
        follows = counts.beats[0].number in (highest, highest + 1)
        if self._told_above_its_section(counts.beats[0].number):
            return True
        if self.event.replaced or self.event.lines:
            return (
                follows
                and highest > 0
                and counts.beats[0].number > highest
                and self.event.mention.kind in (RESTART, TAG)
                and self.event.mention.here
            )
        if self.event.mention.kind in (RESTART,) and counts.beats[0].number == 1 and not self.event.mention.placed:
            return False
        return follows and (self.event.mention.here or counts.beats[0].number > 1)
