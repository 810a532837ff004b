"""A version made by two processes: the same as one makes, and a fault of the second is told."""

from __future__ import annotations

import json
import sys
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest

from caller.rig.music import halves, stretch
from caller.rig.music.decode import NoMusic
from caller.sound.score import RATE
from tests.fakes.songs import tune

TEMPO, SECONDS = 104, 40
SPEED = Fraction(4, 5)


@pytest.fixture
def recording(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """In four pieces, stereo."""
    monkeypatch.setattr(stretch, "PIECE_FRAMES", 12 * RATE)
    song = tune(TEMPO, SECONDS)
    np.save(tmp_path / "song.npy", np.stack([song, 0.5 * song[::-1]], 1))
    return tmp_path / "song.npy"


def test_two_make_what_one_makes(recording: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = {}
    for number in (1, 2):
        monkeypatch.setattr(halves, "cores", lambda number=number: number)
        path = recording.with_name(f"by-{number}.npy")
        halves.stretched_to(path, recording, SPEED)
        made[number] = np.load(path)
    assert made[1].shape == (round(SECONDS * RATE / SPEED), 2)
    assert np.abs(made[1][: RATE // 2]).max() > 0.1
    np.testing.assert_array_equal(made[1], made[2])


def test_the_second_makes_its_own_pieces_and_no_others(recording: Path) -> None:
    samples = np.load(recording)
    seams, path = stretch.seams_of(samples), recording.with_name("part.npy")
    assert len(seams) == 5
    np.save(path, np.zeros((round(len(samples) / SPEED), 2), np.float32))
    assert halves.pieces(str(recording), str(SPEED), str(path), f"{seams[0]},{seams[1]},{seams[2]}") == {}
    heard = np.abs(np.load(path)).max(axis=1)
    beyond = round(seams[2] / SPEED) + RATE // 50
    assert heard[beyond - RATE :].max() > 0.1
    assert not heard[beyond:].any()


@pytest.mark.parametrize(
    ("prints", "told"),
    [(json.dumps({"fault": "The disk is full."}), "The disk is full."), ("", "ended by itself; try again")],
)
def test_what_goes_wrong_in_the_second_is_told(
    prints: str, told: str, recording: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(halves, "cores", lambda: 2)
    monkeypatch.setattr(halves, "python", lambda *_, **__: (sys.executable, "-c", f"print({prints!r})"))
    with pytest.raises(NoMusic, match=told):
        halves.stretched_to(recording.with_name("part.npy"), recording, SPEED)
