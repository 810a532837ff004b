"""Lines that open a part or a section, by their words or by the counts that begin again after them."""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.abbreviations import expanded
from caller.routine.layout.blocks import Role, first_count
from caller.routine.layout.counted import shifted, steps_on
from caller.routine.layout.headings import Heading, read_heading, read_unsure
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG
from caller.routine.layout.mentions import mentions_in
from caller.routine.layout.numbers import ROMAN
from caller.routine.layout.placing import Placing
from caller.routine.layout.prose import has_counts

_MOST_NAME = 80
_REPEATS = re.compile(
    r"\W*\d{1,3}\W*\s+(?:repeat|start)(?:\s+(?:the\s+)?(?:whole\s+)?(?:dance|again)\b|\s+facing\b|\W*$)", re.IGNORECASE
)


_SECTION = 8  # counts
_BETWEEN_STEPS = re.compile(r"[,;/&+]|\s[-\u2010-\u2015]\s|\band\b", re.IGNORECASE)
_FOOT = re.compile(r"\b[RL]F?\b")
_LEAST_FEET = 3  # of a line of steps
_REPEATS_COUNTS = re.compile(
    r"(?:repeat|do|dance)\b.*\b(?:1\s?[-\u2013]\s?8|again|the\s+above|first\s+(?:eight|8))\b", re.IGNORECASE
)


def _tells_steps(bare: str) -> bool:
    """Whether the line that begins as a section's paragraph does has counts of steps in it already."""
    told = kinds.TOLD_SECTION.match(bare)
    return told is not None and has_counts(bare[told.end() :])


def _lists_steps(bare: str) -> bool:
    """ "SIDE, TOGETHER, SIDE, TOUCH x 2": steps one after another, and no sentence."""
    pieces = [piece for piece in _BETWEEN_STEPS.split(bare) if piece.strip()]
    sentence = bare.endswith((".", "!", "?")) or ":" in bare
    return len(pieces) > 1 and not sentence and all(kinds.STEP_WORD.search(piece) for piece in pieces)


_MARKED_NAME = re.compile(r"^(?P<mark>[#*]\d|\(\d\)|\*{1,4})\s*(?P<name>tag|bridge|ending)\b", re.IGNORECASE)


class Opening(Placing):
    def _heading(self, line: Line, bare: str) -> Role | None:
        heading = read_heading(bare, self.phrased)
        if (
            heading is None
            or _REPEATS.match(bare)
            or (len(bare) > _MOST_NAME and _tells_steps(bare) and not self._counts_below())
        ):
            return None
        if heading.said is not None and self._is_steps(line, heading):
            return None
        if self.in_head and len(list(kinds.PART_LENGTH.finditer(bare))) > 1:
            return None
        if self._heads_steps_of_tag(line, heading):
            return Role.HEADING
        if not heading.opens:
            return self._open_part(line, heading)
        if self._only_named(heading, bare):
            return None
        self._open(line, heading)
        self._inline_steps(line, heading, bare)
        return Role.STEPS if self.out.sections[-1].lines else Role.HEADING

    def _only_named(self, heading: Heading, bare: str) -> bool:
        """A section named before any steps, where no steps follow: a table of contents, or a sentence."""
        return bool(heading.name) and mentions_in(bare) != [] and not self._begins_again() and heading.said is None

    def _is_steps(self, line: Line, heading: Heading) -> bool:
        """ "[1-4] Vine right, touch": counts that the next line goes on from."""
        assert heading.said is not None
        if heading.number is not None and not (
            heading.said[1] - heading.said[0] < 4
            and self.event is not None
            and self.event.mention.kind in (CHANGE, RESTART)
        ):
            return False
        following = self._next_count()
        first, last = heading.said
        if first == 1 and heading.name and self._awaits_steps(last) and following != 1:
            return True
        halves = first == self._expected() and (first - 1) % 8 and (first - 1) % 4 == 0 and last == first + 3
        if halves and kinds.STEP_WORD.search(heading.name) is not None:
            return True  # "(5-8) L side, R behind", below "(1-4) ..."
        if heading.said[0] == self._expected() and following == heading.said[1] + 1 and heading.name:
            return not (heading.said[1] % 8 == 0 and heading.said[0] % 8 == 1)
        return heading.said[1] - heading.said[0] < 3 and following not in (1, heading.said[0])

    def _awaits_steps(self, counts: int) -> bool:
        """Whether a tag or an ending that has no steps yet may be this long: "TAG (once)", and below it "(1-4) ..."."""
        event = self.event
        if event is None or event.mention.kind not in (TAG, ENDING) or event.lines or event.words:
            return False
        return event.mention.long == counts if event.mention.long is not None else counts < _SECTION

    def _heads_rest_of_tag(self) -> bool:
        """ "Monterey 1/2 x 2", above the second eight of a tag of sixteen, whose counts begin again."""
        event = self.event
        if event is None or event.mention.kind != TAG or not event.lines or self._next_count() != 1:
            return False
        told = self._highest(event.lines)
        if told % _SECTION or told >= (event.mention.long or 0):
            return False
        self.shifts[id(event.lines)] = told
        return True

    def _heads_steps_of_tag(self, line: Line, heading: Heading) -> bool:
        """ "[1-8] Rumba box", "[9-16] Repeat counts 1-8", below "Tag - 16 counts": of the tag's own steps."""
        event = self.event
        if event is None or event.mention.kind != TAG or heading.said is None or (event.mention.long or 0) <= _SECTION:
            return False
        first, last = heading.said
        told = self._highest(event.lines) + self.shifts.get(id(event.lines), 0)
        if first != told + 1 or last > (event.mention.long or 0) or not event.mention.told:
            return False
        if _REPEATS_COUNTS.match(heading.name) is not None:
            event.lines += [shifted(replace(step, number=line.number, exact=False), first - 1) for step in event.lines]
        elif first > 1:
            self.shifts[id(event.lines)] = first - 1
        return True

    def _open_part(self, line: Line, heading: Heading) -> Role:
        part = heading.part or ""
        numbered = self.numbered_parts and part.lower() in ROMAN
        if numbered or ((part.isdigit() or len(part) > 1) and not self.phrased):
            self._open(line, replace(heading, part=None, number=None))
            return Role.HEADING
        self.part = part
        if heading.long:
            self.out.parts.setdefault(part, (heading.long, line))
        elif heading.said:
            self.out.parts.setdefault(part, (heading.said[1] - heading.said[0] + 1, line))
        self.event = self.option = None
        self.open_section = False
        self.last_steps = None
        self.part_name = heading.name
        return Role.HEADING

    def _inline_steps(self, line: Line, heading: Heading, bare: str) -> None:
        """ "S4: 1-2 Walk R, L" and "Section 3: repeat section 1 on the opposite foot"."""
        block = self.out.sections[-1]
        if kinds.AGAIN.match(heading.name) and not self._begins_again():
            block.lines.append(Line(line.number, line.column, heading.name, False))
        elif (
            heading.said is not None
            and heading.said[0] == 1
            and self._next_count() == heading.said[1] + 1
            and heading.name
        ):
            block.said = None
            block.name = ""
            whole = Line(line.number, line.column, f"{heading.said[0]}-{heading.said[1]}  {heading.name}", False)
            told = steps_on(whole, 1)
            block.lines += [expanded(step, self.short) for step in told] if first_count(told[0]) == 1 else [whole]
            self.last_steps = block.lines
        else:
            counted = (
                steps_on(Line(line.number, line.column, heading.name, False), 1)
                if re.match(r"\d(?!/)", heading.name) and self._tells_steps(heading.name)
                else []
            )
            if counted:
                block.name = ""
                self._add_steps(counted, line)

    def _tells_steps(self, text: str) -> bool:
        """Also in an author's own short words."""
        return kinds.STEP_WORD.search(text) is not None or len(_FOOT.findall(text)) >= _LEAST_FEET

    def _unsure_heading(self, line: Line, bare: str) -> Role | None:
        """A line before counts that begin again is a heading, whatever it says."""
        numbered = (named := read_unsure(bare)) is not None and named.number is not None
        if len(bare) > (2 if numbered else 1) * _MOST_NAME or kinds.NO_HEADING.search(bare):
            return None
        uncounted = self._heads_uncounted(bare)
        if not uncounted and not self._begins_again(for_heading=True):
            return None
        if self.in_head and not uncounted and not self._heads_first(line, bare):
            return None
        bare_section = self.open_section and self.out.sections and not self.out.sections[-1].lines
        if bare_section and self.event is None and id(self.out.sections[-1]) not in self.uncounted:
            self._keep(line)  # a second line of the heading
            return Role.HEADING
        if (
            self.event is not None
            and not (self.event.lines or self.event.mention.here)
            and self.event.mention.kind in (TAG, ENDING)
            and self._next_count() == 1
            and not self._told_below(self.event.heading)
        ):
            return None  # words between a tag's heading and its steps
        if self._heads_rest_of_tag():
            return Role.HEADING
        unsure = read_unsure(bare) or Heading(name=bare.strip(" :-\u2013\u2014.=~"), sure=False)
        if (
            self.event is not None
            and not self.event.mention.here
            and self.event.mention.kind in (TAG, ENDING)
            and not (bare.isupper() or self._told_below(self.event.heading))
            and unsure.said is None
            and unsure.number is None
            and not line.text.rstrip().endswith(":")
        ):
            return None
        self._open(line, unsure)
        return Role.HEADING

    def _told_below(self, heading: Line) -> bool:
        """ "#2  BRIDGE - WALL 5 ONLY", where a line further down begins with the same mark and name: its steps are there."""
        label = _MARKED_NAME.match(heading.text)
        if label is None:
            return False
        own = (label["mark"], label["name"].lower())
        return any(
            (other["mark"], other["name"].lower()) == own
            for line in self.lines[self.at + 1 :]
            if (other := _MARKED_NAME.match(line.text)) is not None
        )

    def _heads_uncounted(self, bare: str) -> bool:
        """ "Vines (counts 17 to 24)": the counts that come next, above steps that have none of their own."""
        unsure, following = read_unsure(bare), self._next_line()
        if (
            unsure is None
            or unsure.said is None
            or following is None
            or not re.search(r"count|beat", bare, re.IGNORECASE)
        ):
            return False
        last = self.out.sections[-1].said if self.out.sections else (0, 0)
        before = last[1] if last is not None else -1
        plain = read_counts(following.text) is None and kinds.STEP_WORD.search(following.text) is not None
        return plain and unsure.said[0] == before + 1

    def _heads_first(self, line: Line, bare: str) -> bool:
        """Whether the line right above the first steps heads them, and is no title or header."""
        if self.at == self.title_line or (not self.out.reader.header.title and self.title_line is None):
            return False
        probe = type(self.out.reader)()
        return not (probe.key(line) or probe.facts(line)) and (
            bare.isupper()
            or _lists_steps(bare)
            or line.text != bare
            or bare.endswith(":")
            or read_unsure(bare) is not None
        )

    def _heads(self, unsure: Heading) -> bool:
        """Whether a line with counts at its head is the heading of what comes after it."""
        following = self._next_count()
        if following is None:
            return False
        if unsure.said is not None:
            low, high = unsure.said
            opens = (low - 1) % 8 == 0 or (
                low - 1
            ) % 6 == 0  # "5-8" goes on, whatever the heading below it seems to count
            return opens and following in (low, 1) and high - low >= 3
        siblings = [s for s in self.out.sections if s.part == self.part]
        wanted = siblings[-1].number + 1 if siblings else 1
        if unsure.number is not None and (following == unsure.number + 1 or following == unsure.number != 1):
            return False
        return unsure.number == wanted and following in (1, self._expected())
