"""Searching the routines on hand: a line typed, and whether a routine meets it.

Conventions: a row is a routine as ``caller list --json`` has it. Words are looked for in title and level; "32 counts"
or "counts 32", "4 walls", "tempo 100", "tempo 90-110", "under 100", "over 110" in
what they name. All must be met.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence

Row = Mapping[str, object]
_FIELDS = {"count": "counts", "counts": "counts", "wall": "walls", "walls": "walls", "tempo": "tempo"}
_SPAN = r"(\d+(?:\.\d+)?)(?:\s*(?:-|–|to)\s*(\d+(?:\.\d+)?))?"
_NAMED = r"counts?|walls?|tempo"
_ASKED = re.compile(
    rf"(?P<before>{_NAMED})[\s:=]*{_SPAN}|{_SPAN}[\s-]*(?P<after>{_NAMED})\b"
    rf"|(?P<side>under|over|slower than|faster than)\s+{_SPAN}",
    re.IGNORECASE,
)
_LOWEST, _HIGHEST = 0.0, 10_000.0
_SIDES = {"under": False, "slower than": False, "over": True, "faster than": True}


def found(rows: Iterable[Row], line: str) -> list[Row]:
    """The routines that meet a line, in their order; all for an empty one."""
    tests = _tests(line)
    return [row for row in rows if all(test(row) for test in tests)]


def _tests(line: str) -> Sequence[Callable[[Row], bool]]:
    words = _ASKED.sub(" ", line).split()
    return [
        *(_within(*_asked_span(asked)) for asked in _ASKED.finditer(line)),
        *(_says(word.casefold()) for word in words),
    ]


def _asked_span(asked: re.Match[str]) -> tuple[str, float, float]:
    """(field, least, most)."""
    first, last = (next((asked[g] for g in groups if asked[g]), None) for groups in ((2, 4, 8), (3, 5, 9)))
    number = float(first or 0)
    if asked["side"]:
        over = _SIDES[asked["side"].lower()]
        return "tempo", *((number, _HIGHEST) if over else (_LOWEST, number))
    field = _FIELDS[(asked["before"] or asked["after"]).lower()]
    return field, number, float(last) if last else number


def _within(field: str, least: float, most: float) -> Callable[[Row], bool]:
    def test(row: Row) -> bool:
        value = row.get(field)
        return isinstance(value, (int, float)) and least <= value <= most

    return test


def _says(word: str) -> Callable[[Row], bool]:
    return lambda row: any(word in str(row.get(field) or "").casefold() for field in ("title", "level"))


def row_line(row: Row, width: int) -> str:
    """A routine in one line: title, counts, walls, level, tempo."""
    walls, tempo = row.get("walls"), row.get("tempo")
    facts = [
        f"{row.get('counts') or '?'} counts",
        f"{walls or '?'} wall" + ("" if walls == 1 else "s"),
        str(row.get("level") or "-"),
        f"{tempo} a minute" if tempo else "no tempo said",
    ]
    if not row.get("ok", True):
        facts.append("has errors")
    return f"{str(row.get('title') or '?').ljust(width)}  " + "  ".join(facts)
