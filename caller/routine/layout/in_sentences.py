"""A section told in whole sentences that break wherever the line is full: "On 1 step right forward. On / 2 pivot ..."."""

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
from caller.routine.layout.prose import has_counts, told_in_prose

_MOST = 10  # lines
_FULL = frozenset((6, 8, 12, 16))  # counts that a section has
_LEAST = 4  # steps
_LABEL = re.compile(
    rf"^(?:(?:section|sec\.?|set|part|S)\s?\d{{1,2}}|(?:the\s+)?(?:{ORDINAL}|last|next)\s+(?:eight|8|section|set|six)(?:\s+counts)?)(?:\s*[(\[]\d{{1,3}}\s?[-\u2013]\s?\d{{1,3}}[)\]])?\s*[.:]\s+",
    re.IGNORECASE,
)
_RANGED = re.compile(
    r"^\W*(?:on\s+)?counts?\s+\d{1,3}\s*(?:to|thru|through|-|\u2013)\s*\d", re.IGNORECASE
)  # read as it is
_OF_EVENT = re.compile(
    rf"\b(?:tag|bridge|re-?\s?start|ending|walls?\s+(?:\d|one|two|three|four|five|six|seven|eight|nine)|{ORDINAL}\s+(?:wall|time)|end\s+of)\b",
    re.IGNORECASE,
)
_DANGLES = re.compile(r"\b(?:on|counts?|beats?|and|for)$|[,(]$", re.IGNORECASE)
_ENDED = re.compile(r"(?:[.!?)\]:]|\d:\d\d)\s*$")


def in_sentences(lines: Sequence[Line], start: int) -> tuple[int, list[Line]]:
    """How many lines the paragraph at ``start`` has, and its heading and step lines; (0, []) where it is none, or where each
    of its lines ends with a sentence and is read by itself."""
    first = unstarred(lines[start].text)
    if not has_counts(first) or kinds.TOLD_SECTION.match(first) or _RANGED.match(first):
        return 0, []
    if first[:1].islower() or _OF_EVENT.search(first) is not None:
        return 0, []
    if read_heading(first) is not None and _LABEL.match(first) is None:
        return 0, []
    end = start + 1
    while end < len(lines) and end - start < _MOST and _goes_on(lines[end - 1], lines[end]):
        end += 1
    texts = [unstarred(line.text) for line in lines[start:end]]
    one = len(texts) == 1 and not first.startswith("On ")
    if one or (len(texts) > 1 and all(_ENDED.search(text) for text in texts)):
        return 0, []
    whole, breaks = "", list[tuple[int, int]]()
    for line, text in zip(lines[start:end], texts, strict=True):
        whole = f"{whole} {text}" if whole else text
        breaks.append((len(whole) - len(text), line.number))
    label = _LABEL.match(whole)
    body = " " * label.end() + whole[label.end() :] if label is not None else whole
    steps, talk = told_in_prose(body, replace(lines[start], text=body, exact=False, breaks=tuple(breaks)))
    if len(steps) < _LEAST or _last(steps) not in _FULL:
        return 0, []
    heading = [replace(lines[start], text=label[0].rstrip(" .:"), exact=False)] if label is not None else []
    return end - start, [*heading, *steps, *(replace(lines[end - 1], text=one, exact=False) for one in talk)]


def _goes_on(line: Line, following: Line) -> bool:
    text, after = unstarred(line.text), unstarred(following.text)
    if following.number != line.number + 1 or kinds.STRONG_EVENT.match(after) or EASIER.match(after):
        return False
    if _DANGLES.search(text) is not None:
        return True
    if read_counts(after) is not None and not after.lower().startswith(("(", "count")):
        return False
    return read_option(after) is None and read_heading(after) is None and _LABEL.match(after) is None


def _last(steps: Sequence[Line]) -> int:
    counts = read_counts(steps[-1].text)
    return counts.beats[-1].number if counts is not None else 0
