"""Step lines in which each count is told once more, right before its own step."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout.lines import Line

_LEAST = 2  # counts
_NAMED = re.compile(
    r"(?:(?<=[.;,])\s+|^)counts?\s+(?=[1-9](?:[\d&\s\u2010-\u2015-]|\bto\b|\band\b)*\s?[:,])", re.IGNORECASE
)
_BRACKETED = re.compile(r"[(\[](?P<counts>&|[1-9]\d?&?)[)\]]\s*")


def pieces_named(line: Line) -> list[Line]:
    """ "Count 1: R heel forward. Count 2: hook R. Counts 3-4: ...": a piece for each, with those words before it."""
    begins = [found.start() for found in _NAMED.finditer(line.text)]
    if len(begins) < _LEAST:
        return []
    pieces = (line.piece(low, high) for low, high in itertools.pairwise([*begins, len(line.text)]))
    return [replace(piece, text=piece.text.rstrip(" .,;")) for piece in pieces]


def each_bracketed(line: Line) -> list[Line]:
    """Of a line that begins with its counts, "1, 2&  (1) RF to side; (2) LF behind, (&) RF recover": a step line for
    each; none where the brackets don't say all of them."""
    counts = read_counts(line.text)
    if counts is None:
        return []
    marks = list(_BRACKETED.finditer(line.text, counts.end))
    told = [mark["counts"] for mark in marks]
    wanted = ["&" if beat.part else str(beat.number) for beat in counts.beats]
    if len(marks) < _LEAST or told != wanted or line.text[counts.end : marks[0].start()].strip():
        return []
    ends = [*(mark.start() for mark in marks[1:]), len(line.text)]
    words = [line.text[mark.end() : end].strip(" ,;.") for mark, end in zip(marks, ends, strict=True)]
    return [Line(line.number, line.column, f"{n}  {said}", False) for n, said in zip(told, words, strict=True)]
