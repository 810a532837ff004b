"""The header: what each key says, and what is wrong with it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from difflib import get_close_matches
from fractions import Fraction
from typing import Any

from caller.routine.findings import Finding, Place
from caller.routine.notation.lines import Line
from caller.routine.parts import Feel, Header, Meter, OrderItem
from caller.routine.step import Foot

# Keys as written, to the names of the header's fields.
KEYS = {
    "title": "title",
    "dance": "title",
    "name": "title",
    "devised by": "devised_by",
    "choreographed by": "devised_by",
    "choreographer": "devised_by",
    "start after": "intro",
    "starts after": "intro",
    "counts": "counts",
    "count": "counts",
    "walls": "walls",
    "wall": "walls",
    "level": "level",
    "tempo": "tempo",
    "bpm": "tempo",
    "meter": "meter",
    "metre": "meter",
    "time": "meter",
    "feel": "feel",
    "intro": "intro",
    "starts": "starts",
    "start": "starts",
    "start foot": "starts",
    "starting foot": "starts",
    "music": "music",
    "order": "order",
    "sequence": "order",
    "notes": "notes",
    "note": "notes",
}
METERS = {"4/4": Meter(4, 4), "3/4": Meter(3, 4), "2/4": Meter(2, 4), "6/8": Meter(6, 8)}
SLOWEST, FASTEST = 30, 300  # counts a minute: beyond it a digit is missing or too many
MOST_COUNTS, MOST_INTRO = 512, 256
_SUMMED = {
    "counts": re.compile(r"(\d+)[\s-]*counts?\b", re.IGNORECASE),
    "walls": re.compile(r"(\d+)[\s-]*walls?\b", re.IGNORECASE),
}
_COUNTED = re.compile(r"\d+[\s-]*(?:counts?|walls?)\b", re.IGNORECASE)
_BETWEEN = re.compile(r"[,;/|]|\s[\u2010-\u2015-]\s")
_NO_LEVEL = re.compile(r"\b(?:line dance|dance|level)\b", re.IGNORECASE)
_NUMBER = re.compile(r"^(?:approx\.?\s*)?(\d+)\s*(?:counts?|walls?)?\b")


_ITEM = re.compile(
    r"(?P<tag>tag)(?:\s*(?P<name>[A-Za-z0-9])(?![A-Za-z0-9(]))?"
    r"|(?P<part>[A-Za-z])\s?\(?(?P<counts>\d{1,4})?\)?(?![A-Za-z])"
    r"|(?P<skip>[\s,;.\u2010-\u2015>|-]+)|(?P<bad>\S+)",
    re.IGNORECASE,
)
_FOOT = re.compile(r"^(?:on\s+)?(?:the\s+)?(r|l|right|left)(?:\s+foot)?$", re.IGNORECASE)
_TEMPO = re.compile(r"^(\d{1,4}(?:\.\d{1,6})?)\s*(?:bpm|counts a minute)?$", re.IGNORECASE)


class HeaderReader:
    """Takes header lines one by one; what they say is in ``header``, ``order`` and ``findings``."""

    def __init__(self) -> None:
        self.header = Header()
        self.findings: list[Finding] = []
        self.order: list[OrderItem] = []
        self.places: dict[str, Place] = {}
        self.seen: dict[str, int] = {}

    def key(self, line: Line, match: re.Match[str]) -> None:
        written = match["key"].strip()
        name = re.sub(r"\s+", " ", written.lower())
        value = match["value"].strip()
        field = KEYS.get(name)
        if field is None:
            near = get_close_matches(name, KEYS, n=1, cutoff=0.7)
            hint = f"; did you mean {near[0].capitalize()}?" if near else ""
            self._bad(line.place, f"{written!r} is no header line that is known; kept as a note{hint}")
            self.note(f"{written}: {value}")
        elif field in self.seen and field != "notes":
            self._bad(line.place, f"{written} stands on line {self.seen[field]} already; the first one counts")
        else:
            self._saw(field, line, match.start("value"))
            _READERS[field](self, field, value, self.places[field])

    def _saw(self, field: str, line: Line, column: int = 0) -> None:
        self.seen[field] = line.number
        self.places[field] = Place(line.number, line.column + column)

    def summary(self, line: Line) -> None:
        """ "32 count, 4 wall, improver" """
        for field, pattern in _SUMMED.items():
            found = pattern.search(line.text)
            if found is not None and field not in self.seen:
                self._saw(field, line, found.start())
                self._whole(field, found[1], self.places[field])
        words = _BETWEEN.split(_COUNTED.sub("", line.text))
        level = " ".join(p.strip() for p in words if p.strip() and not p.strip()[0].isdigit())
        level = _NO_LEVEL.sub("", level).strip()
        if level and "level" not in self.seen:
            self._saw("level", line)
            self.header = replace(self.header, level=level)

    def title(self, line: Line) -> None:
        """A first line that is nothing else."""
        self._saw("title", line)
        self.header = replace(self.header, title=line.text)

    def finish(self) -> Header:
        if not self.header.title:
            self._bad(Place(1), "the sheet has no Title; add a line 'Title: ...' at the top")
        if "tempo" not in self.seen:
            self._bad(Place(1), "the sheet has no Tempo; add a line 'Tempo: 100', in counts a minute")
        return replace(self.header, places=self.places)

    # -- values

    def note(self, text: str) -> None:
        self.header = replace(self.header, notes=(*self.header.notes, text))

    def _bad(self, place: Place, message: str) -> None:
        self.findings.append(Finding(place, "header", message))

    def _text(self, field: str, value: str, place: Place) -> None:
        if field == "notes":
            self.note(value)
        else:
            self.header = replace(self.header, **{field: value})  # type: ignore[arg-type]

    def _whole(self, field: str, value: str, place: Place) -> None:
        least, most = {"counts": (1, MOST_COUNTS), "walls": (1, 8), "intro": (0, MOST_INTRO)}[field]
        found = _NUMBER.match(value)
        if found is None or not least <= int(found[1]) <= most:
            self._bad(place, f"{field.capitalize()} must be a whole number from {least} to {most}, not {value!r}")
            return
        self.header = replace(self.header, **{field: int(found[1])})  # type: ignore[arg-type]

    def _tempo(self, field: str, value: str, place: Place) -> None:
        found = _TEMPO.match(value)
        if found is None or not SLOWEST <= Fraction(found[1]) <= FASTEST:
            self._bad(place, f"Tempo must be counts a minute from {SLOWEST} to {FASTEST}, not {value!r}")
            return
        self.header = replace(self.header, tempo=Fraction(found[1]))

    def _meter(self, field: str, value: str, place: Place) -> None:
        meter = METERS.get(value.replace(" ", ""))
        if meter is None:
            self._bad(place, f"Meter must be one of {', '.join(METERS)}, not {value!r}")
            return
        self.header = replace(self.header, meter=meter)

    def _feel(self, field: str, value: str, place: Place) -> None:
        if value.lower() not in ("straight", "swing"):
            self._bad(place, f"Feel must be straight or swing, not {value!r}")
            return
        self.header = replace(self.header, feel=Feel(value.lower()))

    def _starts(self, field: str, value: str, place: Place) -> None:
        found = _FOOT.match(value)
        if found is None:
            self._bad(place, f"Starts must be right or left, not {value!r}")
            return
        self.header = replace(self.header, starts=Foot(found[1][0].upper()))

    def _order(self, field: str, value: str, place: Place) -> None:
        for found in _ITEM.finditer(value):
            at = Place(place.line, place.column + found.start())
            if found["tag"]:
                self.order.append(OrderItem(tag=(found["name"] or "").upper(), place=at))
            elif found["part"]:
                counts = int(found["counts"]) if found["counts"] else None
                self.order.append(OrderItem(part=found["part"].upper(), counts=counts, place=at))
            elif found["bad"]:
                message = f"can't read {found['bad']!r} in the order; write part letters, such as A A16 B Tag"
                self.findings.append(Finding(at, "order", message))


_READERS: dict[str, Callable[[Any, str, str, Place], None]] = {
    "title": HeaderReader._text,
    "devised_by": HeaderReader._text,
    "level": HeaderReader._text,
    "music": HeaderReader._text,
    "notes": HeaderReader._text,
    "counts": HeaderReader._whole,
    "walls": HeaderReader._whole,
    "intro": HeaderReader._whole,
    "tempo": HeaderReader._tempo,
    "meter": HeaderReader._meter,
    "feel": HeaderReader._feel,
    "starts": HeaderReader._starts,
    "order": HeaderReader._order,
}
