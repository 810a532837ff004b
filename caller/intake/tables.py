"""Cells that stand side by side, as lines: a row of a table, or columns that were only laid out as one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from caller.intake.found import clean, row
from caller.routine.count import read_counts

_FLOWS = 3  # lines with counts from which a cell is a column of its own rather than a part of rows


def side_by_side(cells: Sequence[Sequence[str]]) -> Iterator[str]:
    """The lines of cells of one row. Cells with as many lines as each other are rows; cells that each have counts of
    their own are columns, and stand one after the other."""
    full = [[line for line in map(clean, cell) if line] for cell in cells]
    full = [cell for cell in full if cell]
    if len(full) == 1 or _columns(full):
        for cell in full:
            yield from cell
    elif full and len({len(cell) for cell in full}) == 1:
        yield from (row(line) for line in zip(*full, strict=True))
    elif full:
        yield row(" ".join(cell) for cell in full)


def _columns(cells: Sequence[Sequence[str]]) -> bool:
    counted = [sum(has_counts(line) for line in cell) for cell in cells]
    worded = [sum(has_counts(line) and not only_counts(line) for line in cell) for cell in cells]
    return sum(n >= _FLOWS for n in worded) >= 2 or (any(n >= _FLOWS for n in worded) and not all(counted))


def has_counts(line: str) -> bool:
    """Whether a line begins with counts, as a step line does."""
    return read_counts(line) is not None


def only_counts(line: str) -> bool:
    counts = read_counts(line)
    return counts is not None and not line[counts.end :].strip()
