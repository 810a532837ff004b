"""Where an event stands: "after walls 3, 5 and 6", "wall 4 after 16 counts", "here on wall 5"."""

from __future__ import annotations

import re
from dataclasses import dataclass

_LIST = r"\d+(?:st|nd|rd|th)?(?:\s*(?:,|&|and|,\s*and)\s*(?:walls?\s*)?\d+(?:st|nd|rd|th)?(?!\s*counts?))*"
_WALLS = re.compile(rf"\b(?:walls?\s*(?P<list>{_LIST})|(?P<ordinals>{_LIST})\s+walls?\b)", re.IGNORECASE)
_AFTER = re.compile(
    r"\b(?:after|at|following)\s+(?:the\s+first\s+)?(?:(?:counts?\s*)(?P<a>\d+)|(?P<b>\d+)\s*(?:counts?|cts?\b)|(?P<c>\d+)\b(?!\s*(?:st|nd|rd|th)?\s*walls?))",
    re.IGNORECASE,
)
_SECTION = re.compile(r"\b(?:after|end of)\s+(?:section|sec|s)\.?\s*(?P<number>\d+)", re.IGNORECASE)
_HERE = re.compile(r"\bhere\b", re.IGNORECASE)
_LENGTH = re.compile(r"\(?\b(?P<long>\d+)[\s-]*counts?\)?\s*$", re.IGNORECASE)
_NAME = re.compile(r"^\s*(?P<name>[A-Za-z]|\d+)\b\s*(?=[:,(]|$|\s(?:after|at|on|end|during|here|wall))")
_KNOWN = re.compile(
    r"\b(?:after|at|on|during|in|of|the|end|walls?|counts?|cts?|and|here|occurs|is|danced|this|only|section|sec|s|first|with|step|change|restart|then|each|every|time|times|both|from|beginning|dance|routine|facing|to|it|a|happens|comes|replace|replacing|following|put|add)\b|\d+(?:st|nd|rd|th)?|[\s:,;.&*()\u2605\u2010-\u2015-]+",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class EventPlace:
    """walls: as numbered. after: counts into them, None = at their end. section: after that section. unknown: words
    that mean nothing here."""

    name: str
    walls: tuple[int, ...]
    after: int | None
    section: int | None
    here: bool
    unknown: str


def read_place(rest: str) -> EventPlace:
    """What stands behind the word tag, restart, change or ending."""
    rest = re.sub(r"\([^)]*\d{1,2}[:.]\d\d[^)]*\)|\([^)]*o'?clock[^)]*\)", "", rest)
    named = _NAME.match(rest)
    name = named["name"].upper() if named else ""
    if named:
        rest = rest[named.end() :]
    walls = tuple(
        int(n) for found in _WALLS.finditer(rest) for n in re.findall(r"\d+", found["list"] or found["ordinals"])
    )
    after = _AFTER.search(_WALLS.sub(lambda m: re.sub(r"\d+", "", m.group()), rest))
    section = _SECTION.search(rest)
    count = next((int(after[g]) for g in "abc" if after[g]), None) if after and not (section and after["c"]) else None
    unknown = _KNOWN.sub("", rest).strip()
    return EventPlace(
        name, walls, count, int(section["number"]) if section else None, bool(_HERE.search(rest)), unknown
    )
