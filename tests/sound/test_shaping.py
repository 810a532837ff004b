"""Speech shaped to carry over noise keeps its length, its level and its beats; what is soft in it is raised."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.sound.beat import beat_shifts, syllable_beats
from caller.sound.score import RATE, Samples
from caller.sound.shaping import BEAT_SECONDS, RATIO, shaped
from tests.sound.voices import silence, syllable

HISS_SECONDS = 0.15


def level_db(samples: Samples) -> float:
    return float(10 * np.log10(np.mean(samples.astype(np.float64) ** 2)))


def phrase(onsets: list[float], hisses: list[float], levels: list[float]) -> Samples:
    spoken = [syllable(*one) for one in zip(onsets, hisses, levels, strict=True)]
    return np.concatenate([part for one in spoken for part in (one, silence(0.06))])


@given(st.lists(st.tuples(st.floats(0, 0.2), st.floats(0, 0.8), st.floats(0.05, 1)), min_size=1, max_size=4))
@settings(max_examples=40, deadline=None)
def test_no_syllable_loses_its_beat(syllables: list[tuple[float, float, float]]) -> None:
    spoken = phrase(*(list(column) for column in zip(*syllables, strict=True)))
    after = shaped(spoken)
    assert len(after) == len(spoken)
    shifts = beat_shifts(syllable_beats(spoken), after)
    assert shifts
    assert max(map(abs, shifts)) <= BEAT_SECONDS * RATE


def test_a_soft_consonant_is_raised_against_its_vowel() -> None:
    spoken = syllable(HISS_SECONDS, hiss=0.02)
    hiss, vowel = slice(0, round(0.1 * RATE)), slice(round((HISS_SECONDS + 0.03) * RATE), None)
    before = level_db(spoken[hiss]) - level_db(spoken[vowel])
    after = shaped(spoken)
    assert before < -15
    assert level_db(after[hiss]) - level_db(after[vowel]) > before / RATIO


def test_a_soft_syllable_comes_nearer_to_a_loud_one_by_the_ratio() -> None:
    loud, soft = syllable(0.0), syllable(0.0, level=0.05)
    after = shaped(np.concatenate([loud, silence(0.3), soft]))
    apart = level_db(after[: len(loud)]) - level_db(after[-len(soft) :])
    assert apart == pytest.approx(20 / RATIO, abs=2)


def test_highs_gain_on_lows_and_nothing_moves_in_time() -> None:
    clap = silence(1.0)
    clap[RATE // 2] = 0.5
    after = shaped(clap)
    assert int(np.abs(after).argmax()) == RATE // 2
    np.testing.assert_allclose(after[RATE // 2 - 200 : RATE // 2], after[RATE // 2 + 200 : RATE // 2 : -1], atol=1e-4)
    power = np.abs(np.fft.rfft(after)) ** 2
    assert power[3_000] > 2 * power[500] > 2 * power[100]


@pytest.mark.parametrize(("hertz", "gain_db"), [(400, 0.0), (1_549, 4.0), (6_000, 8.0), (12_000, -4.0)])
def test_a_steady_tone_gains_what_the_spectrum_gives_its_pitch(hertz: float, gain_db: float) -> None:
    """1,549 and 12,000 Hz are half-way between two of its points, by octaves."""
    swell = np.minimum(1, 5 - np.abs(np.linspace(-5, 5, RATE)))  # no click at either end
    tone = (0.1 * swell * np.sin(2 * np.pi * hertz * np.arange(RATE) / RATE)).astype(np.float32)
    middle = slice(RATE // 4, -RATE // 4)
    assert level_db(shaped(tone)[middle]) - level_db(tone[middle]) == pytest.approx(gain_db, abs=0.1)


def test_the_room_behind_a_recording_is_not_raised_with_the_voice() -> None:
    """A room's noise 55 dB below the voice stays within 6 dB of where it was, against the loudest."""
    rng = np.random.default_rng(2)
    spoken = np.concatenate([syllable(0.05), silence(0.6), syllable(0.05)])
    room = (rng.standard_normal(len(spoken)) * 10 ** ((level_db(syllable(0.0)) - 55) / 20)).astype(np.float32)
    quiet = slice(round(0.5 * RATE), round(0.7 * RATE))
    before, after = spoken + room, shaped(spoken + room)
    raised = (level_db(after[quiet]) - level_db(after)) - (level_db(before[quiet]) - level_db(before))
    assert raised < 6


@given(st.floats(0.01, 1))
@settings(max_examples=20, deadline=None)
def test_the_shape_does_not_hang_on_the_level(level: float) -> None:
    spoken = syllable(0.08)
    np.testing.assert_allclose(shaped(spoken * np.float32(level)), shaped(spoken) * level, atol=1e-5)


@pytest.mark.parametrize("frames", [0, 1, 100, RATE])
def test_silence_stays_silence(frames: int) -> None:
    assert not shaped(np.zeros(frames, np.float32)).any()


@pytest.mark.parametrize("frames", [1, 2, 47, 48, 49, 500])
def test_the_shortest_sounds_keep_their_length(frames: int) -> None:
    after = shaped(np.full(frames, 0.5, np.float32))
    assert after.shape == (frames,)
    assert np.isfinite(after).all()
