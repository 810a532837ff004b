"""Nothing that is printed steers a terminal, whatever a sheet, a programme, a voice, the book or a file is called."""

from __future__ import annotations

import io
import json
import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.book.entries import Taught
from caller.book.store import Book, book_path
from caller.cli import main
from caller.cli.say import Gate
from caller.screen.plain_text import LONGEST_TITLE, plain_text, plain_title, printable
from tests.book.books import START
from tests.fakes.kept_speech import with_speech

# Colours, moves the cursor, sets the window's title, clears, turns the reading order, and has a bell.
EVIL = "\x1b[31mred\x1b[2J\x9b5A\x1b]0;title\x07\u202eback\x07\x08\x9d1\x9c\r"
SHEET = """Title: {title}
Counts: 8
Walls: 1
Tempo: 96

Section 1: {title}
1-4    Walk forward R, L, R, L
5-8    Walk back R, L, R, L
"""
LONG = "very " * 30_000


def steers(text: str) -> bool:
    return any((ord(c) < 32 and c not in "\n\t") or 127 <= ord(c) < 160 or c in "\u202e\u200f\u2066" for c in text)


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, speech: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for kind in ("DATA", "CONFIG", "CACHE"):
        monkeypatch.setenv(f"XDG_{kind}_HOME", str(tmp_path / kind.lower()))
    with_speech(tmp_path / "cache", speech)


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    folder = tmp_path / "data" / "caller" / "routines"
    folder.mkdir(parents=True)
    path = folder / f"evil {EVIL}.txt".replace("\x1b]0;title\x07", "").replace("/", "")
    path.write_text(SHEET.format(title=f"Evil {EVIL} Row"))
    return path


def test_the_sheet_its_name_and_its_errors(sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["list"])
    for command in ("check", "walls", "calls", "format"):
        main([command, str(sheet)])
    sheet.write_text(SHEET.format(title=EVIL) + f"9   {EVIL} wobble\n")
    main(["check", str(sheet)])
    main(["dance", str(sheet), "--plain", "--sound", "none"])
    main(["check", f"nowhere {EVIL}"])
    main(["record", str(sheet), "-o", str(tmp_path / f"{EVIL.replace('/', '')}.xyz")])
    told = capsys.readouterr()
    assert len(told.out) > 500
    assert not steers(told.out)
    assert not steers(told.err)


def test_the_book_the_voices_and_the_programmes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with Book(book_path()) as book:  # as an import brings it: nobody can mark a routine that there is none of
        book.add(Taught(f"Tuesday{EVIL}", START, f"The {EVIL} Row", "dance", EVIL))
    assert main(["book", "note", f"Tuesday{EVIL}", f"cold {EVIL} hall", "--routine", f"the {EVIL} row"]) == 0
    for refused in (["list", EVIL], ["mark", EVIL, "Chalk Line", "shaky"], ["erase", EVIL, "--routine", EVIL]):
        assert main(["book", *refused]) == 1
    for refused in (["mark", f"Tuesday{EVIL}", f"no {EVIL}", "shaky"], ["erase", f"Tuesday{EVIL}", "--routine", EVIL]):
        assert main(["book", *refused]) == 1
    main(["book"])
    voices = tmp_path / "config" / "caller" / "voices"
    voices.mkdir(parents=True)
    (voices / "evil.toml").write_text(f"title = {json.dumps(EVIL)}\nlike = 'standard'\n")
    (voices / "worse.toml").write_text(f"{json.dumps(EVIL)} = 1\n")
    main(["voices"])
    main(["doctor"])
    programme = tmp_path / "evil.toml"
    evil = json.dumps(EVIL)
    programme.write_text(f"title = {evil}\n[[stage]]\nname = {evil}\nsaid = {evil}\n")
    assert main(["walkthrough", "Chalk Line", "--from", str(programme), "--list"]) == 0
    programme.write_text(f"{json.dumps(EVIL)} = {json.dumps(EVIL)}\n[[stage]]\n")
    assert main(["walkthrough", "Chalk Line", "--from", str(programme), "--list"]) == 1
    told = capsys.readouterr()
    assert len(told.out) > 500
    assert not steers(told.out)
    assert not steers(told.err)


@pytest.mark.parametrize(
    "words", [[EVIL], ["list", EVIL], ["record", "x", "-o"], ["record", "x", "--tempo", EVIL, "-o", "y"]]
)
def test_what_the_command_line_itself_held(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(words)
    assert not steers(capsys.readouterr().err)


def test_a_json_document_says_the_same_escaped(sheet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["list", "--json"]) == 0
    text = capsys.readouterr().out
    assert not steers(text)
    assert str(sheet) in [row["path"] for row in json.loads(text)]


def test_long_titles_are_cut_and_a_sheet_without_one_has_its_files_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "data" / "caller" / "routines"
    folder.mkdir(parents=True)
    (folder / "long.txt").write_text(SHEET.format(title="long " * 300))
    (folder / "Garden Gate.txt").write_text(SHEET.format(title="").removeprefix("Title: \n"))
    assert main(["list"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert max(map(len, lines)) < LONGEST_TITLE + 80
    assert any(line.startswith("Garden Gate ") for line in lines)
    for name, title in (("long", plain_title("long " * 300)), ("Garden Gate", "Garden Gate")):
        for command in ("walkthrough", "drill", "practise"):
            more = ["--section", "1"] if command == "drill" else []
            assert main([command, str(folder / f"{name}.txt"), "--json", *more]) == 0
            assert json.loads(capsys.readouterr().out)["title"] == title
        assert main(["walls", str(folder / f"{name}.txt")]) == 0
        assert main(["takehome", str(folder / f"{name}.txt"), "-o", str(tmp_path / name), "--cores", "1"]) == 0
        capsys.readouterr()
        page = next((tmp_path / name).glob("*.html")).read_text()
        assert f"<h1>{title}</h1>" in page
    assert list((tmp_path / "Garden Gate").glob("garden-gate-*.mp3"))


HOSTILE = {
    "openers of strings": "\x9d" * 200_000,
    "two-sign openers": "\x1b]" * 100_000,
    "openers of sequences": "\x9b" * 200_000,
    "one sequence without end": "\x1b[" + "0" * 200_000,
    "half sequences": "\x1b[0 " * 50_000,
    "marks upon marks": "a" + "\u0301\u0323" * 100_000,
    "a long title": LONG,
}


@pytest.mark.parametrize("kind", HOSTILE)
def test_the_gate_takes_time_by_the_length_alone(kind: str) -> None:
    """Thirty seconds once, for the first of these."""
    began = time.perf_counter()
    for made in (plain_text(HOSTILE[kind]), printable(HOSTILE[kind]), plain_title(HOSTILE[kind])):
        assert not steers(made)
    assert time.perf_counter() - began < 2
    assert len(plain_title(HOSTILE[kind])) <= LONGEST_TITLE


@given(st.text())
def test_whatever_goes_through_the_gate_is_signs_spaces_and_line_ends(text: str) -> None:
    stream = io.StringIO()
    assert Gate(stream).write(text) == len(text)
    assert not steers(stream.getvalue())
    assert printable(stream.getvalue()) == stream.getvalue()


def test_a_stream_that_knows_few_signs_is_no_reason_to_fall_over() -> None:
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding="ascii")
    print("née → \udcff", file=Gate(stream), flush=True)
    assert raw.getvalue() == b"n?e ? ?\n"
