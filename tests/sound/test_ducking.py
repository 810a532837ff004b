"""Ducking: as deep as asked under speech, untouched elsewhere, the same however the frames are cut."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pyloudnorm
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.sound.clicks import ACCENT, BETWEEN, CLICK_GAIN, COUNT, QUICKEST_TEMPO, count_track
from caller.sound.ducking import FALL_FRAMES, RISE_FRAMES, ducked_gains
from caller.sound.levels import duck_for
from caller.sound.loudness import SPEECH_LUFS, gain_to, true_peak_db
from caller.sound.mix import render
from caller.sound.score import RATE, Clip, Placement, Score
from tests.sound.scores import NASTY_BLOCKS, SCORES, blocks_of, noise
from tests.sound.voices import silence, syllable

METER = pyloudnorm.Meter(RATE, filter_class="DeMan")  # BS.1770's own filters


def ducked(score: Score, depth_db: float) -> Score:
    return replace(score, duck_db=depth_db)


@given(
    SCORES,
    st.floats(0.5, 20),
    st.lists(st.sampled_from([*NASTY_BLOCKS, 480, 2]), min_size=1, max_size=6),
    st.integers(-700, 700),
)
@settings(max_examples=30)
def test_no_ducked_sample_hangs_on_how_the_frames_are_cut(
    score: Score, depth_db: float, sizes: list[int], first: int
) -> None:
    score = ducked(score, depth_db)
    whole = render(score, first, 5_000)
    cut = [render(score, *block) for block in blocks_of(5_000, sizes, first)]
    np.testing.assert_array_equal(np.concatenate(cut), whole)


def test_the_count_is_softer_by_the_depth_under_a_call_and_untouched_away_from_it() -> None:
    under, call = noise(1, 4 * RATE), Placement(RATE, Clip("mute", silence(1)), 1.0, "call")
    score = ducked(Score((Placement(0, under, 1.0, "count"), call), 4 * RATE), 12.0)
    heard = render(score, 0, 4 * RATE)[:, 0]
    gains = heard / under.samples
    np.testing.assert_allclose(gains[RATE : 2 * RATE], 10 ** (-12 / 20), rtol=1e-5)
    np.testing.assert_array_equal(heard[: RATE - FALL_FRAMES], under.samples[: RATE - FALL_FRAMES])
    np.testing.assert_array_equal(heard[2 * RATE + RISE_FRAMES :], under.samples[2 * RATE + RISE_FRAMES :])
    falling, rising = gains[RATE - FALL_FRAMES : RATE], gains[2 * RATE : 2 * RATE + RISE_FRAMES]
    assert (np.diff(falling) < 1e-6).all()
    assert (np.diff(rising) > -1e-6).all()


def test_what_is_spoken_is_never_ducked_not_even_by_another_call() -> None:
    one, other = (Placement(n * 1_000, noise(n, 3_000), 1.0, "call") for n in (1, 2))
    plain = Score((one, other), 6_000)
    np.testing.assert_array_equal(render(ducked(plain, 20), 0, 6_000), render(plain, 0, 6_000))


@given(SCORES, st.floats(0.1, 20))
def test_the_gain_at_a_frame_is_that_of_the_nearest_call(score: Score, depth_db: float) -> None:
    gains = ducked_gains(ducked(score, depth_db), 0, 4_500)
    calls = [one for one in score.placements if one.kind == "call" and one.clip.frames]
    if gains is None:
        assert not any(one.frame - FALL_FRAMES < 4_500 for one in calls)
        return
    for frame in range(0, 4_500, 97):
        wanted = [_share(one, frame) for one in calls]
        assert gains[frame] == pytest.approx(10 ** (-depth_db * max(wanted, default=0.0) / 20), rel=1e-5)


def _share(call: Placement, frame: int) -> float:
    """How far down a call has the rest at a frame, 0 to 1: told once more, from the distance."""
    if frame < call.frame:
        return max(0.0, 1 - (call.frame - frame - 1) / FALL_FRAMES)
    if frame >= call.end:
        return max(0.0, 1 - (frame - call.end) / RISE_FRAMES)
    return 1.0


def test_without_a_depth_nothing_is_ducked() -> None:
    score = Score((Placement(0, noise(1, 3_000), 1.0, "count"), Placement(0, noise(2, 3_000), 1.0, "call")), 3_000)
    assert ducked_gains(score, 0, 3_000) is None


def fullest_track(seconds: int, gain: float) -> tuple[Placement, ...]:
    """The count track at the quickest tempo, every other count accented, a click between all."""
    half = RATE * 60 / QUICKEST_TEMPO / 2
    accents = (ACCENT, BETWEEN, COUNT, BETWEEN)
    return count_track(((round(n * half), accents[n % 4]) for n in range(int(seconds * RATE / half))), gain)


def talk(seconds: int) -> Placement:
    """Syllables without end, levelled as speech is."""
    said = np.concatenate([syllable(0.05 + 0.01 * (n % 5)) for n in range(4 * seconds)])[: seconds * RATE]
    return Placement(0, Clip("talk", said * np.float32(gain_to(said, SPEECH_LUFS))), 1.0, "call")


def lufs(heard: npt.NDArray[np.float32]) -> float:
    return float(METER.integrated_loudness(heard.astype(np.float64)))


@pytest.mark.parametrize("over", [10.0, 14.0, 20.0])
@pytest.mark.parametrize("gain", [CLICK_GAIN, 1.0])
def test_speech_stands_as_far_over_the_fullest_count_track_as_asked_by_the_reference_meter(
    over: float, gain: float
) -> None:
    """Torcoli et al. 2019 for 10 LU, WCAG 1.4.7 for 20 dB; measured by pyloudnorm."""
    track, speech = fullest_track(5, gain), talk(5)
    depth = duck_for(over, gain)
    muted = replace(speech, clip=Clip("mute", np.zeros_like(speech.clip.samples)))
    alone = render(Score((speech,), 5 * RATE, duck_db=depth), 0, 5 * RATE)
    under = render(Score((*track, muted), 5 * RATE, duck_db=depth), 0, 5 * RATE)
    assert lufs(alone) - lufs(under) >= over - 0.3
    both = render(Score((*track, speech), 5 * RATE, duck_db=depth), 0, 5 * RATE)
    assert true_peak_db(both) < -1


def test_music_as_loud_as_a_programme_goes_down_as_far_as_it_must() -> None:
    # EBU R 128: a programme is at -23 LUFS; speech here at -20, so 7 dB are left to 10 LU and 17 to 20.
    assert duck_for(10, 0, -23) == pytest.approx(7)
    assert duck_for(20, 0, -23) == pytest.approx(17)
    assert duck_for(10) == pytest.approx(0)  # the count track's own level is enough
    assert duck_for(20) == pytest.approx(10)
    assert duck_for(10, 0) == 0.0
    assert 7 < duck_for(10, CLICK_GAIN, -23) < 8  # both together are a little louder


@pytest.mark.parametrize("over", [9.9, 20.1, float("nan")])
def test_a_distance_that_is_no_choice_is_refused(over: float) -> None:
    with pytest.raises(ValueError, match="10 to 20 LU"):
        duck_for(over)
