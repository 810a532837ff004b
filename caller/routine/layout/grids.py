"""Sections as grids that are read downwards: a row of counts, below it a row of feet, below that what each does.

"count | 1 | 2", "foot  | R | L", "step  | side | behind" is a step on each count.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from caller.routine.layout.lines import Line

_GAP = re.compile(r"\s*[|\t]\s*|\s{2,}")
_COUNTS = re.compile(r"^(?:counts?|cts?\.?|beats?|timing)\W*$", re.IGNORECASE)
_FEET = re.compile(r"^(?:foot|feet|which\s+foot|lead)\W*$", re.IGNORECASE)
_STEPS = re.compile(
    r"^(?:steps?|movements?|moves?|actions?|does|what(?:\s+(?:it|to|you)\s+do(?:es)?)?|footwork)\W*$", re.IGNORECASE
)
_FACED = re.compile(r"^(?:fac(?:e|es|ing)|wall|clock)\W*$", re.IGNORECASE)
_COUNT = re.compile(r"^(?:\d{1,2}|&|and|a|e)$", re.IGNORECASE)
_LEAST = 3  # cells, the label's included
_MOST = 4  # rows


def read_downwards(lines: Sequence[Line]) -> list[Line]:
    """The lines, each grid as a line for each of its counts."""
    out: list[Line] = []
    n = 0
    while n < len(lines):
        length, told = _grid(lines, n)
        out += told or [lines[n]]
        n += length or 1
    return out


def _cells(text: str) -> list[str]:
    return [cell.strip() for cell in _GAP.split(text.strip().strip("|").strip())]


def _grid(lines: Sequence[Line], start: int) -> tuple[int, list[Line]]:
    """How many rows the grid at ``start`` has, and its steps; (0, []) where there is none."""
    head = _cells(lines[start].text)
    if len(head) < _LEAST or not _COUNTS.match(head[0]) or not all(_COUNT.match(cell) for cell in head[1:]):
        return 0, []
    rows: dict[str, list[str]] = {}
    end = start + 1
    while end < len(lines) and end - start < _MOST and lines[end].text:
        cells = _cells(lines[end].text)
        kind = next((name for name, label in _ROWS if label.match(cells[0])), "")
        if not kind or len(cells) > len(head):
            break
        rows[kind] = [*cells[1:], *[""] * (len(head) - len(cells))]
        end += 1
    if "steps" not in rows:
        return 0, []
    feet, faced = rows.get("feet", [""] * len(head)), rows.get("faced", [""] * len(head))
    counts, told = _numbered(head[1:]), list[Line]()
    for count, foot, step, facing in zip(counts, feet, rows["steps"], faced, strict=False):
        if step:
            text = f"{count}  {foot} {step}{f' ({facing})' if facing else ''}"
            told.append(replace(lines[end - 1], text=" ".join(text.split(" ")), exact=False))
    counted = (replace(row, text=" ", exact=False) for row in lines[start : end - 1])  # what they tell stands below
    return end - start, [*counted, *told]


_ROWS = (("feet", _FEET), ("steps", _STEPS), ("faced", _FACED))


def _numbered(counts: Sequence[str]) -> list[str]:
    """ "and" as "&": what stands between two counts belongs to none of them alone."""
    return ["&" if count.lower() == "and" else count for count in counts]
