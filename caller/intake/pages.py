"""Cells on pages to lines in reading order: columns one after the other, lines that were broken for want of room whole
again, page furniture left out.

Conventions: points, x from the left, y from the top. Pure: what a page is made of comes in, lines come out.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise
from statistics import median

from caller.intake.found import PAGE_NUMBER, row
from caller.intake.tables import has_counts, only_counts
from caller.routine.layout.headings import read_heading
from caller.routine.vocabulary import shipped_text


@dataclass(frozen=True, slots=True)
class Cell:
    """Words without a wide gap in them. first: the width of the first of them."""

    x0: float
    x1: float
    text: str
    first: float


@dataclass(slots=True)
class CellRow:
    """Cells that are level. y: their middle. size: the height of a line of theirs."""

    y: float
    size: float
    cells: list[Cell]

    @property
    def text(self) -> str:
        return row(cell.text for cell in self.cells)


@dataclass(slots=True)
class Page:
    """across: words that run another way than the page."""

    width: float
    height: float
    lines: list[CellRow] = field(default_factory=list)
    across: list[str] = field(default_factory=list)


_LEAST_COUNTED = 2  # step lines on either side of a gutter
_LEVEL = 3.0  # points within which edges are in one line
_NEXT_LINE = 1.75  # further apart, in heights, lines are of different paragraphs
_GAP = 1.9
_APART = 1.3  # times the usual distance of lines, from which one stands apart
_EDGE = 0.12  # of a page's height, in which page numbers stand
_PRINTED = re.compile(
    r"^(?:https?|file)://\S+|^\d{1,4}[/.-]\d{1,2}[/.-]\d{2,4},?\s+\d{1,2}[:.]\d{2}|\d{1,2}[:.]\d{2}(?:\s?[ap]m)?\s*$(?<=\d{4})|(?:https?|file)://\S+\s+\d+/\d+$",
    re.IGNORECASE,
)
# A foot or a facing: never a line of its own.
_NO_LINE = re.compile(r"^(?:[RL]|\(?\d{1,2}[:.]\d\d\)?)[.,;]?$")
_STARTS = re.compile(
    r"^(?:[\u2022\u25aa\u25cf\u25e6*#>\u2605]|\(?(?:easier\s+|easy\s+)?(?:option|tag|bridge|restart|re-start|ending|note|repeat|part|section|choreo\w*|music|intro|level|wall|walls|counts?|start|begin)\b"
    r"|[A-Z][\w ]{1,24}:\s|[-\u2013\u2014]\s)",
    re.IGNORECASE,
)


def page_lines(pages: Sequence[Page]) -> tuple[list[str], list[str]]:
    """The lines of all pages, and what was left out of them."""
    left_out = _take_furniture(pages)
    lines: list[str] = []
    for page in pages:
        margin = min((line.cells[0].x0 for line in page.lines), default=0.0)
        edge = max(page.width - margin, 0.0)
        for flow, right in _flows(_levelled(page.lines), edge):
            lines += _rows(flow, right)
        lines.append("")
    return lines, left_out


# -- furniture


def _take_furniture(pages: Sequence[Page]) -> list[str]:
    """What repeats at the head or foot of pages, page numbers, and what a browser prints there, taken off the pages."""
    repeated = Counter(line.text for page in pages for line in {line.text: line for line in _outer(page)}.values())
    taken: list[str] = []
    for page in pages:
        for line in _outer(page):
            again = repeated[line.text] > 1 and not has_counts(line.text)
            edge = line.y < _EDGE * page.height or line.y > (1 - _EDGE) * page.height
            if (again or (edge and (PAGE_NUMBER.match(line.text) or _PRINTED.search(line.text)))) or _heads_title(
                page, line
            ):
                page.lines.remove(line)
                taken.append(line.text)
    return list(dict.fromkeys(taken))


def _outer(page: Page) -> list[CellRow]:
    ends = page.lines[:2] + page.lines[-2:] if len(page.lines) > 3 else page.lines
    return list({id(line): line for line in ends}.values())


def _heads_title(page: Page, line: CellRow) -> bool:
    """A running header: small, at the very top, well above a title in far larger letters."""
    if len(page.lines) < 4 or line is not page.lines[0] or line.y > _EDGE * page.height:
        return False
    title = page.lines[1]
    return title.size > 1.35 * line.size and title.y - line.y > 1.2 * title.size and not re.search(r"\d", line.text)


def _levelled(lines: Sequence[CellRow]) -> list[CellRow]:
    """Counts that stand halfway between the two lines of the cell beside them, level with the first of these."""
    level: list[CellRow] = []
    for line in lines:
        if len(level) > 1 and _is_halfway(level[-2], level[-1], line):
            counts, words = level.pop(), level.pop()
            level.append(CellRow(words.y, words.size, [*counts.cells, *words.cells]))
        level.append(line)
    return level


def _is_halfway(above: CellRow, counts: CellRow, below: CellRow) -> bool:
    near = 0.8 * counts.size
    beside = counts.cells[-1].x1 < above.cells[0].x0 and abs(above.cells[0].x0 - below.cells[0].x0) < _LEVEL
    return beside and counts.y - above.y < near and below.y - counts.y < near and only_counts(counts.text)


# -- columns


def _flows(lines: Sequence[CellRow], edge: float) -> Iterator[tuple[list[CellRow], float]]:
    """What is read in one go, each with where its lines end at the right."""
    found = _gutter(lines)
    if found is None:
        yield list(lines), edge
        return
    first, last, gutter = found
    if first:
        yield from _flows(lines[:first], edge)
    left, right = _parted(lines[first:last], gutter)
    yield from _flows(left, gutter - left[0].size)
    yield from _flows(right, edge)
    if last < len(lines):
        yield from _flows(lines[last:], edge)


def _parted(lines: Sequence[CellRow], gutter: float) -> tuple[list[CellRow], list[CellRow]]:
    left: list[CellRow] = []
    right: list[CellRow] = []
    for line in lines:
        for side, cells in (
            (left, [c for c in line.cells if c.x0 < gutter - _LEVEL]),
            (right, [c for c in line.cells if c.x0 >= gutter - _LEVEL]),
        ):
            if cells:
                side.append(CellRow(line.y, line.size, cells))
    return left, right


def _gutter(lines: Sequence[CellRow]) -> tuple[int, int, float] | None:
    """From which line to which there are two columns, and where the second begins."""
    if len(lines) < 2 * _LEAST_COUNTED:
        return None
    start = min(line.cells[0].x0 for line in lines)
    width = max(line.cells[-1].x1 for line in lines) - start
    edges = Counter(round(cell.x0 / _LEVEL) for line in lines for cell in line.cells if cell.x0 > start + 0.25 * width)
    for edge in sorted(key for key, n in edges.items() if n + edges[key - 1] + edges[key + 1] >= 3):
        gutter = edge * _LEVEL
        for first, last in _clear(lines, gutter):
            if _are_columns(lines[first:last], gutter):
                return first, last, gutter
    return None


def _clear(lines: Sequence[CellRow], gutter: float) -> Iterator[tuple[int, int]]:
    """Runs of lines in which nothing crosses the gutter, from the first that has something beyond it."""
    first = 0
    for n in range(len(lines) + 1):
        if n < len(lines) and not any(c.x0 < gutter - _LEVEL and c.x1 > gutter - _LEVEL for c in lines[n].cells):
            continue
        beyond = [k for k in range(first, n) if lines[k].cells[-1].x0 >= gutter - _LEVEL]
        if len(beyond) >= _LEAST_COUNTED:
            yield beyond[0], _without_tail(lines, beyond, n)
        first = n + 1


def _without_tail(lines: Sequence[CellRow], beyond: Sequence[int], last: int) -> int:
    """Below the end of the second column: the first column's own rest, up to what stands apart and heads no section."""
    leading = median(b.y - a.y for a, b in pairwise(lines[beyond[0] : beyond[-1] + 1]))
    for n in range(beyond[-1] + 1, last):
        if lines[n].y - lines[n - 1].y > _APART * leading and read_heading(lines[n].text, False) is None:
            return n
    return last


def _are_columns(lines: Sequence[CellRow], gutter: float) -> bool:
    """Both sides have step lines of their own. Rows of a table have their counts on the left alone."""
    left, right = _parted(lines, gutter)
    counted = [sum(has_counts(line.text) for line in side) for side in (left, right)]
    return min(counted) >= _LEAST_COUNTED and sum(len(line.text) > 12 for line in right) >= _LEAST_COUNTED


# -- lines that were broken


def _rows(lines: Sequence[CellRow], edge: float) -> Iterator[str]:
    """The lines of one flow, those whole again that were broken where there was no room; an empty line where paragraphs
    stand apart."""
    whole: list[Cell] = []
    before: CellRow | None = None
    edge = _right_edge(lines, edge)
    for line in lines:
        if before is not None:
            broken = _broken_from(whole, before, line, edge)
            if broken is not None:
                whole[broken] = _joined(whole[broken], line)
                before = line
                continue
            yield row(cell.text for cell in whole)
            if line.y - before.y > _GAP * max(line.size, before.size):
                yield ""
        whole, before = list(line.cells), line
    if whole:
        yield row(cell.text for cell in whole)


def _right_edge(lines: Sequence[CellRow], edge: float) -> float:
    """Where lines are broken: where the longest ends, if that is near the edge of the page or the next column."""
    longest = max((line.cells[-1].x1 for line in lines), default=edge)
    near = 4 * max((line.size for line in lines), default=0.0)
    return min(longest, edge) if edge - longest < near else edge


def _broken_from(whole: Sequence[Cell], before: CellRow, line: CellRow, edge: float) -> int | None:
    """Which cell of the line above goes on in this one; None where it begins something of its own."""
    head = line.cells[0]
    apart = line.y - before.y > _NEXT_LINE * max(line.size, before.size) or not 0.8 < line.size / before.size < 1.25
    if apart or _begins(head.text) or len(line.cells) > len(whole):
        return None
    below = next((n for n, cell in enumerate(whole) if n and abs(cell.x0 - head.x0) < _LEVEL), None)
    if below is None and head.x0 < whole[0].x0 - _LEVEL:
        return None
    at = below if below is not None else len(whole) - 1
    cell = whole[at]
    right = whole[at + 1].x0 - 0.5 * line.size if at + 1 < len(whole) else edge
    full = cell.x1 + 0.25 * line.size + head.first > right - (0.0 if at + 1 == len(whole) else 1.5) * line.size
    if _NO_LINE.match(line.text) and has_counts(row(c.text for c in whole)):
        return at
    open_ended = cell.text.endswith((",", "&", "-", "/")) or head.text[:1].islower()
    if full and (open_ended or len(line.cells) == 1):
        return at
    return (
        at
        if open_ended
        and (below is not None or head.x0 > whole[0].x0 + _LEVEL)
        and has_counts(row(c.text for c in whole))
        else None
    )


def _begins(text: str) -> bool:
    return has_counts(text) or _STARTS.match(text) is not None or read_heading(text, False) is not None


def _joined(cell: Cell, line: CellRow) -> Cell:
    """x1: of the last line, since that is what the next one is measured by."""
    more = line.text
    text = f"{cell.text} {more}"
    broken = re.search(r"([^\W\d_]+)-$", cell.text)
    if broken is not None and more[:1].islower():
        text = f"{cell.text}{more}" if broken[1].lower() in _known_words() else f"{cell.text[:-1]}{more}"
    return Cell(cell.x0, line.cells[-1].x1, text, cell.first)


@lru_cache(maxsize=1)
def _known_words() -> frozenset[str]:
    """Words of the floor: a hyphen behind one of them is its author's ("kick-ball-change")."""
    return frozenset(re.findall(r"[a-z]+", shipped_text().lower())) - {"to", "a", "of"}
