"""The class book on disk: one SQLite file in the user's data folder.

Conventions: each entry is written and synced when it is made (write-ahead log, synchronous FULL), so that what has
returned is there after a power cut. Erased entries are overwritten (secure_delete). The file can be read by its owner
alone. One thread; a second program may read or write at the same time and waits for up to ``BUSY_SECONDS``. A class is
found in any case and spacing, and keeps the name that it was begun with.
"""

from __future__ import annotations

import contextlib
import os
import sqlite3
from collections.abc import Iterable, Iterator
from pathlib import Path
from types import TracebackType
from typing import Protocol, TypeVar

import msgspec

from caller.book.entries import Mark, Note, Pages, Taught, missing_from
from caller.book.forms import FORMS, as_compared
from caller.book.rows import ClassRow, MarkRow, NoteRow, TaughtRow, mark_row, note_row, taught_row
from caller.book.spelling import classes_joined, same_name
from caller.storage.whole import own_folder

BUSY_SECONDS = 5.0
_SIDE_FILES = ("", "-wal", "-shm", "-journal")

Row = TypeVar("Row", bound=msgspec.Struct)
Entry = TypeVar("Entry", covariant=True)


class _Entries(Protocol[Entry]):
    def entry(self) -> Entry: ...


class BookFault(Exception):
    """The book can't be read or written: one sentence on why, and what to do."""


def book_path() -> Path:
    """Where the book lies."""
    import platformdirs

    return platformdirs.user_data_path("caller") / "class-book.sqlite"


class Book:
    """The class book at a path, made where it isn't there. Raises BookFault, here and in all it does.

    unread: how many entries the last look left out, since they can't be read; they stay where they are.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.unread = 0
        try:
            own_folder(path.parent)
            os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))
        except OSError as error:
            raise BookFault(
                f"the class book {path} can't be opened: {(error.strerror or str(error)).lower()}"
            ) from error
        with self._asked():
            self._file = sqlite3.connect(path, timeout=BUSY_SECONDS, isolation_level=None)
            self._file.create_function("folded", 1, as_compared, deterministic=True)
            self._open()

    def __enter__(self) -> Book:
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    def close(self) -> None:
        with self._asked():
            self._file.close()

    # -- written as it happens

    def add_class(self, name: str) -> None:
        """A class, if it is not there yet."""
        with self._writing():
            self._class_id(name)

    def add(self, entry: Taught | Note | Mark) -> None:
        """One entry; once this returns, it is on disk."""
        with self._writing():
            self._add(entry)

    def add_missing(self, wanted: Pages) -> Pages:
        """What the book lacks of these pages, all or nothing; returns what was added."""
        with self._writing():
            fresh = _missing(self._pages(), wanted)
            for name in fresh.classes:
                self._class_id(name)
            entries: tuple[Taught | Note | Mark, ...] = (*fresh.taught, *fresh.notes, *fresh.marks)
            for entry in entries:
                self._add(entry)
            return fresh

    def put(self, entry: Taught, instead_of: Taught) -> None:
        """An entry in the place of another, which was about the same while it was under way."""
        row = taught_row(instead_of)
        with self._writing():
            told = (self._class_id(instead_of.class_name), row["at"], row["routine"], row["way"], row["part"])
            self._file.execute(_TAKE_OUT, told)
            self._add(entry)

    def attend(self, entries: Iterable[Taught]) -> None:
        """That somebody was there, of entries that were added without that."""
        with self._writing():
            for entry in entries:
                row = taught_row(entry)
                told = (self._class_id(entry.class_name), row["at"], row["routine"], row["way"], row["part"])
                self._file.execute(_ATTEND, told)

    # -- read

    def pages(self) -> Pages:
        with self._asked():
            return self._pages()

    def lacking(self, wanted: Pages) -> Pages:
        """What the book has not of these pages, with its own names of classes."""
        return _missing(self.pages(), wanted)

    # -- erased

    def erase_class(self, name: str) -> bool:
        """A class with all that was kept of it, overwritten on disk; False where there is none of that name."""
        with self._writing():
            found = self._file.execute("DELETE FROM class WHERE folded(name) = folded(?)", (name,)).rowcount > 0
        self._overwrite()
        return found

    def erase_routine(self, class_name: str, routine: str) -> int:
        """One routine, in whatever case it is written, out of a class's pages, overwritten on disk; returns how many
        entries of it there were."""
        erased = 0
        with self._writing():
            for table in ("taught", "note", "mark"):
                rows = self._file.execute(_ROUTINES.format(table), (class_name,)).fetchall()
                numbers = [(number,) for number, title in rows if same_name(str(title), routine)]
                self._file.executemany(f"DELETE FROM {table} WHERE id = ?", numbers)
                erased += len(numbers)
        self._overwrite()
        return erased

    def _overwrite(self) -> None:
        """Nothing of what was erased is left in the file, nor beside it."""
        with self._asked():
            self._file.execute("VACUUM")
            self._file.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    # -- SQLite

    def _open(self) -> None:
        for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "secure_delete=ON"):
            self._file.execute(f"PRAGMA {pragma}")
        self._file.execute("BEGIN IMMEDIATE")
        try:
            (form,) = self._file.execute("PRAGMA user_version").fetchone()
            if form > len(FORMS):
                raise BookFault(f"the class book {self.path} was written by a newer caller; bring this one up to date")
            for statements in FORMS[form:]:
                for statement in filter(str.strip, statements.split(";")):
                    self._file.execute(statement)
            if form < len(FORMS):
                self._file.execute(f"PRAGMA user_version={len(FORMS)}")
        except BaseException:
            self._file.execute("ROLLBACK")
            raise
        self._file.execute("COMMIT")

    @contextlib.contextmanager
    def _asked(self) -> Iterator[None]:
        try:
            yield
        except sqlite3.Error as error:
            if getattr(error, "sqlite_errorcode", None) == sqlite3.SQLITE_BUSY:
                raise BookFault(
                    f"the class book {self.path} is held by another program; close that, or try again"
                ) from error
            raise BookFault(
                f"the class book {self.path} can't be used: {error}; 'caller book where' tells how to start another"
            ) from error

    @contextlib.contextmanager
    def _writing(self) -> Iterator[None]:
        """All that is written within, or nothing."""
        with self._asked():
            self._file.execute("BEGIN IMMEDIATE")
            try:
                yield
            except BaseException:
                self._file.execute("ROLLBACK")
                raise
            self._file.execute("COMMIT")

    def _class_id(self, name: str) -> int:
        found = self._file.execute("SELECT id FROM class WHERE folded(name) = folded(?)", (name,)).fetchone()
        if found is None:
            return int(self._file.execute("INSERT INTO class (name) VALUES (?)", (name,)).lastrowid or 0)
        return int(found[0])

    def _add(self, entry: Taught | Note | Mark) -> None:
        table, row = _row(entry)
        columns = ", ".join(["class", *row])
        places = ", ".join("?" * (len(row) + 1))
        values = (self._class_id(entry.class_name), *row.values())
        self._file.execute(f"INSERT INTO {table} ({columns}) VALUES ({places})", values)

    def _pages(self) -> Pages:
        self.unread = 0
        return Pages(
            tuple(row.entry() for row in self._read(_CLASSES, ClassRow)),
            tuple(entry for row in self._read(_TAUGHT, TaughtRow) if (entry := self._entry(row))),
            tuple(note for row in self._read(_NOTES, NoteRow) if (note := self._entry(row))),
            tuple(mark for row in self._read(_MARKS, MarkRow) if (mark := self._entry(row))),
        )

    def _read(self, asked: str, wanted: type[Row]) -> Iterator[Row]:
        found = self._file.execute(asked)
        names = [column[0] for column in found.description]
        for values in found:
            try:
                yield msgspec.convert(dict(zip(names, values, strict=True)), wanted)
            except (msgspec.ValidationError, ValueError):
                self.unread += 1

    def _entry(self, row: _Entries[Entry]) -> Entry | None:
        try:
            return row.entry()
        except ValueError:
            self.unread += 1
            return None


def erase_book(path: Path) -> bool:
    """The whole book, with what SQLite keeps beside it; False where there is none. Raises BookFault."""
    found = path.exists()
    try:
        for suffix in _SIDE_FILES:
            path.with_name(path.name + suffix).unlink(missing_ok=True)
    except OSError as error:
        raise BookFault(f"{path} can't be erased: {(error.strerror or str(error)).lower()}") from error
    return found


_CLASSES = 'SELECT name AS "class" FROM class ORDER BY name'
_TAUGHT = (
    "SELECT name AS \"class\", at, routine, way, part, stage, stages, coalesce(tempo, '') AS tempo,"
    " coalesce(full, '') AS full, attended, since FROM taught JOIN class ON class.id = class ORDER BY taught.id"
)
_NOTES = 'SELECT name AS "class", at, routine, words FROM note JOIN class ON class.id = class ORDER BY note.id'
_MARKS = 'SELECT name AS "class", at, routine, mark FROM mark JOIN class ON class.id = class ORDER BY mark.id'
_ROUTINES = "SELECT {0}.id, routine FROM {0} JOIN class ON class.id = class WHERE folded(name) = folded(?)"
_ATTEND = "UPDATE taught SET attended = 'yes' WHERE class = ? AND at = ? AND routine = ? AND way = ? AND part = ?"

_TAKE_OUT = (
    "DELETE FROM taught WHERE id = (SELECT max(id) FROM taught"
    " WHERE class = ? AND at = ? AND routine = ? AND way = ? AND part = ?)"
)


def _missing(there: Pages, wanted: Pages) -> Pages:
    return missing_from(there, classes_joined(wanted, there.classes))


def _row(entry: Taught | Note | Mark) -> tuple[str, dict[str, object]]:
    """The table, and what goes into its columns."""
    if isinstance(entry, Mark):
        table, row = "mark", mark_row(entry)
    else:
        table, row = ("note", note_row(entry)) if isinstance(entry, Note) else ("taught", taught_row(entry))
    del row["class"]
    return table, {name: None if value == "" and name in ("tempo", "full") else value for name, value in row.items()}
