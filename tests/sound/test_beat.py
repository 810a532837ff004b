"""The beat of a spoken phrase: on the vowel, whatever consonant leads up to it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.sound.beat import beat_of, middle_of_rise
from caller.sound.score import RATE
from tests.sound.voices import silence, syllable

MILLISECOND = RATE // 1_000


# Morton, Marcus & Frankish 1976: with equal onsets "eight" (a vowel at once) sounds early and "six" (a long hiss) late.
def test_a_word_that_begins_with_its_vowel_is_heard_sooner_than_one_that_hisses_first() -> None:
    eight, six = syllable(0), syllable(0.09)
    assert beat_of(eight) < 30 * MILLISECOND
    assert 80 * MILLISECOND < beat_of(six) < 120 * MILLISECOND


@given(st.floats(0, 0.25), st.floats(0, 0.8))
@settings(max_examples=40)
def test_the_beat_lies_in_the_vowels_rise_however_long_or_loud_the_hiss(onset: float, hiss: float) -> None:
    beat = beat_of(syllable(onset, hiss))
    # The vowel comes up within 30 ms.
    assert onset * 1_000 - 15 <= beat / MILLISECOND <= onset * 1_000 + 35


# The second measure (Cummins & Port 1998, from memory) is independent in band and in reading.
@given(st.floats(0, 0.25))
@settings(max_examples=25)
def test_two_measures_agree_to_15_milliseconds(onset: float) -> None:
    spoken = syllable(onset)
    assert abs(beat_of(spoken) - middle_of_rise(spoken)) <= 15 * MILLISECOND


@given(st.floats(0.02, 0.2), st.floats(0.001, 2))
@settings(max_examples=25)
def test_the_beat_does_not_hang_on_the_level(onset: float, level: float) -> None:
    assert abs(beat_of(syllable(onset, level=level)) - beat_of(syllable(onset))) <= MILLISECOND


@given(st.integers(0, RATE // 2))
@settings(max_examples=25)
def test_silence_before_the_word_moves_the_beat_by_as_much(frames: int) -> None:
    spoken = syllable(0.06)
    moved = np.concatenate([np.zeros(frames, np.float32), spoken])
    assert abs(beat_of(moved) - frames - beat_of(spoken)) <= 2


@pytest.mark.parametrize("second_level", [0.2, 0.5, 1.0])
def test_of_several_syllables_the_first_has_the_beat(second_level: float) -> None:
    first = syllable(0.05)
    phrase = np.concatenate([first, silence(0.05), syllable(0.08, level=second_level), syllable(0.08)])
    assert abs(beat_of(phrase) - beat_of(first)) <= 5 * MILLISECOND


def test_a_murmur_before_the_first_syllable_has_no_beat() -> None:
    murmur, word = syllable(0, level=0.1), syllable(0.05)
    phrase = np.concatenate([murmur, silence(0.03), word])
    assert beat_of(phrase) == pytest.approx(len(phrase) - len(word) + beat_of(word), abs=10 * MILLISECOND)


@pytest.mark.parametrize("frames", [0, 1, 100, RATE])
def test_silence_has_its_beat_at_its_start(frames: int) -> None:
    nothing = np.zeros(frames, np.float32)
    assert beat_of(nothing) == 0
    assert middle_of_rise(nothing) == 0


@pytest.mark.parametrize("frames", [1, 10, 500])
def test_the_beat_of_a_very_short_sound_lies_within_it(frames: int) -> None:
    assert 0 <= beat_of(np.full(frames, 0.5, np.float32)) < frames
