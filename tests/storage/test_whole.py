"""Files are whole or not there, as private as they should be, and nothing is left beside them."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from caller.storage.passing import PassingFile, PassingFolder, tidy
from caller.storage.whole import own_folder, write_bytes, write_text, write_whole

POSIX = pytest.mark.skipif(os.name != "posix", reason="file modes and such locks are POSIX's")


def test_what_was_there_stays_until_the_new_is_whole(tmp_path: Path) -> None:
    path = tmp_path / "words.txt"
    write_text(path, "old")

    def breaks(part: Path) -> None:
        part.write_text("half")
        assert path.read_text() == "old"
        assert part.suffix == ".txt"
        raise OSError("the disk is full")

    with pytest.raises(OSError, match="full"):
        write_whole(path, breaks)
    assert path.read_text() == "old"
    write_text(path, "new\n")
    assert path.read_bytes() == b"new\n"
    assert os.listdir(tmp_path) == ["words.txt"]


def test_it_is_on_the_disk_before_it_takes_its_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    done: list[str] = []
    sync, replace = os.fsync, os.replace
    monkeypatch.setattr(os, "fsync", lambda number: (done.append("sync"), sync(number))[1])
    monkeypatch.setattr(os, "replace", lambda one, other: (done.append("move"), replace(one, other))[1])
    write_bytes(tmp_path / "a", b"x")
    assert done == ["sync", "move", "sync"]  # the file, the move, the folder that it is in
    done.clear()
    write_bytes(tmp_path / "a", b"x", durable=False)
    assert done == ["move"]


@POSIX
def test_permissions_are_kept_the_usual_or_its_owners_alone(tmp_path: Path) -> None:
    (tmp_path / "plain").touch()
    usual = (tmp_path / "plain").stat().st_mode
    write_text(tmp_path / "new", "x")
    assert (tmp_path / "new").stat().st_mode == usual
    (tmp_path / "plain").chmod(0o640)
    write_text(tmp_path / "plain", "x")
    assert (tmp_path / "plain").stat().st_mode & 0o777 == 0o640
    write_text(tmp_path / "plain", "x", private=True)
    assert (tmp_path / "plain").stat().st_mode & 0o777 == 0o600
    assert own_folder(tmp_path / "own" / "deep").stat().st_mode & 0o777 == 0o700
    assert (tmp_path / "own").stat().st_mode & 0o777 == 0o700


@POSIX
def test_through_a_link_the_file_itself_is_written(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "real" / "file").write_text("old")
    (tmp_path / "link").symlink_to(tmp_path / "real" / "file")
    write_text(tmp_path / "link", "new")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real" / "file").read_text() == "new"


@pytest.mark.parametrize("links", [True, False])
def test_what_is_there_or_comes_meanwhile_is_not_replaced_unless_it_may(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, links: bool
) -> None:
    def no_links(one: Path, other: Path) -> None:
        raise PermissionError("this drive has none")

    if not links:
        monkeypatch.setattr(os, "link", no_links)
    path = tmp_path / "words.txt"
    write_text(path, "mine", replace=False)
    with pytest.raises(FileExistsError):
        write_text(path, "other", replace=False)

    def comes_meanwhile(part: Path) -> None:
        part.write_text("ours")
        (tmp_path / "late.txt").write_text("somebody's")

    with pytest.raises(FileExistsError):
        write_whole(tmp_path / "late.txt", comes_meanwhile, replace=False)
    assert (path.read_text(), (tmp_path / "late.txt").read_text()) == ("mine", "somebody's")
    assert sorted(os.listdir(tmp_path)) == ["late.txt", "words.txt"]


@POSIX
def test_what_a_killed_program_left_is_taken_away_and_what_is_in_use_is_not(tmp_path: Path) -> None:
    """A killed program's lock is gone with it; what is left of it here is a folder without one."""
    (tmp_path / "caller-x-left").mkdir()
    (tmp_path / "caller-x-left" / "half").write_text("half")
    (tmp_path / "caller-x-file").write_text("half")
    (tmp_path / "letter.txt").write_text("somebody's")
    with PassingFolder("caller-x-", tmp_path) as used:
        held = PassingFile("caller-x-", tmp_path)
        tidy(tmp_path, "caller-x-")
        assert sorted(tmp_path.iterdir()) == sorted([used, held.path, tmp_path / "letter.txt"])
        held.close()
    assert os.listdir(tmp_path) == ["letter.txt"]


def test_a_folder_is_gone_through_once_and_not_at_each_writing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    looked: list[Path] = []
    monkeypatch.setattr("caller.storage.passing.tidy", lambda parent, prefix: looked.append(parent))
    for n in range(5):
        write_text(tmp_path / str(n), "x")
    assert looked == [tmp_path]


@POSIX
def test_a_link_in_a_shared_folder_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "precious").mkdir()
    (tmp_path / "caller-x-1").symlink_to(tmp_path / "precious")
    tidy(tmp_path, "caller-x-")
    assert (tmp_path / "precious").is_dir()


@pytest.mark.skipif(sys.platform != "linux", reason="a limit on a file's size stands for a full disk")
def test_a_full_disk_leaves_what_was_there(tmp_path: Path) -> None:
    import resource
    import signal

    path = tmp_path / "words.txt"
    write_text(path, "old")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    ignored = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (100, before[1]))
        with pytest.raises(OSError, match="large"):
            write_text(path, "x" * 1000)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, ignored)
    assert path.read_text() == "old"
    assert os.listdir(tmp_path) == ["words.txt"]
