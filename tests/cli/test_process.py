"""The process ends at once, with the status that was meant, whatever threads still run."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from caller.cli import main

END = """
import sys
from pathlib import Path
sys.argv = ["caller", "list", "--json"]
import caller.cli.listing
from caller.__main__ import program
program()
"""
IN_A_LIBRARY = """
import threading
import numpy, soxr
sound = numpy.zeros(480_000, numpy.float32)
inside = threading.Event()
def resample():
    while True:
        soxr.resample(sound, 22_050, 48_000)
        inside.set()
threading.Thread(target=resample, daemon=True).start()
inside.wait()
"""
IN_A_POOL = """
import threading
from concurrent.futures import ThreadPoolExecutor
ThreadPoolExecutor(1).submit(threading.Event().wait)
"""
READING = """
import threading, sys
threading.Thread(target=sys.stdin.read, daemon=True).start()
"""


def ended(program: str) -> subprocess.CompletedProcess[str]:
    """Run with an input that stays open until it has ended."""
    reading, writing = os.pipe()
    try:
        return subprocess.run(
            [sys.executable, "-c", program], stdin=reading, capture_output=True, text=True, timeout=60, check=False
        )
    finally:
        os.close(reading)
        os.close(writing)


@pytest.mark.parametrize("thread", [IN_A_LIBRARY, IN_A_POOL, READING])
def test_a_thread_that_still_runs_neither_breaks_the_end_nor_holds_it_up(thread: str) -> None:
    run = ended(thread + END)
    assert (run.returncode, run.stderr) == (0, "")
    assert run.stdout.startswith("[")
    assert run.stdout.endswith("]\n")


@pytest.mark.parametrize(
    ("raised", "status", "told"),
    [
        ("SystemExit", 0, ""),
        ("SystemExit(143)", 143, ""),
        ("SystemExit('no')", 1, "no\n"),
        ("KeyboardInterrupt", 130, ""),
        ("ZeroDivisionError('by no bars')", 1, "ZeroDivisionError: by no bars\n"),
    ],
)
def test_the_status_is_what_was_raised_and_what_was_printed_before_is_whole(
    raised: str, status: int, told: str
) -> None:
    failing = f"""
import caller.__main__ as start, caller.cli
def main():
    print("x" * 100_000)
    raise {raised}
caller.cli.main = main
start.program()
"""
    run = ended(failing)
    assert run.returncode == status
    assert run.stdout == "x" * 100_000 + "\n"
    assert run.stderr.endswith(told)
    assert ("Traceback" in run.stderr) == ("Zero" in raised)


CLOSED = "import os, sys; os.close({number}); os.execv(sys.executable, [sys.executable, '-m', 'caller', *{words!r}])"


@pytest.mark.skipif(sys.platform == "win32", reason="starts one process in another's place")
@pytest.mark.parametrize(
    ("number", "words"),
    [
        (0, ["list"]),
        (0, ["add", "-", "--yes"]),
        *((n, [*w]) for n in (1, 2) for w in (("list",), ("check", "nowhere"))),
    ],
)
def test_a_stream_that_was_closed_from_the_start_leads_nowhere(number: int, words: list[str]) -> None:
    run = ended(CLOSED.format(number=number, words=words))
    assert run.returncode in (0, 1, 2)
    assert "Traceback" not in run.stdout + run.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="starts one process in another's place")
def test_no_file_takes_the_place_of_a_closed_stream(tmp_path: Path) -> None:
    """What a library prints would stand in it."""
    program = f"""
import os, sys
from caller.__main__ import open_streams
os.close(2)
open_streams()
with open({str(tmp_path / "book")!r}, "w") as book:
    os.write(2, b"printed")
"""
    assert ended(program).returncode == 0
    assert (tmp_path / "book").read_text() == ""


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="there is no /dev/full here")
@pytest.mark.parametrize("words", [["list"], ["check", "Lantern Row", "--json"], ["doctor"], ["--version"]])
def test_a_full_disk_under_what_is_printed_is_told_in_a_sentence(words: list[str]) -> None:
    with open("/dev/full", "w") as full:
        run = subprocess.run(
            [sys.executable, "-m", "caller", *words], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert run.returncode == 1
    assert run.stderr == "caller: not all could be written that there was to say (No space left on device)\n"


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="there is no /dev/full here")
def test_a_full_disk_under_the_complaints_changes_nothing_else() -> None:
    with open("/dev/full", "w") as full:
        run = subprocess.run(
            [sys.executable, "-m", "caller", "check", "nowhere", "Lantern Row"],
            stdout=subprocess.PIPE,
            stderr=full,
            text=True,
            check=False,
        )
    assert run.returncode == 2
    assert "Lantern Row: can be danced" in run.stdout


def test_a_name_that_no_system_takes_is_told_in_a_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["record", "Lantern Row", "-o", "x" * 300 + ".wav"]) == 1
    (told,) = capsys.readouterr().err.splitlines()
    assert told.startswith("caller: xxx")


@pytest.mark.skipif(sys.platform == "win32", reason="uses POSIX signals")
def test_ctrl_c_while_the_program_is_still_being_loaded_says_nothing() -> None:
    run = ended("""
import os, signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell has background jobs ignore it
class Interrupting:
    def find_spec(self, name, path=None, target=None):
        if name == "argparse":
            os.kill(os.getpid(), signal.SIGINT)
sys.meta_path.insert(0, Interrupting())
from caller.__main__ import program
program()
""")
    assert (run.returncode, run.stderr) == (130, "")
