"""A programme live, as its user runs it: the command, a real sound server, and what is captured of it.

The check from outside is PulseAudio's own recorder; see ``test_sound_real`` on how near to a render it can be.
"""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from caller.sound.score import RATE
from tests.parts.pulse import PulseServer

pytestmark = [pytest.mark.parts, pytest.mark.alone]

TEMPO = 192  # Chalk Line's 96 counts a minute, at 200 %
LOUD = 0.05
WITHIN = 2  # frames: a click's onset is found by its loudness, in 16 bits


def caller(*words: str, home: Path, pulse: PulseServer) -> list[str]:
    """Runs a command in a home of its own; the lines it printed."""
    folders = {f"XDG_{kind}_HOME": str(home / kind.lower()) for kind in ("CONFIG", "STATE", "DATA", "CACHE")}
    done = subprocess.run(
        (sys.executable, "-m", "caller", *words),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=120,
        env={**pulse.environment, **folders},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def onsets(frames: np.ndarray) -> np.ndarray:
    loud = np.flatnonzero(np.abs(frames[:, 0]) > LOUD)
    return loud[np.diff(loud, prepend=-RATE) > RATE // 10]


def is_a_go(clicks: np.ndarray) -> bool:
    """Four counted in and eight danced, from a click to the like one: accents rise more slowly than the others."""
    bars = clicks[4:] - clicks[:-4]
    return bool(np.abs(bars - 4 * RATE * 60 / TEMPO).max() <= WITHIN)


def test_a_drill_is_heard_go_after_go_on_its_counts_and_kept_in_the_book(pulse: PulseServer, tmp_path: Path) -> None:
    capture = pulse.capture()
    lines = caller(
        *("drill", "Chalk Line", "--section", "1", "--speed", "200%", "--times", "2", "--manner", "quiet"),
        *("--plain", "--sound", "pulse", "--pedal", "none", "--class", "Quarry Hall Tuesday"),
        home=tmp_path,
        pulse=pulse,
    )
    frames = capture.stop()
    assert "Stage 1 of 1: Section 1, 2 of 2." in lines
    assert lines[-1] == "Finished."
    clicks = onsets(frames)  # before each go it is told how all stand
    assert is_a_go(clicks[-12:])
    assert any(is_a_go(clicks[start : start + 12]) for start in range(len(clicks) - 23))
    with sqlite3.connect(tmp_path / "data" / "caller" / "class-book.sqlite") as book:
        assert book.execute("select count(*) from taught").fetchone() == (2,)
