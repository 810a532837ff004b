"""Recordings kept block by block: the same file as at one go, whatever comes when."""

from __future__ import annotations

import hashlib
from pathlib import Path

import numpy as np
import pytest

from caller.rig.music import kept
from caller.rig.music.kept import Keeping, blocks_of, one_channel_of
from caller.sound.channels import one_channel
from caller.sound.loudness import programme
from caller.sound.score import RATE, Samples
from tests.fakes.songs import tune


def keep(path: Path, samples: Samples, size: int) -> tuple[str, float, float]:
    with path.open("w+b") as file:
        keeping = Keeping(file)
        for first in range(0, len(samples), size):
            keeping.add(samples[first : first + size])
        assert keeping.frames == len(samples)
        assert keeping.peak == np.abs(samples).max()
        return keeping.done()


SONG = tune(104, 30)
LATE = np.where(np.arange(len(SONG)) < 17 * RATE, np.float32(1), np.float32(0.5)) * SONG


@pytest.mark.parametrize(
    ("samples", "whole"),
    [
        (SONG[:, np.newaxis], SONG),
        (np.stack([SONG, SONG], 1), SONG),
        (np.stack([SONG, -SONG], 1), np.stack([SONG, -SONG], 1)),
        (np.stack([SONG, LATE], 1), np.stack([SONG, LATE], 1)),  # alike for 17 seconds
    ],
    ids=["one", "both alike", "opposed", "alike at first"],
)
def test_it_is_kept_as_numpy_would_keep_the_whole(
    tmp_path: Path, samples: Samples, whole: Samples, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kept, "BLOCK_FRAMES", 100_003)
    digest, loud, fullest = keep(tmp_path / "kept.npy", samples, 3 * RATE)
    np.save(tmp_path / "whole.npy", whole)
    assert (tmp_path / "kept.npy").read_bytes() == (tmp_path / "whole.npy").read_bytes()
    assert digest == hashlib.sha256(whole.tobytes()).hexdigest()[:40]
    assert (loud, fullest) == pytest.approx(programme(whole), abs=1e-5)
    np.testing.assert_array_equal(np.concatenate([*blocks_of(tmp_path / "kept.npy")]), whole)
    np.testing.assert_allclose(one_channel_of(tmp_path / "kept.npy"), one_channel(whole), atol=1e-7)
