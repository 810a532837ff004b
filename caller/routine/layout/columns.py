"""Columns beside the steps: what to call, and which way the line goes, as some clubs' sheets have them."""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout.lines import Line

_GAP = re.compile(r"\s{2,}|\s*\|\s*")
_DIRECTION = re.compile(
    r"^(?:on\s+the\s+spot|in\s+place|forward|back|backward|right|left|side|diagonal(?:ly)?|turning(?:\s+(?:left|right))?|(?:left|right)\s+diagonal|(?:forward|back|travelling)\s*(?:right|left)?)\W*$",
    re.IGNORECASE,
)
_NAMES_COLUMN = re.compile(
    r"^(?:counts?|cts?\.?|beats?|timing|feet|foot|steps?|footwork|movements?|actions?|what\s+(?:you|we|to|it)\s+do(?:es)?|description|step\s+description"
    r"|fac(?:e|es|ing)|(?:end|you)\s+fac(?:e|es|ing)|clock|wall|direction|calls?|what\s+to\s+call|cues?|notes?|remarks?)\W*$",
    re.IGNORECASE,
)
_MOST_CALLED = 6  # words of a suggested call


def names_columns(text: str) -> bool:
    """ "Count   Step   Facing": what the columns below it hold, and nothing else."""
    cells = [cell for cell in _GAP.split(text.strip(" |\t")) if cell]
    return len(cells) > 1 and all(_NAMES_COLUMN.match(cell) for cell in cells)


def called(line: Line) -> Line:
    """ "1-2  Rock right to side. Recover left.   Side Rock   On the spot": the call quoted, the direction left out."""
    counts = read_counts(line.text)
    if counts is None or counts.end >= len(line.text):
        return line
    cells = [cell.strip() for cell in _GAP.split(line.text[counts.end :].strip()) if cell.strip()]
    if len(cells) < 3 or not _DIRECTION.match(cells[-1]) or len(cells[-2].split()) > _MOST_CALLED:
        if len(cells) != 2 or ("|" not in line.source and not _suggests(cells)):
            return line
        words, call = cells
    else:
        words, call = " ".join(cells[:-2]), cells[-2]
    if re.search(r"[\"\u201c(]|\d", call):
        return line
    return replace(line, text=f'{line.text[: counts.end]}{words}  "{call}"', exact=False, source=" ".join(cells))


def _suggests(cells: list[str]) -> bool:
    """Whether the second of two cells is a call for the first: a few words in capitals, no sentence."""
    call = cells[1]
    words = call.split()
    return (
        cells[0].endswith((".", ")")) and 0 < len(words) <= _MOST_CALLED and call.istitle() and not call.endswith(".")
    )
