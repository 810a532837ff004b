"""Loudness against EBU's test signals, a reference library, and the standard's filters run sample by sample."""

from __future__ import annotations

from math import inf, log10

import numpy as np
import pyloudnorm
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal

from caller.sound.loudness import (
    COUNT_TRACK_LUFS,
    RATE,
    SPEECH_LUFS,
    energy,
    gain_to,
    k_weighted,
    loudness,
    power_of,
    true_peak_db,
)
from caller.sound.mix import SPEECH_PEAK
from caller.sound.score import Samples
from tests.sound.voices import silence, syllable


def sine(hertz: float, dbfs: float, seconds: float) -> Samples:
    """In both channels, shape (n, 2); dBFS of the peak, as EBU Tech 3341 means it."""
    wave = 10 ** (dbfs / 20) * np.sin(2 * np.pi * hertz * np.arange(round(seconds * RATE)) / RATE)
    return np.repeat(wave[:, np.newaxis], 2, axis=1).astype(np.float32)


def noise(seconds: float, level: float = 0.1, seed: int = 1) -> Samples:
    return np.random.default_rng(seed).normal(0, level, (round(seconds * RATE), 2)).astype(np.float32)


# EBU Tech 3341 v4, Table 1, cases 1 to 3: level and length of each stretch, loudness to 0.1 LU.
EBU = [
    ([(-23, 20)], -23.0),
    ([(-33, 20)], -33.0),
    ([(-36, 10), (-23, 60), (-36, 10)], -23.0),
]


@pytest.mark.parametrize(("stretches", "lufs"), EBU, ids=["case 1", "case 2", "case 3"])
def test_the_ebus_signals_are_as_loud_as_it_says(stretches: list[tuple[float, float]], lufs: float) -> None:
    heard = np.concatenate([sine(1_000, dbfs, seconds) for dbfs, seconds in stretches])
    assert loudness(heard) == pytest.approx(lufs, abs=0.1)


@pytest.mark.parametrize("seed", range(4))
def test_noise_in_bursts_is_as_loud_as_the_reference_library_finds_it(seed: int) -> None:
    bursts = [noise(0.3 + 0.37 * n, 0.2 / 4 ** (n % 4), seed + n) for n in range(8)]
    heard = np.concatenate(bursts)
    # Of pyloudnorm's filters "DeMan" are those of BS.1770's tables.
    reference = pyloudnorm.Meter(RATE, filter_class="DeMan").integrated_loudness(heard)
    assert loudness(heard) == pytest.approx(reference, abs=0.02)


def test_the_weighting_is_the_standards_recursive_filters() -> None:
    heard = noise(1.5)
    # ITU-R BS.1770-4, Annex 1, tables 1 and 2.
    head = ([1.53512485958697, -2.69169618940638, 1.19839281085285], [1, -1.69065929318241, 0.73248077421585])
    cut = ([1.0, -2.0, 1.0], [1, -1.99004745483398, 0.99007225036621])
    reference = signal.lfilter(*cut, signal.lfilter(*head, heard.astype(float), axis=0), axis=0)
    np.testing.assert_allclose(k_weighted(heard), reference, atol=1e-9)
    np.testing.assert_allclose(k_weighted(heard[:, 0]), reference[:, 0], atol=1e-9)


def test_a_mono_clip_is_as_loud_as_when_rendered_to_both_channels() -> None:
    for seconds in (0.2, 0.99, 1.0, 3.0):
        heard = noise(seconds)
        mono = heard[:, 0]
        # A second on, clips are weighed as exactly as samples are told.
        assert loudness(mono) == pytest.approx(loudness(np.stack([mono, mono], axis=1)), abs=1e-5)


def test_a_short_clip_is_as_loud_as_a_long_one_of_the_same_sound() -> None:
    assert loudness(sine(1_000, -20, 0.5)) == pytest.approx(loudness(sine(1_000, -20, 5)), abs=0.1)


def test_pauses_do_not_make_a_long_phrase_softer() -> None:
    spoken = noise(2)
    paused = np.concatenate([spoken, np.zeros((2 * RATE, 2), np.float32), spoken])
    assert loudness(paused) == pytest.approx(loudness(spoken), abs=0.5)


@given(st.floats(0.05, 3), st.floats(-30, 10))
@settings(max_examples=30)
def test_a_gain_in_decibels_is_as_many_units_of_loudness(seconds: float, gain_db: float) -> None:
    heard = noise(seconds)[:, 0]
    louder = heard * np.float32(10 ** (gain_db / 20))
    assert loudness(louder) - loudness(heard) == pytest.approx(gain_db, abs=1e-3)


def test_silence_and_nothing_have_no_loudness_and_no_peak() -> None:
    for nothing in (silence(0), silence(0.1), silence(2), np.zeros((0, 2), np.float32)):
        assert loudness(nothing) == -inf
        assert true_peak_db(nothing) == -inf
        assert gain_to(nothing, SPEECH_LUFS) == 1.0


def test_energy_foretells_the_loudness_of_a_sound_repeated() -> None:
    heard = syllable(0.05)
    every = RATE // 2
    repeated = np.tile(np.pad(heard, (0, every - len(heard))), 40)
    foretold = -0.691 + 10 * log10(2 * energy(heard))  # twice a second
    assert loudness(repeated) == pytest.approx(foretold, abs=0.05)
    assert power_of(foretold) == pytest.approx(2 * energy(heard))


def test_the_true_peak_lies_between_the_samples() -> None:
    # EBU Tech 3341 v4, Table 1: a sine of fs/4 and 0.50 at 45 degrees is -6.0 dBTP, +0.2/-0.4. Faded, because an
    # abrupt start is a step, which swings over.
    frames = np.arange(RATE)
    wave = 0.5 * np.sin(np.pi / 2 * frames + np.pi / 4) * np.minimum(1, np.minimum(frames, frames[::-1]) / 480)
    assert np.abs(wave).max() == pytest.approx(0.3536, abs=1e-4)  # -9 dBFS on the samples
    assert -6.4 <= true_peak_db(wave.astype(np.float32)) <= -5.8


@pytest.mark.parametrize("seconds", [0.05, 0.5, 2.0])
def test_the_true_peak_is_that_of_a_reference_resampler(seconds: float) -> None:
    heard = noise(seconds)[:, 0]
    finer = signal.resample(np.pad(heard, 2_000).astype(float), 4 * (len(heard) + 4_000))
    assert true_peak_db(heard) == pytest.approx(20 * log10(np.abs(finer).max()), abs=0.02)


@given(st.floats(0.01, 1), st.floats(0, 0.2))
@settings(max_examples=30)
def test_the_gain_brings_speech_to_its_target_or_its_peak_to_its_limit(level: float, onset: float) -> None:
    spoken = syllable(onset, level=level)
    made = spoken * np.float32(gain_to(spoken, SPEECH_LUFS))
    peak_db = 20 * log10(SPEECH_PEAK)
    assert true_peak_db(made) <= peak_db + 0.01
    reached = loudness(made) == pytest.approx(SPEECH_LUFS, abs=0.01)
    held_down = loudness(made) < SPEECH_LUFS and true_peak_db(made) == pytest.approx(peak_db, abs=0.01)
    assert reached or held_down


def test_speech_stands_ten_units_over_the_count_track_at_least() -> None:
    # Torcoli et al., JAES 67(12), 2019.
    assert SPEECH_LUFS - COUNT_TRACK_LUFS >= 10
