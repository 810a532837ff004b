"""Phrased dances: the headings of their parts and the order in which those are danced, in the ways authors write them,
put as they are read elsewhere ("Part A (32 counts)", "Order: A, A, B, Tag, A").
"""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.findings import Place
from caller.routine.layout.lines import Line
from caller.routine.layout.orders import read_order

_DRAWN = r"[\s=~*#_\[\]<>|\u2022\u2010-\u2015-]*"
_LONG = r"(?:[\s(:,=\u2010-\u2015-]*(?P<long>\d{1,3})(?:\s*(?:-\s*)?(?:counts?|cts?\.?|c|beats?))?[\s)]*)?"
_QUOTED = "[\"'\u2018\u2019\u201c\u201d]?"
_HEADS = tuple(
    re.compile(rf"^{_DRAWN}{way}{_LONG}{_DRAWN}:?{_DRAWN}$", re.IGNORECASE)
    for way in (
        rf"(?:the\s+)?part\s+{_QUOTED}(?P<part>[A-H])\b{_QUOTED}",
        r"(?:the\s+)?(?P<part>(?-i:[A-H]))[\s-]part\b",
        rf"(?:the\s+)?(?:verse|chorus|refrain|bridge|middle|instrumental)s?\s*[=:(\u2010-\u2015-]\s*(?:part\s+)?{_QUOTED}(?P<part>(?-i:[A-H]))\b{_QUOTED}\)?",
    )
)
# "A - 32 counts", right above a section: elsewhere it only tells how long A is.
_LETTER_LONG = re.compile(
    r"^(?P<part>[A-H])\s*[(:=\u2010-\u2015-]\s*(?P<long>\d{1,3})(?:\s*(?:-\s*)?(?:counts?|cts?\.?|c|beats?))?\s*\)?\s*:?$"
)
_SECTION = re.compile(r"^\W*(?:[A-H]?\d|(?:section|sec|set|s)\.?\s?\d)", re.IGNORECASE)
_LETTER_DRAWN = re.compile(rf"^[=~*#_\[<-]{_DRAWN}(?P<part>[A-H])\b{_LONG}{_DRAWN}[=~*#_\]>-]$")
_KEY = re.compile(
    r"^\W*(?:(?:here\s+is\s+|here['\u2019]s\s+)?how\s+(?:it|the\s+dance)\s+(?:goes|runs|is\s+danced)"
    r"|(?:(?:it|the\s+dance|this)\s+(?:goes|runs|is\s+danced)|(?:we|you)\s+dance(?:\s+(?:it|them))?|danced)(?:\s+(?:in\s+this\s+order|like\s+this|so|thus|as\s+follows))?"
    r"|(?:the\s+|our\s+)?(?:dance\s+|running\s+)?(?:order|s[e\u00e9]quence|phrasing|pattern|structure|layout)(?:\s+of\s+(?:the\s+)?(?:dance|parts))?(?:\s+(?:is|goes|runs))?)"
    r"\s*(?:[:=\u2010-\u2015-]\s*|(?=\s|$))",
    re.IGNORECASE,
)
_ONE = rf"(?:part\s+)?{_QUOTED}(?P<one>[A-Ha-h](?!(?!x\s?\d)[a-z'])(?:\d{{1,2}}|[-*](?!\s?[A-Ha-h]))?|\b(?:tag|bridge)\b|\bT\b){_QUOTED}"
_TIMES = re.compile(
    rf"(?<![A-Za-z]){_ONE}\s*[(\[]?\s*(?:[x\u00d7]\s?(?P<n>\d)(?!\d)|(?P<m>\d)\s?[x\u00d7]|(?P<word>twice|thrice|(?:two|three|four|2|3|4)\s+times))(?!\w)\s*[)\]]?",
    re.IGNORECASE,
)
_TOKENS = re.compile(
    rf"^(?:\s*+(?:(?:\d\s?[x\u00d7]?\s?)?(?:part\s+)?{_QUOTED}(?:[A-H]++(?![a-z])|[a-h](?![a-z]))(?:\d{{1,3}}(?!\d))?{_QUOTED}(?:[-*](?!\s?[A-Ha-h]))?(?:\s?\((?:first\s+)?\d{{1,3}}(?:\s*(?:counts?|cts?|c))?(?:\s+only)?\))?|(?:tag|bridge|T|restart|ending|end|finish)\b(?:\s?\d(?!\d))?)"
    r"(?:\s|[,;.>|/&+:\u2192\u2010-\u2015-]|\b(?:and|then)\b)*+)++$",
    re.IGNORECASE,
)
_MARK_TELLS = re.compile(
    r"^(?P<mark>\*)\s*[^:]{0,40}?:?\s*(?:dance\s+)?(?:only\s+|just\s+)?(?:the\s+)?first\s+(?P<n>\d{1,2})\s+(?:counts|beats)\s+of\s+(?:part\s+)?(?P<part>[A-H])\b",
    re.IGNORECASE,
)
_NUMBERS = {"twice": 2, "thrice": 3, "two": 2, "three": 3, "four": 4, "2": 2, "3": 3, "4": 4}
_LEAST = 3  # parts of an order
_LEAST_PARTS = 2
_MOST = 400  # characters
_MOST_HEAD = 60


def phrased_plainly(lines: list[Line]) -> list[Line]:
    """The lines; in a sheet that heads two parts, their headings and the order as they are read elsewhere."""
    heads = {n: head for n in range(len(lines)) if (head := _head(lines, n)) is not None}
    if len({head["part"].upper() for head in heads.values()}) < _LEAST_PARTS:
        return lines
    for n, head in heads.items():
        long = f" ({head['long']} counts)" if head["long"] else ""
        lines[n] = replace(lines[n], text=f"Part {head['part'].upper()}{long}", exact=False)
    return _short_parts(_ordered(lines))


def _short_parts(lines: list[Line]) -> list[Line]:
    """What "A*" in the order stands for: "* third part danced: only the first 16 counts of A", as "A* = 16 counts"."""
    order = next((line.text for line in lines if line.text.startswith("Order:") or _KEY.match(line.text)), "")
    for n, line in enumerate(lines):
        told = _MARK_TELLS.match(line.text)
        if told is not None and f"{told['part']}{told['mark']}" in order:
            short = f"{told['part']}{told['mark']} = {told['n']} counts"
            lines[n] = replace(line, text=short, exact=False, source=line.source or line.text)
    return lines


def _head(lines: list[Line], n: int) -> re.Match[str] | None:
    text = lines[n].text
    if not text or len(text) > _MOST_HEAD:
        return None
    if (alone := _LETTER_LONG.match(text)) is not None:
        below = next((line.text for line in lines[n + 1 : n + 3] if line.text), "")
        return alone if _SECTION.match(below) and not _LETTER_LONG.match(below) else None
    return next((found for way in (*_HEADS, _LETTER_DRAWN) if (found := way.match(text)) is not None), None)


def _ordered(lines: list[Line]) -> list[Line]:
    for n, line in enumerate(lines):
        if not line.text or len(line.text) > _MOST:
            continue
        key = _KEY.match(line.text)
        told = line.text[key.end() :] if key is not None else line.text
        if key is not None and not told.strip() and n + 1 < len(lines) and (row := _row(lines[n + 1].text)):
            lines[n] = replace(line, text=" ", exact=False)
            lines[n + 1] = replace(lines[n + 1], text=f"Order: {row}", exact=False)
            return lines
        if row := _row(told):
            lines[n] = replace(line, text=f"Order: {row}", exact=False)
            return lines
    return lines


def _row(text: str) -> str:
    """The parts one by one, "" where this is no order."""
    plain = _TIMES.sub(_each, text.strip(" .\t"))
    if _TOKENS.match(plain) is None:
        return ""
    order, findings = read_order(plain, Place(1))
    letters = [item.part for item in order if item.part]
    return plain if not findings and len(letters) >= _LEAST and len(set(letters)) >= _LEAST_PARTS else ""


def _each(found: re.Match[str]) -> str:
    times = int(found["n"] or found["m"] or 0) or _NUMBERS[(found["word"] or "").lower().split()[0]]
    return ", ".join([found["one"]] * times)
