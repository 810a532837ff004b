"""A sheet in the standard layout, as ``caller format`` writes it, taken at its word.

A sheet as it is found is read by what its lines could be. In the standard layout each line says by its form what it is:
headers in their order, ``Section 2: name``, ``Note: ...``, ``Restart: wall 3 after 16 counts``, counts before steps. Where
every line has such a form and nothing in it says more than its form does, nothing is guessed, so that what was written
is read. Any other sheet is left to the reading of sheets as they are found.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from caller.routine.count import read_counts
from caller.routine.facing import CLOCK, Facing
from caller.routine.findings import Finding
from caller.routine.layout import kinds
from caller.routine.layout.blocks import (
    Blocks,
    EventBlock,
    OptionBlock,
    ReplacedLines,
    Role,
    SectionBlock,
    without_counts,
)
from caller.routine.layout.headings import read_heading
from caller.routine.layout.lines import LINE_ENDS, MOST_LINE, Line, plain_line
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG, Mention
from caller.routine.layout.mentions import mentions_in
from caller.routine.layout.orders import read_order
from caller.routine.layout.standard_values import OtherForm, value_of

KEYS = (
    "Title",
    "Devised by",
    "Counts",
    "Walls",
    "Level",
    "Tempo",
    "Meter",
    "Feel",
    "Intro",
    "Starts",
    "Music",
    "Order",
    "Notes",
)
_ALWAYS = {"Meter", "Feel", "Starts"}  # that the standard layout is never without
_KEYED = re.compile(rf"(?P<key>{'|'.join(KEYS)}): ?(?P<value>.*)")
_PART = re.compile(r"Part (?P<part>[^\s:]+): (?P<counts>\d{1,3}) counts")
_SECTION = re.compile(
    r"(?:Part (?P<part>[^\s:]+) s|S)ection (?P<number>\d{1,3})(?: \((?P<long>\d{1,3}) counts\))?(?:: (?P<name>.*\S))?"
)
_OPTION = re.compile(r"Option (?P<first>\d{1,3})(?:-(?P<last>\d{1,3}))?(?:: (?P<name>.*\S))?")
_NOTE = re.compile(r"Note: ?(?P<text>.*)")
_UNREAD = re.compile(r"Unread: (?P<text>.*\S)")
QUOTED = re.compile(r'"(?P<text>.*)"')  # a note that is the author's as it stands, whatever it speaks of
_EVENT = re.compile(
    r"(?P<kind>Tag|Restart|Change|Ending)(?: (?P<name>[^\s:]+))?"
    r"(?:: (?P<ends>after )?walls? (?P<walls>\d{1,3}(?:(?:, | and )\d{1,3})*)(?: after (?P<after>\d{1,3}) counts)?"
    rf"(?:, facing (?P<facing>{'|'.join(CLOCK)}))?)?"
)
_REPLACED = re.compile(r"(?:Part (?P<part>[^\s:]+) )?S(?P<section>\d{1,3})\s+(?=[\d&ea])")


def standard_form(text: str) -> Blocks | None:
    """The blocks of a sheet in the standard layout, None for any other text. Never raises."""
    if "\nFeel: " not in text and "\rFeel: " not in text:
        return None
    reading = _Reading()
    try:
        for number, raw in enumerate(LINE_ENDS.split(text), 1):
            reading.take(Line(number, 1, plain_line(raw).rstrip()))
        reading.end()
    except OtherForm:
        return None
    return reading.out


class _Reading:
    """taken: index of the last key of the header. steps: where step lines go, with the highest and last count that they
    may have; said: texts beside the steps, in which events may be told of."""

    def __init__(self) -> None:
        self.out = Blocks()
        self.taken = -1
        self.seen: set[str] = set()
        self.steps: list[Line] | None = None
        self.high = 0
        self.most: int | None = None
        self.event: EventBlock | None = None
        self.said: list[str] = []

    def take(self, line: Line) -> None:
        if len(line.text) > MOST_LINE or line.text[:1].isspace():
            raise OtherForm
        self.out.roles[line.number] = Role.EMPTY if not line.text else self._role(line)

    def _role(self, line: Line) -> Role:
        if line.text.startswith("#"):
            return self._comment(line)
        if not self.out.sections and (keyed := _KEYED.fullmatch(line.text)) is not None:
            return self._header(line, keyed)
        for pattern, take in _FORMS:
            if (found := pattern.fullmatch(line.text)) is not None:
                return take(self, line, found)
        return self._step_line(line)

    def end(self) -> None:
        """Raises where what is told in words has no heading of its own, or a part of the sheet is missing."""
        if not self.out.sections or _ALWAYS - self.seen:
            raise OtherForm
        for text in self.said:
            for mention in mentions_in(text):
                if not mention.none and (mention.told or mention.placed) and not self._headed(mention):
                    raise OtherForm

    def _headed(self, mention: Mention) -> bool:
        """Whether an event that a note speaks of stands below a heading of its own."""
        same = [event.mention for event in self.out.events if mention.kind in _kinds_of(event)]
        walls = {wall for one in same for wall in one.walls}
        ordered = mention.kind == TAG and any(not one.walls for one in same)
        return bool(same) and (ordered or set(mention.walls) <= walls)

    def _comment(self, line: Line) -> Role:
        if read_heading(line.text.strip("# ")) is not None:
            raise OtherForm
        self.out.comments.append((line.number, line.text))
        return Role.NOTE

    # -- header

    def _header(self, line: Line, found: re.Match[str]) -> Role:
        key, value = found["key"], found["value"]
        index = KEYS.index(key)
        if index < self.taken or (index == self.taken and key != "Notes") or (not value and key != "Notes"):
            raise OtherForm
        self.taken = index
        self.seen.add(key)
        reader = self.out.reader
        if key == "Notes":
            reader.note(self._noted(value))
        elif key == "Order":
            items, findings = read_order(value, line.place)
            if findings:
                raise OtherForm
            reader.order += items
            reader.told(key.lower(), None, line, found.start("value"))
        else:
            reader.told(key.lower().replace(" ", "_"), value_of(key, value), line, found.start("value"))
        return Role.TITLE if key == "Title" else Role.HEADER

    # -- headings

    def _part(self, line: Line, found: re.Match[str]) -> Role:
        if found["part"] in self.out.parts:
            raise OtherForm
        self.out.parts[found["part"]] = int(found["counts"]), line
        self._open(None)
        return Role.HEADING

    def _section(self, line: Line, found: re.Match[str]) -> Role:
        part, number, name = found["part"] or "", int(found["number"]), found["name"] or ""
        if self.out.events or any((s.part, s.number) == (part, number) for s in self.out.sections):
            raise OtherForm
        block = SectionBlock(line, part, number, name, long=int(found["long"]) if found["long"] else None)
        self.out.sections.append(block)
        self.said.append(name)
        self._open(block.lines)
        return Role.HEADING

    def _option(self, line: Line, found: re.Match[str]) -> Role:
        first, last = int(found["first"]), int(found["last"] or found["first"])
        if not self.out.sections or self.out.events or last < first:
            raise OtherForm
        block = OptionBlock(line, first, last, found["name"] or "")
        self.out.sections[-1].options.append(block)
        self.said.append(block.name)
        self._open(block.lines, first - 1, last)
        return Role.OPTION

    def _note(self, line: Line, found: re.Match[str]) -> Role:
        if not self.out.sections:
            raise OtherForm
        self.out.sections[-1].notes.append((self._noted(found["text"]), line.number))
        return Role.NOTE

    def _unread(self, line: Line, found: re.Match[str]) -> Role:
        """A line of steps that has no counts."""
        if not self.out.sections:
            raise OtherForm
        self.out.sections[-1].notes.append((found["text"], line.number))
        self.out.findings.append(Finding(line.place, "unread", without_counts(found["text"])))
        return Role.UNREAD

    def _noted(self, text: str) -> str:
        quoted = QUOTED.fullmatch(text)
        if quoted is None:
            self.said.append(text)
        return quoted["text"] if quoted is not None else text

    def _event(self, line: Line, found: re.Match[str]) -> Role:
        kind = found["kind"].lower()
        if not self.out.sections or (found["walls"] is None and kind != TAG) or (found["name"] and kind != TAG):
            raise OtherForm
        mention = Mention(kind, found["name"] or "", end=len(line.text))
        mention.walls = tuple(int(wall) for wall in re.findall(r"\d+", found["walls"] or ""))
        mention.after = int(found["after"]) if found["after"] else None
        mention.facing = Facing(CLOCK.index(found["facing"])) if found["facing"] else None
        ends = kind in (TAG, ENDING) and mention.after is None and bool(mention.walls)
        if (kind == TAG and ends is not bool(found["ends"])) or (kind == RESTART and mention.after is None):
            raise OtherForm
        mention.ends = ends
        self.event = EventBlock(mention, line, within=len(self.out.sections) - 1, text=line.text)
        self.out.events.append(self.event)
        self._open(self.event.lines if kind in (TAG, ENDING) else None)
        return Role.EVENT

    # -- steps

    def _open(self, lines: list[Line] | None, high: int = 0, most: int | None = None) -> None:
        self.steps, self.high, self.most = lines, high, most

    def _step_line(self, line: Line) -> Role:
        replaced = _REPLACED.match(line.text)
        if replaced is not None:
            line = self._replaces(line, replaced)
        elif self.steps is None:
            raise OtherForm
        self._counted(line)
        assert self.steps is not None
        self.steps.append(line)
        if kinds.EVENT_WORD.search(line.text):
            self.said.append(line.text)
        return Role.STEPS

    def _replaces(self, line: Line, found: re.Match[str]) -> Line:
        """The step line without the section whose steps it takes the place of."""
        if self.event is None or self.event.mention.kind not in (RESTART, CHANGE):
            raise OtherForm
        part, section = found["part"] or "", int(found["section"])
        last = self.event.replaced[-1] if self.event.replaced else None
        if last is None or (last.part, last.section) != (part, section):
            last = ReplacedLines(line, part, section)
            self.event.replaced.append(last)
            self._open(last.lines, -1)
        return line.piece(found.end())

    def _counted(self, line: Line) -> None:
        """Raises where the line's counts do not go on from those before it."""
        counts = read_counts(line.text, previous=max(self.high, 0))
        if counts is None or not line.text[counts.end :].strip() or counts.backward:
            raise OtherForm
        whole = [beat.number for beat in counts.beats if not beat.part and not beat.over]
        if self.high < 0 and whole:
            self.high = whole[0] - 1
        if whole and (whole[0] <= self.high or (self.most is not None and whole[-1] > self.most)):
            raise OtherForm
        self.high = whole[-1] if whole else self.high
        self.out.wraps = self.out.wraps or counts.beats[-1].over


_FORMS: tuple[tuple[re.Pattern[str], Callable[[_Reading, Line, re.Match[str]], Role]], ...] = (
    (_SECTION, _Reading._section),
    (_NOTE, _Reading._note),
    (_UNREAD, _Reading._unread),
    (_PART, _Reading._part),
    (_OPTION, _Reading._option),
    (_EVENT, _Reading._event),
)


def _kinds_of(event: EventBlock) -> tuple[str, ...]:
    """What an event is; a restart that has steps of its own is a change as well."""
    return (event.mention.kind, CHANGE) if event.replaced else (event.mention.kind,)
