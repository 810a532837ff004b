"""Words in block letters, as large as a space allows.

Conventions: a square is one cell wide and half a cell high, which in the usual terminal fonts looks square; two of
them share a cell as ▀, ▄ or █. Heights of letters are in squares, spaces in cells and rows. Words are wrapped, never
cut; where not even the smallest letters fit, the words are shown as plain capitals.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from rich.cells import cell_len

from caller.screen.glyphs import LOW, TALL, Glyph
from caller.screen.plain_text import plain_text

_CELLS = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}
_ALIKE = str.maketrans("’‘“”–—−⁄…×", "''\"\"---/.*")
_WORD_SPACE = 3
_LOOSE_GAP = 2
# Squares high: 22 minutes of arc on a 14-inch laptop of 30 rows, 3 m away.
GOOD_HEIGHT = 7
# Beyond one character in four that has no block letter the words are better shown plainly.
_MOST_UNKNOWN = 4


@dataclass(frozen=True, slots=True)
class Size:
    """A drawing, each square of it drawn ``scale`` squares wide and high. gap: squares between two lines."""

    glyphs: Mapping[str, Glyph]
    scale: int
    gap: int

    @property
    def height(self) -> int:
        return len(self.glyphs["A"]) * self.scale


# Ends what has no room, and a wording that is not whole.
CUT = "…"
# Largest first, by height in squares: 42, 35, 28, 21, 14, 10, 7, 5.
SIZES = (
    *(Size(TALL, scale, scale + 1) for scale in (6, 5, 4, 3, 2)),
    Size(LOW, 2, 3),
    Size(TALL, 1, 2),
    Size(LOW, 1, 2),
    Size(LOW, 1, 1),
)


@dataclass(frozen=True, slots=True)
class Block:
    """Words as drawn: lines of exactly the width asked for. height: of a capital in squares; 0 = plain capitals.
    tight: with no more than one square between two lines."""

    lines: tuple[str, ...]
    height: int
    tight: bool = False


def capitals(text: str) -> str:
    """Plain capitals; fractions and typographic marks in characters that have a block letter, letters without accents
    where only the bare letter has one."""
    folded = unicodedata.normalize("NFKC", plain_text(text)).translate(_ALIKE).upper()
    return "".join(_bare(character) for character in folded)


def _bare(character: str) -> str:
    if character in TALL or character == " ":
        return character
    parts = unicodedata.normalize("NFKD", character)
    bare = parts[0] in TALL and all(unicodedata.combining(mark) for mark in parts[1:])
    return parts[0] if bare else character


@lru_cache(maxsize=256)
def fit(text: str, width: int, rows: int, place: str = "left", tallest: int = 42) -> Block:
    """``text`` in the largest letters that fit ``width`` cells and ``rows`` rows without cutting a word.

    place: "left", "center" or "right". tallest: the most squares a capital may be high. Never more than ``rows`` lines;
    plain words that don't fit end in an ellipsis.
    """
    words = capitals(text).split()
    unknown = sum(character not in TALL for word in words for character in word)
    if words and unknown * _MOST_UNKNOWN <= sum(map(len, words)):
        for size in SIZES:
            if size.height > min(tallest, 2 * rows):
                continue
            lines = _wrapped(words, size, width)
            if lines and len(lines) * (size.height + size.gap) - size.gap <= 2 * rows:
                return Block(
                    tuple(_drawn(lines, size, width, place)),
                    size.height,
                    tight=size.gap < _LOOSE_GAP and len(lines) > 1,
                )
    return Block(tuple(_placed(line, width, place) for line in _plain_lines(words, width, rows)), 0)


def fit_first(texts: Sequence[str], width: int, rows: int, place: str = "left", tallest: int = 42) -> Block:
    """The first of ``texts`` (longest first) that fits in letters of a good size, else the one that fits in the
    largest, rather not tightly; one that is cut (it ends in :data:`CUT`) where none that is whole fits in block
    letters. If none does, the first that fits whole in plain capitals, else the first."""
    whole = [fit(text, width, rows, place, tallest) for text in texts if not text.endswith(CUT)]
    cut = [] if any(block.height for block in whole) else [text for text in texts if text.endswith(CUT)]
    blocks = [*whole, *(fit(text, width, rows, place, tallest) for text in cut)]
    if all(block.height == 0 for block in blocks):
        fits = (block for block in blocks if not any(CUT in line for line in block.lines))
        return next(fits, blocks[0])
    good = (block for block in blocks if block.height >= min(GOOD_HEIGHT, tallest) and not block.tight)
    return next(good, max(blocks, key=lambda block: (block.height, not block.tight)))


def _squares(word: str, size: Size) -> int:
    """Width of a word in squares."""
    each = [len(size.glyphs[c][0]) * size.scale if c in size.glyphs else cell_len(c) for c in word]
    return sum(each) + size.scale * (len(each) - 1)


def _wrapped(words: Sequence[str], size: Size, width: int) -> list[str]:
    """The words in as few lines as they need; empty where one word is too wide."""
    lines: list[str] = []
    left = -1
    space = _WORD_SPACE * size.scale
    for word in words:
        wide = _squares(word, size)
        if wide > width:
            return []
        if left >= space + wide:
            lines[-1] += " " + word
            left -= space + wide
        else:
            lines.append(word)
            left = width - wide
    return lines


def _drawn(lines: Sequence[str], size: Size, width: int, place: str) -> Iterator[str]:
    """The lines as cells. What has no block letter stands as itself, half way up."""
    lit: list[list[bool]] = []
    plain: dict[tuple[int, int], str] = {}
    for line in lines:
        if lit:
            lit.extend([False] * width for _ in range(size.gap))
        top = len(lit)
        lit.extend([False] * width for _ in range(size.height))
        x = _start(
            sum(_squares(w, size) for w in line.split()) + _WORD_SPACE * size.scale * line.count(" "), width, place
        )
        for character in line:
            glyph = size.glyphs.get(character)
            if character == " ":  # the letter before it has left one square already
                x += (_WORD_SPACE - 1) * size.scale
            elif glyph is None:
                if cell_len(character):  # a mark without a letter has no cell of its own
                    plain[(top + size.height // 2) // 2, x] = character
                x += cell_len(character) + size.scale
            else:
                _light(lit, glyph, top, x, size.scale)
                x += (len(glyph[0]) + 1) * size.scale
    yield from half_blocks(lit, plain)


def _light(lit: list[list[bool]], glyph: Glyph, top: int, x: int, scale: int) -> None:
    for down, row in enumerate(glyph):
        for across, mark in enumerate(row):
            if mark == "#":
                for y in range(top + down * scale, top + (down + 1) * scale):
                    lit[y][x + across * scale : x + (across + 1) * scale] = [True] * scale


def half_blocks(lit: Sequence[Sequence[bool]], plain: Mapping[tuple[int, int], str]) -> Iterator[str]:
    """Rows of squares, two to a row of cells. plain: characters that stand at (row, cell) instead."""
    dark = [False] * len(lit[0])
    for row in range(0, len(lit), 2):
        under = lit[row + 1] if row + 1 < len(lit) else dark
        cells: list[str] = []
        for x, pair in enumerate(zip(lit[row], under, strict=True)):
            character = plain.get((row // 2, x))
            if character is not None:
                cells.append(character)
            elif cell_len(plain.get((row // 2, x - 1), "")) < 2:
                cells.append(_CELLS[pair])
        yield "".join(cells)


def _start(taken: int, width: int, place: str) -> int:
    return {"left": 0, "center": (width - taken) // 2, "right": width - taken}[place]


def _placed(line: str, width: int, place: str) -> str:
    taken = cell_len(line)
    before = _start(taken, width, place)
    return " " * before + line + " " * (width - taken - before)


def _plain_lines(words: Sequence[str], width: int, rows: int) -> list[str]:
    lines: list[str] = []
    for word in (piece for whole in words for piece in _pieces(whole, width)):
        if lines and cell_len(lines[-1]) + 1 + cell_len(word) <= width:
            lines[-1] += " " + word
        else:
            lines.append(word)
    if len(lines) <= rows or width < 1:
        return lines[: max(rows, 0)]
    kept = lines[: max(rows, 0)]
    if kept:
        last = kept[-1]
        while last and cell_len(last) >= width:
            last = last[:-1]
        kept[-1] = last + CUT
    return kept


def _pieces(word: str, width: int) -> Iterator[str]:
    """A word wider than the space in pieces that fit, without what is wider by itself; else the word."""
    piece = ""
    for character in word:
        if cell_len(character) > width:
            continue
        if cell_len(piece + character) > width:
            yield piece
            piece = ""
        piece += character
    if piece:
        yield piece
