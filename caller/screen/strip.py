"""The wall as a strip, and the running order as a row of walls, drawn in ordinary letters.

Conventions: one cell or more a count; ``▄`` has begun, ``▁`` lies ahead, ``~`` lies ahead and differs from the usual
steps. Labels stand before their piece and are never cut: where there is too little room, pieces are left out at the
far end and an ellipsis says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from rich.cells import cell_len

from caller.screen.plain_text import plain_text

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.screen.course import CoursePiece, OrderWall, Strip

_MOST_CELLS_A_COUNT = 3
_EVENTS = {"tag": "tag", "restart": "restart", "change": "change", "ending": "ending"}


def strip_line(strip: Strip, width: int, holds: Sequence[str] = ()) -> str:
    """ "1 ▄▄▄▄▄▄▄▄  2 ▄▄▄▁▁▁▁▁  3 ▁▁~~▁▁▁▁  tag ▁▁▁▁  restart     tag in 24": what is next stands at the right, and
    what holds besides (muted, the easier way), as much of it as leaves each count a cell; all where nothing would."""
    counts = sum(piece.counts for piece in strip.pieces)
    labels = sum(cell_len(piece.label) + 3 for piece in strip.pieces) + cell_len(strip.ends)
    for kept in (*range(len(holds), 0, -1), len(holds)):
        left_out = ("…",) if kept < len(holds) else ()
        ahead = " · ".join(plain_text(note) for note in (*holds[:kept], *left_out, strip.ahead) if note)
        room = width - cell_len(ahead) - 2 if ahead else width
        cells = (room - labels) // max(counts, 1)
        if cells >= 1:
            break
    drawn = _pieces(strip, min(cells, _MOST_CELLS_A_COUNT)) if cells >= 1 else _labels_only(strip)
    line = _as_fits(drawn, room)
    return (line + " " * (width - cell_len(line) - cell_len(ahead)) + ahead) if cell_len(ahead) < width else line


def _pieces(strip: Strip, cells: int) -> list[str]:
    drawn, before = [], 0
    for piece in strip.pieces:
        counts = "".join(_mark(piece, count, before + count < strip.danced) * cells for count in range(piece.counts))
        drawn.append(f"{plain_text(piece.label)} {counts}".strip())
        before += piece.counts
    return [*drawn, *([strip.ends] if strip.ends else [])]


def _mark(piece: CoursePiece, count: int, begun: bool) -> str:
    if begun:
        return "▄"
    return "~" if any(first <= count < last for first, last in piece.changed) else "▁"


def _labels_only(strip: Strip) -> list[str]:
    """Where no count has a cell of its own: the pieces' labels, the one under way in brackets."""
    drawn, before = [], 0
    for piece in strip.pieces:
        now = before < strip.danced <= before + piece.counts
        drawn.append(f"[{plain_text(piece.label)}]" if now else plain_text(piece.label))
        before += piece.counts
    return [*drawn, *([strip.ends] if strip.ends else [])]


def _as_fits(parts: Sequence[str], width: int, before: str = "") -> str:
    """As many whole parts as there is room for, and an ellipsis where some are left out."""
    line = "  ".join([*([before] if before else []), *parts])
    if cell_len(line) <= width:
        return line
    for kept in range(len(parts) - 1, -1, -1):
        line = "  ".join([*([before] if before else []), *parts[:kept], "…"])
        if cell_len(line) <= width:
            return line
    return ""


def order_lines(order: Sequence[OrderWall], now: int, width: int, rows: int) -> list[str]:
    """The running order as a map: each wall's number, where it starts facing (below it, where there are two rows) and
    its events, the one danced now in brackets. Where there is too little room walls already danced are left out, then
    those furthest ahead; never where a wall faces. now: 0 = none."""
    if rows < 1:
        return []
    columns = [_column(wall, now, rows) for wall in order]
    for first in range(max(now, 1)):
        heads = ("Walls …" if first else "Walls", "facing")[:rows]
        lines = _laid(heads, columns[first:])
        if all(cell_len(line) <= width for line in lines):
            return lines
    shown = columns[max(now, 1) - 1 :]
    for kept in range(len(shown) - 1, 0, -1):
        lines = _laid(heads, [*shown[:kept], ("…", "")[:rows]])
        if all(cell_len(line) <= width for line in lines):
            return lines
    return [_as_fits(parts, width) for parts in zip(heads, *shown, strict=True)]


def _column(wall: OrderWall, now: int, rows: int) -> tuple[str, ...]:
    clock = [wall.starts.clock] if rows == 1 else []
    name = " ".join(
        (f"{wall.number}{plain_text(wall.part)}", *clock, *(_EVENTS.get(kind, kind) for kind in wall.events))
    )
    return (f"[{name}]" if wall.number == now else name, wall.starts.clock)[:rows]


def _laid(heads: Sequence[str], columns: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(map(cell_len, column)) for column in (heads, *columns)]
    rows = zip(heads, *columns, strict=True)
    return ["  ".join(c + " " * (w - cell_len(c)) for c, w in zip(r, widths, strict=True)).rstrip() for r in rows]
