"""Sorted lines gathered under their headings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from caller.routine.count import read_counts
from caller.routine.findings import Finding
from caller.routine.notation.header import HeaderReader
from caller.routine.notation.lines import MOST_LINE, Line, Sort, Sorted
from caller.routine.notation.places import EventPlace, read_place


@dataclass(slots=True)
class OptionBlock:
    heading: Line
    first: int
    last: int
    name: str
    lines: list[Line] = field(default_factory=list)


@dataclass(slots=True)
class SectionBlock:
    heading: Line
    part: str
    number: int
    name: str
    lines: list[Line] = field(default_factory=list)
    options: list[OptionBlock] = field(default_factory=list)
    said: tuple[int, int] | None = None  # "[17-24]"
    notes: list[tuple[str, int]] = field(default_factory=list)  # with their lines


@dataclass(slots=True)
class ReplacedLines:
    """Lines that take the place of counts of a section; section 0 = the one in which the event stands."""

    heading: Line
    part: str
    section: int
    lines: list[Line] = field(default_factory=list)


@dataclass(slots=True)
class EventBlock:
    """here: counts into the routine where a line "here" stands, None where it says its place itself."""

    sort: Sort
    heading: Line
    place: EventPlace
    long: int | None
    lines: list[Line] = field(default_factory=list)
    replaced: list[ReplacedLines] = field(default_factory=list)
    here: tuple[int, int] | None = None  # (index of the section, counts into it)


@dataclass(slots=True)
class Blocks:
    reader: HeaderReader = field(default_factory=HeaderReader)
    sections: list[SectionBlock] = field(default_factory=list)
    events: list[EventBlock] = field(default_factory=list)
    comments: list[tuple[int, str]] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)


def gather(lines: list[Sorted]) -> Blocks:
    return _Gathering().run(lines)


def highest_count(lines: list[Line]) -> int:
    """The highest whole count that these lines write."""
    numbers = [beat.number for line in lines if (c := read_counts(line.text)) for beat in c.beats if not beat.part]
    return max(numbers, default=0)


class _Gathering:
    def __init__(self) -> None:
        self.out = Blocks()
        self.part = ""
        self.option: OptionBlock | None = None
        self.event: EventBlock | None = None
        self.open_section = False
        self.first_seen = False

    def run(self, lines: list[Sorted]) -> Blocks:
        titled = any(
            one.sort is Sort.KEY and one.match is not None and one.match["key"].strip().lower() == "title"
            for one in lines
        )
        for one in lines:
            self._one(one, titled)
            self.first_seen = self.first_seen or one.sort is not Sort.COMMENT
        return self.out

    def _one(self, one: Sorted, titled: bool) -> None:
        if one.sort is Sort.UNREADABLE and not self.first_seen and not titled and ":" not in one.line.text:
            self.out.reader.title(one.line)
        else:
            _GATHERS[one.sort](self, one)

    def _comment(self, one: Sorted) -> None:
        self.out.comments.append((one.line.number, one.line.text))

    def _key(self, one: Sorted) -> None:
        assert one.match is not None
        self.out.reader.key(one.line, one.match)

    def _summary(self, one: Sorted) -> None:
        self.out.reader.summary(one.line)

    def _note(self, one: Sorted) -> None:
        assert one.match is not None
        text = (one.match["text"] or one.match["inside"] or one.match["closing"] or "").strip()
        if self.out.sections:
            self.out.sections[-1].notes.append((text, one.line.number))
        else:
            self.out.reader.note(text)

    def _part(self, one: Sorted) -> None:
        assert one.match is not None
        self.part = one.match["part"].upper()
        self.event = self.option = None
        self.open_section = False
        if one.match["number"]:
            self._new_section(one.line, int(one.match["number"]), one.match["name"] or "")

    def _section(self, one: Sorted) -> None:
        assert one.match is not None
        groups = one.match.groupdict()
        number = (
            int(groups["number"])
            if groups.get("number")
            else len([s for s in self.out.sections if s.part == self.part]) + 1
        )
        block = self._new_section(one.line, number, groups.get("name") or "")
        if groups.get("from"):
            block.said = int(groups["from"]), int(groups["to"])

    def _new_section(self, line: Line, number: int, name: str) -> SectionBlock:
        block = SectionBlock(line, self.part, number, name.strip())
        self.out.sections.append(block)
        self.event = self.option = None
        self.open_section = True
        return block

    def _option(self, one: Sorted) -> None:
        assert one.match is not None
        if not self.out.sections:
            self._unreadable(one)
            return
        first = int(one.match["first"])
        last = int(one.match["last"] or first)
        parts = one.match["parts"]
        if parts and parts[-1].isdigit():
            last = int(parts.split("&")[-1] or last)
        self.option = OptionBlock(one.line, first, last, (one.match["name"] or "").strip())
        self.out.sections[-1].options.append(self.option)
        self.event = None

    def _event(self, one: Sorted) -> None:
        assert one.match is not None
        place = read_place(one.match["rest"])
        event = EventBlock(one.sort, one.line, place, int(one.match["long"]) if one.match["long"] else None)
        if self.out.sections and self.open_section:
            section = self.out.sections[-1]
            event.here = len(self.out.sections) - 1, highest_count(section.lines)
        self.out.events.append(event)
        if one.sort in (Sort.TAG, Sort.ENDING) and not place.here:
            self.open_section = False
        self.event, self.option = event, None

    def _replaced(self, one: Sorted) -> None:
        assert one.match is not None
        assert self.event is not None
        rest = one.line.text[one.match.end() :]
        line = Line(one.line.number, one.line.column + one.match.end(), rest)
        part, number = (one.match["part"] or "").upper(), int(one.match["number"])
        if not self.event.replaced or (self.event.replaced[-1].part, self.event.replaced[-1].section) != (part, number):
            self.event.replaced.append(ReplacedLines(one.line, part, number))
        self.event.replaced[-1].lines.append(line)

    def _steps(self, one: Sorted) -> None:
        line = one.line
        if self.option is not None and self._in_option(self.option, line):
            self.option.lines.append(line)
            return
        self.option = None
        if self.event is not None and not self._goes_on(line):
            if self.event.sort in (Sort.TAG, Sort.ENDING):
                self.event.lines.append(line)
            else:
                if not self.event.replaced:
                    self.event.replaced.append(ReplacedLines(line, "", 0))
                self.event.replaced[-1].lines.append(line)
            return
        self.event = None
        if not self.out.sections or not self.open_section:
            self._new_section(line, len([s for s in self.out.sections if s.part == self.part]) + 1, "")
        self.out.sections[-1].lines.append(line)

    def _in_option(self, option: OptionBlock, line: Line) -> bool:
        """Until its counts are filled, and beyond for counts that the section has danced already: then it is too
        long."""
        return highest_count(option.lines) < option.last or highest_count([line]) <= highest_count(
            self.out.sections[-1].lines
        )

    def _goes_on(self, line: Line) -> bool:
        """Whether a step line after an event that stands inside a section goes on with that section."""
        assert self.event is not None
        if not self.open_section or self.event.replaced or self.event.lines:
            return False
        highest = highest_count(self.out.sections[-1].lines)
        counts = read_counts(line.text, previous=highest)
        if counts is None or counts.beats[0].number not in (highest, highest + 1):
            return False
        return self.event.place.here or counts.beats[0].number > 1

    def _unreadable(self, one: Sorted) -> None:
        line = one.line
        where = "a heading, a step line that begins with its counts, or a (note)"
        if not self.out.sections:
            where = "a header 'Key: value'"
        message = f"can't tell what this line is: {line.text[:60]!r}; write {where}"
        if len(line.text) > MOST_LINE:
            message = f"this line has more than {MOST_LINE:,} characters; a step line has one line's worth"
        self.out.findings.append(Finding(line.place, "unreadable", message))


_GATHERS: dict[Sort, Callable[[_Gathering, Sorted], None]] = {
    Sort.COMMENT: _Gathering._comment,
    Sort.KEY: _Gathering._key,
    Sort.SUMMARY: _Gathering._summary,
    Sort.NOTE: _Gathering._note,
    Sort.PART: _Gathering._part,
    Sort.SECTION: _Gathering._section,
    Sort.OPTION: _Gathering._option,
    Sort.TAG: _Gathering._event,
    Sort.RESTART: _Gathering._event,
    Sort.CHANGE: _Gathering._event,
    Sort.ENDING: _Gathering._event,
    Sort.REPLACED: _Gathering._replaced,
    Sort.STEPS: _Gathering._steps,
    Sort.UNREADABLE: _Gathering._unreadable,
}
