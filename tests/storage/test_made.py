"""Nothing is written over that this program didn't make, or that somebody has changed since."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from caller.storage import made
from caller.storage.made import NotOurs, is_made, note_made, why_kept, write_made_text


@pytest.fixture(autouse=True)
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path / "data" / "caller" / "made-files"


def test_what_we_made_gives_way_to_what_we_make(tmp_path: Path, kept: Path) -> None:
    path = tmp_path / "lesson.toml"
    for text in ("one", "two", "two", "three"):
        write_made_text(path, text)
        assert path.read_text() == text
    assert len(kept.read_bytes().split()) == 3
    assert kept.stat().st_mode & 0o077 == 0


def test_what_somebody_else_made_stays_unless_it_was_said(tmp_path: Path) -> None:
    path = tmp_path / "lesson.toml"
    path.write_text("an evening's work")
    with pytest.raises(NotOurs, match=r"lesson.toml is left as it is: it is there already.*--over"):
        write_made_text(path, "ours")
    assert path.read_text() == "an evening's work"
    write_made_text(path, "ours", over=True)
    assert path.read_text() == "ours"


def test_what_we_made_and_somebody_edited_is_theirs(tmp_path: Path) -> None:
    path = tmp_path / "lesson.toml"
    write_made_text(path, "ours")
    path.write_text("ours, and theirs")
    with pytest.raises(NotOurs):
        write_made_text(path, "ours anew")
    assert path.read_text() == "ours, and theirs"


def test_a_folder_or_a_pipe_is_never_written_over(tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "dangling").symlink_to(tmp_path / "nowhere")
    for name in ("folder", "pipe", "dangling"):
        with pytest.raises(NotOurs):
            write_made_text(tmp_path / name, "x", over=True)
    assert "no plain file" in why_kept(tmp_path / "pipe")
    assert why_kept(tmp_path / "none") == ""


def test_where_nothing_can_be_kept_a_file_counts_as_somebody_elses(tmp_path: Path, kept: Path) -> None:
    kept.parent.parent.write_text("a file where a folder should be")
    write_made_text(tmp_path / "a", "x")
    assert not is_made(tmp_path / "a")


def test_the_list_does_not_grow_for_ever(tmp_path: Path, kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(made, "MOST_KEPT", 5)
    paths = [tmp_path / str(n) for n in range(12)]
    for path in paths:
        path.write_text(path.name)
        note_made(path)
        note_made(path)
    assert len(kept.read_bytes().split()) <= 11
    assert is_made(paths[-1])
    assert not is_made(paths[0])
