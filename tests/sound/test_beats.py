"""Chains of beats, on curves drawn by hand."""

from __future__ import annotations

import numpy as np
import pytest

from caller.sound.beats import beats_of, tempo_of
from caller.sound.onsets import FPS, Curve

SECONDS = 60


def struck(period_frames: int, first: int = 10, least: float = 10.0) -> Curve:
    """Something begins every so many frames, the first time as strongly as ``least``."""
    curve = np.zeros(SECONDS * FPS)
    curve[first::period_frames] = 10.0
    curve[first] = least
    return curve


@pytest.mark.parametrize("period", [40, 60, 86])
def test_of_beats_that_are_all_alike_none_is_made_up_between_them(period: int) -> None:
    """86 frames: 70 a minute, whose double is nearer to what is likely."""
    assert tempo_of(struck(period)) == pytest.approx(60 * FPS / period, rel=0.01)


def test_the_tempo_that_is_told_is_gone_by_though_its_double_speaks_more() -> None:
    curve = struck(50)
    curve[35::50] = 7.0
    assert tempo_of(curve, 115) == pytest.approx(120, rel=0.01)
    assert tempo_of(curve, 230) == pytest.approx(240, rel=0.01)


@pytest.mark.parametrize("first", [10, 310])
def test_a_chain_begins_with_the_first_beat_however_soft_and_ends_with_the_last(first: int) -> None:
    found = beats_of(struck(50, first, least=2.0), 120)
    np.testing.assert_array_equal(found, np.arange(first, SECONDS * FPS, 50))


@pytest.mark.parametrize("slowest", [0.78, 0.7])
def test_two_bars_that_slow_down_by_a_third_are_followed_and_the_tempo_after_them(slowest: float) -> None:
    """A beat and something between each two, as softly as it is there."""
    lasts = 60.0 / np.concatenate([np.ones(48), np.linspace(1.0, slowest, 8), np.ones(40)])
    at = 40 + np.concatenate([[0.0], np.cumsum(lasts)])
    curve = np.zeros(int(at[-1]) + 100)
    curve[np.round(at).astype(int)] = 20.0
    curve[np.round((at[1:] + at[:-1]) / 2).astype(int)] = 8.0
    found = beats_of(curve, 60 * FPS / 60)
    assert np.abs(found - at[:, np.newaxis]).min(axis=1).max() <= 3
