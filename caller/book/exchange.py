"""The class book as CSV and JSON, out and in again the same.

Conventions: CSV is one table (RFC 4180, UTF-8) with a heading; its first column says what a line is: "class",
"taught", "note" or "mark". A cell that a spreadsheet would work out as a formula, or that begins with an apostrophe,
is written behind an apostrophe, which is taken off again on the way in. JSON is ``{"classes": [name], "taught": [...],
"notes": [...], "marks": [...]}``; both are also read as they were before there were marks. Instants are as in the
book, tempos plain numbers in a string ("108", "132.5"), to a hundredth; fractions ("265/2") are read too. What
comes in is held to the types below, and to the book's own bounds.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping
from typing import Any, Protocol, TypeVar

import msgspec

from caller.book.entries import Mark, Note, Pages, Taught
from caller.book.rows import ClassRow, MarkRow, Name, NoteRow, TaughtRow, mark_row, note_row, plain, taught_row
from caller.outside import documents, numbers

_FIRST = ("kind", "class", "at", "routine", "way", "part", "stage", "stages", "tempo", "full", "words")
# Since entries tell who attended, and marks are kept; then, since they tell whether stages were left out.
_SECOND = ("attended", "mark")
LATER = (*_SECOND, "since")
COLUMNS = (*_FIRST, *LATER)
MOST_BYTES = 50_000_000
# What a spreadsheet takes for the beginning of a formula (OWASP, "CSV Injection"), and what keeps it from that.
_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_APOSTROPHE = "'"

Entry = TypeVar("Entry", covariant=True)


class NotABook(Exception):
    """A file that holds no class book: one sentence on where it goes wrong."""


class _EntryRow(Protocol[Entry]):
    def entry(self) -> Entry: ...


class _Book(msgspec.Struct, forbid_unknown_fields=True):
    classes: list[Name] = []
    taught: list[TaughtRow] = []
    notes: list[NoteRow] = []
    marks: list[MarkRow] = []


def to_json(pages: Pages) -> str:
    document = {
        "classes": list(pages.classes),
        "taught": [taught_row(entry, plain) for entry in pages.taught],
        "notes": [note_row(note) for note in pages.notes],
        "marks": [mark_row(mark) for mark in pages.marks],
    }
    return json.dumps(document, ensure_ascii=False, indent=1) + "\n"


def to_csv(pages: Pages) -> str:
    text = io.StringIO(newline="")
    table = csv.DictWriter(text, COLUMNS, restval="")
    table.writeheader()
    rows: list[dict[str, object]] = [{"kind": "class", "class": name} for name in pages.classes]
    rows += [{"kind": "taught", **taught_row(entry, plain)} for entry in pages.taught]
    rows += [{"kind": "note", **note_row(note)} for note in pages.notes]
    rows += [{"kind": "mark", **mark_row(mark)} for mark in pages.marks]
    table.writerows({key: _cell(value) for key, value in row.items()} for row in rows)
    return text.getvalue()


def from_json(text: str) -> Pages:
    """Raises NotABook."""
    try:
        book = documents.json(text, _Book)
    except documents.Unreadable as fault:
        raise NotABook(f"its JSON can't be read: {fault}") from fault
    taught = [_entry(row, f"taught {n}") for n, row in enumerate(book.taught, 1)]
    notes = [_entry(row, f"note {n}") for n, row in enumerate(book.notes, 1)]
    marks = [_entry(row, f"mark {n}") for n, row in enumerate(book.marks, 1)]
    return _pages(book.classes, taught, notes, marks)


def from_csv(text: str) -> Pages:
    """Raises NotABook."""
    classes: list[str] = []
    taught: list[Taught] = []
    notes: list[Note] = []
    marks: list[Mark] = []
    table = csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline=""), restval="")
    try:
        if set(table.fieldnames or ()) not in (set(COLUMNS), {*_FIRST, *_SECOND}, set(_FIRST)):
            raise NotABook(f"its first line must name the columns {', '.join(COLUMNS)}")
        for written in table:
            where = f"line {table.line_num}"
            if None in written:
                raise NotABook(f"{where} has more cells than there are columns")
            row = {key: _told(value) for key, value in written.items()}
            if row["kind"] == "class":
                classes.append(_entry(_typed(row, ClassRow, where), where))
            elif row["kind"] == "taught":
                taught.append(_entry(_typed(row, TaughtRow, where), where))
            elif row["kind"] == "note":
                notes.append(_entry(_typed(row, NoteRow, where), where))
            elif row["kind"] == "mark":
                marks.append(_entry(_typed(row, MarkRow, where), where))
            else:
                raise NotABook(
                    f"{where}: a line's kind is class, taught, note or mark, not {numbers.shown(row['kind'])}"
                )
    except csv.Error as error:
        raise NotABook(f"line {table.line_num}: {error}") from error
    return _pages(classes, taught, notes, marks)


def _pages(classes: list[str], taught: list[Taught], notes: list[Note], marks: list[Mark]) -> Pages:
    """The classes that entries name are there too."""
    entries: tuple[Taught | Note | Mark, ...] = (*taught, *notes, *marks)
    named = {*classes, *(entry.class_name for entry in entries)}
    return Pages(tuple(sorted(named)), tuple(taught), tuple(notes), tuple(marks))


_Struct = TypeVar("_Struct", bound=msgspec.Struct)


def _typed(row: Mapping[str, Any], wanted: type[_Struct], where: str) -> _Struct:
    try:
        return msgspec.convert(row, wanted, strict=False)  # every cell is text, also a stage
    except (msgspec.ValidationError, ValueError) as fault:
        raise NotABook(f"{where} can't be read: {fault}") from fault


def _entry(row: _EntryRow[Entry], where: str) -> Entry:
    try:
        return row.entry()
    except ValueError as fault:
        raise NotABook(f"{where} can't be read: {fault}") from fault


def _cell(value: object) -> object:
    if isinstance(value, str) and value.startswith((*_FORMULA, _APOSTROPHE)):
        return _APOSTROPHE + value
    return value


def _told(cell: str) -> str:
    """What a cell says, without the apostrophe that kept it from being worked out."""
    plain = cell.removeprefix(_APOSTROPHE)
    return plain if plain.startswith((*_FORMULA, _APOSTROPHE)) else cell
