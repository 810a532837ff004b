"""For a terminal with few characters, above all the Linux console: what it has not is shown as what it has.

Conventions: the 256 characters of code page 437, which is the font that the Linux kernel brings and the set that its
own table maps to. What is shown instead is as wide as what it stands for.
"""

from __future__ import annotations

import os
import unicodedata
from collections.abc import Mapping
from functools import lru_cache

from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

TERMINALS = ("linux", "cons25", "vt100", "vt220")  # as TERM names them
FEW = frozenset(bytes(range(256)).decode("cp437")) | frozenset(map(chr, range(128)))
ALIKE = str.maketrans("…‘’“”–—−×⁄▁▔▎▏▍▊▋▉▕✓•←↑→↓", ".''\"\"---x/_▀▌▌▌███▐√·<^>v")


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
