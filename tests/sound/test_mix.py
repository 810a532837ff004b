"""The renderer: the same samples however the frames are cut, within its headroom, equal to a plain overlay."""

from __future__ import annotations

import random

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp
from pydub import AudioSegment

from caller.sound.mix import CEILING, CHANNELS, CLICK_PEAK, KNEE, SPEECH_PEAK, limited, render
from caller.sound.score import RATE, Clip, ClipSpan, Placement, Score
from tests.sound.scores import NASTY_BLOCKS, SCORES, blocks_of, noise


def in_blocks(score: Score, last: int, sizes: list[int], first: int = 0) -> npt.NDArray[np.float32]:
    return np.concatenate([render(score, *block) for block in blocks_of(last, sizes, first)])


def a_song(seconds: int) -> Score:
    """A click each half second, with something spoken over two of three."""
    draw = random.Random(seconds)
    clicks = [Placement(24_000 * n, noise(n % 3, 2_400, 0.3), 0.6, "count") for n in range(2 * seconds)]
    calls = [Placement(draw.randrange(72_000) + 72_000 * n, noise(9, 40_000, 0.5), 1.0, "call") for n in range(seconds)]
    return Score.holding((*clicks, *calls))


@pytest.mark.parametrize("size", NASTY_BLOCKS)
def test_no_sample_hangs_on_the_block_size(size: int) -> None:
    score = a_song(2)
    whole = render(score, -100, 60_000)
    assert whole.any()
    np.testing.assert_array_equal(in_blocks(score, 60_000, [size], -100), whole)


@given(SCORES, st.lists(st.sampled_from([*NASTY_BLOCKS, 480, 2]), min_size=1, max_size=6), st.integers(-700, 700))
def test_no_sample_hangs_on_any_cutting(score: Score, sizes: list[int], first: int) -> None:
    np.testing.assert_array_equal(in_blocks(score, 5_000, sizes, first), render(score, first, 5_000))


@given(SCORES, st.integers())
def test_no_sample_hangs_on_the_order_of_the_placements(score: Score, seed: int) -> None:
    shuffled = list(score.placements)
    random.Random(seed).shuffle(shuffled)
    np.testing.assert_array_equal(render(Score(tuple(shuffled), score.frames), 0, 4_500), render(score, 0, 4_500))


@given(SCORES)
def test_every_sample_is_the_sum_of_what_sounds_there(score: Score) -> None:
    early = 500  # no placement begins further before frame 0
    line = np.zeros(early + 6_000)
    for one in score.placements:
        line[early + one.frame : early + one.end] += one.sound(one.frame, one.end)
    plain = line[early:]
    plain[score.frames :] = 0
    untouched = np.abs(plain) < KNEE - 1e-5
    heard = render(score, 0, 6_000)
    np.testing.assert_allclose(heard[untouched, 0], plain[untouched], atol=1e-6)
    assert (np.abs(heard[~untouched, 0]) > KNEE - 2e-5).all()


@given(SCORES)
def test_both_channels_are_the_same_and_outside_the_score_is_silence(score: Score) -> None:
    heard = render(score, -1_000, 6_000)
    assert heard.dtype == np.float32
    assert heard.shape == (7_000, CHANNELS)
    np.testing.assert_array_equal(heard[:, 0], heard[:, 1])
    assert not heard[:1_000].any()
    assert not heard[1_000 + score.frames :].any()


def test_the_same_as_pydubs_overlay_of_the_same_clips() -> None:
    # pydub places by milliseconds (48 frames) and adds whole 16-bit steps.
    draw = random.Random(7)
    placements, overlaid = [], AudioSegment.silent(4_000, frame_rate=RATE)
    for seed in range(40):
        steps = np.random.default_rng(seed).integers(-4_000, 4_000, draw.randrange(100, 20_000)).astype(np.int16)
        at_ms = draw.randrange(3_500)
        placements.append(Placement(48 * at_ms, Clip(f"{seed}", steps.astype(np.float32) / 32_768), 1.0, "call"))
        segment = AudioSegment(steps.tobytes(), sample_width=2, frame_rate=RATE, channels=1)
        overlaid = overlaid.overlay(segment, position=at_ms)
    reference = np.array(overlaid.get_array_of_samples())
    ours = np.rint(render(Score(tuple(placements), len(reference)), 0, len(reference))[:, 0] * 32_768)
    assert np.abs(reference).max() < KNEE * 32_768, "bent by us, not by pydub"
    assert np.abs(ours - reference).max() <= 1


def test_a_stretch_of_no_frames_is_empty_and_a_backward_one_is_refused() -> None:
    assert render(a_song(1), 500, 500).shape == (0, CHANNELS)
    with pytest.raises(ValueError, match="501 to 500"):
        render(a_song(1), 501, 500)


SIZES = st.floats(-1e6, 1e6, width=32)


@given(hnp.arrays(np.float32, st.integers(1, 50), elements=SIZES))
@example(np.array([KNEE, -KNEE, 1.0, 1e6, -1e6, 0.0], np.float32))
def test_no_sample_passes_the_ceiling_and_none_below_the_knee_is_touched(samples: npt.NDArray[np.float32]) -> None:
    bent = limited(samples)
    assert np.abs(bent).max() <= np.float32(CEILING)
    low = np.abs(samples) <= np.float32(KNEE)
    np.testing.assert_array_equal(bent[low], samples[low])
    np.testing.assert_array_equal(np.sign(bent), np.sign(samples))


@given(SIZES, SIZES)
def test_what_is_louder_stays_no_less_loud(one: float, other: float) -> None:
    low, high = limited(np.sort(np.array([one, other], np.float32)))
    assert low <= high


def test_what_is_hardly_louder_than_the_knee_is_hardly_bent() -> None:
    above = np.float32(KNEE) + np.float32([0.001, 0.002, 0.003])
    assert np.allclose(limited(above), above, atol=2e-4)


def test_the_headroom_is_as_told() -> None:
    assert CLICK_PEAK + SPEECH_PEAK <= KNEE  # speech over a click passes untouched
    assert KNEE > 10 ** (-3 / 20)  # no bending at all below -3 dBFS
    assert CEILING < 10 ** (-1 / 20)  # and nothing from -1 dBFS up


def test_a_recording_in_stereo_stays_so_and_what_is_mono_is_in_both() -> None:
    draw = np.random.default_rng(5)
    stereo = Clip("song", draw.uniform(-0.2, 0.2, (500, 2)).astype(np.float32))
    mono = Clip("call", draw.uniform(-0.2, 0.2, 300).astype(np.float32))
    part = ClipSpan(50, 450, fade_in=20, fade_out=30)
    score = Score.holding([Placement(10, stereo, 0.5, "music", part), Placement(100, mono, 1.0, "call")])
    whole = render(score, 0, 500)
    np.testing.assert_array_equal(whole, np.concatenate([render(score, at, at + 100) for at in range(0, 500, 100)]))
    np.testing.assert_allclose(whole[40:100], 0.5 * stereo.samples[80:140], atol=1e-7)
    np.testing.assert_allclose(whole[150, :] - 0.5 * stereo.samples[190, :], mono.samples[50], atol=1e-6)
    assert np.abs(whole[:10]).max() == 0
