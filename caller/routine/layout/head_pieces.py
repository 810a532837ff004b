"""A line of the head that says several things: where each of them begins.

Conventions: authors part them by what they like ("48c / 2w / Improver", "Choreo: Ada - 2 walls * 110 bpm"), so that no
mark alone is a cut: a cut stands where a known key or a fact begins behind a mark. What stands in brackets or between
quotation marks is one thing.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from caller.routine.layout.fact_patterns import BY, COUNTS, COUPLED, KEY, LEVEL, METER, TEMPO, WALLS, WALTZ
from caller.routine.layout.intro_patterns import INTRO
from caller.routine.layout.lines import Line

_PARTED = re.compile(
    r"\s+[-\u2010-\u2015*~\u00b7\u2022+]+\s+|\s*(?://|[/|;\u2022\u00b7~])\s*|(?:(?<=\w[\w)\"\u201d])|(?<=\d))\.\s+|,\s+|\s{2,}|\t"
)
_ABOUT = re.compile(r"\(?\s*(?:(?:approx(?:imately)?\.?|about|around|roughly|ca\.?|c\.|~|\u2248)\s*)?", re.IGNORECASE)
_FIRST = re.compile(
    r"(?:counts?|walls?|bpm|tempo)\s+\d{1,3}\b|\d{1,3}\s+(?:counts?|beats?)\s+in\b|(?:level|intro)\s+[-\u2013]\s",
    re.IGNORECASE,
)
_FACTS = (COUPLED, COUNTS, WALLS, TEMPO, LEVEL, METER, WALTZ, BY, _FIRST, *INTRO)
_KEY_ENDS = (":", "=", "\u2026", "..")
_OF_KEY = re.compile(r"\s*[:=]")
_ONE_THING = re.compile(
    r"\([^()]*\)|\[[^\[\]]*\]|\"[^\"]*\"|\u201c[^\u201c\u201d]*\u201d"
    r"|\b(?:counts?|walls?)\s*/\s*(?:counts?|walls?)\s*[:=]\s*\d{1,3}\s*/\s*\d{1,3}\b",
    re.IGNORECASE,
)
_HARD = ("//", "|", "\u2022", "\u00b7", "~")
_MOST_ROW = 400  # characters; the longest row of the strangers' sheets has under 250
_MARKS = " |;,/*~\u00b7\u2022\t"


def pieces_of(line: Line, is_key: Callable[[str], bool]) -> list[Line]:
    """What each key or fact tells, and what stands before the first; the line itself where it says one thing."""
    if len(line.text) > _MOST_ROW:
        return [line]
    plain = _ONE_THING.sub(lambda found: "\0" * len(found[0]), line.text)
    cuts, begun = [0], 0
    for mark in _PARTED.finditer(plain):
        if mark[0] == "/" and LEVEL.match(line.text, mark.end()):
            continue  # "Beginner/Improver"
        key = line.text[begun : mark.start()].strip(" .")
        begun = mark.end()
        bare_key = ":" not in key and is_key(key)  # "Intro  16 counts"
        behind_key = plain[: mark.start()].rstrip().endswith(_KEY_ENDS)
        if not bare_key and not behind_key and _begins(line.text, begun, is_key):
            cuts.append(begun)
    if len(cuts) == 1:
        return [line]
    cuts = sorted({*cuts, *_same_mark(plain, cuts)})
    pieces = [line.piece(start, end) for start, end in zip(cuts, [*cuts[1:], None], strict=True)]
    return [replace(piece, text=re.sub(r"\s[-\u2010-\u2015.]$", "", piece.text.rstrip(_MARKS))) for piece in pieces]


def _same_mark(plain: str, cuts: list[int]) -> list[int]:
    """Where else the mark stands that parts one thing from the next in this line."""
    hard = next((mark for mark in _HARD if any(plain[:cut].rstrip().endswith(mark) for cut in cuts[1:])), None)
    return [found.end() for found in re.finditer(rf"\s*{re.escape(hard)}\s*", plain)] if hard is not None else []


def _begins(text: str, at: int, is_key: Callable[[str], bool]) -> bool:
    """Whether a known key or a fact begins there."""
    rest = text[at:]
    keyed = KEY.match(rest)
    if keyed is not None and _OF_KEY.match(rest, keyed.end("key")) and is_key(keyed["key"]):
        return True
    told = _ABOUT.sub("", rest, count=1)
    return any(pattern.match(told) for pattern in _FACTS)
