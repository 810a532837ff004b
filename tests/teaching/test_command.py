"""``caller walkthrough``, ``drill`` and ``practise`` from the command line."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from caller.book.entries import Taught
from caller.book.store import Book, book_path
from caller.cli import main


def minutes(words: str) -> int:
    whole, seconds = words.split(":")
    return 60 * int(whole) + int(seconds)


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(words) == 0
    return capsys.readouterr().out


def test_the_stages_are_listed_and_told_as_one_document(capsys: pytest.CaptureFixture[str]) -> None:
    lines = told(capsys, "walkthrough", "Lantern Row", "--list").splitlines()
    document = json.loads(told(capsys, "walkthrough", "Lantern Row", "--json"))
    assert len(lines) == len(document["stages"]) + 1
    assert re.fullmatch(r"Lantern Row: 42 stages, full tempo 108, 2\d:\d\d minutes", lines[0])
    begins = [minutes(line.rsplit(", at ", 1)[1]) for line in lines[1:]]
    assert begins == sorted(begins)
    assert begins[0] == 0
    assert begins[-1] + 195 <= minutes(lines[0].split()[-2]) <= begins[-1] + 240  # the song comes last
    assert "Section 1, words on the count: 8 counts, 56% (60.48 a minute), twice, on-count" in lines[6]
    slower = json.loads(told(capsys, "walkthrough", "Lantern Row", "--tempo", "90", "--json"))
    assert slower["stages"][5]["tempo"] == 60.3


def test_stages_saved_and_edited_are_the_ones_that_are_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "mine.toml"
    assert "42 stages written" in told(capsys, "walkthrough", "Lantern Row", "--save", str(file))
    same = told(capsys, "walkthrough", "Lantern Row", "--from", str(file), "--json")
    assert same == told(capsys, "walkthrough", "Lantern Row", "--json")
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('name = "The whole dance"', 'name = "All of it"'), encoding="utf-8")
    assert "All of it: 352 counts" in told(capsys, "walkthrough", "Lantern Row", "--from", str(file), "--list")
    file.write_text("[[stage]]\nname = 'x'\nsaid = ['Drink.']\n", encoding="utf-8")
    assert "  1  x: 1 sentence, at" in told(capsys, "walkthrough", "Lantern Row", "--from", str(file), "--list")
    words = ("walkthrough", "Lantern Row", "--from", str(file), "--save", str(tmp_path / "again.toml"))
    assert "1 stage written" in told(capsys, *words)
    file.write_text("[[stage]]\nname = 'x'\n", encoding="utf-8")
    assert main(["walkthrough", "Lantern Row", "--from", str(file), "--list"]) == 1
    assert "stage 1 has nothing to say" in capsys.readouterr().err


def test_a_drill_is_shown_with_its_creeping_tempo(capsys: pytest.CaptureFixture[str]) -> None:
    line = told(capsys, "drill", "Lantern Row", "--section", "2", "--to", "3", "--creep", "5", "--list").splitlines()[1]
    assert "Sections 2 to 3: 16 counts, 56% (60.48 a minute), 5% more each time, until moved on, ahead" in line
    document = json.loads(told(capsys, "drill", "Lantern Row", "--event", "restart", "--times", "3", "--json"))
    (stage,) = document["stages"]
    assert (stage["from"], stage["to"], stage["times"]) == ("wall 6 count 17", "wall 7 count 8", 3)


def test_practice_can_start_anywhere_and_the_same_seed_starts_at_the_same_place(
    capsys: pytest.CaptureFixture[str],
) -> None:
    starts = set()
    for seed in range(12):
        words = ("practise", "Lantern Row", "--anywhere", "section", "--seed", str(seed), "--json")
        document = json.loads(told(capsys, *words))
        assert document == json.loads(told(capsys, *words))
        starts.add(document["stages"][0]["from"])
    assert len(starts) > 3


def test_practice_goes_by_its_minutes_and_begins_where_it_last_went_well(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    first = [line.split(",")[0].split()[-1] for line in told(capsys, "practise", "Chalk Line", "--list").splitlines()]
    assert first[1:6] == ["60%", "70%", "80%", "90%", "100%"]
    with Book(book_path()) as book:
        at = datetime.now(UTC).replace(microsecond=0)
        book.add(Taught("at home", at, "Chalk Line", "practice", "90%, went well", 4, 5))
        book.add(Taught("at home", at, "Chalk Line", "practice", "Section 2, a weak place"))
    lines = told(capsys, "practise", "Chalk Line", "--minutes", "5", "--list").splitlines()
    assert [line[5:].split(",")[0] for line in lines[1:4]] == ["Section 2", "90%", "Section 2"]
    again = told(capsys, "practise", "Chalk Line", "--rung", "75", "--told", "--list").splitlines()
    assert [line[5:].split(":")[0] for line in again[1:3]] == [
        "Section 1, 1-4, told",
        "Section 1, 5-8, told",
    ]
    assert "70%, from wall one" in again[6]


@pytest.mark.parametrize(
    ("words", "status", "sentence"),
    [
        (("drill", "Lantern Row", "--list"), 2, "say what to drill"),
        (("drill", "Lantern Row", "--section", "9", "--list"), 2, "there is no section 9"),
        (("drill", "Lantern Row", "--event", "ending", "--list"), 2, "there is no ending"),
        (("practise", "Lantern Row", "--wall", "9", "--list"), 2, "there is no wall 9"),
        (("walkthrough", "Lantern Row", "--from", "nowhere.toml", "--list"), 2, "can't open"),
        (("walkthrough", "Lantern Row", "--record", "x.txt"), 1, "the suffix says the kind"),
        (("walkthrough", "Lantern Row", "--save", "no/where/x.toml"), 1, "can't be written"),
    ],
)
def test_what_can_not_be_done_is_told_in_one_sentence(
    words: tuple[str, ...], status: int, sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == status
    error = capsys.readouterr().err
    assert sentence in error
    assert error.count("\n") == 1
