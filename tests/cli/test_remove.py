"""``caller remove``: a routine of one's own out of those on hand, its sheet kept; no shipped one, none by guess."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from caller.cli import main

SHEET = "Copper Pan - 8 counts, 1 wall\n\n1-3 Vine right\n4 Touch L beside R\n5-7 Vine left\n8 Touch R beside L\n"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    own = tmp_path / "routines"
    own.mkdir()
    monkeypatch.setenv("CALLER_ROUTINES", str(own))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    (own / "copper-pan.txt").write_text(SHEET, encoding="utf-8")
    return own


def titles(capsys: pytest.CaptureFixture[str]) -> list[str]:
    capsys.readouterr()
    assert main(["list", "--json"]) == 0
    return [one["title"] for one in json.loads(capsys.readouterr().out)]


def test_a_routine_is_out_of_the_list_and_its_sheet_is_kept_and_comes_back(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["remove", "copper pan", "--yes"]) == 0
    kept = folder / "removed" / "copper-pan.txt"
    assert f"Copper Pan: removed; its sheet is kept, and caller add '{kept}' brings it back" in capsys.readouterr().out
    assert kept.read_text(encoding="utf-8") == SHEET
    assert "Copper Pan" not in titles(capsys)
    (folder / "copper-pan.txt").write_text(SHEET.replace("8 counts, ", ""), encoding="utf-8")
    assert main(["remove", "copper-pan", "--yes"]) == 0
    assert kept.read_text(encoding="utf-8") == SHEET  # the first one is not overwritten
    assert (folder / "removed" / "copper-pan-2.txt").is_file()
    assert main(["add", str(kept), "--yes", "--plain"]) == 0
    assert "Copper Pan" in titles(capsys)


def test_of_two_that_are_called_alike_the_file_is_named_and_the_list_shows_it(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "copper-pan-2.txt").write_text(SHEET.replace("1 wall", "2 walls"), encoding="utf-8")
    assert main(["remove", "Copper Pan", "--yes"]) == 1
    error = capsys.readouterr().err
    assert "2 routines are called 'Copper Pan': name one by its file, copper-pan" in error
    assert "copper-pan.txt of" in error
    assert main(["list"]) == 0
    lines = [line for line in capsys.readouterr().out.splitlines() if line.startswith("Copper Pan")]
    assert ["copper-pan-2.txt" in line for line in lines] == [True, False]
    assert "copper-pan.txt" in lines[1]
    assert main(["remove", "copper-pan.txt", "--yes"]) == 0
    assert [path.name for path in folder.glob("*.txt")] == ["copper-pan-2.txt"]


@pytest.mark.parametrize("answer", ["no", "", "perhaps"])
def test_it_asks_first(
    folder: Path, answer: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["remove", "Copper Pan"]) == 1  # nobody is there to ask
    assert "say --yes to do it" in capsys.readouterr().err
    typed = io.StringIO(f"{answer}\n")
    typed.isatty = lambda: True  # type: ignore[method-assign]
    monkeypatch.setattr("sys.stdin", typed)
    assert main(["remove", "Copper Pan"]) == 1
    assert "nothing was removed" in capsys.readouterr().err
    assert (folder / "copper-pan.txt").is_file()


def test_agreed_to_it_is_done(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    typed = io.StringIO("yes\n")
    typed.isatty = lambda: True  # type: ignore[method-assign]
    monkeypatch.setattr("sys.stdin", typed)
    assert main(["remove", "Copper Pan"]) == 0
    assert not (folder / "copper-pan.txt").exists()


def test_part_of_a_title_will_do_where_it_is_asked_but_nothing_is_removed_by_it_unasked(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["remove", "copper", "--yes"]) == 2
    (folder / "other.txt").write_text(SHEET.replace("Copper Pan", "Copper Pot"), encoding="utf-8")
    typed = io.StringIO("yes\n")
    typed.isatty = lambda: True  # type: ignore[method-assign]
    monkeypatch.setattr("sys.stdin", typed)
    assert main(["remove", "copper"]) == 2
    assert "'copper' is part of several titles: 'Copper Pan', 'Copper Pot'" in capsys.readouterr().err
    assert main(["remove", "copper po"]) == 0
    assert [path.name for path in folder.glob("*.txt")] == ["copper-pan.txt"]


def test_what_is_not_ones_own_is_not_removed(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main(["remove", "Lantern Row", "--yes"]) == 1
    assert "'Lantern Row' ships with the caller" in capsys.readouterr().err
    assert main(["remove", "Copper Pen", "--yes"]) == 2
    assert "near it: 'copper pan'" in capsys.readouterr().err
    other = tmp_path / "elsewhere.txt"
    other.write_text(SHEET, encoding="utf-8")
    assert main(["remove", str(other), "--yes"]) == 2
    assert other.is_file()
