"""What comes again beside where it is awaited, and where a sound that rises slowly is said to begin."""

from __future__ import annotations

import numpy as np
import pytest

from caller.sound.finely import finely
from caller.sound.onsets import FPS, Onsets
from caller.sound.phrase import beside
from caller.sound.score import RATE

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


@pytest.mark.parametrize(("rise_ms", "late_ms"), [(1, 2), (30, 8)])
def test_a_beat_is_where_its_sound_begins_though_it_rises_slowly(rise_ms: int, late_ms: int) -> None:
    beats = 1 + 0.5 * np.arange(40)
    sound = np.random.default_rng(3).normal(0, 1e-4, 22 * RATE).astype(np.float32)
    time = np.arange(RATE // 4) / RATE
    note = np.minimum(1000 * time / rise_ms, 1) * np.exp(-8 * time) * np.sin(2 * np.pi * 440 * time)
    for at in beats:
        frame = round(at * RATE)
        sound[frame : frame + len(note)] += (0.4 * note).astype(np.float32)
    curve = np.zeros(22 * FPS)
    curve[np.round(beats * FPS).astype(int)] = 3.0
    found = finely(sound, curve, np.round(beats * FPS))
    assert abs(1000 * float(np.median(found - beats))) <= late_ms
