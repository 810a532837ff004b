"""A version made by two processes: the same as one makes, with what was made of it before, and a fault of the second is
told."""

from __future__ import annotations

import json
import sys
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from caller.rig.music import excerpt, halves, stretch
from caller.rig.music.child import excerpt as make_excerpt
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


@pytest.fixture
def short_excerpts(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(excerpt, "EXCERPT_FRAMES", 12 * RATE)


@pytest.mark.parametrize("at", [0, 12, 30])
def test_the_whole_takes_what_was_made_before_it_and_goes_on_from_there(
    at: int, recording: Path, short_excerpts: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(halves, "_LEAST_FRAMES", 4 * RATE)
    made = recording.with_name("part.npy")
    make_excerpt(str(recording), str(SPEED), str(at), str(made))
    halves.stretched_to(recording.with_name("whole.npy"), recording, SPEED, made, at)
    halves.stretched_to(recording.with_name("plain.npy"), recording, SPEED)
    whole, part, plain = (np.load(recording.with_name(f"{name}.npy")) for name in ("whole", "part", "plain"))
    samples = np.load(recording)
    first, last = excerpt.taken_of(samples, at)
    assert at * RATE <= first or not at
    inside = slice(round(first / SPEED) + stretch.SEAM_FRAMES, round(last / SPEED))
    np.testing.assert_array_equal(whole[inside], part[inside])
    assert whole.shape == plain.shape
    for seam in {first, last} - {0, len(samples)}:
        at_seam, near = (round(seam / SPEED) + np.array([[-480, 960], [-RATE // 5, RATE // 5]])).tolist()
        steps = (
            np.abs(np.diff(whole[slice(*at_seam)], axis=0)).max(),
            np.abs(np.diff(plain[slice(*near)], axis=0)).max(),
        )
        assert steps[0] < 1.3 * steps[1]
    loud = [np.sqrt((one[: len(one) // 2400 * 2400, 0].reshape(-1, 2400) ** 2).mean(axis=1)) for one in (whole, plain)]
    assert np.corrcoef(*loud)[0, 1] > 0.98


def test_what_was_to_be_made_beside_it_and_is_not_there_it_makes_itself(
    recording: Path, short_excerpts: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(halves, "_LEAST_FRAMES", 4 * RATE)
    halves.stretched_to(recording.with_name("whole.npy"), recording, SPEED, recording.with_name("none.npy"), 12)
    whole = np.abs(np.load(recording.with_name("whole.npy"))[:, 0])
    assert whole[: len(whole) // 4800 * 4800].reshape(-1, 4800).max(axis=1).min() > 0


@pytest.mark.parametrize("waits", [False, True])
@pytest.mark.parametrize("at", [0, 1, 20, 50, 90, 130, 170, 200])
def test_two_share_all_but_what_was_made_before(at: int, waits: bool) -> None:
    samples = np.broadcast_to(np.float32(0.1), 210 * RATE)
    first, last = excerpt.taken_of(samples, at)
    others, own = halves.shared(samples, first, last, waits)
    runs = sorted([*others, *own, [first, last]])
    assert runs[0][0] == 0
    assert runs[-1][-1] == len(samples)
    assert all(one[-1] == other[0] for one, other in pairwise(runs))
    assert {run[0] for run in others} <= {0, last}
    seconds = [sum(run[-1] - run[0] for run in side) / RATE for side in (others, own)]
    beside = (last - first) / RATE if waits else 0
    assert abs(seconds[0] + beside - seconds[1]) <= 18


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
