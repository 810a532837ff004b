"""How many of each kind there are, with what they are in brackets behind: "Tags: 1 (4 counts, end of wall 3)   Restarts: 1
(wall 6, after 12 counts)"; and the parts of a tag that have headings of their own, "T1 STEP, POINT" and "T2 BASICS".
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout.blocks import first_count
from caller.routine.layout.counted import shifted
from caller.routine.layout.lines import Line

_ITEM = re.compile(
    r"(?<!\w)(?P<kind>tag|bridge|re-?start|ending|step\s+change)s?\s*[:=]\s*(?:[1-4]|one|two|three|yes)\s*[(\[](?P<inner>(?:[^()\[\]]|\([^()]{0,40}\)){6,120}+)[)\]]",
    re.IGNORECASE,
)
_OF_WALL = re.compile(r"\bwalls?\s+\w|\bW\d|\b\w+(?:st|nd|rd|th)\s+(?:wall|time)", re.IGNORECASE)
_WALL_FIRST = re.compile(r"(?:W|Wall\s)\d{1,2}\s*[:=]", re.IGNORECASE)
_NEXT_WALL = re.compile(r"\s+[-\u2010-\u2015/|;]+\s+(?=(?:W|Wall\s)\d{1,2}\s*[:=])", re.IGNORECASE)
_AROUND = " \t,;|/&+\u2022\u00b7\u2010\u2011\u2012\u2013\u2014-"
_PART = re.compile(
    r"^(?P<letter>[TB])\.?\s?(?P<n>[1-4])\s*[:.)\u2010-\u2015-]?\s+(?P<name>[A-Z\u00bc-\u00be\d][^.:]{2,70})$"
)
_TAG = re.compile(r"\b(?:tag|bridge)\b", re.IGNORECASE)
_MOST_ABOVE = 4  # lines between a tag's heading and its first part


def told_by_number(lines: Sequence[Line]) -> list[Line]:
    """The lines, each kind on one of its own, and parts of tags as notes above their steps."""
    out = [told for line in lines for wall in _walls_apart(line) for told in _kinds_apart(wall)]
    parts = [n for n, line in enumerate(out) if _PART.match(line.text) and _counts_below(out, n)]
    return _one_tag(out, parts) if parts and _of_tag(out, parts) else out


def _walls_apart(line: Line) -> Iterator[Line]:
    """ "W2: short (24) with new 5-8 - W8: ending after 12": each wall on a line of its own."""
    pieces = _NEXT_WALL.split(line.text.strip(" !*"))
    if len(pieces) < 2 or not _WALL_FIRST.match(pieces[0]):
        yield line
        return
    for n, piece in enumerate(pieces):
        yield replace(line, text=piece.strip(), exact=False, source=" " if n else line.source or line.text)


def _kinds_apart(line: Line) -> Iterator[Line]:
    items = [found for found in _ITEM.finditer(line.text) if _OF_WALL.search(found["inner"])]
    if not items:
        yield line
        return
    before = line.text[: items[0].start()].rstrip(_AROUND)
    source = line.source or line.text
    if before:
        yield replace(line, text=before, exact=False, source=source)
    for n, (item, end) in enumerate(zip(items, [*(m.start() for m in items[1:]), len(line.text)], strict=True)):
        own = " " if n or before else source
        yield replace(line, text=f"{item['kind'].capitalize()} ({item['inner']})", exact=False, source=own)
        if behind := line.text[item.end() : end].strip(_AROUND):
            yield replace(line, text=behind, exact=False, source=" ")


def _counts_below(lines: Sequence[Line], n: int) -> bool:
    return n + 1 < len(lines) and read_counts(lines[n + 1].text) is not None


def _of_tag(lines: Sequence[Line], parts: list[int]) -> bool:
    """Whether a tag is headed right above the first of them, and they are numbered on."""
    above = [line.text for line in lines[max(0, parts[0] - _MOST_ABOVE) : parts[0]] if line.text.strip()]
    numbers = [int(found["n"]) for n in parts if (found := _PART.match(lines[n].text)) is not None]
    return bool(above) and _TAG.search(above[-1]) is not None and numbers == list(range(1, len(parts) + 1))


def _one_tag(lines: list[Line], parts: list[int]) -> list[Line]:
    """Each part's heading as a note, its counts going on where they begin again."""
    danced = 0
    for n, until in zip(parts, [*parts[1:], len(lines)], strict=True):
        lines[n] = replace(
            lines[n], text=f"Note: {lines[n].text}", exact=False, source=lines[n].source or lines[n].text
        )
        by = danced if first_count(lines[n + 1]) == 1 else 0
        for m in range(n + 1, until):
            counts = read_counts(lines[m].text)
            if counts is None:
                break
            lines[m] = shifted(lines[m], by)
            danced = counts.beats[-1].number + by
    return lines
