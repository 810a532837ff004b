"""Steps told in a paragraph of sentences, their counts in brackets or in words, or behind the next line."""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.blocks import first_count
from caller.routine.layout.counted import headed, steps_on
from caller.routine.layout.each_count import each_bracketed
from caller.routine.layout.headings import Heading, read_heading
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import CHANGE, RESTART, TAG
from caller.routine.layout.mentions import mentions_in
from caller.routine.layout.options import EASIER
from caller.routine.layout.telling import TellingLines
from caller.routine.notation.facing_clauses import tells_facing

_AGAIN = re.compile(r"(?:start|begin|repeat)\b.{0,30}(?:\bagain\b|\brepeat)", re.IGNORECASE)
_ON_A_WALL = re.compile(r"\W*(?:on\s+)?(?:the\s+)?wall\s+\d+\s*:", re.IGNORECASE)
_ON_IN_WORDS = re.compile(
    r"\s+on\s+(?:counts?\s+)?(?P<counts>\d(?:&\d|&)?(?:\s*(?:,|-|and)\s*\d)*)(?=\s*(?:[,.;:(]|and\b|then\b|with\b|$))",
    re.IGNORECASE,
)
MOST_OF_PARAGRAPH = 12  # lines
_LEAST_OF_PARAGRAPH = 3  # steps
_MOST_AT_ONCE = 9  # the highest count of a line within its eight
_FACING_BEHIND = re.compile(r"\s+[\[(]?\d{1,2}[:.]\d\d[\])]?\s*$")
RANGE_LABEL = re.compile(
    r"^(?:on\s+)?counts?\s+\d{1,3}\s*(?:to|-|\u2013|thru|through)\s*\d{1,3}\s*,?\s*(?P<name>[^.:(]{0,60})[.:]\s+",
    re.IGNORECASE,
)
ON_COUNT = re.compile(
    r"\bon\s+(?:counts?\s+)?(?:[1-8]|one|two|three|four|five|six|seven|eight)\b(?!\s*/)", re.IGNORECASE
)
BRACKETED_COUNT = re.compile(r"\((?:\d{1,2}&?(?:\s?[&,-]\s?\d{1,2}&?)*|[&ae])\)")
_POINTED_AT = re.compile(r"\s+(?:<{2,}|<-+|\u2190)\s*(?P<inner>\S.*)$")  # "... L fwd    <<< W6 see below"
LISTED_BEHIND = re.compile(r"^(?P<num>[IVX]{1,4})[.)]\s+(?=[A-Z][a-z]*\b.*\(\d)")


def _told_to_its_end(line: Line) -> bool:
    """ "7&8 : bump hips L(7), R(&), L(8) - weight LF": whether the counts at its head end with the last in brackets."""
    head, brackets = read_counts(line.text), BRACKETED_COUNT.findall(line.text)
    last = re.findall(r"\d+", str(brackets[-1])) if brackets else []
    return head is not None and bool(last) and head.beats[-1].number == int(last[-1]) < _MOST_AT_ONCE


class ToldSteps(TellingLines):
    def _counted_below(self, line: Line) -> tuple[list[Line], list[int]]:
        """A line that breaks off, its counts at the end of the next."""
        whole = self._with_next(line)
        steps = steps_on(whole, self._counts_on()) if whole is not None else []
        if not steps or (self.in_head and first_count(steps[0]) != 1):
            return [], []
        return steps, [line.number + 1]

    def _brackets_below(self, line: Line) -> bool:
        """ "First six. Basic forward and basic back.", and below it "(1,2,3) Left forward, ..." or "Left forward ...
        (1-3)": a heading."""
        following = self._next_line()
        if following is None or BRACKETED_COUNT.search(line.text) is not None:
            return False
        text = _FACING_BEHIND.sub("", following.text)
        brackets = BRACKETED_COUNT.findall(text)
        if not brackets or brackets[0][1] != "1":
            return False
        return text.startswith(brackets[0]) or (len(brackets) == 1 and text.endswith(brackets[0]))

    def _told_section(self, line: Line) -> tuple[list[Line], list[int]]:
        """A paragraph that is a section: "Coaster, two pivots (25-32). Right coaster step (1&2), step right (3) ..."."""
        named = kinds.TOLD_SECTION.match(line.text)
        if named is None or self._counts_below() or self._brackets_below(line):
            return [], []
        text = line.text[named.end() :]
        further: list[int] = []
        end = self._end_of(line)
        for following in self.lines[self.at + 1 : self.at + 1 + MOST_OF_PARAGRAPH]:
            if following.number != end + 1 or kinds.TOLD_SECTION.match(following.text):
                break
            text, further, end = f"{text} {following.text}", [*further, following.number], self._end_of(following)
        steps = steps_on(Line(line.number, line.column, _ON_IN_WORDS.sub(r" (\g<counts>)", text), False), 1)
        low, high = (named["from"] or named["low"]), (named["to"] or named["high"])
        if len(steps) < _LEAST_OF_PARAGRAPH or first_count(steps[0]) not in (0, 1, int(low or 1)):
            return [], []
        said = (int(low), int(high)) if low else None
        self._open(line, Heading(name=(named["name"] or "").strip(), said=said))
        return steps, further

    def _breaks_off(self, line: Line) -> bool:
        """Whether the sentence goes on small in the next line: "... step back (3), touch"."""
        following = next((x for x in self.lines[self.at + 1 : self.at + 2] if x.number == line.number + 1), None)
        return following is not None and following.text[:1].islower() and line.text.rstrip()[-1:] not in ".!?);,"

    def _headed_steps(self, line: Line) -> list[Line]:
        """Those of a line that begins with its counts and tells each once more."""
        plain = headed(line)
        return each_bracketed(plain) if plain is not None else []

    def _whole(self, line: Line) -> bool:
        """Whether a line with its counts in brackets goes on in none below it."""
        behind = BRACKETED_COUNT.search(_FACING_BEHIND.sub("", line.text)[-12:]) is not None
        ended = not self._breaks_off(line) and behind and RANGE_LABEL.match(line.text) is None
        return ended or _told_to_its_end(line)

    def _bracket_falls(self, line: Line) -> bool:
        """ "Step forward (1), pivot half left", and below it "(2), rock right to the side (3), ..."."""
        following = self._next_line()
        one = BRACKETED_COUNT.search(line.text) is not None and not self._whole(line)
        return one and following is not None and BRACKETED_COUNT.match(following.text) is not None

    def _paragraph(self, line: Line) -> tuple[list[Line], list[int]]:
        """Steps told in sentences over several lines: "... on 1 and touch the left next to it on 2."."""
        bracketed = len(BRACKETED_COUNT.findall(line.text)) > 1 or self._bracket_falls(line)
        if not bracketed and ON_COUNT.search(line.text) is None:
            return [], []
        if self.out.sections and _ON_A_WALL.match(line.text):
            return [], []
        if bracketed and (each := self._headed_steps(line)):
            return each, []
        alone = steps_on(line, self._counts_on()) if bracketed else []
        if alone and self._whole(line):
            return alone, []
        text = line.text
        headed = read_counts(text) is not None
        further: list[int] = []
        for following in self.lines[self.at + 1 : self.at + 8]:
            if following.number != line.number + len(further) + 1 or (
                read_counts(following.text) is not None and (headed or not bracketed) and not text.endswith(" on")
            ):
                break
            if (
                RANGE_LABEL.match(following.text)
                or LISTED_BEHIND.match(following.text)
                or _AGAIN.match(following.text)
                or read_heading(following.text) is not None
                or kinds.STRONG_EVENT.match(following.text)
                or EASIER.match(following.text)
                or _ON_A_WALL.match(following.text)
            ):
                break
            text, further = f"{text} {following.text}", [*further, following.number]
        named = RANGE_LABEL.match(text) or re.match(r"^(?P<name>[^.:(]{3,40})[.:]\s+", text)
        steps = steps_on(Line(line.number, line.column, text[named.end() :] if named else text, False))
        if not steps:
            return steps_on(line, self._counts_on()), []
        if steps and named and (named.re is RANGE_LABEL or not kinds.STEP_WORD.search(named["name"])):
            self._open(line, Heading(name=named["name"].strip(" ,")))
        return steps, further if steps else []

    def _events_aside(self, line: Line, aside: str) -> None:
        for mention in mentions_in(aside):
            if not mention.none and (mention.kind in (TAG, RESTART) or mention.told) and not kinds.SEE.match(aside):
                if not self._after_change(mention) and not mention.placed:
                    mention.here = True
                self._add_event(line, aside, mention, len(aside), "", aside=True)

    def _without_asides(self, line: Line) -> tuple[Line, list[str], str]:
        """The line without what it says of events in brackets or behind stars, and without the stars at its end."""
        asides: list[str] = []
        text = line.text
        if any(word in self.low for word in kinds.EVENT_WORDS) and kinds.EVENT_WORD.search(text):

            def keep(found: re.Match[str]) -> str:
                if tells_facing(found["inner"]):  # "(ending at 6:00)": no ending
                    return found[0]
                asides.append(found["inner"])
                return "  "

            text = kinds.EVENT_ASIDE.sub(keep, text)
            text = kinds.WALL_ASIDE.sub(
                lambda f: keep(f) if any(m.told for m in mentions_in(f["inner"])) else f[0], text
            )
            trailing = kinds.EVENT_TAIL.search(text)
            if trailing is not None and not tells_facing(trailing["inner"]):
                asides.append(trailing["inner"])
                text = text[: trailing.start()]
        if (pointed := _POINTED_AT.search(text)) is not None:
            asides.append(pointed["inner"])
            text = text[: pointed.start()]
        changing = self.event is not None and self.event.mention.kind == CHANGE
        if changing and (tail := kinds.AND_RESTART.search(text)) is not None:
            asides.append(tail["inner"])
            text = text[: tail.start()]
        mark = ""
        starred = kinds.MARK.search(text, max(0, len(text) - 12)) if text[-1:] in "*#\u2020\u2021\u2605^)]" else None
        if starred is not None:
            mark = starred["mark"]
            text = text[: starred.start()]
        text = text.rstrip()
        return (line if text == line.text else replace(line, text=text)), asides, mark
