"""Sections as grids that are read downwards: a row of counts, below it a row of feet, below that what each does.

"count | 1 | 2", "foot  | R | L", "step  | side | behind" is a step on each count.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from caller.routine.layout.lines import Line

_GAP = re.compile(r"\s{2,}|\t")
_COUNTS = re.compile(r"^(?:counts?|cts?\.?|beats?|timing)\W*$", re.IGNORECASE)
_FEET = re.compile(r"^(?:foot|feet|which\s+foot|lead)\W*$", re.IGNORECASE)
_STEPS = re.compile(
    r"^(?:steps?|movements?|moves?|actions?|does|what(?:\s+(?:it|to|you)\s+do(?:es)?)?|footwork)\W*$", re.IGNORECASE
)
_FACED = re.compile(r"^(?:fac(?:e|es|ing)|wall|clock)\W*$", re.IGNORECASE)
_COUNT = re.compile(r"^(?:\d{1,2}|&|and|a|e)$", re.IGNORECASE)
_LEAST = 3  # cells, the label's included
_MOST = 9  # rows


def read_downwards(lines: Sequence[Line]) -> list[Line]:
    """The lines, each grid as a line for each of its counts."""
    out: list[Line] = []
    n = 0
    while n < len(lines):
        length, told = _grid(lines, n)
        out += told or [lines[n]]
        n += length or 1
    return out


def _cells(line: Line, barred: bool) -> list[str]:
    """barred: each row begins with a bar of its own."""
    if not line.cells:
        return [cell.strip() for cell in _GAP.split(line.text.strip())]
    cells = list(line.cells[1:] if barred and not line.cells[0] else line.cells)
    return cells[:-1] if len(cells) > 1 and not cells[-1] and barred else cells


def _grid(lines: Sequence[Line], start: int) -> tuple[int, list[Line]]:
    """How many rows the grid at ``start`` has, and its steps; (0, []) where there is none."""
    barred = lines[start].cells[:1] == ("",)
    head = _cells(lines[start], barred)
    if len(head) < _LEAST or not _COUNTS.match(head[0]) or not all(_COUNT.match(cell) for cell in head[1:]):
        return 0, []
    rows: dict[str, list[str]] = {}
    end, kind = start + 1, ""
    while end < len(lines) and end - start < _MOST:
        cells = _cells(lines[end], barred)
        named = next((name for name, label in _ROWS if label.match(cells[0])), "")
        if named:
            kind = named
            rows[kind] = [*cells[1:], *[""] * (len(head) - len(cells))]
        elif kind and not cells[0] and len(cells) > 1:  # words that had no room in their cell
            rows[kind] = [
                f"{over} {own}".strip() for over, own in zip(rows[kind], [*cells[1:], *[""] * len(head)], strict=False)
            ]
        elif kind or lines[end].text:
            break
        end += 1
    if "steps" not in rows or any(len(row) >= len(head) + 1 for row in rows.values()):
        return 0, []
    feet, faced = rows.get("feet", [""] * len(head)), rows.get("faced", [""] * len(head))
    told = list[Line]()
    for count, foot, step, facing in zip(_numbered(head[1:]), feet, rows["steps"], faced, strict=False):
        if step:
            text = f"{count}  {foot} {step}{f' ({facing})' if facing else ''}"
            told.append(replace(lines[end - 1], text=text, exact=False))
    counted = (replace(row, text=" ", exact=False) for row in lines[start : end - 1])  # what they tell stands below
    return end - start, [*counted, *told]


_ROWS = (("feet", _FEET), ("steps", _STEPS), ("faced", _FACED))


def _numbered(counts: Sequence[str]) -> list[str]:
    """ "and" as "&": what stands between two counts belongs to none of them alone."""
    return ["&" if count.lower() == "and" else count for count in counts]
