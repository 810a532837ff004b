"""What the keys of a sheet's head tell, each in its own way: "Counts: 32", "Tempo: about 104", "Order: A B A"."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from caller.routine.findings import Place
from caller.routine.layout.fact_patterns import (
    BETWEEN,
    FASTEST,
    FOOT,
    LEVEL,
    METERS,
    MOST_COUNTS,
    MOST_WALLS,
    SLOWEST,
    STRAIGHT,
    SWING,
    WHOLE,
)
from caller.routine.layout.facts import Facts
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, number_of
from caller.routine.layout.orders import read_order
from caller.routine.meter import Feel
from caller.routine.step import Foot

_FACTS_OF_DANCE = re.compile(r"\d{1,3}\s*-?\s*(?:counts?|cts?|walls?|c)\b", re.IGNORECASE)
_QUOTED_NAME = re.compile(r"[\"\u201c](?P<name>[A-Z][^\"\u201c\u201d]{2,48})[\"\u201d]")


class KeyReading(Facts):
    """Takes what stands behind one key; each tells whether the line is a header's. field: of the header; at: where the
    key's value begins in the line."""

    def text(self, field: str, line: Line, at: int) -> bool:
        value = line.text[at:].strip()
        if field == "notes":
            self.note(value)
            self.beside(line)
            self._find_kind(line)
            self._find_start(line)
            return True
        if field == "title" and _FACTS_OF_DANCE.match(value):  # "Dance: 32 counts, 2 walls"
            return self.facts(line)
        self._saw(field, line, at)
        if field == "title":
            quoted = _QUOTED_NAME.match(value)
            self.header = replace(self.header, title=quoted["name"] if quoted is not None else value)
            return True
        self.header = replace(self.header, **{field: value})  # type: ignore[arg-type]
        if field == "music":
            self._find_tempo(line)
            self._find_intro(line)
            self._find_kind(line)
        elif re.search(r"[|/;,]\s|\s{2,}|\.\s+(?:\d|[A-Z])", value):
            self.facts(line)
        return True

    def level(self, field: str, line: Line, at: int) -> bool:
        value = line.text[at:].strip()
        first = BETWEEN.split(value)[0] if not LEVEL.match(value) else value
        found = LEVEL.search(value)
        level = found.group() if found and first not in (value,) else re.split(r"\s{2,}|[,;|]", value)[0]
        self._set("level", level.strip(" ."), line, at)
        self._find_kind(line)
        self.facts(line)
        return True

    def whole_key(self, field: str, line: Line, at: int) -> bool:
        value = line.text[at:]
        found = WHOLE.match(value)
        if found is None:
            if field == "intro":
                return self.facts(line) or self.keep(line)
            most = MOST_COUNTS if field == "counts" else MOST_WALLS
            self._bad(
                Place(line.number, line.column + at),
                f"{field.capitalize()} must be a whole number from 1 to {most}, not {value.strip()[:40]!r}",
            )
            return True
        if value.strip().startswith("-"):
            self._bad(
                Place(line.number, line.column + at),
                f"{field.capitalize()} can't be less than nothing: {value.strip()[:40]!r}",
            )
            return True
        if field == "intro":
            self._intro_key(line, at, value, found)
        else:
            self._whole(field, number_of(found["n"]), line, at)
        self.facts(line)
        return True

    def _intro_key(self, line: Line, at: int, value: str, found: re.Match[str]) -> None:
        number = number_of(found["n"])
        if (
            sets := re.match(
                rf"\W*(?P<k>\d{{1,2}}|{NUMBER})\s*(?:[x\u00d7]|sets?\s+of|lots\s+of)\s*(?P<n>\d{{1,2}}|{NUMBER})",
                value,
                re.IGNORECASE,
            )
        ) is not None:
            number = number_of(sets["k"]) * number_of(sets["n"])
        elif re.match(r"\W*\d+\s*(?:bars|measures)", value, re.IGNORECASE):
            number *= self.header.meter.counts
        elif re.match(r"\W*\d+\s*(?:sec|\"|:\d)", value, re.IGNORECASE):
            if self._find_intro(line) is None:
                self.note(line.text)
            return
        self._whole("intro", number, line, at)

    def tempo_key(self, field: str, line: Line, at: int) -> bool:
        value = line.text[at:].strip()
        found = re.match(
            r"(?:approx\.?|about|ca\.?|c\.|~|\u2248|around)?\s*(\d{1,4}(?:[.,]\d{1,6})?)\s*(?:bpm|b\.p\.m\.?|counts? (?:a|per) minute|beats? (?:a|per) minute)?\b",
            value,
            re.IGNORECASE,
        )
        if found is None or not SLOWEST <= Fraction(found[1].replace(",", ".")) <= FASTEST:
            if not re.search(r"\d", value):
                return self.keep(line)
            self._bad(
                Place(line.number, line.column + at),
                f"Tempo must be counts a minute (BPM) from {SLOWEST} to {FASTEST}, not {value[:40]!r}",
            )
            self.seen["tempo"] = line.number
            return True
        self._set("tempo", Fraction(found[1].replace(",", ".")), line, at)
        self.facts(line)
        return True

    def meter_key(self, field: str, line: Line, at: int) -> bool:
        value = line.text[at:].strip()
        found = re.match(r"(\d)\s*/\s*(\d)", value)
        meter = METERS.get(f"{found[1]}/{found[2]}") if found else None
        if meter is None:
            if not found:
                return self.facts(line) or self.keep(line)
            self._bad(
                Place(line.number, line.column + at), f"Meter must be one of {', '.join(METERS)}, not {value[:40]!r}"
            )
            return True
        self._set("meter", meter, line, at)
        return True

    def feel_key(self, field: str, line: Line, at: int) -> bool:
        value = line.text[at:].strip()
        if (found := SWING.search(value)) is not None:
            self._set("feel", Feel.SWING, line, at + found.start())
        elif (found := STRAIGHT.search(value)) is not None:
            self._set("feel", Feel.STRAIGHT, line, at)
        self._find_kind(line)
        self.facts(line)
        if "feel" not in self.seen and line.text[:4].lower() == "feel":
            self._bad(Place(line.number, line.column + at), f"Feel must be straight or swing, not {value[:40]!r}")
        return "feel" in self.seen or self.keep(line)

    def starts_key(self, field: str, line: Line, at: int) -> bool:
        found = FOOT.match(line.text[at:])
        if found is None:
            return self.facts(line) or self.keep(line)
        self._set("starts", Foot(found["f"][0].upper()), line, at)
        return True

    def order_key(self, field: str, line: Line, at: int) -> bool:
        order, findings = read_order(line.text[at:], Place(line.number, line.column + at))
        if findings and not any(item.part for item in order):
            return self.keep(line)  # "32 - 32 - tag - 16": walls by their counts, which the events tell
        letters = [item.part for item in order if item.tag is None]
        if (
            order and all(item.counts for item in order) and len(set(letters)) == len(letters)
        ):  # "A (32), B (32), C (16)"
            self.lengths = {item.part: (item.counts or 0, line) for item in order}
            return True
        self._saw("order", line, at)
        self.order += order
        self.findings += findings
        return True
