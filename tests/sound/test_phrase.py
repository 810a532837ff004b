"""What beats of a recording are to each other: what comes again beside where it is awaited."""

from __future__ import annotations

import numpy as np
import pytest

from caller.sound.onsets import Onsets
from caller.sound.phrase import beside

BEAT_FRAMES = 50


def heard(notes: np.ndarray[tuple[int, int], np.dtype[np.float64]]) -> Onsets:
    """Of a beat each, shape (beats, 12)."""
    frames = np.repeat(notes, BEAT_FRAMES, axis=0)
    flat = np.zeros(len(frames))
    return Onsets(flat, flat, flat, np.zeros((len(frames), 3)), frames, flat)


def test_a_phrase_that_comes_again_a_bar_late_is_found_there() -> None:
    draw = np.random.default_rng(6)
    one, other, bar = draw.random((32, 12)), draw.random((32, 12)), draw.random((4, 12))
    song = heard(np.concatenate([one, other, bar, one, other]))
    beats = np.arange(132) * float(BEAT_FRAMES)
    [(_, second, _), third, fourth] = beside(song, beats, (0, 32, 64, 96), 4)
    assert second < 0.3
    for by, there, here in (third, fourth):
        assert by == 4
        assert there == pytest.approx(1)
        assert here < 0.3
    assert [by for by, there, _ in beside(song, beats, (0, 32, 68, 100), 4) if there > 0.5] == [0, 0]


def test_a_chord_that_goes_on_is_no_phrase_that_comes_again() -> None:
    one, other = np.eye(12)[0], np.eye(12)[5]
    song = heard(np.concatenate([np.tile(one, (16, 1)), np.tile(other, (20, 1)), np.tile(one + other, (16, 1))]))
    found = beside(song, np.arange(52) * float(BEAT_FRAMES), (0, 16, 36), 4)
    assert all(there < 0.4 for by, there, _ in found if by)
