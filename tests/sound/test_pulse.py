"""The beats of a recording, found where they were put: even, wavering, with a break, and where there are none."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest

from caller.sound.pulse import Pulse, _heard, _whole, pulse_of
from caller.sound.score import RATE, Samples
from tests.fakes.songs import clicks_at, played, tune

Times = npt.NDArray[np.floating]


def in_a_room(samples: Samples) -> Samples:
    return samples + np.random.default_rng(0).normal(0, 0.003, len(samples)).astype(np.float32)


def off_ms(pulse: Pulse, true: Times) -> Times:
    """How far each of the true beats is from the one found next to it."""
    return np.asarray(1000 * np.abs(pulse.beats - true[:, np.newaxis]).min(axis=1))


def first_seconds(pulse: Pulse) -> float:
    return float(pulse.beats[pulse.first])


@pytest.mark.parametrize(("tempo", "first"), [(92, 0.5), (104, 0.5), (128, 0.1)])
def test_a_tune_is_found_to_a_few_milliseconds(tempo: int, first: float) -> None:
    pulse = pulse_of(in_a_room(tune(tempo, 40, first)), tempo)
    # A displaced beat is noticed from 12.5 ms at 120 a minute (Friberg & Sundberg, JASA 1995).
    assert pulse.tempo == tempo
    assert pulse.even
    assert off_ms(pulse, first + np.arange(30) * 60 / tempo).max() < 6


def test_half_and_double_are_told_apart_by_the_routine() -> None:
    sound = in_a_room(tune(76, 40, 1.0))
    assert pulse_of(sound, 75).tempo == pytest.approx(76, abs=0.05)
    assert pulse_of(sound, 150).tempo == pytest.approx(152, abs=0.1)


def test_a_tempo_that_is_no_whole_number_does_not_drift() -> None:
    draw, length = np.random.default_rng(3), 60
    period = 60 / 103.37
    sound = np.zeros(length * RATE, np.float32)
    for n in range(int((length - 1) / period)):
        at = round((0.4 + n * period) * RATE)
        sound[at : at + 1_000] = 0.3 * draw.uniform(-1, 1, 1_000)
    pulse = pulse_of(sound)
    assert abs(pulse.tempo - 103.37) * length / 103.37 < 0.01  # seconds off at its end
    assert off_ms(pulse, 0.4 + np.arange(80) * period).max() < 6


@pytest.mark.parametrize("drift", [0.02, 0.04])
def test_a_tempo_that_wavers_is_followed(drift: float) -> None:
    counts = np.arange(100)
    true = 0.6 + counts * 0.55 + drift * 0.55 * 12 * np.sin(counts / 12)  # to and fro by that share
    pulse = pulse_of(in_a_room(played(true)), 109)
    assert not pulse.even
    # Played beats are within 20 ms, by the middle 5.
    assert off_ms(pulse, true[:-2]).max() < 20
    assert np.median(off_ms(pulse, true[:-2])) < 5


def test_through_a_break_it_goes_on_and_is_less_sure() -> None:
    counts = np.arange(96)
    true = 0.5 + counts * 0.6
    pulse = pulse_of(in_a_room(played(true, silent=range(40, 48))), 100)
    assert off_ms(pulse, true[48:-2]).max() < 10
    within = (pulse.beats > true[41]) & (pulse.beats < true[46])
    assert pulse.sure[within].min() < 0.5 < pulse.sure[~within][8:-8].mean()


def test_count_1_is_the_first_of_a_bar() -> None:
    for first in (0.5, 1.3):
        pulse = pulse_of(in_a_room(tune(104, 40, first)), 104, meter=4, intro=16)
        counts = (first_seconds(pulse) - first) * 104 / 60
        assert round(counts) % 4 == 0
        assert abs(counts - round(counts)) < 0.02
    assert first_seconds(pulse_of(in_a_room(tune(104, 40, 0.5)), 104, near_first=1.7)) == pytest.approx(
        0.5 + 2 * 60 / 104, abs=0.006
    )


@pytest.mark.parametrize("silence", [0.0, 0.9])
def test_a_song_that_begins_on_its_first_beat_has_it(silence: float) -> None:
    """Played a little late, so that its place is before there is any sound."""
    beats = silence + np.arange(60) * 0.577
    late = beats + np.where(np.arange(60) == 0, 0.015, 0.0)
    pulse = pulse_of(played(late), 104)
    assert pulse.beats[0] == pytest.approx(silence, abs=0.02)
    assert pulse.beats[0] >= 0
    assert (np.diff(pulse.beats) > 0.5).all()


@pytest.mark.parametrize("seed", [5, 7])
def test_count_1_is_on_a_bar_after_what_is_played_freely(seed: int) -> None:
    freely = np.cumsum(np.random.default_rng(seed).uniform(0.55, 1.15, 40))
    intro = played(freely)[: round(freely[-1] * RATE)]
    pulse = pulse_of(in_a_room(np.concatenate([intro, tune(104, 60, 0.0)])), 104, meter=4, intro=16)
    counts = (first_seconds(pulse) - len(intro) / RATE) * 104 / 60
    assert -4 <= round(counts) <= 8  # its bar may reach back by one
    assert round(counts) % 4 == 0
    assert abs(counts - round(counts)) < 0.15


def test_what_has_no_beat_is_not_clear() -> None:
    noise = np.random.default_rng(1).normal(0, 0.1, 30 * RATE).astype(np.float32)
    assert pulse_of(noise).clear < 0.2
    assert pulse_of(in_a_room(tune(100, 30, 0.0))).clear > 0.5


def test_silence_before_and_after_a_song_takes_nothing_from_its_beat() -> None:
    """Or within it: what is not there speaks neither for a beat nor against it."""
    song = in_a_room(tune(104, 40, 0.5)) * np.float32(0.5)
    none = np.zeros(40 * RATE, np.float32)
    pulse = pulse_of(np.concatenate([none, song, none]), 104)
    assert pulse.tempo == 104
    assert pulse.clear > 0.9
    assert off_ms(pulse, 40.5 + np.arange(30) * 60 / 104).max() < 6
    assert 40 < first_seconds(pulse) < 45
    assert 39.5 < pulse.beats[0] < pulse.beats[-1] < 81, "none is told of the silence"
    assert pulse_of(np.concatenate([song, none, song]), 104).clear > 0.9


@pytest.mark.parametrize("seconds", [0.0, 0.02, 1.0, 3.0])
def test_a_moments_sound_in_silence_is_no_music(seconds: float) -> None:
    sound = np.zeros(20 * RATE, np.float32)
    sound[15 * RATE : 15 * RATE + round(seconds * RATE)] = 0.3
    pulse = pulse_of(sound, 104)
    assert pulse.clear < 0.15 or len(pulse.beats) < 16
    assert (np.diff(pulse.beats) > 0).all()


def test_before_and_after_what_was_found_beats_lie_as_those_next_to_them() -> None:
    found = _whole(np.array([150.0, 200.0, 250.0, 300.0, 360.0, 420.0, 480.0, 540.0, 600.0, 660.0, 720.0]), 900)
    np.testing.assert_allclose(found[:4], [30, 90, 150, 200])
    np.testing.assert_allclose(found[-4:], [660, 720, 780, 840])


@pytest.mark.parametrize("scale", [1.0, 1e-4])
def test_a_beat_in_a_long_silence_is_not_heard_however_soft_the_recording(scale: float) -> None:
    level = np.full(3_000, 0.5 * scale)
    level[1_000:2_000] = 0.0
    found = _heard(level, np.array([500.0, 900.0, 1_150.0, 1_500.0, 1_850.0, 2_500.0]))
    assert found.tolist() == [True, True, True, False, True, True]


def spoken_like(seconds: float) -> Samples:
    """Syllables of gliding pitch and changing vowels, at no even times, with a breath now and then."""
    draw = np.random.default_rng(5)
    sound, at = np.zeros(round(seconds * RATE), np.float32), 0
    while at < len(sound) - RATE:
        length = round(draw.uniform(0.12, 0.28) * RATE)
        time = np.arange(length) / RATE
        pitch = draw.uniform(100, 180) + draw.uniform(-150, 150) * time
        vowels = draw.uniform(300, 2_500, 2)
        phase = 2 * np.pi * np.cumsum(pitch) / RATE
        tones = [
            np.exp(-(((n * pitch - vowels[:, None]) / 250) ** 2)).sum(axis=0) * np.sin(n * phase) for n in range(1, 24)
        ]
        sound[at : at + length] += (0.1 * np.hanning(length) * np.sum(tones, axis=0)).astype(np.float32)
        at += length + round((draw.uniform(0.3, 0.9) if draw.random() < 0.2 else draw.uniform(0.02, 0.1)) * RATE)
    return sound


def test_speech_alone_is_told_as_such_and_has_no_beat() -> None:
    pulse = pulse_of(in_a_room(spoken_like(40)) * np.float32(0.999), 104)
    assert (pulse.speech, pulse.clear) == (True, 0.0)


def test_what_is_struck_without_a_tune_is_no_speech() -> None:
    beats = 0.5 + np.cumsum(0.55 + 0.02 * np.sin(np.arange(60) / 5))
    pulse = pulse_of(clicks_at((round(at * RATE) for at in beats), 40 * RATE), 109)
    assert not pulse.speech
    assert pulse.clear > 0.9
