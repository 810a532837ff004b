"""For a terminal with few characters or colours, above all the Linux console: what it has not is shown as what it has.

Conventions: the 256 characters of code page 437, which is the font that the Linux kernel brings and the set that its
own table maps to. What is shown instead is as wide as what it stands for. Where there are 16 colours, bold letters are
commonly drawn in the brighter ink of the two, so that bold black is grey; the Linux console does so, and its grounds
are eight, none of them bright (console_codes(4)): what is yellow elsewhere is brown there.
"""

from __future__ import annotations

import os
import unicodedata
from collections.abc import Mapping
from functools import lru_cache

from rich.cells import cell_len
from rich.color import Color as Ink
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

TERMINALS = ("linux", "cons25", "vt100", "vt220")  # as TERM names them
FEW = frozenset(bytes(range(256)).decode("cp437")) | frozenset(map(chr, range(128)))
_INSTEAD = {
    ".": "…",
    "'": "‘’",
    '"': "“”",
    "-": "‐‑‒–—―−",
    "x": "×",
    "/": "⁄",
    "*": "★☆♥♡♪♫",
    "+": "†‡",
    "<": "←◀",
    "^": "↑▲",
    ">": "→▶",
    "v": "↓▼",
    "√": "✓",
    "·": "•",
    "_": "▁▂▃",
    "▀": "▔",
    "▌": "▎▏▍",
    "▐": "▕",
    "█": "▊▋▉▅▆▇",
}
ALIKE = {ord(character): instead for instead, alike in _INSTEAD.items() for character in alike}
BLACK, GREY = Ink.from_ansi(0), Ink.from_ansi(7)
LIGHT = 0.5  # of a ground, from 0 to 1: ours lie far off on both sides


def few_characters(environment: Mapping[str, str] | None = None) -> bool:
    """Whether the terminal is one of those."""
    return (os.environ if environment is None else environment).get("TERM", "") in TERMINALS


@lru_cache(maxsize=4096)
def in_few(text: str) -> str:
    """The same in characters that such a terminal has."""
    return text if FEW.issuperset(text) else "".join(map(_one, text.translate(ALIKE)))


def _one(character: str) -> str:
    if character in FEW:
        return character
    bare = "".join(part for part in unicodedata.normalize("NFKD", character) if part in FEW)
    return bare if cell_len(bare) == cell_len(character) else "?" * cell_len(character)


class FewCharacters(LineFilter):
    """Textual's way to change each line before it is drawn."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [segment if segment.control else Segment(in_few(segment.text), segment.style) for segment in segments]


class FewColours(LineFilter):
    """As that, for inks and grounds."""

    def __init__(self, bright_grounds: bool) -> None:
        """bright_grounds: whether the terminal has them."""
        super().__init__()
        self._bright_grounds = bright_grounds

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [
            Segment(s.text, in_few_colours(s.style, self._bright_grounds), s.control) if s.style else s
            for s in segments
        ]


@lru_cache(maxsize=1024)
def in_few_colours(style: Style, bright_grounds: bool) -> Style:
    """The same on a dark ground; on a light one black letters, which no terminal makes grey where they are not bold and
    all colours are read on less well; without bright grounds, on the only light one there is."""
    ground = style.color if style.reverse else style.bgcolor
    if ground is None or ground.is_default or Color.from_rich_color(ground).brightness < LIGHT:
        return style
    return style + Style(color=BLACK, bgcolor=ground if bright_grounds else GREY, bold=False, reverse=False)
