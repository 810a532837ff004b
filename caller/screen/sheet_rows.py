"""A sheet's lines beside what each was taken for, with its findings below them, as rows of a page.

Conventions: lines are the sheet's own, from 1; what a line was taken for stands to its right, or below it where the
page is narrow; a finding stands below its line, with a mark under its column. Pure.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from textual.content import Content

from caller.routine.findings import Finding
from caller.screen.plain_text import plain_text


@dataclass(frozen=True, slots=True)
class Checked:
    """A sheet's text and its findings, what each line was taken for, and what was said beside it of the whole."""

    text: str = ""
    findings: Sequence[Finding] = ()
    understood: Mapping[int, str] = field(default_factory=dict)
    told: Sequence[str] = ()


MOST_LINES = 5_000
# A finding that has less room to the right of its mark stands below it.
LEAST_ROOM = 30
# From this width on the sheet and what was understood stand side by side.
_SIDE_BY_SIDE = 90
_PARTED = " \u2502 "
_LINE_END = re.compile(r"\r\n|\r|\n|\f|\x0b")  # as the reading of a sheet has it
_PIECE = re.compile(r"\S+\s*|\s+")


def finding_rows(checked: Checked, width: int = 80) -> tuple[list[str], list[int]]:
    """The sheet's lines, each with what it was taken for beside it and its findings below it, wrapped into ``width``
    cells, and the rows at which findings begin. A finding of a line that is not there stands first."""
    lines = _LINE_END.split(checked.text)[:MOST_LINES]
    lines = lines[:-1] if lines and not lines[-1] else lines
    by_line: dict[int, list[Finding]] = {}
    for finding in sorted(checked.findings, key=lambda f: f.place.column):
        place = finding.place.line if 1 <= finding.place.line <= len(lines) else 0
        by_line.setdefault(place, []).append(finding)
    layer = _Layer(list(map(_shown, lines)), width, bool(checked.understood))
    for finding in by_line.get(0, ()):
        layer.finding(finding, 0, 0)
    for number, line in enumerate(layer.lines, 1):
        layer.line(number, line, plain_text(checked.understood.get(number, "")), by_line.get(number, ()))
    for sentence in checked.told:
        layer.rows += _wrapped("", plain_text(sentence), width)
    return layer.rows, layer.begins


class _Layer:
    """rows: what is laid so far; begins: the rows at which findings begin. beside: cells for the sheet itself where
    there is room for what was understood beside it, 0 where there is none."""

    def __init__(self, lines: Sequence[str], width: int, understood: bool) -> None:
        self.lines, self.rows, self.begins = lines, list[str](), list[int]()
        self._width = width
        self._digits = len(str(len(lines)))
        room = width - self._digits - 2
        side_by_side = understood and room >= _SIDE_BY_SIDE
        self._beside = min(max(map(len, lines), default=0), (room - len(_PARTED)) // 2) if side_by_side else 0

    def line(self, number: int, line: str, taken_for: str, findings: Sequence[Finding]) -> None:
        """One line of the sheet, its findings below the piece of it in which their columns are."""
        head, blank = f"{number:>{self._digits}}  ", " " * (self._digits + 2)
        pieces = _broken(line, self._beside) if taken_for and self._beside else [(0, line)]
        right = self._right(taken_for)
        for n, (start, piece) in enumerate(pieces):
            until = pieces[n + 1][0] if n + 1 < len(pieces) else None
            self._row(head if n == 0 else blank, piece, right[n : n + 1])
            if until is None:
                for more in right[n + 1 :]:
                    self._row(blank, "", [more])
                if taken_for and not self._beside:
                    self.rows += _wrapped(f"{blank}= ", taken_for, self._width)
            for finding in findings:
                column = max(finding.place.column - 1, 0)
                if (column >= start or n == 0) and (until is None or column < until):
                    self.finding(finding, len(blank), max(column - start, 0))

    def _right(self, taken_for: str) -> list[str]:
        if not taken_for or not self._beside:
            return []
        room = self._width - self._digits - 2 - self._beside - len(_PARTED)
        return [piece.plain for piece in Content(taken_for).wrap(max(room, LEAST_ROOM))]

    def _row(self, head: str, piece: str, right: Sequence[str]) -> None:
        beside = f"{piece:{self._beside}}{_PARTED}{right[0]}" if right else piece
        self.rows.append(f"{head}{beside}".rstrip())

    def finding(self, finding: Finding, indent: int, column: int) -> None:
        self.begins.append(len(self.rows))
        start = indent + min(column, 200)
        words = f"{finding.severity.value}: {plain_text(finding.message)} ({finding.code})"
        if self._width - start - 2 < LEAST_ROOM:
            self.rows.append(f"{' ' * start}^")
            self.rows += _wrapped(" " * indent, words, self._width)
        else:
            self.rows += _wrapped(f"{' ' * start}^ ", words, self._width)


def _wrapped(head: str, words: str, width: int) -> Iterator[str]:
    for n, piece in enumerate(Content(words).wrap(max(width - len(head), LEAST_ROOM))):
        yield f"{head if n == 0 else ' ' * len(head)}{piece.plain}"


def _broken(line: str, width: int) -> list[tuple[int, str]]:
    """A line in pieces of so many cells at most, broken between words where it can be, each with where it begins."""
    pieces: list[tuple[int, str]] = []
    start = end = 0
    for found in _PIECE.finditer(line):
        while len(line[start : found.end()].rstrip()) > width:
            cut = end if end > start else start + width
            pieces.append((start, line[start:cut].rstrip()))
            start = end = cut
        end = found.end()
    return [*pieces, (start, line[start:])]


def _shown(line: str) -> str:
    """Character by character, so that a mark stays under its column."""
    return "".join(character if character.isprintable() else " " for character in line)
