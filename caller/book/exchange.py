"""The class book as CSV and JSON, out and in again the same.

Conventions: CSV is one table (RFC 4180, UTF-8) with a heading; its first column says what a line is: "class",
"taught" or "note". JSON is ``{"classes": [name], "taught": [...], "notes": [...]}``. Instants are as in the book,
tempos exact fractions in a string ("108", "265/2").
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from caller.book.entries import WAYS, Note, Pages, Taught, moment, moment_text

COLUMNS = ("kind", "class", "at", "routine", "way", "part", "stage", "stages", "tempo", "full", "words")


class NotABook(Exception):
    """A file that holds no class book: one sentence on where it goes wrong."""


def to_json(pages: Pages) -> str:
    document = {
        "classes": list(pages.classes),
        "taught": [_taught_row(entry) for entry in pages.taught],
        "notes": [_note_row(note) for note in pages.notes],
    }
    return json.dumps(document, ensure_ascii=False, indent=1) + "\n"


def to_csv(pages: Pages) -> str:
    text = io.StringIO(newline="")
    table = csv.DictWriter(text, COLUMNS, restval="")
    table.writeheader()
    table.writerows({"kind": "class", "class": name} for name in pages.classes)
    table.writerows({"kind": "taught", **_taught_row(entry)} for entry in pages.taught)
    table.writerows({"kind": "note", **_note_row(note)} for note in pages.notes)
    return text.getvalue()


def from_json(text: str) -> Pages:
    """Raises NotABook."""
    try:
        document = json.loads(text)
    except ValueError as error:
        raise NotABook(f"it is no JSON: {error}") from error
    if not isinstance(document, dict):
        raise NotABook("its JSON is no class book: an object with classes, taught and notes is wanted")
    classes = [str(name) for name in _listed(document, "classes")]
    taught = [_read(_taught, row, f"taught {n}") for n, row in enumerate(_listed(document, "taught"), 1)]
    notes = [_read(_note, row, f"note {n}") for n, row in enumerate(_listed(document, "notes"), 1)]
    return _pages(classes, taught, notes)


def from_csv(text: str) -> Pages:
    """Raises NotABook."""
    classes: list[str] = []
    taught: list[Taught] = []
    notes: list[Note] = []
    table = csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline=""))
    try:
        if set(table.fieldnames or ()) != set(COLUMNS):
            raise NotABook(f"its first line must name the columns {', '.join(COLUMNS)}")
        for row in table:
            where = f"line {table.line_num}"
            if row["kind"] == "class":
                classes.append(row["class"])
            elif row["kind"] == "taught":
                taught.append(_read(_taught, row, where))
            elif row["kind"] == "note":
                notes.append(_read(_note, row, where))
            else:
                raise NotABook(f"{where}: a line's kind is class, taught or note, not {row['kind']!r}")
    except csv.Error as error:
        raise NotABook(f"line {table.line_num}: {error}") from error
    return _pages(classes, taught, notes)


def _pages(classes: list[str], taught: list[Taught], notes: list[Note]) -> Pages:
    """The classes that entries name are there too."""
    named = {*classes, *(entry.class_name for entry in taught), *(note.class_name for note in notes)}
    return Pages(tuple(sorted(named)), tuple(taught), tuple(notes))


def _listed(document: Mapping[str, Any], key: str) -> list[Any]:
    found = document.get(key, [])
    if not isinstance(found, list):
        raise NotABook(f"{key} must be a list")
    return found


def _read(make: Callable[[Mapping[str, Any]], Any], row: Any, where: str) -> Any:
    if not isinstance(row, Mapping):
        raise NotABook(f"{where} is no entry")
    try:
        return make(row)
    except KeyError as error:
        raise NotABook(f"{where} says no {error.args[0]}") from error
    except (ValueError, TypeError, ZeroDivisionError) as error:
        raise NotABook(f"{where} can't be read: {error}") from error


def _taught_row(entry: Taught) -> dict[str, Any]:
    return {
        "class": entry.class_name,
        "at": moment_text(entry.at),
        "routine": entry.routine,
        "way": entry.way,
        "part": entry.part,
        "stage": entry.stage,
        "stages": entry.stages,
        "tempo": "" if entry.tempo is None else str(entry.tempo),
        "full": "" if entry.full is None else str(entry.full),
    }


def _note_row(note: Note) -> dict[str, Any]:
    return {"class": note.class_name, "at": moment_text(note.at), "routine": note.routine, "words": note.words}


def _taught(row: Mapping[str, Any]) -> Taught:
    if row["way"] not in WAYS:
        raise ValueError(f"what was done is one of {', '.join(WAYS)}, not {row['way']!r}")
    return Taught(
        _text(row, "class"),
        moment(row["at"]),
        _text(row, "routine"),
        row["way"],
        _text(row, "part"),
        int(row["stage"]),
        int(row["stages"]),
        _tempo(row["tempo"]),
        _tempo(row["full"]),
    )


def _note(row: Mapping[str, Any]) -> Note:
    return Note(_text(row, "class"), moment(row["at"]), _text(row, "routine"), _text(row, "words"))


def _text(row: Mapping[str, Any], key: str) -> str:
    if not isinstance(row[key], str):
        raise ValueError(f"{key} must be words, not {row[key]!r}")
    return str(row[key])


def _tempo(text: str) -> Fraction | None:
    return Fraction(text) if text else None
