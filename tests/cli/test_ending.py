"""The process ends at once, with the status that was meant, whatever threads still run."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

END = """
import sys
sys.argv = ["caller", "list", "--json"]
import caller.cli.listing
from caller.cli.ending import program
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
import caller.cli.ending as ending
def main():
    print("x" * 100_000)
    raise {raised}
ending.main = main
ending.program()
"""
    run = ended(failing)
    assert run.returncode == status
    assert run.stdout == "x" * 100_000 + "\n"
    assert run.stderr.endswith(told)
    assert ("Traceback" in run.stderr) == ("Zero" in raised)
