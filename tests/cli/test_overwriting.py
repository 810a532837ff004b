"""No command writes over what it reads, nor over a file that the caller didn't make, unless that was said."""

from __future__ import annotations

import os
import time
from pathlib import Path

import numpy as np
import pytest
import soundfile

from caller.cli import main
from caller.cli.sheets import shipped_folder
from caller.sound.score import RATE
from tests.fakes.kept_speech import with_speech
from tests.fakes.songs import click_song

RECORD = ("record", "Chalk Line", "--walls", "1", "--manner", "quiet", "-o")
PRECIOUS = b"somebody's own work"


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, speech: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for kind in ("DATA", "CONFIG", "CACHE"):
        monkeypatch.setenv(f"XDG_{kind}_HOME", str(tmp_path / kind.lower()))
    with_speech(tmp_path / "cache", speech)


@pytest.fixture
def song(tmp_path: Path) -> Path:
    path = tmp_path / "song.wav"
    soundfile.write(path, click_song(104, 30, 0.5).astype(np.float32), RATE)
    assert main(["music", str(path), "--exactly", "--tempo", "104", "--first", "0.5"]) == 0
    return path


@pytest.mark.parametrize("more", [(), ("--over",)])
def test_a_recording_is_never_written_over_the_music_that_it_is_danced_to(
    song: Path, more: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    before = song.read_bytes()
    link = song.with_name("same.wav")
    link.symlink_to(song)
    hard = song.with_name("hard.wav")
    os.link(song, hard)
    for name in (song, link, hard, song.parent / "." / "x" / ".." / "song.wav"):
        assert main([*RECORD, str(name), "--music", str(song), *more]) == 1
        assert "what this is made from" in capsys.readouterr().err
    assert song.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "suffix"),
    [
        (RECORD, ".wav"),
        (RECORD, ".mp3"),
        (("walkthrough", "Chalk Line", "--save"), ".toml"),
        (("walkthrough", "Chalk Line", "--walls", "1", "--record"), ".wav"),
        (("voices", "try", "standard", "walk", "-o"), ".wav"),
    ],
)
def test_a_file_of_somebody_elses_is_left_as_it_is(
    words: tuple[str, ...], suffix: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / f"mine{suffix}"
    path.write_bytes(PRECIOUS)
    began = time.perf_counter()
    assert main([*words, str(path)]) == 1
    assert "--over" in capsys.readouterr().err
    assert time.perf_counter() - began < 5  # told before the work, not after it
    assert path.read_bytes() == PRECIOUS


@pytest.mark.parametrize(
    ("words", "suffix"), [(RECORD, ".wav"), (RECORD, ".flac"), (("walkthrough", "Chalk Line", "--save"), ".toml")]
)
def test_what_the_caller_made_gives_way_until_somebody_changes_it(
    words: tuple[str, ...], suffix: str, tmp_path: Path
) -> None:
    path = tmp_path / f"made{suffix}"
    assert main([*words, str(path)]) == 0
    made = path.read_bytes()
    assert main([*words, str(path), "--tempo", "90"]) == 0
    assert path.read_bytes() != made
    path.write_bytes(path.read_bytes() + b"\n# edited")
    edited = path.read_bytes()
    assert main([*words, str(path)]) == 1
    assert path.read_bytes() == edited
    assert main([*words, str(path), "--over"]) == 0
    assert path.read_bytes() == made


def test_stages_are_not_saved_over_the_file_that_they_are_taken_from(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "lesson.toml"
    assert main(["walkthrough", "Chalk Line", "--save", str(path)]) == 0
    before = path.read_bytes()
    assert main(["walkthrough", "Chalk Line", "--from", str(path), "--save", str(path), "--over"]) == 1
    assert "what this is made from" in capsys.readouterr().err
    assert path.read_bytes() == before


def test_take_home_files_leave_others_of_the_same_names_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "home"
    folder.mkdir()
    mine = [folder / name for name in ("chalk-line.html", "chalk-line-full-called.srt", "chalk-line-half-counts.flac")]
    for path in mine:
        path.write_bytes(PRECIOUS)
    words = ["takehome", "Chalk Line", "--walls", "1", "--kind", "flac", "--cores", "1", "-o", str(folder)]
    assert main(words) == 1
    told = capsys.readouterr().err
    for path in mine:
        assert path.read_bytes() == PRECIOUS
        assert f"{path} is left as it is" in told
    assert (folder / "chalk-line-full-counts.flac").exists()  # the rest is made
    assert main([*words, "--over"]) == 0
    assert all(path.read_bytes() != PRECIOUS for path in mine)
    assert main(words) == 0
    captions = folder / "chalk-line-full-called.srt"
    captions.write_bytes(captions.read_bytes() + b"\n")
    edited = captions.read_bytes()
    assert main([*words, "--tempo", "90"]) == 1
    assert captions.read_bytes() == edited


def test_what_is_taken_home_is_never_written_over_the_song_or_the_sheet(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    song, sheet = tmp_path / "chalk-line-full-called.flac", tmp_path / "chalk-line.html"
    for path in (song, sheet):
        path.write_bytes(PRECIOUS)
    words = ["takehome", "Chalk Line", "--kind", "flac", "-o", str(tmp_path), "--over"]
    assert main([*words, "--music", str(song)]) == 1
    sheet.write_text((shipped_folder("routines") / "chalk-line.txt").read_text(encoding="utf-8"), encoding="utf-8")
    before = sheet.read_bytes()
    assert main(["takehome", str(sheet), *words[2:]]) == 1
    assert capsys.readouterr().err.count("is what this is made from") == 2
    assert (song.read_bytes(), sheet.read_bytes()) == (PRECIOUS, before)


def test_an_export_is_as_private_as_the_book_and_writes_over_nothing(tmp_path: Path) -> None:
    assert main(["book", "note", "Tuesday", "cold hall"]) == 0
    path = tmp_path / "book.csv"
    assert main(["book", "export", str(path)]) == 0
    assert path.stat().st_mode & 0o077 == 0
    path.write_bytes(PRECIOUS)
    assert main(["book", "export", str(path)]) == 1
    assert path.read_bytes() == PRECIOUS
    path.chmod(0o644)
    assert main(["book", "export", str(path), "--over"]) == 0
    assert path.stat().st_mode & 0o077 == 0


class Typing:
    """A keyboard at which one line is typed."""

    def __init__(self, line: str) -> None:
        self._line = line

    def isatty(self) -> bool:
        return True

    def readline(self) -> str:
        return self._line


def test_erasing_says_what_goes_and_asks(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["book", "note", "Tuesday", "cold hall"]) == 0
    for words in (("erase", "Tuesday"), ("erase", "--all")):
        for line in ("", "\n", "no\n", "Tuesday\n"):
            monkeypatch.setattr("sys.stdin", Typing(line))
            assert main(["book", *words]) == 1
            told = capsys.readouterr()
            assert "1 entry" in told.out
            assert "nothing was erased" in told.err
    monkeypatch.setattr("sys.stdin", open(os.devnull))  # noqa: SIM115
    assert main(["book", "erase", "--all"]) == 1
    assert "--yes" in capsys.readouterr().err
    monkeypatch.setattr("sys.stdin", Typing("yes\n"))
    assert main(["book", "erase", "Tuesday"]) == 0
    assert main(["book", "list", "Tuesday"]) == 1


def test_an_import_says_what_it_adds_and_may_only_say_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["book", "note", "Tuesday", "cold hall"]) == 0
    path = tmp_path / "book.json"
    assert main(["book", "export", str(path)]) == 0
    assert main(["book", "erase", "--all", "--yes"]) == 0
    capsys.readouterr()
    assert main(["book", "import", str(path), "--only-tell"]) == 0
    assert "1 class and 1 entry of 1" in capsys.readouterr().out
    assert main(["book", "list", "Tuesday"]) == 1
    assert main(["book", "import", str(path)]) == 0
    assert main(["book", "list", "Tuesday"]) == 0
