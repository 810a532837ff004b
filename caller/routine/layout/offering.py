"""Easier (and harder) ways: which section they belong to, and where their steps are."""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout.behind import on_counts
from caller.routine.layout.blocks import OptionBlock, Role, SectionBlock, first_count
from caller.routine.layout.bracketed import offered_in
from caller.routine.layout.counted import shifted, steps_on
from caller.routine.layout.kinds import steps_told
from caller.routine.layout.lines import Line
from caller.routine.layout.listed_below import listed_below
from caller.routine.layout.mentions import mentions_in
from caller.routine.layout.offered import OfferedInWords
from caller.routine.layout.offers import offer_in
from caller.routine.layout.options import EASIER, Offered, read_option

_IN_A_SENTENCE = re.compile(
    r"(?:[:,;]|\b(?:and|just|simply|then))\s+(?P<words>(?:sway|step|walk|rock|touch|vine|side|shuffle|stomp|march|hip|tap)s?\b[^.;:]*?)\s+on\s+(?:counts?\s+)?(?P<first>\d{1,2})\s*(?:to|-|\u2013|and)\s*(?P<last>\d{1,2})\b",
    re.IGNORECASE,
)
# "easier: vine R - R side, L behind, R side", "Option for the rolling vine: vine right"
_WORDS_OF = re.compile(
    r"^(?:[A-Za-z-]+\s+){0,3}?(?:options?|easier|easy(?:\s+way)?|alternatives?|or|no\s+turn)\b(?:\s+(?:for|to|instead\s+of)\s+(?:the\s+|your\s+)?(?P<name>[A-Za-z\u00bc\u00bd][^:=]{2,40}?))?\s*[:=\u2010-\u2015-]+\s+(?:(?!\d)[^:,]{2,24}\s[-\u2013]\s+)?(?P<words>.+)$",
    re.IGNORECASE,
)
# "step R back, step L beside R on 19 20": instead of a triple on 19&20
_ON_ITS_COUNTS = re.compile(
    r"\s+on\s+(?:counts?\s+)?(?P<counts>\d{1,2}(?:\s*(?:[-\u2013,&]|and|\s)\s*\d{1,2})+)\s*$", re.IGNORECASE
)
_LEAVES_AND = re.compile(r"^(?:leave|skip|forget|drop)\b.*?\band\s+|^(?:just|simply)\s+", re.IGNORECASE)
_SAME_TO_SIDE = re.compile(
    r"[,;.]?\s*\b(?:and|then)\s+(?:do\s+)?(?:the\s+)?same\s+(?:again\s+)?to\s+the\s+(?P<side>left|right)\s+(?:on|for)\s+(?:counts?\s+)?(?P<first>\d{1,2})\s*[-\u2013]\s*(?P<last>\d{1,2})",
    re.IGNORECASE,
)
_MOST_LINES = 3
_LEAST_TOLD = 2  # steps, each with its count


def _named_lines(section: SectionBlock, name: str) -> list[Line]:
    """The step lines of a section that speak of what the name is for, where they stand together."""
    wanted = {word.rstrip("s") for word in re.findall(r"[a-z0-9/\u00bc-\u00be]+", name.lower())} - {"the", "a", "in"}
    found = [
        n
        for n, line in enumerate(section.lines)
        if wanted <= {word.rstrip("s") for word in re.findall(r"[a-z0-9/\u00bc-\u00be]+", line.text.lower())}
    ]
    return section.lines[found[0] : found[-1] + 1] if found and found[-1] - found[0] == len(found) - 1 else []


def _last_count(line: Line) -> int:
    counts = read_counts(line.text)
    return counts.beats[-1].number if counts is not None else 0


class Offering(OfferedInWords):
    def _option(self, line: Line, bare: str) -> Role | None:
        offered = read_option(bare)
        if offered is None and self.out.sections and EASIER.match(bare) and not any(m.told for m in mentions_in(bare)):
            if self._offered_on(line, bare) or (taken := self._in_words(line, bare)) is None:
                self._keeps_on(line)
                return self._kept(line, Role.OPTION)
            return taken
        if offered is None:
            return self._in_words(line, bare)
        if not self.out.sections:
            return self._kept(line, Role.OPTION) if self.in_head else None
        if offered.first is None or offered.last is None:
            return self._without_counts_of_its_own(line, bare, offered)
        if offered.first < 0:
            high = self._highest(self.out.sections[-1].lines)
            first = max(high + offered.first + 1, 1)
            offered = replace(offered, first=first, last=high, counts=f"{first}-{high}")
        if offered.prose and not offered.words:
            return self._in_words(line, bare) or self._kept(line, Role.OPTION)
        return self._with_counts(line, bare, offered)

    def _without_counts_of_its_own(self, line: Line, bare: str, offered: Offered) -> Role | None:
        below = listed_below(line, bare, self.lines[self.at + 1 :], self.out.sections)
        if below is not None:
            section, self.option = below
            section.options.append(self.option)
            self.event = None
            return Role.OPTION
        own = steps_on(Line(line.number, line.column, offered.words, False)) if offered.words else []
        danced = self._highest(self.out.sections[-1].lines)
        if own and not (offered.words[:1].isalpha() and 1 < (first_count(own[0]) or 0) <= danced):
            return None
        block = self._behind_its_steps(line, own) if own else None
        block = block or self._counted(line, offered.words.partition(": ")[2]) or self._for_last_steps(line, bare)
        if block is not None:
            self.out.sections[-1].options.append(block)
            self.option, self.event = block, None
            return Role.OPTION
        return self._kept(line, Role.OPTION)

    def _with_counts(self, line: Line, bare: str, offered: Offered) -> Role:
        assert offered.first is not None
        assert offered.last is not None
        said = offer_in(self._sentence(line, bare)[0], line)
        named = offered.section or (said.section if said is not None else 0)
        section, passed = self._section_of(offered.first, named, said.part if said is not None else "")
        first, last = offered.first - passed, offered.last - passed
        if passed:  # counted through the whole wall, where the sections are not
            counts = re.sub(r"\d+", lambda n: str(int(n[0]) - passed), offered.counts)
            offered = replace(offered, counts=counts)
        block = OptionBlock(line, first, last, offered.words)
        if said is not None and (said.first - passed, said.last - passed) == (first, last):
            block.otherwise = [[shifted(step, -passed) for step in way] for way in said.ways]
        if (both := self._and_to_the_other_side(line, offered)) is not None:
            block.lines, block.told, block.last = both, True, _last_count(both[-1])
        elif offered.words:
            if (own_counts := _ON_ITS_COUNTS.search(offered.words)) is not None:
                told, words = own_counts["counts"].strip(), offered.words[: own_counts.start()]
                offered = replace(offered, counts=told, words=words)
            counts = re.sub(r"\s*(?:to|thru|through)\s*", "-", offered.counts)
            inline = Line(line.number, line.column, f"{counts}  {offered.words}", False)
            own_words = Line(line.number, line.column, offered.words, False)
            own = steps_on(own_words) or on_counts(own_words, least=_LEAST_TOLD - 1)
            if self._option_goes_on(block):
                block.name = offered.words
            elif len(own) >= _LEAST_TOLD and first_count(own[0]) == first:
                block.lines, block.told = own, True
            else:
                block.lines, block.told = [inline], True
                self.last_steps, self.step_number = block.lines, line.number
        same = (block.first, block.last)  # what brackets offered there, written out
        section.options[:] = [o for o in section.options if not (o.told and (o.first, o.last) == same)]
        section.options.append(block)
        self.option, self.event = block, None
        return Role.OPTION

    def _and_to_the_other_side(self, line: Line, offered: Offered) -> list[Line] | None:
        """ "1-4 side, together, side, touch, and the same to the left on 5-8"."""
        found = _SAME_TO_SIDE.search(offered.words)
        if found is None:
            return None
        words = _LEAVES_AND.sub("", offered.words[: found.start()].strip(" ,;"))
        counts = re.sub(r"\s*(?:to|thru|through)\s*", "-", offered.counts)
        other = f"{found['first']}-{found['last']}  repeat {counts} to the {found['side']}"
        return [Line(line.number, line.column, text, False) for text in (f"{counts}  {words}", other)]

    def _offered_on(self, line: Line, bare: str) -> bool:
        """ "If you get giddy: leave the roll out and sway R, L, R, L on 1 to 4": whether that is an option of the section above."""
        said, section = _IN_A_SENTENCE.search(bare), self.out.sections[-1]
        if said is None:
            return False
        first, last = int(said["first"]), int(said["last"])
        if not 0 < first <= last <= self._highest(section.lines):
            return False
        told = Line(line.number, line.column, f"{first}-{last}  {said['words'].strip(' ,')}", False)
        block = OptionBlock(line, first, last, "", lines=[told], told=True)
        offer = offer_in(self._sentence(line, bare)[0], line)
        if offer is not None and (offer.first, offer.last) == (first, last):
            block.otherwise = offer.ways
        section.options.append(block)
        return True

    def _offer(self, steps: list[Line]) -> None:
        """Easier ways in brackets among the steps of a section are its options."""
        section = self.out.sections[-1] if self.out.sections else None
        if section is not None and self.last_steps is section.lines:
            for step in section.lines[-len(steps) :]:
                section.options += offered_in(step)

    def _keeps_on(self, line: Line) -> None:
        """The lines of the file that the sentence goes on over."""
        text, number = line.text, line.number
        for following in self.lines[self.at + 1 : self.at + 1 + _MOST_LINES]:
            number += 1
            ended = text.rstrip().endswith((".", "!", "?", ")", "]"))
            if following.number != number or ended or read_counts(following.text) is not None:
                return
            self.kept_on.add(number)
            text = following.text

    def _behind_its_steps(self, line: Line, own: list[Line]) -> OptionBlock | None:
        """ "Easier: leave the full turn out and walk fwd R (7), L (8)": the counts are those behind its steps."""
        numbers = [beat.number for step in own if (one := read_counts(step.text)) is not None for beat in one.beats]
        if len(own) < _LEAST_TOLD:
            return None
        counts = read_counts(own[0].text)
        assert counts is not None
        plain = _LEAVES_AND.sub("", own[0].text[counts.end :].strip())
        own = [replace(own[0], text=f"{own[0].text[: counts.end]}  {plain}", exact=False), *own[1:]]
        return OptionBlock(line, min(numbers), max(numbers), "", lines=own, told=True)

    def _counted(self, line: Line, words: str) -> OptionBlock | None:
        """ "Easier, no turn: 5 L side, 6 R together, ...": the counts are those of its steps."""
        told = steps_on(Line(line.number, line.column, words, False)) if words else []
        counts = [read_counts(step.text) for step in told]
        numbers = [beat.number for one in counts if one is not None for beat in one.beats]
        if len(told) < _LEAST_TOLD or not numbers or line.number - 1 != self.step_number:
            return None
        return OptionBlock(line, min(numbers), max(numbers), "", lines=told, told=True)

    def _for_last_steps(self, line: Line, bare: str) -> OptionBlock | None:
        """ "(easier: vine R)" below a step line, on its counts; "Option for the turning shuffles: ...", on theirs."""
        section = self.out.sections[-1]
        told = _WORDS_OF.match(bare.strip("([)] *"))
        if told is None or not section.lines or not steps_told(told["words"]):
            return None
        steps = _named_lines(section, told["name"]) if told["name"] else []
        if not steps and line.number - 1 == self.step_number and self.last_steps is section.lines:
            number = section.lines[-1].number
            steps = [step for step in section.lines if step.number == number]
        counts = [one for step in steps if (one := read_counts(step.text)) is not None]
        numbers = [beat.number for one in counts for beat in one.beats if not beat.over and beat.number > 0]
        if not numbers:
            return None
        head = ", ".join(step.text[: one.end].strip() for step, one in zip(steps, counts, strict=True))
        lines = [Line(line.number, line.column, f"{head}  {told['words'].strip(' .')}", False)]
        return OptionBlock(line, min(numbers), max(numbers), "", lines=lines, told=True)

    def _option_goes_on(self, block: OptionBlock) -> bool:
        """Whether step lines for an option stand below its heading."""
        following = self._next_count()
        return following is not None and block.first <= following <= block.last and following != self._expected()
