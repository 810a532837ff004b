"""What stands on the screen, read back as eyes would: lines of cells, and words off their block letters."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import App
from textual.widget import Widget

from caller.screen.letters import SIZES, Size

_SQUARES = {" ": "..", "▀": "#.", "▄": ".#", "█": "##"}


def lines_of(app: App[None]) -> list[str]:
    """Every row of the screen."""
    return ["".join(segment.text for segment in strip) for strip in app.screen._compositor.render_strips()]


def lines_in(app: App[None], selector: str) -> list[str]:
    """The rows of one part's place. Exact where no wide characters stand to its left."""
    part = app.query_one(selector, Widget).content_region
    return [line[part.x : part.right] for line in lines_of(app)[part.y : part.bottom]]


def words_in(app: App[None], selector: str) -> tuple[str, int]:
    """The words of one part, and how many squares high their letters are (0 = ordinary letters)."""
    return read(lines_in(app, selector))


def read(lines: Sequence[str]) -> tuple[str, int]:
    """Words off lines of block letters, by matching the drawings square for square; else the lines' own text."""
    if all(cell in _SQUARES for line in lines for cell in line):
        rows = ["".join(_SQUARES[cell][half] for cell in line) for line in lines for half in (0, 1)]
        for size in SIZES:
            words = _read_at(rows, size)
            if words is not None:
                return words, size.height if words else 0
    return " ".join(" ".join(lines).split()), 0


def _read_at(rows: list[str], size: Size) -> str | None:
    """The words if every lit square belongs to a letter of that size."""
    words: list[str] = []
    top = 0
    while any("#" in row for row in rows[top:]):
        line = rows[top : top + size.height]
        found = _read_line(line, size) if len(line) == size.height else None
        if found is None or any("#" in row for row in rows[top + size.height : top + size.height + size.gap]):
            return None
        words.extend(found.split())
        top += size.height + size.gap
    return " ".join(words)


def _read_line(line: list[str], size: Size) -> str | None:
    found, x, blanks = "", 0, 0
    while x < len(line[0]):
        if all(row[x] == "." for row in line):
            x, blanks = x + 1, blanks + 1
            continue
        letter = max(
            (c for c in size.glyphs if _stands(line, x, c, size)), key=lambda c: len(size.glyphs[c][0]), default=""
        )
        if not letter:
            return None
        found += (" " if blanks > size.scale else "") + letter
        x, blanks = x + len(size.glyphs[letter][0]) * size.scale, 0
    return found or None


def _stands(line: list[str], x: int, character: str, size: Size) -> bool:
    drawn = ["".join(mark * size.scale for mark in row) for row in size.glyphs[character] for _ in range(size.scale)]
    wide = len(drawn[0])
    after = all(row[x + wide : x + wide + 1] in ("", ".") for row in line)
    return after and all(row[x : x + wide] == shape for row, shape in zip(line, drawn, strict=True))
