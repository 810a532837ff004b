"""Trimming: silence goes, sound stays."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydub import AudioSegment
from pydub.silence import detect_leading_silence

from caller.sound.score import RATE
from caller.sound.trim import FADE_SECONDS, LEAD_SECONDS, TAIL_SECONDS, faded, raised_cosine, trimmed
from tests.sound.voices import silence, syllable

LEAD, TAIL, FADE = (round(seconds * RATE) for seconds in (LEAD_SECONDS, TAIL_SECONDS, FADE_SECONDS))


@given(st.floats(0.02, 0.4), st.floats(0.02, 0.4), st.floats(0.01, 1))
@settings(max_examples=30)
def test_silence_goes_and_all_sound_stays(before: float, after: float, level: float) -> None:
    spoken = syllable(0.05, level=level)
    loud = np.flatnonzero(np.abs(spoken) > np.abs(spoken).max() * 10 ** (-45 / 20))
    heard = spoken[loud[0] : loud[-1] + 1]
    cut = trimmed(np.concatenate([silence(before), spoken, silence(after)]))
    assert len(cut) == LEAD + len(heard) + TAIL
    np.testing.assert_array_equal(cut[LEAD : LEAD + len(heard)], heard)


def test_the_start_is_where_pydub_finds_it() -> None:
    spoken = np.concatenate([silence(0.123), syllable(0.08, hiss=0.5), silence(0.2)])
    peak_db = 20 * np.log10(np.abs(spoken).max())
    segment = AudioSegment((spoken * 32_767).astype(np.int16).tobytes(), sample_width=2, frame_rate=RATE, channels=1)
    # pydub compares the mean level of millisecond chunks, which lies some dB under their peak.
    found_ms = detect_leading_silence(segment, silence_threshold=peak_db - 48, chunk_size=1)
    cut = trimmed(spoken)
    ours_ms = (len(spoken) - len(cut) - (RATE // 5 - TAIL)) / 48 + 1_000 * LEAD_SECONDS
    assert ours_ms == pytest.approx(found_ms, abs=25)


@given(st.floats(-60, -20))
def test_a_noise_floor_under_the_threshold_counts_as_silence(floor_db: float) -> None:
    noise = 10 ** (floor_db / 20) * np.random.default_rng(2).uniform(-0.5, 0.5, RATE).astype(np.float32)
    noise[20_000:24_000] = 0.5
    cut = trimmed(noise, threshold_db=floor_db + 1)
    assert len(cut) == LEAD + 4_000 + TAIL


def test_the_edges_are_faded_and_sound_that_fills_the_recording_is_kept_whole() -> None:
    cut = trimmed(np.full(RATE, 0.5, np.float32))
    assert len(cut) == RATE
    assert cut[0] < 1e-3
    assert cut[-1] < 1e-3
    assert (cut[FADE:-FADE] == 0.5).all()
    assert (np.diff(cut[:FADE]) > 0).all()


@pytest.mark.parametrize("frames", [0, 1, 48_000])
def test_of_silence_nothing_is_left(frames: int) -> None:
    assert trimmed(np.zeros(frames, np.float32)).shape == (0,)


def test_the_recording_given_is_not_changed() -> None:
    spoken = syllable(0.02)
    before = spoken.copy()
    assert trimmed(spoken) is not spoken
    np.testing.assert_array_equal(spoken, before)


def test_a_stereo_recording_is_refused_by_shape() -> None:
    with pytest.raises(ValueError, match=r"\(10, 2\)"):
        trimmed(np.ones((10, 2), np.float32))


@given(st.integers(0, 50), st.integers(0, 100), st.one_of(st.none(), st.integers(0, 100)))
def test_a_fade_longer_than_the_sound_is_shortened(frames: int, fade: int, fade_out: int | None) -> None:
    made = faded(np.ones(frames, np.float32), fade, fade_out)
    assert len(made) == frames
    assert ((made > 0) & (made <= 1)).all()


def test_the_edge_is_a_raised_cosine_and_two_of_them_add_up_to_one() -> None:
    rise = raised_cosine(100)
    np.testing.assert_allclose(rise + rise[::-1], 1, atol=1e-6)
    assert (np.diff(rise) > 0).all()
