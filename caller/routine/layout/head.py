"""Lines that stand before the first steps: the title, the order of parts, keys with their values, facts in any order."""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.findings import Finding
from caller.routine.layout import kinds
from caller.routine.layout.abbreviations import abbreviations
from caller.routine.layout.blocks import Role
from caller.routine.layout.header import field_of
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.orders import looks_like_order, read_order
from caller.routine.layout.stepping import Stepping
from caller.routine.layout.titles import TITLE_KEY

_AFTER = re.compile(r"\b(?:after|in|wait|count)$", re.IGNORECASE)
_MOST_OF_HEAD = 25  # lines
_ALONE = re.compile(r"[A-Za-z][A-Za-z -]{2,24}\s?:?")


class Head(Stepping):
    def _header(self, line: Line, bare: str) -> Role:
        reader = self.out.reader
        plain = (
            line
            if bare == line.text
            else Line(line.number, line.column + max(0, line.text.find(bare)), bare, line.exact)
        )
        if self.at == self.title_line:
            reader.title(plain)
            return Role.TITLE
        keyed = re.match(
            r"^[A-Za-z][A-Za-z ']{2,30}\s*[:=]\s*(?=\S)|^(?i:order|sequence|phrasing|pattern)\s+(?=A\b)", bare
        )
        if looks_like_order(bare[keyed.end() :] if keyed else bare):
            order, findings = read_order(bare[keyed.end() :] if keyed else bare, plain.place)
            reader.order += order
            self.out.findings += findings
            return Role.HEADER
        if self._part_facts(plain):
            if kinds.SHORT.search(plain.text) is None:
                reader.facts(plain)
            return Role.HEADER
        return self._told_before_steps(line, bare, plain)

    def _told_before_steps(self, line: Line, bare: str, plain: Line) -> Role:
        """What is neither title nor order: a name in a sentence, a key with its value, facts, or a note."""
        reader = self.out.reader
        if self.short and abbreviations([plain.text]):
            return self._kept(line, Role.NOTE)
        keyed = any(TITLE_KEY.match(unstarred(other.text)) for other in self.lines[:_MOST_OF_HEAD])
        if self.title_line is None and not keyed and reader.called(plain):
            reader.facts(plain)
            self._keep(line)
            return Role.TITLE
        if kinds.GREETING.match(bare):
            reader.facts(plain)
            return self._kept(line, Role.NOTE)
        if (told := self._key_above(plain, bare)) is not None:
            return told
        role = self._of_facts(line, plain)
        reader.beside(self._and_the_next(plain))
        return role or self._unknown_key(line, plain)

    def _of_facts(self, line: Line, plain: Line) -> Role | None:
        reader = self.out.reader
        if reader.key(plain):
            titled = reader.places.get("title")
            return Role.TITLE if titled is not None and titled.line == line.number else Role.HEADER
        if reader.facts(plain):
            self._keep_rest(plain)
            return Role.HEADER
        return None

    def _and_the_next(self, line: Line) -> Line:
        """The line with the one below, where its sentence goes on there: "112 beats", "a minute, and you begin ..."."""
        following = self.lines[self.at + 1] if self.at + 1 < len(self.lines) else None
        if following is None or following.number != line.number + 1:
            return line
        if not (following.text[:1].islower() or (following.text[:1].isdigit() and _AFTER.search(line.text))):
            return line
        return replace(line, text=f"{line.text} {following.text}", exact=False)

    def _unknown_key(self, line: Line, plain: Line) -> Role:
        near = kinds.near_key(plain.text)
        if near:
            self.out.findings.append(Finding(plain.place, "header", near))
        return self._kept(line, Role.NOTE)

    def _key_above(self, line: Line, bare: str) -> Role | None:
        """A key on a line of its own, what it tells on the next, as web pages have them."""
        following = self.lines[self.at + 1] if self.at + 1 < len(self.lines) else None
        if following is None or not _ALONE.fullmatch(bare) or field_of(bare.rstrip(" :")) in (None, "", "title"):
            return None
        if not self.out.reader.key(
            replace(line, text=f"{bare.rstrip(' :')}: {unstarred(following.text)}", exact=False)
        ):
            return None
        self.told_in_head.add(following.number)
        return Role.HEADER

    def _part_facts(self, line: Line) -> bool:
        """ "Part A: 32 counts, Part B: 16 counts", "A- = first 16 counts of A"."""
        found = False
        for short in kinds.SHORT.finditer(line.text):
            self.out.shorts[short["part"].upper()] = int(short["n"])
            found = True
        if self.phrased and not found:
            told = list(kinds.PART_LENGTH.finditer(line.text))
            if told and (len(told) > 1 or kinds.PART_LENGTH.match(line.text)):
                for one in told:
                    self.out.parts.setdefault((one["part"] or one["p2"]).upper(), (int(one["n"] or one["n2"]), line))
                return len(told) > 1 or self.in_head
        return found

    def _keep_rest(self, line: Line) -> None:
        if kinds.MORE_THAN_FACTS.search(line.text):
            self.out.reader.note(line.text)
