"""A class whose every process stands still for a while, as when the machine sleeps (SIGSTOP and SIGCONT; POSIX).

The check from outside is what PulseAudio's own recorder captures.
"""

from __future__ import annotations

import os
import queue
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from caller.session.waking import LONG_SECONDS
from tests.parts.pulse import RATE, PulseServer
from tests.parts.waiting import until

pytestmark = [
    pytest.mark.parts,
    pytest.mark.alone,
    pytest.mark.skipif(sys.platform == "win32", reason="uses POSIX signals"),
]

DANCE = ("dance", "Lantern Row", "--plain", "--sound", "pulse", "--pedal", "none", "--manner", "quiet")
QUICK = ("--tempo", "200")  # a count-in is soon over


class PlainClass:
    """A class in plain lines, and all that it has written."""

    def __init__(self, folder: Path) -> None:
        kept = {f"XDG_{kind}_HOME": str(folder / kind.lower()) for kind in ("CONFIG", "STATE", "DATA")}
        self.process = subprocess.Popen(
            [sys.executable, "-m", "caller", *DANCE, *QUICK],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            env={**os.environ, **kept},
            start_new_session=True,  # a group of its own, players and all
        )
        self.lines: list[str] = []
        self._fresh: queue.SimpleQueue[str] = queue.SimpleQueue()
        threading.Thread(target=self._read, daemon=True).start()

    def writes(self, wanted: str, seconds: float) -> str:
        """Waits until a line with that in it is written; returns it."""
        found: list[str] = []

        def written() -> bool:
            while not found and not self._fresh.empty():
                self.lines.append(self._fresh.get())
                found.extend(line for line in self.lines[-1:] if wanted in line)
            return bool(found)

        until(written, seconds, f"{wanted!r}, but {self.lines[-5:]}")
        return found[0]

    def types(self, line: str) -> None:
        assert self.process.stdin is not None
        print(line, file=self.process.stdin, flush=True)

    def stands_still(self, seconds: float) -> None:
        os.killpg(self.process.pid, signal.SIGSTOP)
        time.sleep(seconds)
        os.killpg(self.process.pid, signal.SIGCONT)

    def ends(self) -> None:
        self.process.terminate()
        try:
            self.process.wait(5)
        except subprocess.TimeoutExpired:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()

    def _read(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self._fresh.put(line.rstrip("\n"))


@pytest.fixture
def danced(pulse: PulseServer, tmp_path: Path) -> Iterator[PlainClass]:
    made = PlainClass(tmp_path)
    yield made
    made.ends()


def test_it_is_paused_after_a_sleep_and_goes_on_from_there_when_asked(pulse: PulseServer, danced: PlainClass) -> None:
    danced.writes("Counting in.", 60)
    wall = danced.writes("Wall ", 10)
    section = danced.writes("Section", 10)
    danced.writes("Dancing.", 20)
    capture = pulse.capture()
    until(lambda: bool(np.count_nonzero(capture.frames())), 10, "a click")
    danced.stands_still(LONG_SECONDS + 2)
    danced.writes("Paused.", 3)
    assert "paused where it was" in danced.writes("Note: The machine slept for ", 1)
    danced.writes("Sound: on pulse", 10)  # the player that stood still has been replaced
    quiet = capture.frames_so_far()
    until(lambda: capture.frames_so_far() > quiet + RATE, 10, "a second of silence")
    assert not capture.frames()[quiet + RATE // 4 : quiet + RATE].any()
    danced.types("go")
    danced.writes("Counting in.", 3)
    assert danced.writes("Wall ", 3) == wall
    assert danced.writes("Section", 3) == section
    danced.writes("Dancing.", 10)
    before = capture.frames_so_far()
    until(lambda: bool(np.count_nonzero(capture.frames()[before:])), 5, "a click again")
    capture.stop()


def test_a_short_standstill_is_bridged_and_the_dance_goes_on(pulse: PulseServer, danced: PlainClass) -> None:
    danced.writes("Dancing.", 60)
    capture = pulse.capture()
    until(lambda: bool(np.count_nonzero(capture.frames())), 10, "a click")
    danced.stands_still(1.0)
    before = capture.frames_so_far()
    until(lambda: bool(np.count_nonzero(capture.frames()[before:])), 10, "a click again")
    danced.writes("Section 2", 20)
    capture.stop()
    assert not [line for line in danced.lines if "Paused" in line or "slept" in line]
