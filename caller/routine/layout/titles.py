"""Which of a sheet's first lines is the dance's name, where no line says so itself."""

from __future__ import annotations

import re
from collections.abc import Sequence

from caller.routine.layout.headings import read_heading
from caller.routine.layout.kinds import FURNITURE, GREETING, MAIL_HEAD, NOTE_START, PAGE
from caller.routine.layout.lines import unstarred

_I = re.IGNORECASE
_HEAD_LINE = re.compile(
    r"\b\d{1,3}\s*-?\s*(?:counts?|cts?|walls?|bpm)\b|^\s*(?:counts?|walls?|level|choreo\w*|devised|music|song|intro|tempo|order|sequence|type|description|by|meter|time|feel|starts?|section|part|s\d|\d)\b",
    _I,
)
TITLE_KEY = re.compile(
    r"^\W*(?:title|dance(?:\s+(?:title|name))?|name(?:\s+of\s+dance)?)\s*(?::|=|\s[-\u2013\u2014]\s)", _I
)
_STEPS_BEGIN = re.compile(r"^(?:counts?\s*)?1\s*(?:[-&,\u2013]\s*)?[2-8]\b.*[A-Za-z]", _I)
_MOST_TITLE = 70
_HOME = re.compile(r"home\s{2,}\S", _I)  # the way through a web site, as cells
_PAPER = re.compile(
    r"\b(?:newsletter|bulletin|gazette|club\s+news|(?:step\s*sheet|dance)\s+of\s+the\s+month|this\s+month['\u2019]?s\s+dance|dance\s+to\s+learn)\b",
    _I,
)
_FACTS_NEAR = re.compile(r"\b\d{1,3}\s*-?\s*(?:counts?|cts?|walls?|bpm)\b", _I)
_FACTS = re.compile(r"\b\d{1,3}\s*-?\s*(?:counts?|cts?|c)\b.*\bwalls?\b|\bwalls?\b.*\b\d{1,3}\s*-?\s*counts?\b", _I)


def _above_any_title(text: str) -> bool:
    """The way through a web site; the head of a newsletter."""
    marks = len(re.findall(r"\s[\u00b7|\u2022>]\s", text))
    way = (marks > 1 and _FACTS_NEAR.search(text) is None) or _HOME.match(text) is not None
    return way or _PAPER.search(re.split(r"\s{3,}", text)[0]) is not None


def _above_the_facts(texts: Sequence[str]) -> int | None:
    """Of a mail: the line above "16 count / 4 wall"."""
    for n, text in enumerate(texts[1:], 1):
        if _NAME_AND_FACTS.match(unstarred(text)) is not None:
            return n
        before = unstarred(texts[n - 1])
        if (
            _FACTS.search(text)
            and len(text) < 90
            and not (_talks(before) or GREETING.match(before) or MAIL_HEAD.match(before))
        ):
            return n - 1
    return None


# "Borrowed Boots - 32ct, 2 wall, intermediate"
_NAME_AND_FACTS = re.compile(
    r"^(?-i:[A-Z])[^\d:,]{3,40}?\s+[-\u2013]\s+\d{1,3}\s*-?\s*(?:counts?|cts?|c)\b.*\bwalls?\b", _I
)
_BEFORE_FACTS = re.compile(r"\s{3,}|\s*\|\s*|\s+\(?\d{1,3}\s*-?\s*(?:counts?|cts?|walls?)\b", _I)


def title_line(texts: Sequence[str]) -> int | None:
    """The index of the line that is the title without saying so; None where a line says so, or none is one."""
    if any(TITLE_KEY.match(text) for text in texts):
        return None
    if any(MAIL_HEAD.match(text) for text in texts) and (named := _above_the_facts(texts)) is not None:
        return named
    for n, raw in enumerate(texts):
        text = unstarred(raw)
        if _above_any_title(text):
            continue
        if read_heading(text) is not None or _STEPS_BEGIN.match(text):
            return None
        if raw.startswith("#") and not re.match(r"^#{1,2}\s+\S", raw):
            continue
        if raw.startswith("# ") and any(not t.startswith("#") for t in texts[n + 1 : n + 3]) and _talks(text):
            continue
        if any(pattern.match(text) for pattern in (NOTE_START, MAIL_HEAD, GREETING, PAGE)) or FURNITURE.search(text):
            continue
        text = _BEFORE_FACTS.split(text)[0] if n < 4 else text
        if text and len(text) <= _MOST_TITLE + 60 and not _talks(text) and not _heads(text):
            return n
    return None


def _heads(text: str) -> bool:
    """A fact of the dance, not its name."""
    told = ":" in text[:25] or re.match(r"^\W*(?:\d|(?:by|choreo|devised|section|part)\b)", text, _I)
    return bool(told) and _HEAD_LINE.match(text) is not None


def _talks(text: str) -> bool:
    """A sentence rather than a name."""
    words = text.split()
    return (
        len(words) > 9
        or (text.rstrip().endswith((".", ",", ";", "!")) and len(words) > 4)
        or (text.endswith(",") and len(words) <= 4)
    )
