"""How sure the beats of a recording are, bar by bar: as lines for a terminal, and as a drawing.

Conventions: bars as :meth:`caller.clock.grid.Grid.bars` tells them, sure in per cent; times as minutes and seconds.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from html import escape
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from caller.clock.grid import Grid

BARS_A_LINE = 32
# From the least sure up; told apart without colour.
SHADES = ((75, "█"), (60, "▓"), (45, "▒"), (0, "·"))
WORDS = "█ sure  ▓ fairly  ▒ hardly  · not sure"
WIDE, HIGH, ROW, MARGIN = 16, 28, 52, 70


def clock(seconds: Fraction | float) -> str:
    """Minutes and seconds: 1:04."""
    whole = max(int(seconds), 0)
    return f"{whole // 60}:{whole % 60:02}"


def drawn(grid: Grid, meter: int) -> Iterator[str]:
    """A character a bar; each line begins with its time."""
    bars = grid.bars(meter)
    for start in range(0, len(bars), BARS_A_LINE):
        line = bars[start : start + BARS_A_LINE]
        yield f"{clock(line[0][0]):>6}  {''.join(_shade(sure) for _, _, sure in line)}"
    if bars:
        yield f"{'':>6}  a bar each: {WORDS}"


def unsure_words(grid: Grid, meter: int) -> str:
    """Where it is not sure, by time; "" where it is throughout."""
    return ", ".join(f"{clock(first)} to {clock(last)}" for first, last in grid.unsure(meter))


def svg(grid: Grid, meter: int, title: str) -> str:
    """A drawing: a bar of music a bar, as high as it is sure, with how long its beats are as a line: level where the
    tempo is even."""
    bars = grid.bars(meter)
    rows = [bars[start : start + BARS_A_LINE] for start in range(0, len(bars), BARS_A_LINE)]
    width, height = MARGIN + BARS_A_LINE * WIDE + 20, 60 + ROW * len(rows)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}" '
        'font-family="sans-serif" font-size="13">',
        f"<title>How sure the beats of {escape(title)} are</title>",
        '<rect width="100%" height="100%" fill="#fff"/>',
        f'<text x="10" y="22">{escape(title)}: {float(grid.tempo):.1f} counts a minute; a column a bar, full: sure; '
        "line: tempo</text>",
    ]
    for index, row in enumerate(rows):
        parts += _svg_row(row, 40 + ROW * index, grid, meter)
    return "\n".join([*parts, "</svg>", ""])


def _svg_row(row: tuple[tuple[Fraction, Fraction, int], ...], top: int, grid: Grid, meter: int) -> Iterator[str]:
    yield f'<text x="10" y="{top + HIGH - 4}">{clock(row[0][0])}</text>'
    points = []
    for n, (first, last, sure) in enumerate(row):
        left, high = MARGIN + n * WIDE, HIGH * sure / 100
        fill = "#2f6f4f" if sure >= SHADES[2][0] else "#b3541e"
        yield (
            f'<rect x="{left}" y="{top + HIGH - high:.1f}" width="{WIDE - 2}" height="{high:.1f}" fill="{fill}">'
            f"<title>{clock(first)}: {sure} % sure</title></rect>"
        )
        tempo = float(60 * meter / (last - first))
        points.append(f"{left + WIDE / 2:.0f},{top + HIGH / 2 - 100 * (tempo / float(grid.tempo) - 1):.1f}")
    yield f'<polyline points="{" ".join(points)}" fill="none" stroke="#000" stroke-width="1.5"/>'


def _shade(sure: int) -> str:
    return next(shade for least, shade in SHADES if sure >= least)
