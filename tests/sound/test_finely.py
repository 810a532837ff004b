"""Beats told to some milliseconds: between frames of a curve, and where a sound that rises slowly begins."""

from __future__ import annotations

import numpy as np
import pytest

from caller.sound.finely import _heard, finely
from caller.sound.onsets import FPS
from caller.sound.score import RATE


@pytest.mark.parametrize("top", [99.6, 99.9, 100.0, 100.3, 103.45])
def test_a_beat_between_two_frames_is_at_the_top_of_the_parabola_through_them(top: float) -> None:
    curve = np.maximum(1 - ((np.arange(200) - top) / 4) ** 2, 0.0)
    [seconds], [weight] = _heard(curve, np.array([101.0]))
    assert seconds * FPS == pytest.approx(top, abs=1e-6)
    assert weight == pytest.approx(1, abs=0.05)


def test_where_nothing_begins_a_beat_stays_and_counts_for_little() -> None:
    with np.errstate(all="raise"):
        seconds, weight = _heard(np.zeros(200), np.array([50.0, 100.0]))
    assert (np.abs(seconds * FPS - [50.0, 100.0]) <= 5.5).all()
    assert (weight == 0.02).all()


@pytest.mark.parametrize(("rise_ms", "late_ms"), [(1, 2), (30, 8)])
def test_a_beat_is_where_its_sound_begins_though_it_rises_slowly(rise_ms: int, late_ms: int) -> None:
    beats = 1 + 0.5 * np.arange(40)
    sound = np.random.default_rng(3).normal(0, 1e-4, 22 * RATE + 7).astype(np.float32)
    time = np.arange(RATE // 4) / RATE
    note = np.minimum(1000 * time / rise_ms, 1) * np.exp(-8 * time) * np.sin(2 * np.pi * 440 * time)
    for at in beats:
        frame = round(at * RATE)
        sound[frame : frame + len(note)] += (0.4 * note).astype(np.float32)
    curve = np.zeros(22 * FPS)
    curve[np.round(beats * FPS).astype(int)] = 3.0
    found = finely(sound, curve, np.round(beats * FPS))
    assert abs(1000 * float(np.median(found - beats))) <= late_ms
