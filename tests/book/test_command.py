"""``caller book`` from the command line."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from caller.book.entries import Mark, Pages, Taught
from caller.book.store import Book, book_path
from caller.cli import main
from tests.book.books import PAGES, START


@pytest.fixture(autouse=True)
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setattr("platformdirs.user_data_path", lambda name: tmp_path / "data" / name)
    monkeypatch.setenv("CALLER_ROUTINES", str(tmp_path / "routines"))


def filled() -> None:
    with Book(book_path()) as book:
        book.add_missing(PAGES)


def test_runs_are_told_beside_lessons(capsys: pytest.CaptureFixture[str]) -> None:
    for at, told in ((START, "; 1 run, last"), (START + timedelta(7), "; 2 runs, last")):
        with Book(book_path()) as book:
            book.add(Taught("Tuesday", at, "Lantern Row", "dance", "11 walls", tempo=Fraction(97), full=Fraction(108)))
        assert main(["book"]) == 0
        assert told in capsys.readouterr().out
    with Book(book_path()) as book:
        book.add(Taught("Tuesday", START + timedelta(14), "Lantern Row", "walkthrough", "section 1", 2, 30))
    assert main(["book"]) == 0
    assert "; 1 lesson, 2 runs, last" in capsys.readouterr().out


@pytest.mark.parametrize("part", ["3 of 11 walls", "from wall 4, to the end", "sections 1 to 2, 3 times"])
def test_a_run_that_was_left_is_a_run_and_no_lesson(part: str, capsys: pytest.CaptureFixture[str]) -> None:
    with Book(book_path()) as book:
        book.add(Taught("Tuesday", START, "Lantern Row", "drill", part, tempo=Fraction(81), full=Fraction(108)))
    assert main(["book"]) == 0
    assert "up to 81 a minute (full: 108); 1 run, last" in capsys.readouterr().out


def test_it_tells_what_each_class_knows(capsys: pytest.CaptureFixture[str]) -> None:
    filled()
    assert main(["book"]) == 0
    told = capsys.readouterr().out
    assert "Tuesday: Lantern Row, shaky: stage 2 of 30, section 1, up to 132.5 a minute (full: 108); 1 lesson" in told
    assert "note: mind" in told
    assert main(["book", "list", "Tuesday", "--json"]) == 0
    (one,) = json.loads(capsys.readouterr().out)
    assert (one["class"], one["routine"], one["top_tempo"], one["due"]) == (
        "Tuesday",
        "Lantern Row",
        132.5,
        "2026-04-03T18:54:00Z",
    )
    assert main(["book", "due", "Beginners", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == []


def after_class(capsys: pytest.CaptureFixture[str], *ask: str) -> list[str]:
    """The lines that tell what the next class is made of."""
    capsys.readouterr()
    assert main(["book", *ask]) == 0
    return [line for line in capsys.readouterr().out.splitlines() if ", next class: " in line]


def test_after_a_class_it_tells_what_comes_the_next_time(capsys: pytest.CaptureFixture[str]) -> None:
    tonight = datetime.now(UTC).replace(microsecond=0) - timedelta(hours=1)
    with Book(book_path()) as book:
        book.add(
            Taught("at home", tonight, "Tin Roof Swing", "dance", "11 walls", tempo=Fraction(108), full=Fraction(108))
        )
        book.add(Taught("Tuesday", tonight, "Chalk Line", "walkthrough", "section 2", 12, 30))
        book.add(
            Taught(
                "Tuesday",
                tonight - timedelta(3),
                "Slow Water",
                "dance",
                "11 walls",
                tempo=Fraction(108),
                full=Fraction(108),
            )
        )
        for weeks in (4, 3, 0):  # learnt well, it waits for more than a week
            book.add(
                Taught(
                    "Tuesday",
                    tonight - timedelta(7 * weeks),
                    "Lantern Row",
                    "dance",
                    "11 walls",
                    tempo=Fraction(108),
                    full=Fraction(108),
                )
            )
    told = ["Tuesday, next class: half taught: Chalk Line (to stage 12 of 30, section 2); due again: Slow Water"]
    assert after_class(capsys) == told
    assert after_class(capsys, "due", "Tuesday") == told
    with Book(book_path()) as book:
        book.add(Mark("Tuesday", tonight, "Lantern Row", "shaky"))
        book.add(Mark("Tuesday", tonight, "Chalk Line", "learnt"))
    (told_then,) = after_class(capsys)
    assert told_then == "Tuesday, next class: due again: Lantern Row (shaky), Slow Water, Chalk Line (learnt)"


def test_where_nothing_is_due_there_is_room_for_a_new_dance(capsys: pytest.CaptureFixture[str]) -> None:
    now = datetime.now(UTC).replace(microsecond=0)
    with Book(book_path()) as book:
        for weeks in (4, 3, 0):
            at = now - timedelta(7 * weeks)
            book.add(Taught("Tuesday", at, "Lantern Row", "dance", "11 walls", tempo=Fraction(108), full=Fraction(108)))
    assert after_class(capsys) == ["Tuesday, next class: nothing is due, there is room for a new dance"]


@pytest.mark.parametrize("suffix", ["csv", "json"])
def test_an_export_comes_back_the_same_into_an_empty_book(
    suffix: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    filled()
    first, second = tmp_path / f"one.{suffix}", tmp_path / f"two.{suffix}"
    assert main(["book", "export", str(first)]) == 0
    assert main(["book", "export", str(first)]) == 1
    assert "--over" in capsys.readouterr().err
    assert main(["book", "erase", "--all", "--yes"]) == 0
    assert not book_path().exists()
    assert main(["book", "import", str(first)]) == 0
    assert main(["book", "export", str(second)]) == 0
    assert first.read_bytes() == second.read_bytes()
    assert main(["book", "import", str(first)]) == 0
    assert "0 classes and 0 entries of 5" in capsys.readouterr().out


def test_a_note_is_kept_and_an_erased_class_is_gone(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["book", "note", "Tuesday", "  cold   hall "]) == 0
    assert main(["book"]) == 0
    assert "cold hall" in capsys.readouterr().out
    assert main(["book", "erase", "Tuesday", "--yes"]) == 0
    assert main(["book", "list", "Tuesday"]) == 1
    assert "there is no class 'Tuesday'" in capsys.readouterr().err


def test_a_mark_says_when_a_routine_is_due(capsys: pytest.CaptureFixture[str]) -> None:
    filled()
    assert main(["book", "mark", "Tuesday", "Chalk Line", "not-done"]) == 0
    assert "Tuesday: Chalk Line: not done" in capsys.readouterr().out
    assert main(["book", "due", "Tuesday", "--json"]) == 0
    assert [(one["routine"], one["mark"]) for one in json.loads(capsys.readouterr().out)] == [
        ("Lantern Row", "shaky"),
        ("Chalk Line", "not done"),
    ]


def known_of(name: str, capsys: pytest.CaptureFixture[str]) -> dict[str, str | None]:
    """The mark of each routine that a class knows, or has marked."""
    capsys.readouterr()
    assert main(["book", "list", name, "--json"]) == 0
    return {one["routine"]: one["mark"] for one in json.loads(capsys.readouterr().out)}


@pytest.mark.parametrize("typed", ["lantern row", "LANTERN  ROW", "lantern-row", "lantern-row.txt", "Lantern"])
def test_a_mark_goes_to_the_routine_that_is_danced_by_that_name(typed: str, capsys: pytest.CaptureFixture[str]) -> None:
    filled()
    assert main(["book", "mark", "tuesday", typed, "learnt"]) == 0
    assert "Tuesday: Lantern Row: learnt" in capsys.readouterr().out
    assert known_of("Tuesday", capsys) == {"Lantern Row": "learnt"}


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("mark", "Tuesday", "Lantren Row", "shaky"), "near it: 'lantern row'"),
        (("mark", "Tusday", "Lantern Row", "shaky"), "'Tusday' in the book; near it: 'Tuesday'; --new-class begins"),
        (("mark", "Morning", "Lantern Row", "shaky"), "there are: 'Beginners', 'Tuesday'; --new-class begins one"),
        (("note", "Tuesday", "x", "--routine", "Zzyx"), "on hand or in the book; 'caller list' shows"),
        (("erase", "Tuesday", "--routine", "Lantern Raw", "--yes"), "near it: 'Lantern Row'"),
    ],
)
def test_what_there_is_none_of_is_refused_with_what_is_near_and_nothing_is_written(
    words: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    filled()
    assert main(["book", *words]) == 1
    assert told in capsys.readouterr().err
    with Book(book_path()) as book:
        assert book.pages() == PAGES


def test_no_book_is_begun_by_what_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["book", "mark", "Tuesday", "Lantren Row", "shaky"]) == 1
    assert main(["book", "erase", "Tuesday", "--routine", "Lantern Row"]) == 1
    assert not book_path().exists()


def test_the_first_class_is_begun_by_naming_it_and_another_where_that_is_asked(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """One rule for a mark, a dance, a lesson and an evening."""
    assert main(["book", "mark", "Tuesday", "Lantern Row", "shaky"]) == 0
    assert "the book has no class 'Tuesday' yet (nor any other): it is a new one" in capsys.readouterr().err
    assert known_of("Tuesday", capsys) == {"Lantern Row": "shaky"}
    begins = ["--plain", "--sound", "none", "--pedal", "none", "--class", "Tusday"]
    asks = (["evening", "--list", "--class", "Tusday"], ["book", "mark", "Tusday", "Lantern Row", "learnt"])
    live = ([way, "Lantern Row", *begins] for way in ("dance", "walkthrough"))
    for words in (*asks, *live):
        assert main(words) == 1
        told = capsys.readouterr().err
        assert "there is no class 'Tusday' in the book; near it: 'Tuesday'; --new-class begins one" in told
    assert main([*asks[1], "--new-class"]) == 0
    assert "the book has no class 'Tusday' yet (near it: 'Tuesday'): it is a new one" in capsys.readouterr().err
    assert known_of("Tusday", capsys) == {"Lantern Row": "learnt"}
    assert main(["book", "mark", "at home", "Lantern Row", "learnt"]) == 0  # whoever practises alone is no slip


def test_a_part_of_a_title_marks_what_only_the_book_has_and_none_of_several(capsys: pytest.CaptureFixture[str]) -> None:
    filled()
    with Book(book_path()) as book:
        book.add(Taught("Tuesday", START, "Gravel Swing", "drill", "tag"))
    assert main(["book", "mark", "Tuesday", "gravel", "learnt"]) == 0
    assert "Tuesday: Gravel Swing: learnt" in capsys.readouterr().out
    assert main(["book", "mark", "Tuesday", "swing", "learnt"]) != 0
    assert "'Tin Roof Swing', 'Gravel Swing'; type more of one" in capsys.readouterr().err


def test_a_routine_that_only_the_book_has_may_be_marked(capsys: pytest.CaptureFixture[str]) -> None:
    with Book(book_path()) as book:
        book.add(Taught("Tuesday", START, "Slate Yard", "dance", "4 walls"))  # its sheet is gone
    assert main(["book", "mark", "Tuesday", "slate yard", "shaky"]) == 0
    assert known_of("Tuesday", capsys) == {"Slate Yard": "shaky"}


def test_a_class_that_a_note_begins_is_told_of(capsys: pytest.CaptureFixture[str]) -> None:
    filled()
    assert main(["book", "note", "tuesday", "cold hall"]) == 0
    assert capsys.readouterr().out == "noted for Tuesday\n"
    assert main(["book", "note", "Morning", "cold hall"]) == 0
    told = "noted for Morning, a class that the book did not have; it has 'Beginners', 'Tuesday'\n"
    assert capsys.readouterr().out == told


def test_one_routine_is_taken_out_of_a_class_after_a_question(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    other = Mark("Beginners", START, "Lantern Row", "learnt")
    with Book(book_path()) as book:
        book.add_missing(replace(PAGES, marks=(*PAGES.marks, replace(PAGES.marks[0], routine="LANTERN ROW"), other)))
    erase = ["book", "erase", "tuesday", "--routine", "lantern row"]
    assert main(erase) == 1  # nobody is there to ask
    assert "erases Lantern Row of the class Tuesday, 5 entries; it can't be brought back: say --yes" in (
        capsys.readouterr().err
    )
    for answer, status in (("no\n", 1), ("yes\n", 0)):
        typed = io.StringIO(answer)
        typed.isatty = lambda: True  # type: ignore[method-assign]
        monkeypatch.setattr("sys.stdin", typed)
        assert main(erase) == status
    with Book(book_path()) as book:
        assert book.pages() == Pages(PAGES.classes, (), PAGES.notes[1:], (other,))
    assert main(["book", "erase", "--all", "--routine", "Lantern Row", "--yes"]) == 2
    assert book_path().exists()


@pytest.mark.parametrize(
    ("words", "status", "told"),
    [
        (("erase",), 2, "--all"),
        (("erase", "Tuesday"), 1, "none yet"),
        (("export", "book.xls"), 2, ".csv or .json"),
        (("import", "nowhere.csv"), 2, "can't open"),
    ],
)
def test_what_can_not_be_done_is_told_in_one_sentence(
    words: tuple[str, ...], status: int, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["book", *words]) == status
    error = capsys.readouterr().err
    assert told in error
    assert error.count("\n") == 1


def test_it_says_where_it_lies_and_how_to_erase_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["book", "where"]) == 0
    told = capsys.readouterr().out
    assert str(book_path()) in told
    assert "caller book erase --all" in told


@pytest.mark.parametrize(
    ("words", "told"), [((" ", "x"), "no words"), (("Tuesday", ""), "no words"), (("x" * 201, "y"), "more than 200")]
)
def test_a_name_or_a_note_that_the_book_can_not_have_is_told(
    words: tuple[str, str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit, match="2"):
        main(["book", "note", *words])
    assert told in capsys.readouterr().err
    assert not book_path().exists()
