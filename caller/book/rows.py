"""Entries as a file has them, in the book itself and in what goes out and comes in: text and whole numbers, held to
their types and bounds (msgspec).

Conventions: see ``caller.book.entries``. Tempos are strings, "" for none: in the book exact ("108", "265/2"), in what
goes out plain and to a hundredth ("108", "132.5").
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Annotated, Literal

import msgspec

from caller.book.entries import Mark, Note, Standing, Taught, Way, hundredths, moment, moment_text
from caller.outside import numbers

LONGEST_NAME, LONGEST_WORDS = 200, 5_000
MOST_STAGES = 100_000
# Half of the slowest tempo that there is, and twice the quickest.
LOWEST_TEMPO, HIGHEST_TEMPO = 10, 800

Name = Annotated[str, msgspec.Meta(max_length=LONGEST_NAME)]
Words = Annotated[str, msgspec.Meta(max_length=LONGEST_WORDS)]
StageNumber = Annotated[int, msgspec.Meta(ge=0, le=MOST_STAGES)]


class TaughtRow(msgspec.Struct, rename={"class_name": "class"}):
    class_name: Name
    at: str
    routine: Words
    way: Way
    part: Words
    stage: StageNumber
    stages: StageNumber
    tempo: str
    full: str
    attended: Literal["yes", "no"] = "yes"  # what was kept before this was asked counts as it did
    since: StageNumber = 1  # the same

    def entry(self) -> Taught:
        """Raises ValueError."""
        told = self.class_name, moment(self.at), self.routine, self.way, self.part, self.stage, self.stages
        return Taught(*told, _tempo(self.tempo), _tempo(self.full), self.attended == "yes", self.since)


class MarkRow(msgspec.Struct, rename={"class_name": "class"}):
    class_name: Name
    at: str
    routine: Words
    mark: Standing

    def entry(self) -> Mark:
        """Raises ValueError."""
        return Mark(self.class_name, moment(self.at), self.routine, self.mark)


class NoteRow(msgspec.Struct, rename={"class_name": "class"}):
    class_name: Name
    at: str
    routine: Words
    words: Words

    def entry(self) -> Note:
        """Raises ValueError."""
        return Note(self.class_name, moment(self.at), self.routine, self.words)


class ClassRow(msgspec.Struct, rename={"class_name": "class"}):
    class_name: Name

    def entry(self) -> str:
        return self.class_name


def exact(tempo: Fraction | None) -> str:
    return "" if tempo is None else str(tempo)


def plain(tempo: Fraction | None) -> str:
    """To a hundredth, "96" or "97.5"."""
    return "" if (told := hundredths(tempo)) is None else f"{float(told):.2f}".rstrip("0").rstrip(".")


def taught_row(entry: Taught, write: Callable[[Fraction | None], str] = exact) -> dict[str, object]:
    """write: a tempo, as it is to be kept or as it goes out."""
    return {
        "class": entry.class_name,
        "at": moment_text(entry.at),
        "routine": entry.routine,
        "way": entry.way,
        "part": entry.part,
        "stage": entry.stage,
        "stages": entry.stages,
        "tempo": write(entry.tempo),
        "full": write(entry.full),
        "attended": "yes" if entry.attended else "no",
        "since": entry.since,
    }


def mark_row(mark: Mark) -> dict[str, object]:
    return {"class": mark.class_name, "at": moment_text(mark.at), "routine": mark.routine, "mark": mark.mark}


def note_row(note: Note) -> dict[str, object]:
    return {"class": note.class_name, "at": moment_text(note.at), "routine": note.routine, "words": note.words}


def _tempo(text: str) -> Fraction | None:
    return numbers.number(text, LOWEST_TEMPO, HIGHEST_TEMPO, "a tempo") if text else None
