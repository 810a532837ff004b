"""Easier ways offered in sentences, over as many lines as those take: of which section they are, and on which counts."""

from __future__ import annotations

import re

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.blocks import OptionBlock, Role, SectionBlock, first_count
from caller.routine.layout.counted import shifted
from caller.routine.layout.headings import read_heading
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.mention import ENDING, TAG
from caller.routine.layout.offers import LAST, Offer, offer_in, offers
from caller.routine.layout.opening import Opening
from caller.routine.layout.options import EASIER, OF_A_WALL

_MOST_FURTHER = 3  # lines of a sentence after its first
_MAY_BE = re.compile(r"[\d\s&,\u2010-\u2015-]+(?:can|may|could)\s+(?:also\s+)?be\b", re.IGNORECASE)
_ENDS = (".", "!", "?", ")", "]")


class OfferedInWords(Opening):
    def _in_words(self, line: Line, bare: str) -> Role | None:
        """ "(If that bothers anybody's knees, on 5-8 step L to left side, ...)", below steps or at the foot of the sheet."""
        if not self._may_offer(line) or not offers(bare) or OF_A_WALL.search(bare) is not None:
            return None
        text, further = self._sentence(line, bare)
        offer = offer_in(text, line)
        placed = self._placed(offer) if offer is not None else None
        if offer is None or placed is None:
            return None
        section, passed = placed
        first, last = offer.first - passed, offer.last - passed
        ways = [[shifted(step, -passed) for step in way] for way in offer.ways]
        option = OptionBlock(line, first, last, "", lines=ways[0], told=True, otherwise=ways[1:], offered=True)
        option.quiet = kinds.is_prose(bare)
        section.options.append(option)
        self.kept_on.update(further)
        self.option = None
        return self._kept(line, Role.OPTION)

    def _may_offer(self, line: Line) -> bool:
        """Behind steps of the dance, on a line that is no step line of its own."""
        if not self.out.sections or not any(sign.isdigit() for sign in line.text):
            return False
        tells = self.event is not None and self.event.mention.kind in (TAG, ENDING) and self.event.lines
        return not tells and (read_counts(line.text) is None or _MAY_BE.match(line.text) is not None)

    def _sentence(self, line: Line, bare: str) -> tuple[str, list[int]]:
        """The sentence that begins here, and the numbers of the lines that it goes on over."""
        text, end = bare, self._end_of(line)
        further: list[int] = []
        for following in self.lines[self.at + 1 : self.at + 1 + _MOST_FURTHER]:
            after = unstarred(following.text)
            opened = text.count("(") > text.count(")")
            if following.number != end + 1 or (not opened and text.rstrip().endswith(_ENDS)):
                break
            if read_heading(after) is not None or kinds.STRONG_EVENT.match(after) or EASIER.match(after):
                break
            if not opened and (read_counts(after) is not None or not after[:1].islower()):
                break
            text, further, end = f"{text} {after}", [*further, following.number], self._end_of(following)
        return _unbracketed(text), further

    def _placed(self, offer: Offer) -> tuple[SectionBlock, int] | None:
        """The section that an offer is of, and the counts before it; None where its counts are not danced there yet."""
        section, passed = self._section_of(offer.first, offer.section, offer.part)
        first, last = offer.first - passed, offer.last - passed
        return (section, passed) if 0 < first <= last <= self._highest(section.lines) else None

    def _section_of(self, first: int, named: int, part: str = "") -> tuple[SectionBlock, int]:
        """The section that an option is of, and the counts before it where its own run on through the wall.

        first: its first count as written; named: the number of the section that it names, 0 = none; part: of that
        section, "" = the one that is open.
        """
        own = self.out.sections[-1]
        if named == LAST:
            return own, 0
        if named:
            wanted = named, part or own.part
            return next((s for s in self.out.sections if (s.number, s.part) == wanted), own), 0
        for section in reversed(self.out.sections):
            numbers = [n for line in section.lines if (n := first_count(line)) is not None]
            low = section.said[0] if section.said and numbers and min(numbers) != 1 else min(numbers, default=1)
            if low <= first <= self._highest(section.lines):
                return section, 0
        passed = 0
        for section in self.out.sections:
            high = self._highest(section.lines)
            if passed < first <= passed + high and passed:
                return section, passed
            passed += high
        return own, 0


def _unbracketed(text: str) -> str:
    """Without the brackets that are round all of it."""
    inner = text.strip().rstrip(" .")
    round_all = inner[:1] in "([" and inner[-1:] in ")]" and len(inner) > 1
    return inner[1:-1].strip() if round_all and inner[1:-1].count("(") == inner[1:-1].count(")") else text
