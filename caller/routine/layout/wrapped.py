"""Step lines that a narrow page broke wherever it was full: what was copied out of a printed sheet.

"3&4 Cross R over L, step L to L side, cross R over" with "L" below it, "... step for-" with "ward on R", a foot of the page
between the two.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from functools import cached_property

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.headings import read_heading, read_unsure
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.options import read_option

_LEAST = 28  # characters of a line that is full
_MOST_TAIL = 60  # characters of what fell to the next
_MOST_TAILS = 3  # lines
_MOST_BETWEEN = 4  # lines at the foot of a page
_FOOT = r"(?:R|L|RF|LF|right|left)\b(?!\s*[:.])"
# What no line of steps begins with, as it needs the words before it.
_TAIL = re.compile(
    rf"(?:on|onto|over|behind|beside|to|with|in|next\s+to|(?:with\s+)?weight\s+on)\s+(?:the\s+|your\s+|front\s+of\s+)?{_FOOT}"
    rf"|(?-i:R|L|RF|LF)(?:$|[,.]|\s+(?:stepping|step|turn|side|and|to|over|fwd|forward|back|beside|toe|heel)\b)"
    r"|(?:(?:now|you(?:['\u2019]re|\s+are))\s+)*facing\s+(?:the\s+)?(?:1[0-2]|[1-9])(?::\d\d|\s*o['\u2019]?\s?clock)?(?:\s+wall)?\.?$"
    r"|\((?:&|\d&?)\)(?=$|[,.;])|\(?(?:1[0-2]|[1-9]):[0-5]\d\)?$|(?:side|forward|fwd|back|place|together|beside|turn)\b[\s.,(:\d&)]*$",
    re.IGNORECASE,
)
# What no step ends with.
_DANGLES = re.compile(
    r"(?:\d/\d|[\u00bc-\u00be\u215b-\u215e]|\b(?:over|behind|beside|onto|next|make|making|quarter|half|in|from|front|slightly|(?:\d/\d|[\u00bc-\u00be\u215b-\u215e]|quarter|half|full)\s+turn))$",
    re.IGNORECASE,
)
_HYPHEN = re.compile(r"\b(?P<head>[A-Za-z]{2,12})-$")
_SMALL = re.compile(r"[a-z]{2,12}\b")
# fmt: off
_BROKEN = frozenset((
    "forward", "forwards", "backward", "backwards", "together", "behind", "beside", "recover", "turning", "stepping",
    "quarter", "diagonal", "weight", "shuffle", "coaster", "sailor", "across", "facing", "touching", "rocking",
    "crossing", "sweeping", "point", "brush", "toward", "towards",
))
# fmt: on
_BRACKETED = re.compile(r"\((?!1?\d:\d)[1-8&]")
_COUNTS_BEHIND = re.compile(r"(?:\([1-8](?:[\s&,\u2013-]{0,3}[1-8])+&?\)|\s{2,}[1-8](?:[\s&,\u2013-]{0,3}[1-8])+&?)$")
_LED_IN_BRACKETS = re.compile(r"[(\[](?!1\s?[\u2013-]\s?8)[1-8&](?!\d)(?:[\s&,\u2013-]{0,3}[1-8&](?!\d))*[)\]]")
_NAMED = re.compile(r"counts?\s+\d", re.IGNORECASE)
_PAGED = re.compile(r"\s{3,}(?:(?:page|p\.)\s*)?\d{1,2}(?:\s*(?:/|of)\s*\d{1,2})?$", re.IGNORECASE)


class Wrapped:
    """The lines of a sheet that are not empty, and how far each step line among them goes on."""

    def __init__(self, lines: Sequence[Line]) -> None:
        self.lines = lines

    @cached_property
    def _feet_of_pages(self) -> set[int]:
        """Indices of lines that bear a page's number, and of those beside them that stand on more than one page."""
        paged = {n for n, line in enumerate(self.lines) if _PAGED.search(line.text) or kinds.PAGE.match(line.text)}
        beside = Counter(self.lines[n].text for p in paged for n in (p - 1, p + 1) if 0 <= n < len(self.lines))
        often = {text for text, times in beside.items() if times > 1 and read_counts(text) is None}
        return paged | {n for p in paged for n in (p - 1, p + 1) if n < len(self.lines) and self.lines[n].text in often}

    @cached_property
    def _words(self) -> set[str]:
        return {word.lower() for line in self.lines for word in re.findall(r"[A-Za-z]{4,}", line.text)}

    def tails(self, n: int) -> list[int]:
        """The indices of the lines that the step line at ``n`` goes on over, none where it is whole."""
        first = unstarred(self.lines[n].text)
        if first.endswith(",") and (read_heading(first) is not None or read_unsure(first) is not None):
            return [n + 1] if self._rest_of_heading(n + 1) else []
        if _NAMED.match(first) is not None:
            return self._sentence_goes_on(n)
        if not first[:1].isdigit() and not first.startswith(("(", "[", "&")):
            return []
        if len(first) < _LEAST or (read_counts(first) is None and _LED_IN_BRACKETS.match(first) is None):
            return []
        found: list[int] = []
        text, at = unstarred(first), n
        while len(found) < _MOST_TAILS and (below := self._below(at)) is not None:
            tail = unstarred(self.lines[below].text)
            if not self._falls(text, tail):
                break
            found.append(below)
            text, at = tail, below
        return found

    def _sentence_goes_on(self, n: int) -> list[int]:
        """ "Count 3, step", and below it "right to the side again. Count 4, touch ...": up to where a sentence ends."""
        found: list[int] = []
        at = n
        while len(found) < _MOST_TAILS and not unstarred(self.lines[at].text).endswith((".", "!", "?", ":", ")")):
            below = self._below(at)
            text = unstarred(self.lines[below].text) if below is not None else ""
            counted = _NAMED.match(text) or read_counts(text) is not None or _COUNTS_BEHIND.search(text)
            if below is None or counted or not text[:1].islower():
                break
            found.append(below)
            at = below
        return found

    def _rest_of_heading(self, n: int) -> bool:
        """ "Counts 1-8: heel grind, coaster, heel grind," and below it "coaster", above counts."""
        if n + 1 >= len(self.lines) or self.lines[n].number != self.lines[n - 1].number + 1:
            return False
        rest, below = unstarred(self.lines[n].text), read_counts(self.lines[n + 1].text)
        return rest[:1].islower() and len(rest) <= _MOST_TAIL and read_counts(rest) is None and below is not None

    def told(self, text: str, tail: str) -> str:
        """The two as one, a word that was broken between them whole."""
        return f"{text[:-1]}{tail}" if self._broken_word(text, tail) else f"{text} {tail}"

    def _below(self, n: int) -> int | None:
        """The line right below, or over the foot of a page."""
        at = n + 1
        while at < len(self.lines) and at in self._feet_of_pages and at - n <= _MOST_BETWEEN:
            at += 1
        if at >= len(self.lines) or (at == n + 1 and self.lines[at].number != self.lines[n].number + 1):
            return None
        return at

    def _broken_word(self, text: str, tail: str) -> bool:
        head, rest = _HYPHEN.search(text), _SMALL.match(tail)
        if head is None or rest is None:
            return False
        word = (head["head"] + rest[0]).lower()
        return word in _BROKEN or word in self._words

    def _falls(self, text: str, tail: str) -> bool:
        if len(tail) > _MOST_TAIL or read_heading(tail) is not None or read_option(tail) is not None:
            return False
        if self._broken_word(text, tail):
            return True
        if kinds.STRONG_EVENT.match(tail) or (read_counts(tail) is not None and not tail.startswith("(")):
            return False
        if tail.isupper() and len(tail) > len("RF."):
            return False
        if _COUNTS_BEHIND.search(tail) is not None and _BRACKETED.search(text) is None:
            return False  # a heading, and the steps below it
        return _TAIL.match(tail) is not None or (
            _DANGLES.search(text) is not None and kinds.STEP_WORD.search(tail) is not None
        )
