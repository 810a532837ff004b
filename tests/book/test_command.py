"""``caller book`` from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from caller.book.store import Book, book_path
from caller.cli import main
from tests.book.books import PAGES


@pytest.fixture(autouse=True)
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setattr("platformdirs.user_data_path", lambda name: tmp_path / "data" / name)


def filled() -> None:
    with Book(book_path()) as book:
        book.add_missing(PAGES)


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
        "2026-04-07T18:54:00Z",
    )
    assert main(["book", "due", "Beginners", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == []


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
