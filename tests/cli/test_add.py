"""``caller add``: what is saved, under which name, with which words; what is asked and what is not."""

from __future__ import annotations

import io
import json
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.cli import main
from caller.cli.add_instead import Alike
from caller.cli.adding import file_stem, keep, settle, text_to_keep
from caller.cli.sheets import find, of_bytes
from caller.routine.notation.read import read_sheet
from caller.routine.vocabulary import shipped
from tests.intake.files_made import SLATE_YARD, lines_of, made

ROUTINES = Path(__file__).parent.parent.parent / "routines"
PLAIN = "Copper Pan\n1-3 Vine right\n4 Touch L beside R\n5-7 Vine left\n8 Touch R beside L\n"
SHORT = PLAIN.replace("\n", "\nCounts: 16\n", 1)  # than it says
ODD = PLAIN.replace("Touch L beside R", "Flobble L about")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    own = tmp_path / "routines"
    monkeypatch.setenv("CALLER_ROUTINES", str(own))
    return own


def answering(*answers: str) -> tuple[Callable[[str], str], list[str]]:
    """Somebody who gives these answers in turn and then none; with the questions that came."""
    left, asked = list(answers), list[str]()

    def ask(question: str) -> str:
        asked.append(question)
        return left.pop(0) if left else ""

    return ask, asked


def test_a_printed_sheet_is_saved_with_its_authors_words_and_found_by_its_title(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "found.pdf"
    file.write_bytes(made("slate-yard.pdf"))
    assert main(["add", str(file)]) == 0
    told = capsys.readouterr().out
    assert "     = 3 step R forward, 3& step L beside R, 4 step R forward\n" in told
    assert "left out: Page 1 of 1\n" in told
    assert f"saved as {folder / 'slate-yard.txt'}" in told
    kept = (folder / "slate-yard.txt").read_text(encoding="utf-8")
    assert set(" ".join(SLATE_YARD).split()) <= set(kept.split())
    assert main(["check", "slate yard", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)[0]["counts"] == 32


def test_nothing_is_overwritten_and_the_same_sheet_is_not_kept_twice(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "pan.txt"
    file.write_text(PLAIN)
    assert main(["add", str(file)]) == 0
    first = (folder / "copper-pan.txt").read_bytes()
    assert main(["add", str(file)]) == 0
    assert "nothing to save" in capsys.readouterr().out
    file.write_text(PLAIN.replace("Vine left", "Walk back L, R, L"))
    assert main(["add", str(file)]) == 0
    assert (folder / "copper-pan.txt").read_bytes() == first
    assert "alk back" in (folder / "copper-pan-2.txt").read_text()
    assert sorted(path.name for path in folder.iterdir()) == ["copper-pan-2.txt", "copper-pan.txt"]


def test_the_document_says_where_each_sheet_went_and_what_each_line_is(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "slate.docx"
    file.write_bytes(made("slate-yard.docx"))
    assert main(["add", "--json", "--to", str(tmp_path / "other"), str(file)]) == 0
    (one,) = json.loads(capsys.readouterr().out)
    assert (one["sheet"], one["from"]) == (str(tmp_path / "other" / "slate-yard.txt"), str(file))
    assert (one["counts"], one["tempo"], one["intro"], one["meter"], one["starts"]) == (32, 112, 16, "4/4", "R")
    assert [(e["kind"], e["wall"], e["after"], e["counts"]) for e in one["events"]] == [("tag", 2, None, 4)]
    roles = {line["line"]: line["role"] for line in one["lines"]}
    assert (roles[1], roles[2]) == ("title", "header")
    assert list(roles.values()).count("heading") == 4
    assert set(one["left_out"]) == {"Quarry Hall Tuesday class", "Page 1 of 1"}
    assert not folder.exists()


def test_what_is_piped_in_is_a_sheet_too(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(PLAIN.encode("utf-16")), encoding="utf-8"))
    assert main(["add", "-"]) == 0
    assert (folder / "copper-pan.txt").is_file()


@pytest.mark.parametrize("name", ["scan.pdf", "slate-yard.doc", "locked.pdf"])
def test_what_cant_be_read_is_one_sentence_and_nothing_is_saved(
    name: str, folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / name
    file.write_bytes(made(name))
    assert main(["add", str(file)]) == 1
    told = capsys.readouterr()
    assert not told.out
    assert told.err.count("\n") == 1
    assert not folder.exists()


def test_a_file_that_is_not_there_and_one_without_steps_are_told_and_the_others_are_saved(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good, letter = tmp_path / "pan.txt", tmp_path / "letter.txt"
    good.write_text(PLAIN)
    letter.write_text("Dear all,\nthe hall is closed on Tuesday.\n")
    assert main(["add", "no/such/file.pdf", str(letter), str(good)]) == 2
    err = capsys.readouterr().err
    assert "no/such/file.pdf" in err
    assert "no steps are found in it" in err
    assert [path.name for path in folder.iterdir()] == ["copper-pan.txt"]


def test_a_sheet_with_faults_is_saved_as_its_author_has_it_and_the_status_tells(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "pan.txt"
    file.write_text(SHORT)
    assert main(["add", str(file)]) == 1
    assert (folder / "copper-pan.txt").read_text() == SHORT
    assert main(["add", str(folder / "copper-pan.txt")]) == 1
    assert "is among these routines already" in capsys.readouterr().err


def test_what_nobody_told_is_asked_until_the_answer_fits_and_goes_into_the_header() -> None:
    ask, asked = answering("many", "4", "slow", "104")
    sheet = settle(of_bytes(Path("pan.txt"), SHORT.encode()), ask, shipped())
    header = sheet.read.routine.header
    assert (header.title, header.walls, header.tempo) == ("Copper Pan", 4, 104)
    assert sheet.read.text.splitlines()[0] == "Copper Pan"
    assert ["walls" in question for question in asked[:4]] == [True, True, False, False]


def test_what_the_sheet_says_or_its_steps_tell_is_not_asked() -> None:
    ask, asked = answering()
    settle(of_bytes(Path("pan.txt"), f"{PLAIN}Tempo: 104\n".encode()), ask, shipped())
    assert asked == []


def test_an_answer_that_is_left_open_changes_nothing() -> None:
    ask, asked = answering()
    before = of_bytes(Path("pan.txt"), PLAIN.encode())
    assert settle(before, ask, shipped()).read.text == before.read.text
    assert asked


def test_a_line_that_cant_be_read_may_be_typed_another_way_and_the_authors_words_stay() -> None:
    sheet = of_bytes(Path("pan.txt"), f"Tempo: 100\nWalls: 1\n{ODD}".encode())
    ask, asked = answering("4 Wobble L", "4 Touch L beside R")
    settled = settle(sheet, ask, shipped())
    assert "4 Flobble L about" in asked[0]
    assert settled.ok, settled.findings
    lines = settled.read.text.splitlines()
    at = lines.index("4 Touch L beside R")
    assert lines[at - 1] == '# As its author has it: "4 Flobble L about".'
    assert "4 Wobble L" not in lines
    assert [s.movement for s in settled.read.routine.sections[0].passage.steps] == [
        s.movement for s in read_sheet(PLAIN).routine.sections[0].passage.steps
    ]


def test_the_same_line_is_not_asked_for_without_end() -> None:
    ask, asked = answering(*("4 Wobble L about the place" for _ in range(50)))
    settle(of_bytes(Path("pan.txt"), f"Tempo: 100\nWalls: 1\n{ODD}".encode()), ask, shipped())
    assert len(asked) == 2


def test_the_standard_layout_is_taken_only_where_it_keeps_every_word() -> None:
    tidy = of_bytes(Path("x"), (ROUTINES / "lantern-row.txt").read_bytes())
    text, laid = text_to_keep(tidy, shipped())
    assert laid
    assert set(lines_of(text)) == set(lines_of(tidy.read.text))
    own = of_bytes(Path("x"), f"{PLAIN}A sentence of the author's about the hall.\n".encode())
    text, _ = text_to_keep(own, shipped())
    assert {"sentence", "hall."} <= set(text.split())


@given(st.text(max_size=200))
def test_any_title_makes_a_name_that_any_system_takes(title: str) -> None:
    stem = file_stem(title)
    assert stem
    assert set(stem) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert len(stem) < 70
    assert stem.split(".")[0] not in ("con", "nul", "aux", "prn", "com1", "lpt9")


def test_a_folder_that_cant_be_written_is_told(tmp_path: Path) -> None:
    from caller.cli.say import Refused

    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    with pytest.raises(Refused, match="can't be kept in"):
        keep(PLAIN, "Copper Pan", blocked / "routines")
    assert blocked.read_text() == "in the way"


def test_the_document_is_that_of_the_text_that_was_saved(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "row.txt"
    file.write_text("\n\n\n" + (ROUTINES / "lantern-row.txt").read_text(encoding="utf-8"), encoding="utf-8")
    assert main(["add", "--json", str(file)]) == 0
    added = json.loads(capsys.readouterr().out)[0]
    assert main(["check", "--json", added["sheet"]]) == 0
    checked = json.loads(capsys.readouterr().out)[0]
    assert {key: added[key] for key in checked} == checked


def test_a_line_may_be_told_to_be_a_note() -> None:
    ask, _ = answering("note")
    settled = settle(
        of_bytes(Path("pan.txt"), f"Tempo: 100\nWalls: 1\n{PLAIN}9-10 Qqq zzz xxyy\n".encode()), ask, shipped()
    )
    assert settled.read.text.splitlines()[-1] == "Note: 9-10 Qqq zzz xxyy"
    assert len(settled.read.routine.sections) == 1


@pytest.mark.parametrize(("name", "title"), [("mill_pond-2.txt", "Mill Pond 2"), ("-", "Untitled")])
def test_a_sheet_without_a_title_is_called_by_its_file(
    name: str, title: str, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    steps = "32 counts, 4 walls\n\n" + PLAIN.partition("\n")[2]
    (tmp_path / "mill_pond-2.txt").write_text(steps)
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(steps.encode()), encoding="utf-8"))
    main(["add", "--yes", name if name == "-" else str(tmp_path / name)])
    (kept,) = folder.iterdir()
    assert kept.name == f"{file_stem(title)}.txt"
    assert read_sheet(kept.read_text()).routine.header.title == title


MENDED = PLAIN.replace("Vine left", "Walk back L, R, L")


def added(file: Path, text: str, *more: str) -> int:
    file.write_text(text)
    return main(["add", str(file), "--yes", *more])


def test_a_second_sheet_of_a_title_is_told_of_and_both_stay(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    added(tmp_path / "pan.txt", PLAIN)
    assert "routines are called" not in capsys.readouterr().out
    added(tmp_path / "pan.txt", MENDED)
    told = capsys.readouterr().out
    assert "2 routines are called 'Copper Pan' now, this one and copper-pan.txt of " in told
    assert "'caller add FILE --instead' lets a sheet take its place." in told
    assert not (folder / "removed").exists()
    added(tmp_path / "pan.txt", PLAIN.replace("Copper Pan", "Lantern Row"))
    assert f"'Lantern Row' too: name yours by its file, {folder / 'lantern-row.txt'}" in capsys.readouterr().out


def test_asked_to_it_takes_the_place_of_all_of_its_title_and_their_sheets_are_kept(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for text in (PLAIN, ODD):
        added(tmp_path / "pan.txt", text)
    first = (folder / "copper-pan.txt").read_bytes()
    capsys.readouterr()
    added(tmp_path / "pan.txt", MENDED.replace("Copper Pan", "COPPER PAN"), "--instead")
    told = capsys.readouterr().out
    assert "copper-pan.txt is in the place of the old ones, kept as " in told
    assert f"saved as {folder / 'copper-pan.txt'}, " in told, "by the name that it has in the end"
    assert [path.name for path in folder.glob("*.txt")] == ["copper-pan.txt"]
    assert "alk back" in (folder / "copper-pan.txt").read_text()
    assert (folder / "removed" / "copper-pan.txt").read_bytes() == first
    assert "Flobble" in (folder / "removed" / "copper-pan-2.txt").read_text()
    assert added(tmp_path / "pan.txt", MENDED, "--instead", "--json") == 0
    (one,) = json.loads(capsys.readouterr().out)
    assert (one["sheet"], one["same_title"]) == (str(folder / "copper-pan.txt"), [])
    assert one["instead_of"] == [str(folder / "removed" / "copper-pan-3.txt")]


def test_the_very_same_sheet_takes_the_place_of_the_others_and_stays_where_it_is(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for text in (PLAIN, MENDED):
        added(tmp_path / "pan.txt", text)
    added(tmp_path / "pan.txt", PLAIN, "--instead")
    assert "nothing to save" in capsys.readouterr().out
    assert [path.name for path in folder.glob("*.txt")] == ["copper-pan.txt"]
    assert "ine left" in (folder / "copper-pan.txt").read_text()
    assert "alk back" in (folder / "removed" / "copper-pan-2.txt").read_text()


@pytest.mark.parametrize(("answer", "instead"), [("", False), ("no", False), (" Instead ", True)])
def test_whoever_is_there_is_asked_whether_it_is_to_take_the_place(
    answer: str, instead: bool, folder: Path, tmp_path: Path
) -> None:
    added(tmp_path / "pan.txt", PLAIN)
    ask, asked = answering(answer)
    assert Alike.to(MENDED, "copper pan", folder, shipped()).wanted_instead(ask) is instead
    assert "You have a routine called 'copper pan' already: copper-pan.txt of" in asked[0]
    very = (folder / "copper-pan.txt").read_text()
    assert not Alike.to(very, "Copper Pan", folder, shipped()).wanted_instead(ask)  # it is that very sheet
    assert not Alike.to(PLAIN, "Slate Yard", folder, shipped()).wanted_instead(ask)
    assert len(asked) == 1


def test_of_two_sheets_of_one_title_none_is_taken_silently(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for text in (PLAIN, MENDED):
        added(tmp_path / "pan.txt", text)
    capsys.readouterr()
    for command in (["walls"], ["calls"], ["check"], ["walls", "Lantern Row", "--beside"]):
        assert main([*command, "copper pan"]) == 1
        told = capsys.readouterr().err
        assert "2 routines are called 'copper pan': name one by its file, copper-pan-2.txt of " in told
        assert " or copper-pan.txt of " in told
        assert "; 'caller remove FILE' takes one of your own out" in told
    assert find("Copper-Pan.TXT").path == folder / "copper-pan.txt"
    assert find("Copper-Pan-2").path == folder / "copper-pan-2.txt"
    assert find(str(folder / "copper-pan-2.txt")).path == folder / "copper-pan-2.txt"
    assert main(["walls", "copper-pan-2.txt"]) == 0


def test_one_dance_in_two_files_is_no_question(folder: Path) -> None:
    folder.mkdir()
    for name in ("one.txt", "two.txt"):
        (folder / name).write_text(PLAIN if name == "one.txt" else f"{PLAIN}\n")
    assert find("copper pan").path == folder / "two.txt"
