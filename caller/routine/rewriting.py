"""Rows of wordings and what each stands for, tried in order on a text.

A row is only searched for where one of the pieces that it can't do without stands in the text: most rows find nothing
in most lines, and looking for a piece of a word costs a twentieth of a search. Which pieces a pattern needs is read off
the pattern itself; where Python's own parser of patterns can't be had, every row is searched for.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import cached_property
from importlib import import_module
from typing import Any

StandsFor = str | Callable[[re.Match[str]], str]
_Row = tuple[tuple[str, ...], re.Pattern[str], StandsFor]
_WORTH = 300  # texts, after which it is worth reading the pieces off some hundred patterns: a few sheets
_LEAST = 2  # characters of a piece
_MOST_ALIKE = 8  # pieces of which one is needed


class Rewriting:
    """Rows of a pattern and what it stands for. Upper and lower case are one."""

    def __init__(self, rows: Iterable[tuple[str, StandsFor]]) -> None:
        self._told = tuple(rows)
        self._asked = 0

    def __call__(self, text: str) -> str:
        """The text with each row written as what it stands for, one row after another."""
        self._asked += 1
        low = text.lower()
        for pieces, pattern, plain in self._sifted if self._asked > _WORTH else self._rows:
            for piece in pieces:
                if piece in low:
                    break
            else:
                if pieces:
                    continue
            told = pattern.sub(plain, text)
            if told != text:
                text, low = told, told.lower()
        return text

    @cached_property
    def _rows(self) -> list[_Row]:
        return [((), re.compile(pattern, re.IGNORECASE), plain) for pattern, plain in self._told]

    @cached_property
    def _sifted(self) -> list[_Row]:
        return [(tuple(needed(told) or ()), *row[1:]) for (told, _), row in zip(self._told, self._rows, strict=True)]


def needed(pattern: str) -> frozenset[str] | None:
    """Pieces, in lower case, of which one stands in whatever the pattern finds; None where none is sure."""
    try:
        parsed: Any = import_module("re._parser").parse(pattern, re.IGNORECASE)
    except (ImportError, AttributeError):
        return None
    return _pieces(parsed)


def _pieces(parsed: Any) -> frozenset[str] | None:
    found: list[frozenset[str]] = []
    run = ""
    for op, told in [*parsed, (None, None)]:
        name = str(op)
        if name == "LITERAL":
            run += chr(told).lower()
            continue
        if len(run) >= _LEAST:
            found.append(frozenset((run,)))
        run = ""
        inner = _within(name, told)
        if inner is not None:
            found.append(inner)
    return max(found, key=_worth, default=None)


def _within(name: str, told: Any) -> frozenset[str] | None:
    """The pieces of what is nested, where it has to be there."""
    if name == "SUBPATTERN":
        return _pieces(told[-1])
    if name in ("MAX_REPEAT", "MIN_REPEAT", "POSSESSIVE_REPEAT"):
        return _pieces(told[2]) if told[0] > 0 else None
    if name == "ATOMIC_GROUP":
        return _pieces(told)
    if name == "ASSERT":
        return _pieces(told[1])
    if name == "BRANCH":
        ways = [_pieces(way) for way in told[1]]
        union = frozenset().union(*(way for way in ways if way is not None))
        return union if None not in ways and len(union) <= _MOST_ALIKE else None
    return None


def _worth(pieces: frozenset[str]) -> tuple[int, int]:
    """Longer pieces are rarer; fewer are sooner looked for."""
    return min(map(len, pieces)), -len(pieces)
