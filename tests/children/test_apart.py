"""Children run none of what lies in the folder that a teacher happens to stand in, and end with the program that
started them."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from caller.children.lines import Child
from caller.children.once import GivenUp, TooLong, run
from caller.children.starting import environment, import_paths, program, python
from caller.takehome.library import each_made

# What our children import, and what their interpreter does; ``caller`` itself; and what Python looks for unasked.
NAMES = (
    "caller", "json", "numpy", "soundfile", "sounddevice", "soxr", "pydub", "mido", "pyttsx3", "espeakng_loader",
    "python_stretch", "mmap", "struct", "pickle", "queue", "msgspec", "platformdirs", "multiprocessing", "concurrent",
    "random", "runpy", "importlib", "sitecustomize", "usercustomize", "threading", "typing", "dataclasses",
)  # fmt: skip
POISON = "import os, sys; open(os.environ['RAN_WHERE'], 'a').write(sys.argv[0] + ' ' + __file__ + '\\n')\n"


@pytest.fixture
def ran(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Stands in a folder full of files that tell when they are run, into the file that is returned."""
    folder, told = tmp_path / "class of Tuesday", tmp_path / "ran"
    folder.mkdir()
    for name in NAMES:
        (folder / f"{name}.py").write_text(POISON)
    monkeypatch.chdir(folder)
    monkeypatch.setenv("RAN_WHERE", str(told))
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join(["", str(folder)]))
    return told


def one_shot(*words: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(words, input=b"", capture_output=True, timeout=60, env=environment())


def test_the_bait_is_taken_by_an_interpreter_that_is_started_plainly(ran: Path) -> None:
    """Else the tests below would show nothing."""
    subprocess.run([sys.executable, "-c", "import numpy"], check=True)
    assert "numpy.py" in ran.read_text()


def test_no_child_of_ours_runs_what_lies_in_the_working_folder(ran: Path, tmp_path: Path) -> None:
    board = tmp_path / "board"
    board.write_bytes(bytes(4096))
    listing = one_shot(*python("caller.rig.devices"))
    assert b'"devices"' in listing.stdout or b'"error"' in listing.stdout
    reading = one_shot(*python("caller.rig.music.child", "read", str(tmp_path / "none.wav"), str(tmp_path)))
    assert b"no such file" in reading.stdout
    assert one_shot(*python("caller.rig.stream", str(board), "48000", "0.1", "none")).returncode == 0
    one_shot(*python("caller.rig.recorder", "none"))
    worker = Child(python("caller.rig.speech.worker", "pyttsx3", str(tmp_path)))
    assert json.loads(worker.ask('{"id": 1, "hello": true}', 30))["id"] == 1
    worker.close()
    assert not ran.exists()


def doubled(number: int) -> int:
    return 2 * number


def test_recordings_made_on_all_cores_run_none_of_it_either(ran: Path) -> None:
    assert sorted(outcome.made or 0 for outcome in each_made([1, 2], doubled, 2)) == [2, 4]
    assert not ran.exists()
    assert "PYTHONSAFEPATH" not in os.environ


def test_nor_does_the_program_as_far_as_python_lets_it(ran: Path) -> None:
    """With -m, Python looks there for what it imports itself before it comes to us: that the folder must not have."""
    for name in ("caller", "runpy", "importlib", "sitecustomize", "usercustomize", "typing", "threading"):
        (Path.cwd() / f"{name}.py").unlink()
    bare = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    listed = subprocess.run([sys.executable, "-m", "caller", "list"], env=bare, capture_output=True, timeout=60)
    assert b"Lantern Row" in listed.stdout
    assert not ran.exists()
    listed = subprocess.run([sys.executable, "-P", "-m", "caller", "list"], env=bare, capture_output=True, timeout=60)
    assert b"Lantern Row" in listed.stdout
    assert not ran.exists()


def test_where_to_import_from_is_handed_on_without_the_working_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = tmp_path / "other"
    other.mkdir()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "path", ["", ".", "relative", str(tmp_path), f"{other}/..", str(other)])
    assert import_paths() == [str(other)]


def test_a_program_in_the_working_folder_is_not_the_one_that_is_meant(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here, there = tmp_path / "here", tmp_path / "there"
    for folder in (here, there):
        folder.mkdir()
        (folder / "ffmpeg").write_text("#!/bin/sh\n")
        (folder / "ffmpeg").chmod(0o755)
    monkeypatch.chdir(here)
    monkeypatch.setenv("PATH", os.pathsep.join(["", ".", str(there)]))
    assert program("ffmpeg") == str(there / "ffmpeg")
    monkeypatch.setenv("PATH", os.pathsep.join(["", "."]))
    assert program("ffmpeg") is None


def test_a_child_that_takes_too_long_or_is_given_up_is_ended() -> None:
    hangs = (sys.executable, "-I", "-c", "import threading; threading.Event().wait()")
    with pytest.raises(TooLong):
        run(hangs, 0.2)
    with pytest.raises(GivenUp):
        run(hangs, 60, lambda: True)
    ended = run((sys.executable, "-I", "-c", "print('noise'); print('told'); raise SystemExit(3)"), 60)
    assert (ended.last, ended.status) == (b"told", 3)


def test_a_child_ends_when_the_program_that_started_it_is_killed(tmp_path: Path) -> None:
    """Its input ends then, however that came about."""
    (tmp_path / "waiting.py").write_text("import threading; print('up', flush=True); threading.Event().wait()")
    options = {**json.loads(python("x", ends_with_stdin=True)[3]), "paths": [str(tmp_path)]}
    command = (*python("x")[:3], json.dumps(options), "waiting")
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as child:
        assert child.stdin is not None
        assert child.stdout is not None
        assert child.stdout.readline() == b"up\n"
        child.stdin.close()
        assert child.wait(10) == 1


@pytest.mark.skipif(sys.platform != "linux", reason="other systems don't hold to such a limit")
def test_a_child_gets_no_more_memory_than_it_may_have(tmp_path: Path) -> None:
    (tmp_path / "greedy.py").write_text("try:\n    bytearray(3 << 30)\nexcept MemoryError:\n    print('refused')\n")
    options = json.loads(python("x", memory_bytes=1 << 30)[3])
    options["paths"] = [str(tmp_path)]
    assert run((*python("x")[:3], json.dumps(options), "greedy"), 60).last == b"refused"


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such limit")
def test_what_goes_astray_is_ended_by_the_processors_time_that_it_takes(tmp_path: Path) -> None:
    """However little of it a busy machine gives a second."""
    (tmp_path / "spinning.py").write_text("while True: pass\n")
    command = list(python("spinning", cpu_seconds=1))
    options = json.loads(command[3])
    command[3] = json.dumps({**options, "paths": [*options["paths"], str(tmp_path)]})
    ended = run(command, 60)
    assert ended.status < 0
    assert ended.last == b""
