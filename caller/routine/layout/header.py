"""What stands before the first heading: title, counts, walls, level, tempo, meter and the rest, however it is laid out.

A line may say one thing ("Counts: 32"), or all of them in any order ("48c / 2w / Improver / Choreo: ..."). What the
sheet says of its music and type tells meter, tempo and feel where no line of their own does.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from caller.routine.findings import Place
from caller.routine.layout.fact_patterns import (
    BEHIND_TITLE,
    BY,
    CALLED,
    COUNTS,
    COUPLED,
    KEY,
    KEYS,
    LEVEL,
    WALLS,
)
from caller.routine.layout.facts import LEAST_OF_ROW
from caller.routine.layout.head_pieces import pieces_of
from caller.routine.layout.header_keys import KeyReading
from caller.routine.layout.lines import Line
from caller.routine.layout.titles import OF_THE_CLUB
from caller.routine.parts import Header

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
# "Moth by the Window" is a title alone.
_BY_BEHIND_TITLE = re.compile(
    r"\s+(?:[-\u2010-\u2015]\s*)?(?:choreo\w*\.?\s+by|devised\s+by|by(?!\s+(?:the|an?|my|your|our|its|night|day|\w*light|heart|side|sea)\b))\s+(?P<by>.+)$",
    re.IGNORECASE,
)
_BY_WHOM = re.compile(r"\bby\s+(?P<by>[^\s\d].*)$", re.IGNORECASE)
_NOTES = re.compile(r"\s*notes?\s*:", re.IGNORECASE)


def field_of(key: str) -> str | None:
    """The header's field of a key as written, None where it is none that is known."""
    name = re.sub(r"\s+", " ", key.strip().lower().rstrip(".:").replace("no.", "no"))
    if _OF_THE_PAPER.fullmatch(name) is not None:
        return "title"
    return KEYS.get(name) or ("devised_by" if _CHOREO.fullmatch(name) else None)


def _is_key(key: str) -> bool:
    return field_of(key) is not None


class HeaderReader(KeyReading):
    """Takes header lines one by one; what they say is in ``header``, ``order`` and ``findings``."""

    def key(self, line: Line) -> bool:
        """A line "Key: value" (or "by ..."), if it is one whose key is known."""
        pieces = [line] if _NOTES.match(line.text) else pieces_of(line, _is_key)
        if len(pieces) > 1:
            return self._row(line, pieces)
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
        if self._told_before(field, line):
            message = f"{found['key'].strip()} stands on line {self.seen[field]} already; the first one counts"
            self._bad(line.place, message)
            return True
        return _READERS[field](self, field, line, found.start("value"))

    def _row(self, line: Line, pieces: list[Line]) -> bool:
        """Each piece is read, whatever the first told."""
        before = len(self.seen)
        told = [self.key(piece) or self.facts(piece) for piece in pieces]
        if len(self.seen) - before >= LEAST_OF_ROW:
            self._find_bare_tempo(line, line.text)
        return any(told)

    def _told_before(self, field: str, line: Line) -> bool:
        """Whether another line has told it; a level in a remark ("Tuesday improvers' class") says less than "Level:"."""
        if field == "level" and not self.level_keyed:
            self.level_keyed = bool(self.seen.pop("level", 1))
        return field in self.seen and self.seen[field] != line.number

    def _devised(self, field: str, line: Line, start: int) -> bool:
        """By whom; of "for the Tuesday class by Ada" just that, and all of it as a note."""
        if _NO_NAME.match(line.text, start) is None:
            return self.text(field, line, start)
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

    def named(self, name: str) -> None:
        """The name that the head tells in words stands before what its first line might be."""
        if name:
            if self.header.title and self.header.title.lower() not in name.lower():
                self.note(self.header.title)
            self.header = replace(self.header, title=name)
            self.places.setdefault("title", Place(1))

    def title(self, line: Line) -> None:
        """A first line that is nothing else; what stands in it of counts and walls is taken too."""
        first, *further = pieces_of(line, _is_key)
        whole, line, text = line, first, first.text
        if further:
            self._row(whole, further)
            self._find_kind(first)
        self._find_tempo(first)
        if (quoted := _QUOTED_NAME.search(text)) is not None and (quoted.start() == 0 or OF_THE_CLUB.search(text)):
            self.facts(line)
            text = quoted["name"]
        if (found := _BY_BEHIND_TITLE.search(text)) is not None and found.start() > 0:
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
        if (behind := BEHIND_TITLE.search(text)) is not None:
            self._find_kind(replace(first, text=behind[0], exact=False))
            self.note(behind[0].strip(" -()[]~*\u2013\u2014"))
            text = text[: behind.start()]
        text = text.strip(' \t-\u2010\u2011\u2012\u2013\u2014|/,:;(~*=\u201c\u201d"') or line.text
        self._saw("title", line, 0)
        self.header = replace(self.header, title=text)

    def finish(self) -> Header:
        if not self.header.title:
            self._bad(Place(1), "no title is told; a first line with the dance's name, or 'Title: ...', tells it")
        if "tempo" not in self.seen:
            self._bad(Place(1), "no tempo is told; a line 'Tempo: 100' (BPM) tells it, and --tempo asks for another")
        return replace(self.header, places=self.places)


_READERS: dict[str, Callable[[HeaderReader, str, Line, int], bool]] = {
    **dict.fromkeys(("title", "music", "notes"), HeaderReader.text),
    "devised_by": HeaderReader._devised,
    "level": HeaderReader.level,
    **dict.fromkeys(("counts", "walls", "intro"), HeaderReader.whole_key),
    "tempo": HeaderReader.tempo_key,
    "meter": HeaderReader.meter_key,
    "feel": HeaderReader.feel_key,
    "starts": HeaderReader.starts_key,
    "order": HeaderReader.order_key,
}
