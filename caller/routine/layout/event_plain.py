"""Events told in few words, written out: "SWAY RLRL", "sway left over three counts and right over three counts", "wall 3:
hips R, L, R, L (4 cts), back to count 1"."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import takewhile

from caller.routine.count import read_counts
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, ORDINAL, number_of

_LIKE = re.compile(
    r"^\s*1\s*[-\u2013]\s*\d\W*\s(?:like|same\s+as|as\s+in|as|repeat)\s+(?:the\s+)?tag\s+(?P<name>\d|[A-C])\W*$",
    re.IGNORECASE,
)
_HEADS = re.compile(r"^\W*tag\s+(?P<name>\d|[A-C])\b", re.IGNORECASE)
_EVENT = re.compile(
    r"\b(?:tags?|bridges?|re-?starts?|rst|endings?|finish|back\s+to\s+(?:count\s+)?(?:1|one)\b)", re.IGNORECASE
)
_FEET = re.compile(
    r"\b(?P<verb>(?:hip\s+)?(?:sways?|bumps?|hips?|stomps?|walks?|march(?:es)?|steps?|rolls?))\s+(?P<feet>[RL](?:\s?[-/]?\s?[RL]){1,7})(?![\w/])",
    re.IGNORECASE,
)
_LASTS = rf"(?P<side>(?:to\s+(?:the\s+)?)?(?:left|right))\s+(?:over|for)\s+(?P<n>{NUMBER})\s+(?:counts?|beats?)"
_LASTING = re.compile(
    rf"\b(?P<verb>sway|rock|step|lean|drag)\s+{_LASTS}(?:(?:\s*,\s*(?:and\s+)?|\s+and\s+)(?:(?P=verb)\s+)?{_LASTS.replace('?P<side>', '').replace('?P<n>', '')})+",
    re.IGNORECASE,
)
_ONE_LASTING = re.compile(_LASTS, re.IGNORECASE)
_COUNTS_BEHIND = re.compile(r"(?P<words>[A-Za-z][A-Za-z ]*?)\s+(?P<counts>\d(?:[,-]\d)+)(?=\s*(?:,|$))")
_LENGTH = re.compile(r"\s*\(\s*(?P<n>\d{1,2})\s*(?:counts?|cts?|beats?|c)\.?\s*\)", re.IGNORECASE)
_END_BEHIND = re.compile(
    r"\b(?P<wall>(?:wall\s*|w)\d{1,2})\s+end\b(?!\s+(?:of|the|with|by|on|facing\s+the\s+front))", re.IGNORECASE
)
_HELD_FOR = re.compile(
    r"\b(?P<hold>hold|wait)\s+(?:for|on|during)\s+counts\s+(?P<low>\d)\s+(?:and|to)\s+(?P<high>\d)\b", re.IGNORECASE
)
# "W3 end: +4 cts HOLD"
_W_END = re.compile(
    r"\bW(?P<n>\d{1,2})\s+end\s*[:=]\s*\+\s?(?P<long>\d)\s*(?:counts?|cts?|c)\.?\s+(?P<steps>[A-Za-z][^|;]*)",
    re.IGNORECASE,
)
_END_BEFORE = re.compile(r"\bend\s+(?=(?:wall\s*|w)\d)", re.IGNORECASE)
# "TAG X 1 / END W5 / 2 CTS / STOMP R, STOMP L"
_SLASHED = re.compile(
    r"^(?P<head>\W*(?:tag|bridge)\b[^:/]*(?:/[^:/]*){0,2}?)\s*/\s*(?P<n>\d{1,2})\s*(?:counts?|cts?|beats?|c)\.?\s*/\s*(?P<steps>[^/]+)$",
    re.IGNORECASE,
)
_STANDS = re.compile(
    rf"\b(?:freeze|pose|stand\s+(?:quite\s+|perfectly\s+)?still|do\s+nothing)\s+(?=(?:for\s+)?{NUMBER}\s+(?:counts?|beats?)\b)",
    re.IGNORECASE,
)
_LONG_FIRST = re.compile(
    r"(?P<long>\b\d{1,2}\s*(?:counts?|cts?\.?|beats?))\s+(?=(?:hip\s+)?(?:sways?|bumps?|hips?|stomps?|walks?|march)\s+[RL]\b)",
    re.IGNORECASE,
)
# Steps that fill counts of their own from 1 on, and then the dance again: added to the wall, nothing is replaced.
_ADDED = re.compile(
    rf"^[\W_]*(?:(?:on|in)\s+)?(?P<wall>wall\s+\d{{1,2}}|(?:the\s+)?{ORDINAL}\s+wall)(?:\s+only)?(?P<faced>\s*,?\s*(?:facing\s+)?(?:1[0-2]|[1-9])(?:[:.]00|\s?o['\u2019]?clock))?\s*[:!\u2010-\u2015-]\s*"
    r"(?P<steps>[A-Za-z][^.;:]*?(?:\(\s*\d{1,2}\s*(?:counts?|cts?|beats?|c)\.?\s*\)|\b1-2(?:-\d)*\b[^.;:]*?))\s*[,\u2010-\u2015-]?\s*(?:and\s+|then\s+)*(?:re-?start|back\s+to\s+(?:count\s+)?(?:1|one)\b|start\s+again|from\s+the\s+top)",
    re.IGNORECASE,
)
# "WALL 4: 1-4 HIP BUMPS R, L, R, L - THEN RESTART (6:00)", below the last counts of a section
_ADDED_ON_COUNTS = re.compile(
    rf"^[\W_]*(?P<wall>(?:(?:on|in)\s+)?(?:wall\s+\d{{1,2}}|(?:the\s+)?{ORDINAL}\s+wall))\s*[:!\u2010-\u2015-]\s*1\s?[-\u2013]\s?(?P<n>\d)\s+(?P<words>[A-Za-z][^.;:()]*?)(?P<then>\s*[\u2010-\u2015,-]\s*(?:and\s+|then\s+)+(?:re-?start|start\s+again)\b.*)$",
    re.IGNORECASE,
)
_REPLACES = re.compile(r"\b(?:instead|replac|chang|in\s+place|counts?\s+\d|after\b|section)", re.IGNORECASE)


def events_plainly(lines: list[Line]) -> list[Line]:
    """The lines; one that tells a tag and a restart after it as two."""
    lines = _like_another(lines)
    return [one for n, line in enumerate(lines) for one in _told(line, lines[n - 1] if n else None)]


def _told(line: Line, above: Line | None) -> list[Line]:
    if _EVENT.search(line.text) is None:
        return [line]
    added = _ADDED_ON_COUNTS.match(line.text)
    before = read_counts(above.text) if above is not None else None
    if added is not None and before is not None and before.beats[-1].number > int(added["n"]):
        line = replace(
            line, text=f"{added['wall']}: {added['words']} ({added['n']} counts){added['then']}", exact=False
        )
    return _plain(line)


def _like_another(lines: list[Line]) -> list[Line]:
    """ "1-4  Like Tag 1", in a second tag: the steps of the first."""
    out: list[Line] = []
    for n, line in enumerate(lines):
        like = _LIKE.match(line.text)
        heads = [m for m in range(n) if (head := _HEADS.match(lines[m].text)) and like and head["name"] == like["name"]]
        below = list(takewhile(lambda m: lines[m].text.strip(), range(heads[-1] + 1, n))) if heads else []
        steps = [lines[m] for m in below if lines[m].text[:1].isdigit()]
        out += [replace(line, text=step.text, exact=False, source=line.text) for step in steps] or [line]
    return out


def _plain(line: Line) -> list[Line]:
    text = _FEET.sub(lambda f: f"{f['verb']} {', '.join(re.findall('[RL]', f['feet'].upper()))}", line.text)
    text = _HELD_FOR.sub(r"\g<hold> on counts \g<low>-\g<high>", _STANDS.sub("hold ", text))
    text = _W_END.sub(r"Tag at the end of wall \g<n> (\g<long> counts): \g<steps>", text)
    text = _END_BEFORE.sub(r"end of ", _END_BEHIND.sub(r"end of \g<wall>", text))
    if (slashed := _SLASHED.match(text)) is not None:
        text = f"{slashed['head']}, {slashed['n']} counts: {slashed['steps']}"
    text = _LONG_FIRST.sub(r"\g<long>: ", _LASTING.sub(_on_counts, text))
    added = _ADDED.match(text)
    if added is not None and _REPLACES.search(added["steps"]) is None:
        restart, tag = _added(added)
        return [replace(line, text=restart, exact=False), replace(line, text=tag, exact=False, source=line.text)]
    return [line if text == line.text else replace(line, text=text, exact=False, source=line.source or line.text)]


def _on_counts(found: re.Match[str]) -> str:
    """ "Sway left over three counts and right over three": "1-3 sway left, 4-6 sway right"."""
    told, at = [], 1
    for one in _ONE_LASTING.finditer(found[0]):
        last = at + number_of(one["n"]) - 1
        told.append(f"{at}-{last} {found['verb']} {one['side']}")
        at = last + 1
    return ", ".join(told)


def _added(found: re.Match[str]) -> tuple[str, str]:
    steps = found["steps"]
    faced = f" ({found['faced'].strip(' ,')})" if found["faced"] else ""
    length = _LENGTH.search(steps)
    counts = re.findall(r"\d", steps)
    long = length["n"] if length is not None else counts[-1] if counts else ""
    steps = _LENGTH.sub("", steps)
    counted = _COUNTS_BEHIND.sub(lambda f: f"{f['counts'][0]}-{f['counts'][-1]} {f['words'].strip()}", steps)
    wall = found["wall"]
    return f"Restart here on {wall}{faced}", f"Tag here on {wall} ({long} counts): {counted}"
