"""A phrased order as authors write it: "A A B Tag A16", "ABABA", "A / B / A", "2A, B", "A x2", "A A- B", "A (16 counts)"."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence

from caller.routine.findings import Finding, Place
from caller.routine.layout.lines import Line
from caller.routine.parts import OrderItem

_DASH = r"\u2010-\u2015"
_ITEM = re.compile(
    rf"(?P<tag>\b(?:tag|bridge|T)\b)(?:\s*[\"']?(?P<name>[A-Z0-9])[\"']?(?![A-Za-z0-9(]))?"
    rf"|(?P<skip>[\s,;.{_DASH}>|/&+\"'\u2192\u2018\u2019\u201c\u201d:-]+|\b(?:part|then|and|to|the|end|finish|of|song|music|repeat|until|restart|dance|sequence|fade|intro|ending|start)\b)"
    rf"|(?P<note>\([^()]*\))"
    rf"|(?:(?P<times>\d)\s?[x\u00d7]?\s?)?(?P<part>[A-Ha-h](?:[1-9](?!\d))?(?=[A-Ha-h]|\b|\d|[-\u2013*]))(?P<short>-(?!\s?[A-Ha-h])|\*|\s?\(short(?:ened)?\))?\s?(?P<counts>\d{{1,3}})?(?:\s?\(\s?(?P<bracket>(?:first\s+|counts?\s+1\s?[-\u2013]\s?)?\d{{1,3}}(?:\s*(?:counts?|cts?|c))?(?:\s+only)?)\s?\)\s?[*#\u2020]?)?(?:\s?[x\u00d7]\s?(?P<after>\d)\b)?"
    rf"|(?P<bad>\S+)",
    re.IGNORECASE,
)
_MOST_TIMES = 8


def read_order(text: str, place: Place) -> tuple[list[OrderItem], list[Finding]]:
    """The items of an order that begins at ``place``, and what is in it that can't be read."""
    order: list[OrderItem] = []
    findings: list[Finding] = []
    text = re.sub(r"\btag(?=[A-Ha-h]\b)", "tag ", text, flags=re.IGNORECASE)
    for found in _ITEM.finditer(text):
        at = Place(place.line, place.column + found.start())
        if found["tag"]:
            order.append(OrderItem(tag=(found["name"] or "").upper(), place=at))
        elif found["part"]:
            order += _part(found, at)
        elif found["bad"]:
            message = f"can't read {found['bad']!r} in the order; write part letters, such as A A16 B Tag"
            findings.append(Finding(at, "order", message))
    return order, findings


def _part(found: re.Match[str], at: Place) -> list[OrderItem]:
    digits = re.findall(r"\d+", found["bracket"] or "")
    counts = int(found["counts"]) if found["counts"] else int(digits[-1]) if digits else None
    times = min(int(found["times"] or found["after"] or 1), _MOST_TIMES)
    part, short = found["part"].upper(), bool(found["short"])
    if len(part) > 1:  # "A16": counts, not a part's number
        counts, part = int(part[1:] + (found["counts"] or "")), part[0]
    return [OrderItem(part=part, counts=counts, place=at, short=short and counts is None)] * max(times, 1)


_LETTERS = re.compile(
    r"^[A-H](?:[\s,/.\-\u2010-\u2015>&+]*(?:[A-H]|tag|bridge)(?:\d{1,2})?[-*]?)+[\s.]*$", re.IGNORECASE
)


def looks_like_order(text: str) -> bool:
    """ "A B A B Tag A", on a line of its own."""
    return _LETTERS.match(text) is not None and len(re.findall(r"\b[A-Ha-h]|[A-H]", text)) >= 3


# So many parts in a row, one of them danced again, are an order, whatever the words round them.
_LEAST_ROW = 3


def order_within(lines: Sequence[Line], parts: Collection[str]) -> list[OrderItem]:
    """The longest row of all the parts' letters in those lines ("It goes A, A, B, Tag, A and home"), which may go on
    over the end of a line; empty where there is none."""
    rows = [row for row in _rows(lines, parts) if _tells_order([item.part for item in row if item.part], parts)]
    return max(rows, key=len, default=[])


def _tells_order(letters: Sequence[str], parts: Collection[str]) -> bool:
    return len(letters) >= _LEAST_ROW and set(letters) == set(parts) != set() and len(letters) > len(set(letters))


def _rows(lines: Sequence[Line], parts: Collection[str]) -> Iterator[list[OrderItem]]:
    row: list[OrderItem] = []
    for line in lines:
        for found in _ITEM.finditer(line.text):
            at = Place(line.number, line.column + found.start())
            if found["tag"]:
                row.append(OrderItem(tag=(found["name"] or "").upper(), place=at))
            elif found["part"] and found["part"][0] in parts:
                row += _part(found, at)
            elif found["bad"] or found["part"]:
                yield row
                row = []
    yield row
