"""How far a sentence about an event goes on over the lines of the file."""

from __future__ import annotations

import re

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.counted import steps_on
from caller.routine.layout.headings import read_heading
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.mentions import mentions_in
from caller.routine.layout.offering import Offering
from caller.routine.layout.options import read_option
from caller.routine.layout.paragraphs import COUNTS_APART, KEYED, LISTED, OF_MARKS, told_on

# Each of such lines tells of a wall of its own.
_OF_A_WALL = re.compile(r"\W*(?:(?:on|in|after|at\s+the\s+end\s+of|end\s+of)\s+)?(?:wall\s+|w)\d", re.IGNORECASE)
ON_WALL = re.compile(r"\W*(?:on\s+)?(?:wall\s+|w)\d", re.IGNORECASE)
# "after the third wall" and "every even wall" are told to their end, "after wall" is not.
_DANGLING = re.compile(
    r"\b(?:of|the|in|after|until|to|section|(?:hold|replace|change|on|skip|for)\s+(?:the\s+)?(?:counts?|beats?)|an?|including(?:\s+counts?)?|(?:after|on|in|of|during|before|from|and|&|,|:)\s*wall)$|^wall$",
    re.IGNORECASE,
)
# "..., but don't kick on count 4." and on the next line "Step L beside R instead, ..."
_NOT_THAT = re.compile(r"\b(?:don['\u2019]?t|do\s+not)\s+[^.]*\.$", re.IGNORECASE)
_BUT_THIS = re.compile(r"[^.;]*\binstead\b(?!\s+of)", re.IGNORECASE)
_THEN = re.compile(r"\b(?:and|add|then|for|with)$", re.IGNORECASE)
_ROMAN_HEADING = re.compile(r"[IVX]{1,4}(?:\s{2,}|[.)]\s)\S")
_CLOCK_FIRST = re.compile(r"(?:1[0-2]|[1-9])(?:[:.][0-5]\d|\s*o['\u2019]?\s?clock)\b", re.IGNORECASE)
_REPLACING = re.compile(r"\b(?:replac|swap|chang|instead\s+of)[^.]*$", re.IGNORECASE)
_LEAST_FULL = 60  # characters of a line that may go on below because it is full
_MOST_HEADING = 4  # words of a heading "Tag after wall 2", with its steps below


class SentenceLines(Offering):
    def _told_on(self, line: Line, bare: str) -> tuple[str, list[int]]:
        """The sentence with the lines of the file that it goes on over."""
        further: list[int] = []
        end = self._end_of(line)
        if sum(bool(ON_WALL.match(x.text)) for x in self.lines[self.at + 1 : self.at + 4]) > 1:
            return bare, further  # walls in a list, each with what happens on it
        untold = self.out.sections != [] and not any(m.told or m.placed for m in mentions_in(bare))
        for following in self.lines[self.at + 1 : self.at + 4]:
            text = unstarred(following.text)
            adjacent = following.number == end + 1
            ends = bare.rstrip().endswith((":", ".", "!", ")", "*")) and not kinds.TO_BE_TOLD.search(bare)
            ends = ends and not (bare.endswith(":") and untold and kinds.WALL.search(text.lower()) is not None)
            ends = ends and not (_NOT_THAT.search(bare) is not None and _BUT_THIS.match(text) is not None)
            ends = ends and not (self.in_head and bare.endswith(":") and kinds.steps_told(text))
            dangling = _DANGLING.search(bare) is not None or (
                _THEN.search(bare) is not None and read_counts(text) is None
            )  # "the last two counts of", and on the next line "Section 4"
            if not adjacent or (
                not dangling
                and (
                    (ends and not text[:1].islower())
                    or (read_counts(text) is not None and not self._still_told(bare, text))
                    or read_heading(text, self.phrased)
                )
            ):
                break
            if not dangling and (
                (self.in_head and (KEYED.match(text) or (len(bare) < _LEAST_FULL and text[:1].isupper())))
                or OF_MARKS.match(following.text)
                or (LISTED.match(text) and LISTED.match(bare))
                or (_OF_A_WALL.match(text) and _OF_A_WALL.match(bare))
                or kinds.STRONG_EVENT.match(text)
                or kinds.REPLACED.match(text)
                or (len(line.text.split()) <= _MOST_HEADING and steps_on(following))
                or (COUNTS_APART.search(text) and steps_on(following))
                or _ROMAN_HEADING.match(text)
                or read_option(text) is not None
                or kinds.FURNITURE.search(text)
                or (text.isupper() and len(text) > 3)
                or text.startswith("#")
            ):
                break
            bare = told_on(bare, text)
            further.append(following.number)
            end = self._end_of(following)
        return bare, further

    def _still_told(self, bare: str, text: str) -> bool:
        """Whether a line that begins with a number goes on with the sentence: "replace the last three counts" and below
        it "(counts 22-24) with ..."."""
        if kinds.SO_MANY.match(text) or _CLOCK_FIRST.match(text):
            return True
        return text.startswith("(count") and _REPLACING.search(bare) is not None
