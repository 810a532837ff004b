"""What stands before the first heading: title, counts, walls, level, tempo, meter and the rest, however it is laid out.

A line may say one thing ("Counts: 32"), or all of them in any order ("48c / 2w / Improver / Choreo: ..."). What the
sheet says of its music and type tells meter, tempo and feel where no line of their own does.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from caller.routine.findings import Place
from caller.routine.layout.fact_patterns import (
    BEHIND_TITLE,
    BETWEEN,
    BY,
    CALLED,
    COUNTS,
    COUPLED,
    FASTEST,
    FOOT,
    KEY,
    KEYS,
    LEVEL,
    METERS,
    MOST_COUNTS,
    MOST_WALLS,
    NEXT_KEY,
    SLOWEST,
    STRAIGHT,
    SWING,
    WALLS,
    WHOLE,
)
from caller.routine.layout.facts import Facts
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, number_of
from caller.routine.layout.orders import read_order
from caller.routine.layout.titles import OF_THE_CLUB
from caller.routine.meter import Feel
from caller.routine.parts import Header
from caller.routine.step import Foot

# "Dance of the month for November", "This month's class dance"
_OF_THE_PAPER = re.compile(
    r"(?:the\s+)?(?:dance|waltz)\s+of\s+the\s+(?:month|week|quarter|term|season)(?:\s+for\s+\w+)?"
    r"|this\s+(?:week|month|quarter|term)['\u2019]s\s+(?:class\s+)?dance"
)
# "Phrased - 2 walls - Easy Intermediate"
_NO_ORDER = re.compile(r"\b(?:walls?|beginner|improver|intermediate|advanced|line\s+dance)\b", re.IGNORECASE)
_QUOTED_NAME = re.compile(r"[\"\u201c](?P<name>[A-Z][^\"\u201c\u201d]{2,48})[\"\u201d]")
# A key that asks who it is by: not "Choreographed for our club", nor one that has its name with it.
_CHOREO = re.compile(r"choreo(?!.*\b(?:for|in|at|on|by\s+\S)).*")
# "for the Tuesday class", "in 2019", where a deviser's name would be.
_NO_NAME = re.compile(r"(?:for|during)\b|(?:in|at|on)\s+(?:the|an?|our|my|\d)|\d{4}\b", re.IGNORECASE)
_BY_WHOM = re.compile(r"\bby\s+(?P<by>[^\s\d].*)$", re.IGNORECASE)
_NOTES = re.compile(r"\s*notes?\s*:", re.IGNORECASE)


def _keyed_pieces(line: Line) -> list[Line]:
    """ "48 Count / 4 Wall       Choreographed by: Ada  Intro: 16": what each key tells, and what stands before the first."""
    cuts = [0]
    for found in NEXT_KEY.finditer(line.text):
        keyed = KEY.match(line.text[found.end() :])
        if keyed is not None and field_of(keyed["key"]) is not None:
            cuts.append(found.end())
    pieces = [line.piece(start, end) for start, end in zip(cuts, [*cuts[1:], None], strict=True)]
    return [replace(piece, text=piece.text.rstrip(" |;,")) for piece in pieces] if len(pieces) > 1 else [line]


def field_of(key: str) -> str | None:
    """The header's field of a key as written, None where it is none that is known."""
    name = re.sub(r"\s+", " ", key.strip().lower().rstrip(".:"))
    if _OF_THE_PAPER.fullmatch(name) is not None:
        return "title"
    return KEYS.get(name) or ("devised_by" if _CHOREO.fullmatch(name) else None)


class HeaderReader(Facts):
    """Takes header lines one by one; what they say is in ``header``, ``order`` and ``findings``."""

    def key(self, line: Line) -> bool:
        """A line "Key: value" (or "by ..."), if it is one whose key is known."""
        pieces = [line] if _NOTES.match(line.text) else _keyed_pieces(line)
        if len(pieces) > 1:
            told = [self.key(piece) or self.facts(piece) for piece in pieces]  # each is read, whatever the first told
            return any(told)
        if (both := COUPLED.match(line.text)) is not None:
            for name in ("a", "b"):
                told_of = "counts" if both[name][0].lower() == "c" else "walls"
                self._whole(told_of, int(both[f"n{name}"]), line, both.start(f"n{name}"))
            return True
        found = KEY.match(line.text) or BY.match(line.text)
        if found is None:
            return False
        field = field_of(found["key"])
        if field is None:
            return False
        if field == "facts" or (field == "order" and _NO_ORDER.search(found["value"]) is not None):
            return self.facts(line) or self.keep(line)
        value = found["value"].strip()
        if not value:
            return self.keep(line)
        if field in self.seen and field in ("music", "notes", "devised_by", "starts"):
            return self.facts(line) or self.keep(line)
        if field in self.seen and self.seen[field] != line.number:
            message = f"{found['key'].strip()} stands on line {self.seen[field]} already; the first one counts"
            self._bad(line.place, message)
            return True
        return _READERS[field](self, field, line, found.start("value"))

    def _devised(self, field: str, line: Line, start: int) -> bool:
        """By whom; of "for the Tuesday class by Ada" just that, and all of it as a note."""
        if _NO_NAME.match(line.text, start) is None:
            return self._text(field, line, start)
        if (by := _BY_WHOM.search(line.text, start)) is not None:
            self._set(field, by["by"].strip(), line, by.start("by"))
        return self.keep(line)

    def called(self, line: Line) -> bool:
        """A title that a sentence tells ("it is called Button Box")."""
        found = CALLED.search(line.text) if not self.header.title else None
        if found is None:
            return False
        self._set("title", (found["title"] or found["caps"]).strip(), line, found.start())
        return True

    def title(self, line: Line) -> None:
        """A first line that is nothing else; what stands in it of counts and walls is taken too."""
        first, *further = _keyed_pieces(line)
        for piece in further:
            self.key(piece)
        line, text = first, first.text
        if (quoted := _QUOTED_NAME.search(text)) is not None and (quoted.start() == 0 or OF_THE_CLUB.search(text)):
            self.facts(line)
            text = quoted["name"]
        if (
            found := re.search(
                r"\s+(?:[-\u2010-\u2015]\s*)?(?:choreo\w*\.?\s+by|devised\s+by|by)\s+(?P<by>.+)$", text, re.IGNORECASE
            )
        ) is not None and found.start() > 0:
            if "devised_by" not in self.seen:
                self._set("devised_by", found["by"].strip(" )"), line, found.start("by"))
            text = text[: found.start()]
        if (parted := re.match(r"(.+?)(?:\s{3,}|\s*\|\s*|\s{2,}(?=\d))", text)) is not None:
            self.facts(line)
            text = parted[1]
        told = next((m.start() for p in (COUNTS, WALLS, LEVEL) if (m := p.search(text)) and m.start() > 0), None)
        if told is not None and self.facts(line):
            text = text[:told]
        text = re.sub(
            r"\s*[-\u2010-\u2015|]?\s*\(?\bpage\s+\d+(?:\s*(?:of|/)\s*\d+)?\)?\s*$|^page\s+\d+\s*(?:of\s*\d+)?\s*[-\u2010-\u2015|]?\s*",
            "",
            text,
            flags=re.IGNORECASE,
        )
        text = BEHIND_TITLE.sub("", text)
        text = text.strip(' \t-\u2010\u2011\u2012\u2013\u2014|/,:;(~*=\u201c\u201d"') or line.text
        self._saw("title", line, 0)
        self.header = replace(self.header, title=text)

    def finish(self) -> Header:
        if not self.header.title:
            self._bad(Place(1), "no title is told; a first line with the dance's name, or 'Title: ...', tells it")
        if "tempo" not in self.seen:
            self._bad(Place(1), "no tempo is told; a line 'Tempo: 100' (BPM) tells it, and --tempo asks for another")
        return replace(self.header, places=self.places)

    def _text(self, field: str, line: Line, at: int) -> bool:
        value = line.text[at:].strip()
        if field == "notes":
            self.note(value)
            self.beside(line)
            self._find_kind(line)
            self._find_start(line)
            return True
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

    def _level(self, field: str, line: Line, at: int) -> bool:
        value = line.text[at:].strip()
        first = BETWEEN.split(value)[0] if not LEVEL.match(value) else value
        found = LEVEL.search(value)
        level = found.group() if found and first not in (value,) else re.split(r"\s{2,}|[,;|]", value)[0]
        self._set("level", level.strip(" ."), line, at)
        self._find_kind(line)
        self.facts(line)
        return True

    def _whole_key(self, field: str, line: Line, at: int) -> bool:
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

    def _tempo_key(self, field: str, line: Line, at: int) -> bool:
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

    def _meter_key(self, field: str, line: Line, at: int) -> bool:
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

    def _feel_key(self, field: str, line: Line, at: int) -> bool:
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

    def _starts_key(self, field: str, line: Line, at: int) -> bool:
        found = FOOT.match(line.text[at:])
        if found is None:
            return self.facts(line) or self.keep(line)
        self._set("starts", Foot(found["f"][0].upper()), line, at)
        return True

    def _order_key(self, field: str, line: Line, at: int) -> bool:
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


_READERS: dict[str, Callable[[HeaderReader, str, Line, int], bool]] = {
    **dict.fromkeys(("title", "music", "notes"), HeaderReader._text),
    "devised_by": HeaderReader._devised,
    "level": HeaderReader._level,
    **dict.fromkeys(("counts", "walls", "intro"), HeaderReader._whole_key),
    "tempo": HeaderReader._tempo_key,
    "meter": HeaderReader._meter_key,
    "feel": HeaderReader._feel_key,
    "starts": HeaderReader._starts_key,
    "order": HeaderReader._order_key,
}
