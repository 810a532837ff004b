"""The book on disk: what is written is there, whatever happens next."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings

from caller.book import store
from caller.book.entries import Note, Pages
from caller.book.store import Book, BookFault, erase_book
from tests.book.books import PAGES, START, pages

FIRST_FORM = """
CREATE TABLE class (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
CREATE TABLE taught (
    id INTEGER PRIMARY KEY, class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE, at TEXT NOT NULL,
    routine TEXT NOT NULL, way TEXT NOT NULL, part TEXT NOT NULL, stage INTEGER NOT NULL, stages INTEGER NOT NULL,
    tempo TEXT, full TEXT);
CREATE TABLE note (
    id INTEGER PRIMARY KEY, class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE, at TEXT NOT NULL,
    routine TEXT NOT NULL, words TEXT NOT NULL);
"""
# Writes one entry after another, and tells of each once it is written.
WRITER = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from caller.book.entries import Taught
from caller.book.store import Book
book = Book(Path(sys.argv[1]))
n = 0
while True:
    n += 1
    book.add(Taught("Tuesday", datetime(2026, 3, 31, tzinfo=UTC), "Lantern Row", "walkthrough", f"part {n}", n, 99999))
    print(n, flush=True)
"""


def test_nothing_that_was_told_as_written_is_lost_when_the_program_is_killed(tmp_path: Path) -> None:
    """kill -9 while it writes, time after time into the same book."""
    path = tmp_path / "book.sqlite"
    told = 0
    for _ in range(3):
        with subprocess.Popen([sys.executable, "-c", WRITER, str(path)], stdout=subprocess.PIPE, text=True) as writer:
            assert writer.stdout is not None
            for _ in range(20):
                told += bool(writer.stdout.readline())
            os.kill(writer.pid, signal.SIGKILL)
            told += len(writer.stdout.readlines())
        with Book(path) as book:
            there = book.pages().taught
        # The last one may have been written and not yet told, each time.
        assert told <= len(there)
        assert len(there) - told <= 3
        told = len(there)
    with sqlite3.connect(path) as file:
        assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def test_the_log_is_written_ahead_and_synced_in_full(tmp_path: Path) -> None:
    with Book(tmp_path / "book.sqlite") as book:
        assert book._file.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert book._file.execute("PRAGMA synchronous").fetchone() == (2,)  # FULL, by SQLite's own table


@settings(max_examples=20)
@given(pages())
def test_pages_come_back_as_they_were_written(tmp_path_factory: pytest.TempPathFactory, wanted: Pages) -> None:
    with Book(tmp_path_factory.mktemp("book") / "book.sqlite") as book:
        assert book.add_missing(wanted) == wanted
        assert book.pages() == wanted
        assert book.add_missing(wanted) == Pages()
        assert book.pages() == wanted


def test_two_programs_may_have_it_open_at_once(tmp_path: Path) -> None:
    with Book(tmp_path / "book.sqlite") as one, Book(tmp_path / "book.sqlite") as other:
        one.add(PAGES.taught[0])
        other.add(PAGES.taught[1])
        assert one.pages().taught == other.pages().taught == PAGES.taught


def test_an_erased_class_leaves_no_trace_in_the_file(tmp_path: Path) -> None:
    path = tmp_path / "book.sqlite"
    with Book(path) as book:
        book.add_missing(PAGES)
        book.add(Note("Beginners", START, "", "a secret of theirs"))
        assert book.erase_class("Beginners")
        assert not book.erase_class("Beginners")
        assert book.pages().classes == ("Tuesday",)
        assert book.pages().taught == PAGES.taught
    kept = b"".join(file.read_bytes() for file in tmp_path.iterdir())
    assert b"secret" not in kept
    assert b"Tuesday" in kept


def test_the_whole_book_can_be_erased_with_all_that_lies_beside_it(tmp_path: Path) -> None:
    path = tmp_path / "book.sqlite"
    book = Book(path)
    book.add_class("Tuesday")
    assert len(list(tmp_path.iterdir())) > 1
    assert erase_book(path)
    assert list(tmp_path.iterdir()) == []
    assert not erase_book(path)


@pytest.mark.skipif(os.name != "posix", reason="file modes are POSIX's")
def test_only_its_owner_may_read_it(tmp_path: Path) -> None:
    with Book(tmp_path / "deep" / "book.sqlite") as book:
        assert book.path.stat().st_mode & 0o077 == 0


def test_todays_books_become_new_ones_and_lose_nothing(tmp_path: Path) -> None:
    """A book of the first form, as it was made until there were marks, byte for byte in what it says."""
    path = tmp_path / "book.sqlite"
    with sqlite3.connect(path) as file:
        file.executescript(FIRST_FORM)
        file.execute("INSERT INTO class (name) VALUES ('Tuesday')")
        file.execute(
            "INSERT INTO taught (class, at, routine, way, part, stage, stages, tempo, full) VALUES"
            " (1, '2026-03-31T18:45:00Z', 'Lantern Row', 'walkthrough', 'section 1', 2, 30, '54', '108')"
        )
        file.execute("INSERT INTO note (class, at, routine, words) VALUES (1, '2026-03-31T18:45:00Z', '', 'née')")
        file.execute("PRAGMA user_version=1")
    for _ in range(2):  # and once it is so, it stays so
        with Book(path) as book:
            assert book.pages() == Pages(("Tuesday",), PAGES.taught[:1], PAGES.notes[1:])
    with Book(path) as book:
        book.add(PAGES.marks[0])
        assert book.pages().marks == PAGES.marks


def test_a_class_is_one_in_any_case_and_spacing(tmp_path: Path) -> None:
    """By the name that it was begun with, whatever is done with it."""
    other = [replace(entry, class_name=" TUESDAY", attended=False) for entry in PAGES.taught]
    with Book(tmp_path / "book.sqlite") as book:
        book.add_class("Tuesday")
        book.add(other[0])
        book.put(other[1], other[0])
        book.attend([replace(other[1], class_name="tuesday")])
        assert book.pages() == Pages(("Tuesday",), PAGES.taught[1:])
        again = Pages(("Thursday  night", "thursday night", "tuesday"), (replace(other[1], attended=True), other[0]))
        fresh = Pages(("Thursday  night",), (replace(PAGES.taught[0], attended=False),))
        assert book.lacking(again) == book.add_missing(again) == fresh
        assert book.lacking(again) == Pages()
        assert book.erase_routine("tuesday", "Lantern Row") == 2
        assert book.erase_class("tuesday")
        assert book.pages().classes == ("Thursday  night",)


def test_classes_that_were_kept_apart_by_their_case_become_one(tmp_path: Path) -> None:
    """As books could have them that were made before."""
    path = tmp_path / "book.sqlite"
    with Book(path) as book:
        book.add_missing(PAGES)
    with sqlite3.connect(path) as file:
        file.execute("INSERT INTO class (name) VALUES ('tuesday'), ('Née'), ('NÉE')")
        for table in ("taught", "note", "mark"):
            file.execute(f"UPDATE {table} SET class = (SELECT id FROM class WHERE name = 'tuesday') WHERE id % 2 = 0")
        file.execute("UPDATE note SET class = (SELECT id FROM class WHERE name = 'NÉE') WHERE routine = ''")
        file.execute("PRAGMA user_version=3")
    with Book(path) as book:
        notes = (PAGES.notes[0], replace(PAGES.notes[1], class_name="Née"))
        assert book.pages() == replace(PAGES, classes=("Beginners", "Née", "Tuesday"), notes=notes)


def test_an_entry_that_was_not_attended_can_be_told_of_as_one_that_was(tmp_path: Path) -> None:
    first, second = (replace(entry, attended=False) for entry in PAGES.taught)
    with Book(tmp_path / "book.sqlite") as book:
        book.add(first)
        book.add(second)
        book.attend([second])
        assert book.pages().taught == (first, PAGES.taught[1])


def test_a_file_that_is_no_book_and_a_newer_book_are_told_in_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "other.sqlite").write_bytes(b"this is no database at all, " * 100)
    with pytest.raises(BookFault, match="not a database"):
        Book(tmp_path / "other.sqlite")
    with sqlite3.connect(tmp_path / "newer.sqlite") as file:
        file.execute("PRAGMA user_version=9")
    with pytest.raises(BookFault, match="newer caller"):
        Book(tmp_path / "newer.sqlite")
    with pytest.raises(BookFault, match="can't be opened"):
        Book(tmp_path / "other.sqlite" / "book.sqlite")


def test_an_entry_that_can_not_be_read_is_left_out_and_left_alone(tmp_path: Path) -> None:
    """Such as came in before anything was held to bounds."""
    path = tmp_path / "book.sqlite"
    with Book(path) as book:
        book.add_missing(PAGES)
    with sqlite3.connect(path) as file:
        file.execute("UPDATE taught SET tempo = '1e4000' WHERE part = 'section 1'")
        file.execute("UPDATE note SET at = 'yesterday' WHERE routine = ''")
        file.execute("INSERT INTO class (name) VALUES (?)", (b"no text",))
    with Book(path) as book:
        pages = book.pages()
        assert (pages.taught, pages.notes, pages.classes) == (PAGES.taught[1:], PAGES.notes[:1], PAGES.classes)
        assert book.unread == 3
        book.add(PAGES.taught[0])
        assert len(book.pages().taught) == 2
    with sqlite3.connect(path) as file:
        assert file.execute("SELECT count(*) FROM taught").fetchone() == (3,)


def test_a_book_that_another_program_holds_is_told_for_such(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(store, "BUSY_SECONDS", 0.0)
    path = tmp_path / "book.sqlite"
    with Book(path):
        pass
    holding = sqlite3.connect(path, isolation_level=None)
    holding.execute("BEGIN EXCLUSIVE")
    with pytest.raises(BookFault, match="held by another program"):
        Book(path)
    holding.close()
