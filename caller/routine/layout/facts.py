"""What a line of the head says in any order: "48c / 2w / Improver / Choreo: ...", or a sentence with counts and walls in it."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from caller.routine.findings import Finding, Place
from caller.routine.layout.fact_patterns import (
    BARE_TEMPO,
    COUNTS,
    COUNTS_AFTER,
    FASTEST,
    HUNDRED,
    LEVEL,
    METER,
    METERS,
    MOST_COUNTS,
    MOST_INTRO,
    MOST_WALLS,
    NO_INTRO,
    OF_AN_EVENT,
    OF_THE_MUSIC,
    ON_COUNT,
    PARTS,
    SENTENCE_END,
    SLOWEST,
    STARTS,
    SWING,
    TEMPO,
    WALLS,
    WALLS_AFTER,
    WALTZ,
)
from caller.routine.layout.intro_patterns import INTRO
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import WORDS, number_of
from caller.routine.meter import Feel, Meter
from caller.routine.parts import Header, OrderItem
from caller.routine.step import Foot

# "32 temps / counts"
_IN_TWO_LANGUAGES = re.compile(r"(?<=\d)( )([^\W\d_]+\s*/\s*)(?=(?:counts?|walls?)\b)", re.IGNORECASE)
_LEAST_INTRO = 4  # counts, where it is not said that they are
_IN_COUNTS = re.compile(r"count|beat|\bcts?\b|[x\u00d7]", re.IGNORECASE)
LEAST_OF_ROW = 2  # facts, beside which a number alone is the tempo
# "a waltz for the intermediates": the level, told by those who dance it.
_OF_COUNTS = re.compile(r"\b(?:counts?|cts)\W*$", re.IGNORECASE)
_DANCERS = re.compile(r"\b(beginner|newcomer|novice|improver|intermediate)s\b", re.IGNORECASE)
_QUOTED = re.compile(r"[\"\u201c\u201e][^\"\u201c\u201d]{1,80}[\"\u201d\u201c]")  # a title, which may have any word
_OF_INTRO = re.compile(r"\W*(?:intro(?:duction)?|count[\s-]?in|lead[\s-]?in|wait)\b", re.IGNORECASE)


class Facts:
    """What is known of the header so far: ``header``, ``order``, ``findings``; places and seen by field."""

    def __init__(self) -> None:
        self.header = Header()
        self.findings: list[Finding] = []
        self.order: list[OrderItem] = []
        self.places: dict[str, Place] = {}
        self.seen: dict[str, int] = {}
        self.level_keyed = False
        self.inferred: set[str] = set()
        self.lengths: dict[str, tuple[int, Line]] = {}  # of parts

    def facts(self, line: Line) -> bool:
        """What the line says of counts, walls, level, tempo, meter, intro and starting foot; whether it says any."""
        text = line.text
        if (plain := _IN_TWO_LANGUAGES.sub(lambda both: both[1].ljust(len(both[1] + both[2])), text)) != text:
            line, text = replace(line, text=plain), plain
        before = dict(self.seen)
        intro = self._find_intro(line)
        if intro is None and "intro" in self.seen and _OF_INTRO.match(text):
            self._find_tempo(line)  # "Intro: 16 counts (112 BPM)"
            return self.seen != before
        rest = text[: intro[0]] + " " * (intro[1] - intro[0]) + text[intro[1] :] if intro else text
        for field, patterns in (("counts", (COUNTS, COUNTS_AFTER)), ("walls", (WALLS, WALLS_AFTER))):
            for pattern in patterns:
                found = pattern.search(rest)
                if found is not None and field not in self.seen and not (field == "counts" and PARTS.search(rest)):
                    word = found["n"].lower()
                    if found[0].lower() == "count 1":
                        continue  # "the count 1 belongs to the section after"
                    self._whole(field, 1 if word == "single" else number_of(word), line, found.start())
        self._find_tempo(line)
        self._find_kind(line)
        self._find_level(line)
        if len(self.seen) - len(before) >= LEAST_OF_ROW:
            self._find_bare_tempo(line, rest)
        self._find_start(line)
        return self.seen != before

    def keep(self, line: Line) -> bool:
        self.note(line.text)
        return True

    def _find_intro(self, line: Line) -> tuple[int, int] | None:
        if "intro" in self.seen:
            return None
        for pattern in INTRO:
            found = pattern.search(line.text)
            if found is None:
                continue
            number = number_of(found["k"]) * number_of(found["n8"]) if found["k"] else number_of(found["n"])
            if 0 < number <= MOST_INTRO and (number >= _LEAST_INTRO or _IN_COUNTS.search(found[0]) is not None):
                self._set("intro", number, line, found.start())
                return found.span()
        if (found := ON_COUNT.search(line.text)) is not None and (number := int(found["n"]) - 1) % 4 == 0:
            self._set("intro", number, line, found.start())  # "starts on count 17"
            return found.span()
        if (found := NO_INTRO.search(line.text)) is not None:
            self._set("intro", 0, line, found.start())
            return found.span()
        return None

    def _find_tempo(self, line: Line) -> None:
        if "tempo" in self.seen:
            return
        if (hundred := HUNDRED.search(line.text)) is not None:
            self._set("tempo", Fraction(100 + WORDS.get((hundred["more"] or "").lower(), 0)), line, hundred.start())
            return
        found = TEMPO.search(line.text)
        if found is None:
            return
        tempo = Fraction((found["n"] or found["m"] or found["at"]).replace(",", "."))
        if SLOWEST <= tempo <= FASTEST:
            self._set("tempo", tempo, line, found.start())

    def _find_bare_tempo(self, line: Line, rest: str) -> None:
        """ "32 ct - 2 walls - 110 - wait 16": a number alone among the facts of a row."""
        told = [found for found in BARE_TEMPO.finditer(rest) if int(found["n"]) not in (self.header.counts, 0)]
        told = [found for found in told if _OF_COUNTS.search(rest, 0, found.start("n")) is None]
        if "tempo" in self.seen or len(told) != 1:
            return
        self._set("tempo", Fraction(told[0]["n"]), line, told[0].start("n"))
        place = Place(line.number, line.column + told[0].start("n"))
        message = f"{told[0]['n']} is taken as the tempo; '{told[0]['n']} BPM' makes that sure"
        self.findings.append(Finding(place, "guess", message))

    def beside(self, line: Line) -> None:
        """What a line that is something else says of the music: its introduction and its tempo, in the sentences of it
        that tell of no event."""
        start = 0
        for cut in (*SENTENCE_END.finditer(line.text), None):
            end = cut.end() if cut is not None else len(line.text)
            piece, start = line.piece(start, end), end
            if OF_AN_EVENT.search(_QUOTED.sub("", piece.text)) is None:
                self._find_tempo(piece)
                if OF_THE_MUSIC.search(piece.text) is not None:
                    self._find_intro(piece)

    def _find_kind(self, line: Line) -> None:
        """Meter and feel, by name or by the kind of dance or music."""
        text = line.text
        if "meter" not in self.seen and (found := METER.search(text)) is not None:
            meter = METERS.get(re.sub(r"\s", "", found["meter"]).replace("\u00be", "3/4"))
            fraction = re.search(r"turn|pivot|left|right", text, re.IGNORECASE)
            if meter is not None and not fraction:
                self._set("meter", meter, line, found.start())
        if "meter" not in self.seen and "meter" not in self.inferred and (found := WALTZ.search(text)) is not None:
            self.header = replace(self.header, meter=Meter(3, 4))
            self.inferred.add("meter")
        if "feel" not in self.seen and (found := SWING.search(text)) is not None:
            self.header = replace(self.header, feel=Feel.SWING)
            self.inferred.add("feel")

    def _find_start(self, line: Line) -> None:
        for pattern, other in STARTS:
            if "starts" not in self.seen and (found := pattern.search(line.text)) is not None:
                foot = Foot(found["f"][0].upper())
                self._set("starts", foot.other if other else foot, line, found.start())

    def _find_level(self, line: Line) -> None:
        if "level" in self.seen:
            return
        found = LEVEL.search(line.text)
        if found is not None:
            level = _DANCERS.sub(r"\1", found.group().strip(" ."))
            self._set("level", level, line, found.start())

    def _whole(self, field: str, number: int, line: Line, at: int) -> None:
        least, most = {"counts": (1, MOST_COUNTS), "walls": (1, MOST_WALLS), "intro": (0, MOST_INTRO)}[field]
        if not least <= number <= most:
            place = Place(line.number, line.column + at)
            self._bad(
                place,
                f"{field.capitalize()} must be a whole number from {least} to {most}, not {line.text[at : at + 40]!r}",
            )
            self.seen.setdefault(field, line.number)
            return
        self._set(field, number, line, at)

    def told(self, field: str, value: object, line: Line, at: int) -> None:
        """Takes a value that a line tells outright. value: None where it is kept elsewhere."""
        self._saw(field, line, at)
        if value is not None:
            self._set(field, value, line, at)

    def note(self, text: str) -> None:
        self.header = replace(self.header, notes=(*self.header.notes, text))

    def drop_note(self, text: str) -> None:
        """What was kept as a note and turns out to tell steps."""
        self.header = replace(self.header, notes=tuple(note for note in self.header.notes if note != text))

    def _set(self, field: str, value: object, line: Line, at: int) -> None:
        self._saw(field, line, at)
        self.header = replace(self.header, **{field: value})  # type: ignore[arg-type]

    def _saw(self, field: str, line: Line, at: int = 0) -> None:
        self.seen[field] = line.number
        self.places[field] = Place(line.number, line.column + at)

    def _bad(self, place: Place, message: str) -> None:
        self.findings.append(Finding(place, "header", message))
