"""Paragraphs of steps whose counts stand in brackets behind several of them, broken wherever the line was full.

"Vine right: step right to the side, left behind, right / to the side, touch left (1-4). Vine left with a / quarter turn (5-8)."
comes out as a line for each bracket, beginning where its words do.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.headings import read_heading
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.numbers import ORDINAL
from caller.routine.layout.options import EASIER, read_option

_MOST = 8  # lines
_LEAST_FULL = 40  # characters
_LEAST = 2  # brackets
_SEVERAL = re.compile(
    r"\((?P<first>\d)\s?(?:[-\u2013]\s?|(?:,\s?\d)*,\s?)(?P<last>\d)\)(?:[,;]?\s*(?:now\s+)?(?:fac(?:e|ing)\s+)?[(\[]?(?:1[0-2]|[1-9]):\d\d[)\]]?)?[.;,]?"
)
_IN_COLUMNS = re.compile(r"\s{2,}\(")
# A section that is told in the line of its label is read as one elsewhere.
_LABELLED = re.compile(
    rf"^(?:the\s+)?(?:{ORDINAL}|last|next)\s+(?:eight|8|six|6|twelve|12|set|section)\b", re.IGNORECASE
)
_FULL = frozenset((4, 6, 8))  # counts that a paragraph may have


def reflowed(lines: Sequence[Line], start: int) -> tuple[int, list[Line]]:
    """How many lines the paragraph at ``start`` has, and its pieces; (0, []) where it is none."""
    if start and lines[start - 1].number == lines[start].number - 1 and _broken(unstarred(lines[start - 1].text)):
        return 0, []
    end = start
    while end < len(lines) and end - start < _MOST and _belongs(lines, start, end):
        end += 1
    texts = [unstarred(line.text) for line in lines[start:end]]
    whole = " ".join(texts)
    marks = list(_SEVERAL.finditer(whole))
    if len(texts) < _LEAST or len(marks) < _LEAST or not _run_on(marks) or _IN_COLUMNS.search(whole) is not None:
        return 0, []
    begins = [0]  # where each line begins in the whole
    for text in texts[:-1]:
        begins.append(begins[-1] + len(text) + 1)
    cuts = [0, *(mark.end() for mark in marks)]
    ends = {begin - 1 for begin in begins[1:]} | {len(whole)}
    if all(cut in ends for cut in cuts[1:]):
        return 0, []  # each bracket ends its line
    pieces = []
    for low, high in zip(cuts, [*cuts[1:], len(whole)], strict=True):
        words = whole[low:high].strip()
        at = max(n for n, begin in enumerate(begins) if begin <= low + (whole[low : low + 1] == " "))
        if words:
            pieces.append(replace(lines[start + at], text=words, exact=False))
    return end - start, pieces


def _run_on(marks: Sequence[re.Match[str]]) -> bool:
    """Whether the counts run on from 1 without a gap."""
    at = 0
    for mark in marks:
        if int(mark["first"]) != at + 1:
            return False
        at = int(mark["last"])
    return at in _FULL


def _broken(text: str) -> bool:
    """Whether a line goes on on the next: it is full, and no sentence ends with it."""
    return len(text) >= _LEAST_FULL and not text.rstrip().endswith((".", ":", "!", "?", ")"))


def _belongs(lines: Sequence[Line], start: int, n: int) -> bool:
    text = unstarred(lines[n].text)
    if read_counts(text) is not None and not text.startswith("("):
        return False
    if n > start and lines[n].number != lines[n - 1].number + 1:
        return False
    if kinds.TOLD_SECTION.match(text) or _LABELLED.match(text):
        return False
    told = kinds.STRONG_EVENT.match(text) or EASIER.match(text) or read_option(text) is not None
    return not told and read_heading(text) is None
