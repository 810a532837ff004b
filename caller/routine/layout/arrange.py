"""The lines of a sheet, each given its role and put where it belongs.

A line is tried as what it can be, the surest first; where two are possible, the counts that come after decide: where
they begin again, the line before them is a heading, whatever its words are. Every line of the file gets a role.
"""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.layout import kinds
from caller.routine.layout.abbreviations import abbreviations, expanded
from caller.routine.layout.arranged import (
    changes_of_restarts,
    marked_below,
    one_part_alone,
    one_tag_told_twice,
    places_by_name,
    steps_of_heading,
    tags_like_others,
    tags_then_from_the_top,
    without_references,
)
from caller.routine.layout.blocks import (
    Blocks,
    EventBlock,
    Role,
    without_counts,
)
from caller.routine.layout.head import Head
from caller.routine.layout.headings import read_heading
from caller.routine.layout.lines import MOST_LINE, Line, physical, unstarred
from caller.routine.layout.mention import RESTART, Mention
from caller.routine.layout.mentions import mentions_in
from caller.routine.layout.options import read_option
from caller.routine.layout.orders import looks_like_order, order_within, read_order
from caller.routine.layout.settled import settled
from caller.routine.layout.standard_form import standard_form
from caller.routine.layout.taken import length_of, take_from_dance
from caller.routine.layout.titles import TITLE_KEY
from caller.routine.layout.uncounted import share_out
from caller.routine.layout.untaken import untaken

_LENGTHS = re.compile(
    r"^\W*(?:sequence|phrasing|order|walls?(?:\s+lengths?)?|how\s+it\s+(?:goes|runs))\s*[:=\u2013-]\s*(?P<list>\d{2,3}(?:\s*(?:\([^)]*\))?\s*(?:[,/+\u2013-]|then)+\s*(?:then\s+)?\d{2,3}){2,}.*)$",
    re.IGNORECASE,
)
_LETTER = re.compile(r"\b[A-H]\b")
_MOST_NAME = 80
_LEAST_ORDER = 3  # parts
_LEAST_PARTS = 2
_MOST_ROW = 400  # characters that an order is looked for in


def arrange(text: str) -> Blocks:
    """The blocks of a sheet's text. Never raises."""
    return standard_form(text) or _Arranging(settled(list(physical(text)))).run()


class _Arranging(Head):
    def run(self) -> Blocks:
        for n, line in enumerate(self.lines):
            self.at = n
            self._take(line)
        self.out.reader.named(self.named)
        self._uncounted_lines()
        for index, block in enumerate(self.out.sections):
            if steps_of_heading(block, self.short):
                self._marked_after(index)
        for line in share_out(self.out, self.lines):
            self.out.roles[line.number] = Role.STEPS
            self.out.reader.drop_note(unstarred(line.text))
        marked_below(self.out, self.marks)
        one_part_alone(self.out)
        tags_like_others(self.out)
        take_from_dance(self.out)
        places_by_name(self.out)
        without_references(self.out)
        one_tag_told_twice(self.out)
        changes_of_restarts(self.out)
        tags_then_from_the_top(self.out)
        self._cut_walls()
        self._order_in_words()
        for part, told in self.out.reader.lengths.items():
            self.out.parts.setdefault(part, told)
        self.out.findings += untaken(self.out, self.lines)
        return self.out

    def _take(self, line: Line) -> None:
        """Gives the line its role, and the lines of the file that it goes on over the same."""
        roles = self.out.roles
        if line.number in self.kept_on:
            roles[line.number] = self._kept(line, Role.OPTION)
            return
        if line.number in self.told_in_head:
            roles[line.number] = Role.HEADER
            return
        head = self.in_head
        if line.number in self.told_on or line.number in self.told_on_steps:
            roles[line.number] = Role.EVENT if line.number in self.told_on else Role.STEPS
        else:
            roles[line.number] = self._role(line)
        for number in self.further.get(line.number, ()):
            roles[number] = roles[line.number]
        of_music = head or kinds.OF_MUSIC.search(line.text) is not None
        if of_music and roles[line.number] in (Role.EVENT, Role.NOTE):
            self.out.reader.beside(line)

    def _marked_after(self, index: int) -> None:
        """Events that are marked below a section's heading stand behind the steps that the heading tells."""
        for event in self.out.events:
            if event.here == (index, 0):
                event.here = index, self._highest(self.out.sections[index].lines)

    def _role(self, line: Line) -> Role:
        if len(line.text) > MOST_LINE:
            message = f"this line has more than {MOST_LINE:,} characters; a step line has one line's worth"
            return self._unread(line, message)
        bare = unstarred(line.text)
        self.low = bare.lower()
        for taker in (
            self._mark_alone,
            self._comment,
            self._titled,
            self._noted,
            self._furniture,
            self._replaced,
            self._danced_twice,
            self._prose,
            self._heading,
            self._option,
            self._counts_told,
            self._counts_alone,
            self._order,
            self._lengths,
            self._shortened,
            self._placed_below,
            self._and_below,
            self._event,
            self._steps,
            self._broken,
            self._unsure_heading,
        ):
            role = taker(line, bare)
            if role is not None:
                return role
        if self.in_head:
            return self._header(line, bare)
        return self._goes_on(line, bare) or self._tag_words(line, bare) or self._note_or_unread(line, bare)

    def _comment(self, line: Line, bare: str) -> Role | None:
        if not line.text.startswith("#") or (self.at == self.title_line and self._marked_down(line)):
            return None
        if (line.text.startswith("##") and kinds.STRONG_EVENT.match(bare.lstrip("# "))) or (
            self.out.sections
            and mentions_in(line.text)
            and any(m.told for m in mentions_in(line.text))
            and not line.text[1:3].strip()[:1].islower()
        ):
            return None
        inner = line.text.lstrip("# ").rstrip("# ")
        hashed = replace(line, text=inner, column=line.column + len(line.text) - len(line.text.lstrip("# ")))
        if inner and (
            read_heading(inner, self.phrased)
            or (self._begins_again() and len(inner) <= _MOST_NAME and not inner.endswith("."))
        ):
            role = self._heading(hashed, inner) or self._unsure_heading(hashed, inner)
            if role is not None:
                return role
        self.out.comments.append((line.number, line.text))
        return Role.NOTE

    def _titled(self, line: Line, bare: str) -> Role | None:
        """ "Title: Penny Bridge", whatever words the name has."""
        return self._header(line, bare) if self.in_head and TITLE_KEY.match(bare) else None

    def _noted(self, line: Line, bare: str) -> Role | None:
        """ "Note: both with weight", below steps, where it tells of no event and no easier way."""
        told = kinds.NOTE_KEY.match(bare) if self.out.sections else None
        if told is None or mentions_in(bare) or read_option(bare[told.end() :]) is not None:
            return None
        if self._short_part(line, bare) or self._part_facts(line):
            return Role.HEADER
        return self._kept(line, Role.NOTE)

    def _marked_down(self, line: Line) -> bool:
        """ "# The Title", in a text whose headings are marked so too."""
        return any(x.text.startswith("##") for x in self.lines if x is not line)

    def _furniture(self, line: Line, bare: str) -> Role | None:
        """Page numbers, links, copyright, the head of a mail."""
        told = any(word in self.low for word in kinds.FURNITURE_WORDS) or not self.low[:1].isalpha()
        if (told and kinds.FURNITURE.search(bare) is not None) or (
            self.in_head and (line.number in self.covering or kinds.MAIL_HEAD.match(bare))
        ):
            if not kinds.PAGE.match(bare):
                self._keep(line)
            return Role.NOTE
        return None

    def _lengths(self, line: Line, bare: str) -> Role | None:
        """ "Sequence: 32, 32, 16 (restart), 32": how many counts each wall has; the short ones start again."""
        found = _LENGTHS.match(bare)
        if found is None:
            return None
        self.wall_lengths = line, [int(n) for n in re.findall(r"\d{2,3}", found["list"])]
        return Role.HEADER

    def _cut_walls(self) -> None:
        """The restarts that the lengths of walls come to, where nothing else tells any."""
        line, told = self.wall_lengths
        total = sum(map(length_of, self.out.sections))
        if line is None or total not in told or any(event.mention.kind == RESTART for event in self.out.events):
            return
        for wall, counts in enumerate(told, 1):
            if counts < total:
                self.out.events.append(EventBlock(Mention(RESTART, walls=(wall,), after=counts), line))

    def _order_in_words(self) -> None:
        """An order that stands among other words before the steps, where no line of its own tells one."""
        parts = {section.part for section in self.out.sections}
        if self.out.reader.order or "" in parts or len(parts) < _LEAST_PARTS:
            return
        first = min(section.heading.number for section in self.out.sections)
        words = [x for x in self.lines if x.number < first and len(x.text) <= _MOST_ROW and not self._heads_part(x)]
        order = order_within(words, parts)
        self.out.reader.order += order
        for number in {item.place.line for item in order}:
            self.out.roles[number] = Role.HEADER

    def _heads_part(self, line: Line) -> bool:
        """ "PART A", but not "A (first 16 counts only)   B"."""
        return self.out.roles[line.number] is Role.HEADING and len(_LETTER.findall(line.text)) <= 1

    def _order(self, line: Line, bare: str) -> Role | None:
        """ "How it goes: A - B - Tag - A (24 counts only)", which speaks of a tag and of counts and is no event."""
        keyed = kinds.ORDER_KEY.match(bare) if self.phrased and not self.out.reader.order else None
        if keyed is None or not (mentions_in(bare) or keyed[0].lower().startswith("we ")):
            return None
        order, findings = read_order(bare[keyed.end() :], line.place)
        if findings or len(order) < _LEAST_ORDER:
            return None
        self.out.reader.order += order
        return Role.HEADER

    def _note_or_unread(self, line: Line, bare: str) -> Role:
        if self._part_facts(line):
            return Role.HEADER
        if self.short and abbreviations([bare]):
            return self._kept(line, Role.NOTE)
        if self.phrased and looks_like_order(bare) and not self.out.reader.order:
            order, findings = read_order(bare, line.place)
            self.out.reader.order += order
            self.out.findings += findings
            return Role.HEADER
        if (kinds.ORDER_KEY.match(bare) or kinds.LATE_KEY.match(bare)) and self.out.reader.key(
            replace(line, text=bare)
        ):
            return Role.HEADER
        if self._of_headed_counts() and kinds.STEP_WORD.search(bare) and kinds.NOTE_START.match(bare) is None:
            self.uncounted.setdefault(id(self.out.sections[-1]), []).append(replace(line, text=bare))
            return Role.STEPS
        if kinds.is_prose(bare) or not kinds.STEP_WORD.search(bare):
            self._keep(line)
            return Role.NOTE
        return self._without_counts(line, bare)

    def _of_headed_counts(self) -> bool:
        """Whether the section that is open says its counts and has had no step line with counts yet."""
        open_here = self.event is None and self.open_section and bool(self.out.sections)
        return open_here and self.out.sections[-1].said is not None and not self.out.sections[-1].lines

    def _uncounted_lines(self) -> None:
        """Steps without counts are a section's where it has no others: all of them in the counts of its heading."""
        for block in self.out.sections:
            told = self.uncounted.pop(id(block), [])
            if told and not block.lines and block.said is not None:
                words = ", ".join(line.text.rstrip(" .,;") for line in told)
                last = block.said[1] - block.said[0] + 1
                block.lines.append(
                    expanded(Line(told[0].number, told[0].column, f"1-{last}  {words}", False), self.short)
                )
                block.said = None
                continue
            for line in told:
                self.out.roles[line.number] = self._without_counts(line, line.text)

    def _without_counts(self, line: Line, bare: str) -> Role:
        return self._unread(line, without_counts(bare))
