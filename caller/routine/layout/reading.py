"""Where the arranging of a sheet stands, and what lies ahead of the line that is looked at."""

from __future__ import annotations

import re

from caller.routine.count import read_counts
from caller.routine.findings import Finding
from caller.routine.layout import kinds
from caller.routine.layout.abbreviations import abbreviations
from caller.routine.layout.blocks import Blocks, EventBlock, OptionBlock, Role, first_count, highest_count
from caller.routine.layout.columns import names_columns
from caller.routine.layout.counted import steps_on
from caller.routine.layout.each_its_wall import each_its_wall
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.names_told import name_told
from caller.routine.layout.options import EASIER, read_option
from caller.routine.layout.orders import looks_like_order
from caller.routine.layout.paragraphs import joined
from caller.routine.layout.titles import TITLE_KEY, mail_begins, title_line

_LOOK_AHEAD = 3  # lines in which counts may begin after a heading
_SECOND_PART = re.compile(r"part\s+(?:II|2|two)\b", re.IGNORECASE)
_NEAR_TOP = 25  # lines
_BREAKS_OFF = re.compile(r"(?:[,;]|\b(?:stepping|step|and|then|the|to|with|on|turn|turning|of|an?))$")
_SENTENCE_BREAKS_OFF = re.compile(r"\b[Oo]n$")  # and the counts on the next line
_SENTENCE_FIRST = re.compile(r"[A-Z][a-z]+\s")
_NEEDS_WORDS = re.compile(r"(?:to|on|over|behind|beside|onto)\s+(?:the\s+)?[a-z]")  # before it
_ON_A_SIDE = re.compile(r"\b(?:right|left|[RL])$")
_LISTED_NAME = re.compile(r"\d{1,2}[.)]\s+(?:[A-Z][A-Z0-9/&,\s-]+|[A-Z][a-z]+(?:\s[A-Z][a-z]+)*)$")


class Arrangement:
    """Where the arranging of a sheet stands, and what lies ahead of the line that is looked at."""

    def __init__(self, lines: list[Line]) -> None:
        self.all = lines
        told = [line for line in lines if line.text.strip()]
        whole, self.further = joined([line for line in told if not names_columns(line.text)])
        self.lines = each_its_wall(whole)
        self.empty = {line.number for line in lines if not line.text}
        self.out = Blocks(roles={line.number: Role.NOTE if line.text else Role.EMPTY for line in lines})
        self.part = ""
        self.option: OptionBlock | None = None
        self.event: EventBlock | None = None
        self.open_section = False
        self.last_steps: list[Line] | None = None  # the list whose last line may go on
        self.marks: dict[str, tuple[int, int]] = {}  # stars at a step line, and where that is
        self.phrased = (
            any(looks_like_order(unstarred(x.text)) or kinds.ORDER_KEY.match(x.text) for x in self.lines[:60])
            or sum(bool(kinds.PART_LINE.match(unstarred(x.text))) for x in self.lines) >= 2
        )
        # "PART I", "PART II" ...: sections by another name, where no order is told
        self.numbered_parts = any(_SECOND_PART.match(unstarred(x.text)) for x in self.lines) and not any(
            looks_like_order(unstarred(x.text)) or kinds.ORDER_KEY.match(x.text) for x in self.lines
        )
        self.at = 0
        self.low = ""  # the line, lower case
        self.ahead: tuple[tuple[int, int], int | None] = ((-1, 0), None)
        self.steps_known: dict[tuple[int, str, int], list[Line]] = {}
        self.shifts: dict[int, int] = {}  # counts that lists of step lines are moved on by
        self.high: dict[int, tuple[int, int]] = {}  # of lists of step lines: how many are counted, and their highest
        self.looked_through = 0  # characters in which events were looked for
        self.step_number = 0  # of the last line of the file that told steps
        self.uncounted: dict[int, list[Line]] = {}  # by the section's id: its lines of steps that have no counts
        self.told_on_steps: set[int] = set()  # lines that go on with steps told in sentences
        self.told_in_head: set[int] = set()  # lines that tell what a key on the line above asks for
        self.kept_on: set[int] = set()  # lines that go on with what is kept in its author's words
        self.told_on: set[int] = set()  # lines that go on with an event's sentence
        self.wall_lengths: tuple[Line | None, list[int]] = (None, [])
        self.short = abbreviations(x.text for x in self.lines)
        first = [x.text for x in self.lines[:_NEAR_TOP]]
        self.title_line = title_line(first)
        self.named = "" if any(TITLE_KEY.match(text) for text in first) else name_told(first)
        begins = mail_begins(first)
        self.covering = {line.number for line in self.lines[:begins]}  # the words of who sends the mail on

    def _end_of(self, line: Line) -> int:
        """The number of the last line of the file that it was joined from."""
        return (self.further.get(line.number) or [line.number])[-1]

    @property
    def in_head(self) -> bool:
        return not self.out.sections and not self.event

    def _highest(self, lines: list[Line]) -> int:
        """The highest whole count of step lines that only ever grow in number."""
        known, high = self.high.get(id(lines), (0, 0))
        if known < len(lines):
            high = max(high, highest_count(lines[known:]))
            self.high[id(lines)] = (len(lines), high)
        return high

    def _next_line(self) -> Line | None:
        """The next line that is neither empty nor a note in brackets."""
        for line in self.lines[self.at + 1 : self.at + 1 + _LOOK_AHEAD]:
            if not kinds.ASIDE_LINE.match(line.text):
                return line
        return None

    def _next_count(self) -> int | None:
        """The first count of the next line, where that is a step line."""
        key = self.at, self._counts_on()
        if self.ahead[0] != key:
            self.ahead = key, self._count_ahead()
        return self.ahead[1]

    def _count_ahead(self) -> int | None:
        line = self._next_line()
        if (
            line is None
            or kinds.STRONG_EVENT.match(unstarred(line.text))
            or ((read_option(line.text) is not None or EASIER.match(line.text)) and not line.text[:1].isdigit())
        ):
            return None
        if kinds.ONLY_COUNTS.match(line.text) is not None and (alone := read_counts(f"{line.text} x")) is not None:
            return alone.beats[0].number
        if self._lists_a_heading(line):
            return None
        steps = self._steps_on(line, self._counts_on())
        if not steps and (whole := self._with_next(line)) is not None:
            steps = self._steps_on(whole, self._counts_on())
        return first_count(steps[0]) if steps else None

    def _lists_a_heading(self, line: Line) -> bool:
        """ "1. ROCKS", with counts that begin at 1 below it."""
        if _LISTED_NAME.match(line.text) is None:
            return False
        below = next((x for x in self.lines[self.at : self.at + 6] if x.number > line.number), None)
        counts = read_counts(below.text) if below is not None else None
        return counts is not None and counts.beats[0].number == 1

    def _counts_below(self) -> bool:
        """Whether the next line begins with its counts."""
        line = self._next_line()
        if _SENTENCE_BREAKS_OFF.search(self.lines[self.at].text) is not None:
            return False
        told = line is not None and kinds.TOLD_SECTION.match(line.text) is None
        return told and line is not None and read_counts(line.text) is not None

    def _with_next(self, line: Line) -> Line | None:
        """A step line that breaks off, with the one that it goes on in."""
        following = next((x for x in self.lines[self.at : self.at + 4] if x.number == line.number + 1), None)
        breaks = _BREAKS_OFF.search(line.text) or (
            following is not None and _ON_A_SIDE.search(line.text) and following.text[:1].islower()
        )
        if following is None or not breaks or not kinds.STEP_WORD.search(line.text):
            return None
        if read_counts(following.text) is not None or read_counts(line.text) is not None:
            return None
        if line.text[:1].isupper() and line.number - 1 in self.empty and _SENTENCE_FIRST.match(following.text):
            return None  # "... half pivot, step", a heading, and below it "Left foot behind right"
        alone = self._steps_on(following, 1)
        needed = line.text.endswith(",") or _NEEDS_WORDS.match(following.text) is not None
        if alone and first_count(alone[0]) == 1 and not needed:
            return None  # what a heading names stands below it
        return Line(line.number, line.column, f"{line.text} {following.text}", False)

    def _steps_on(self, line: Line, expected: int) -> list[Line]:
        """The step lines of a line; each is looked at from the line before it and from its own place."""
        key = line.number, line.text, expected
        found = self.steps_known.get(key)
        if found is None:
            found = self.steps_known[key] = steps_on(line, expected)
        return found

    def _expected(self) -> int:
        """The whole count that would come next in the section that is open."""
        if self.event is not None and self.event.lines:
            return self._highest(self.event.lines) + 1
        return self._highest(self.out.sections[-1].lines) + 1 if self.out.sections and self.open_section else 1

    def _counts_on(self) -> int:
        """The whole count that would come next if counts ran on through all sections."""
        if (
            self.open_section
            and self.out.sections
            and not self.out.sections[-1].lines
            and not (self.event and self.event.lines)
        ):
            before = [s for s in self.out.sections[:-1] if s.part == self.part and s.lines]
            return self._highest(before[-1].lines) + 1 if before else 1
        return self._expected()

    def _begins_again(self, for_heading: bool = False) -> bool:
        following = self._next_count()
        if following is None:
            return False
        expected = self._expected()
        if following == 1:
            return True
        if following == 2 and self.out.wraps and expected >= 8:
            return True
        header = self.out.reader
        threes = header.header.meter.counts == 3 or "meter" in header.inferred
        line = self.lines[self.at]
        apart = (
            line.text.isupper() and line.number - 1 in self.empty
        )  # "GRAPEVINE RIGHT", above four counts that run on
        each = (3 if threes else 4) if apart else (6 if threes else 8)
        return for_heading and following == expected and expected > 1 and (expected - 1) % each == 0

    def _unread(self, line: Line, message: str) -> Role:
        self.out.findings.append(Finding(line.place, "unread", message))
        self._keep(line)
        return Role.UNREAD

    def _kept(self, line: Line, role: Role) -> Role:
        self._keep(line)
        return role

    def _keep(self, line: Line) -> None:
        """As a note of the section that is open, or of the header."""
        text = unstarred(line.text)
        found = kinds.NOTE_START.match(text)
        text = text[found.end() :].strip() if found and found.end() < len(text) else text
        if text.startswith("(") and text.endswith(")") and text.count("(") == 1:
            text = text[1:-1].strip()
        if self.out.sections:
            self.out.sections[-1].notes.append((text, line.number))
        else:
            self.out.reader.note(text)
