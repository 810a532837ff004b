"""What a file turned out to hold, and the limits that hold for all kinds of files."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

MOST_FILE_BYTES = 20_000_000  # a sheet with pictures from a telephone
MOST_PAGES = 60
MOST_TEXT = 250_000  # characters; what a sheet's reader takes
MOST_SECONDS = 20.0


class UnreadableFile(Exception):
    """This file can't be made into a sheet; the message is one sentence that says why and what to do."""


@dataclass(frozen=True, slots=True)
class SheetText:
    """text: lines parted by "\\n". kind: as a person calls it ("a PDF"). left_out: lines that are no part of the sheet,
    as they stood. told: sentences about what was assumed."""

    text: str
    kind: str
    left_out: tuple[str, ...] = ()
    told: tuple[str, ...] = ()


PAGE_NUMBER = re.compile(r"^\W*(?:page|p\.?|seite)?\s*\d{1,3}(?:\s*(?:of|/|von|-)\s*\d{1,3})?\W*$", re.IGNORECASE)
_FACT = re.compile(
    r"\b\d+\s*(?:counts?|walls?)\b|\b(?:counts?|walls?|level|choreo\w*|tempo)\s*[:.]|\bbpm\b", re.IGNORECASE
)
_SPACES = re.compile(r"[ \t\u00a0\u2000-\u200a\u202f\u205f\u3000]+")
# Two-letter signs of old fonts; everything else stands as its author wrote it.
_LIGATURES = str.maketrans(
    {"\ufb00": "ff", "\ufb01": "fi", "\ufb02": "fl", "\ufb03": "ffi", "\ufb04": "ffl", "\ufb05": "st", "\ufb06": "st"}
)
_DROPPED = str.maketrans("", "", "\u00ad\u200b\u200c\u200d\u2060\ufeff\ufffe\uffff\x00")


def clean(words: str) -> str:
    """One run of words: ligatures as letters, no soft hyphens or signs without width, one space for many."""
    return _SPACES.sub(" ", words.translate(_LIGATURES).translate(_DROPPED)).strip()


def row(cells: Iterable[str]) -> str:
    """A table's row, or what stands side by side, as one line."""
    return "  ".join(cell for cell in map(clean, cells) if cell)


def furniture(sides: Iterable[Sequence[str]]) -> tuple[list[str], tuple[str, ...]]:
    """What stands at the head and foot of each page, told apart: the lines of a side that tells of the dance (its
    counts, walls, level), title and all, and what is left out."""
    kept: list[str] = []
    left_out: list[str] = []
    for side in sides:
        lines = [line.strip() for line in side if line.strip()]
        tells = any(_FACT.search(line) for line in lines)
        for line in lines:
            (kept if tells and not PAGE_NUMBER.match(line) else left_out).append(line)
    return list(dict.fromkeys(kept)), tuple(dict.fromkeys(left_out))


def joined(lines: Iterable[str]) -> str:
    """Lines as the text of a file: never more than one empty one in a row, none at either end."""
    kept: list[str] = []
    for line in lines:
        line = line.rstrip()
        if line or (kept and kept[-1]):
            kept.append(line)
    while kept and not kept[-1]:
        kept.pop()
    text = "".join(f"{line}\n" for line in kept)
    if len(text) > MOST_TEXT:
        raise UnreadableFile(
            f"this holds {len(text):,} characters, and a step sheet has a few thousand; save the sheet's own pages"
        )
    return text
