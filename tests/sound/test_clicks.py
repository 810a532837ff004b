"""Clicks: told apart by pitch and timbre, clean, and as loud as they should be against speech."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pyloudnorm
import pytest

from caller.sound.clicks import (
    ACCENT,
    BETWEEN,
    CLICK_GAIN,
    COUNT,
    LEVELS_LU,
    QUICKEST_TEMPO,
    click,
    count_track,
    in_order,
    tone,
)
from caller.sound.loudness import COUNT_TRACK_LUFS, SPEECH_LUFS, loudness, true_peak_db
from caller.sound.mix import CLICK_PEAK, SPEECH_PEAK, render
from caller.sound.score import RATE, Clip, Score

EACH = pytest.mark.parametrize("accent", LEVELS_LU)


def powers(clip: Clip) -> tuple[np.ndarray, np.ndarray]:
    """Hertz and power at each."""
    size = 1 << 16
    return np.fft.rfftfreq(size, 1 / RATE), np.abs(np.fft.rfft(clip.samples.astype(float), size)) ** 2


def pitch(clip: Clip) -> float:
    hertz, power = powers(clip)
    return float(hertz[power.argmax()])


def brightness(clip: Clip) -> float:
    """Share of the power that lies over a third of an octave above the pitch."""
    hertz, power = powers(clip)
    return float(power[hertz > 1.25 * pitch(clip)].sum() / power.sum())


def track(tempo: int, between: bool, bar: int) -> Score:
    """Half a minute."""
    frames = [round(n * RATE * 60 / tempo) for n in range(tempo // 2 + 1)]
    beats = [(frame, COUNT if n % bar else ACCENT) for n, frame in enumerate(frames[:-1])]
    beats += [((one + other) // 2, BETWEEN) for one, other in pairwise(frames) if between]
    return Score(count_track(beats), frames[-1])


def test_accents_are_told_apart_by_pitch() -> None:
    high, plain, low = (pitch(click(accent)) for accent in (ACCENT, COUNT, BETWEEN))
    for one, other in ((high, plain), (plain, low)):
        assert 12 * np.log2(one / other) >= 4, "semitones"


def test_accents_are_told_apart_by_timbre() -> None:
    bright, plain, pure = (brightness(click(accent)) for accent in (ACCENT, COUNT, BETWEEN))
    assert bright > 3 * plain
    assert plain > 1.5 * pure


@EACH
def test_a_click_is_short_and_begins_and_ends_softly(accent: str) -> None:
    samples = click(accent).samples
    assert samples.dtype == np.float32
    assert 0.030 <= len(samples) / RATE <= 0.060
    peak = np.abs(samples).max()
    assert abs(samples[0]) < 0.01 * peak
    assert abs(samples[-1]) < 0.001 * peak
    # Yet it is there at once: the ear, or a program, finds its onset within 2 ms.
    assert np.abs(samples[: RATE // 500]).max() > 0.5 * peak


@EACH
def test_a_click_is_band_limited(accent: str) -> None:
    hertz, power = powers(click(accent))
    assert 10 * np.log10(power[hertz > 9_000].sum() / power.sum()) < -60
    assert 10 * np.log10(power[hertz < 50].sum() / power.sum()) < -30
    assert 380 <= pitch(click(accent)) <= 2_100


def test_the_fullest_count_track_comes_to_its_loudness_by_a_reference_meter() -> None:
    score = track(QUICKEST_TEMPO, between=True, bar=2)
    heard = render(score, 0, score.frames)
    assert pyloudnorm.Meter(RATE).integrated_loudness(heard) == pytest.approx(COUNT_TRACK_LUFS, abs=0.2)


@pytest.mark.parametrize(("tempo", "between", "bar"), [(60, False, 4), (120, False, 4), (120, True, 3), (200, True, 2)])
def test_no_count_track_comes_within_ten_units_of_speech(tempo: int, between: bool, bar: int) -> None:
    score = track(tempo, between, bar)
    assert SPEECH_LUFS - loudness(render(score, 0, score.frames)) >= 10


@EACH
def test_a_click_keeps_to_its_headroom(accent: str) -> None:
    assert true_peak_db(click(accent).samples * np.float32(CLICK_GAIN)) < 20 * np.log10(CLICK_PEAK)


def test_the_tone_is_as_loud_as_speech_and_rises() -> None:
    samples = tone().samples
    assert loudness(samples) == pytest.approx(SPEECH_LUFS, abs=0.1)
    assert np.abs(samples).max() < SPEECH_PEAK
    low, high = (pitch(Clip("half", half)) for half in np.split(samples, 2))
    assert high / low == pytest.approx(2 ** (5 / 12), rel=0.01), "a fourth"
    assert len(samples) > 2 * max(click(accent).frames for accent in LEVELS_LU)


def test_a_sound_is_made_once_and_nobody_can_change_it() -> None:
    assert click(ACCENT) is click(ACCENT)
    assert tone() is tone()
    for clip in (click(), tone()):
        with pytest.raises(ValueError, match="read-only"):
            clip.samples[0] = 1


def test_keys_name_one_sound_each() -> None:
    clips = [*(click(accent) for accent in LEVELS_LU), tone()]
    assert len({clip.key for clip in clips}) == len(clips)


def test_a_count_track_clicks_on_each_frame_with_its_accent() -> None:
    placed = count_track([(0, ACCENT), (24_000, COUNT), (36_000, BETWEEN)], 0.3)
    assert [(one.frame, one.clip, one.gain, one.kind) for one in placed] == [
        (0, click(ACCENT), 0.3, "count"),
        (24_000, click(COUNT), 0.3, "count"),
        (36_000, click(BETWEEN), 0.3, "count"),
    ]


def test_tracks_put_together_are_in_order_and_the_first_named_first() -> None:
    one, other = count_track([(5, COUNT), (9, COUNT)]), count_track([(1, ACCENT), (5, ACCENT)])
    assert in_order(one, other) == (other[0], one[0], other[1], one[1])
