"""What sounds when: found by halves, as it would be by going through them all."""

from __future__ import annotations

import random

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from caller.sound.score import LONG_FRAMES, RATE, Clip, ClipSpan, Placement, Score
from tests.sound.scores import PLACEMENTS, SCORES, noise


@given(SCORES, st.integers(-600, 5_000), st.integers(0, 2_000))
def test_what_sounds_in_a_stretch_is_found_whatever_the_order(score: Score, first: int, frames: int) -> None:
    last = first + frames
    plain = [one for one in score.placements if one.frame < last and one.end > first]
    found = score.sounding(first, last)
    assert sorted(map(id, found)) == sorted(map(id, plain))


@given(SCORES, st.integers(0, 4_000), st.integers())
def test_the_order_of_what_sounds_does_not_hang_on_the_scores(score: Score, first: int, seed: int) -> None:
    shuffled = list(score.placements)
    random.Random(seed).shuffle(shuffled)
    assert Score(tuple(shuffled), score.frames).sounding(first, first + 500) == score.sounding(first, first + 500)


@given(st.lists(PLACEMENTS, max_size=8), st.integers(0, 5_000))
def test_a_score_that_holds_placements_is_long_enough_and_in_order(placements: list[Placement], frames: int) -> None:
    score = Score.holding(placements, frames)
    assert sorted(map(id, score.placements)) == sorted(map(id, placements))
    assert [one.frame for one in score.placements] == sorted(one.frame for one in placements)
    assert score.frames == max([frames, *(one.end for one in placements)])


def test_a_placement_ends_before_the_frame_it_ends_on() -> None:
    placement = Placement(100, noise(1, 50), 1.0, "count")
    score = Score((placement,), 200)
    assert placement.end == 150
    assert score.sounding(149, 150) == [placement]
    assert score.sounding(150, 151) == []


def test_under_a_whole_song_what_sounds_is_found_in_the_same_order() -> None:
    song = Clip("song", np.zeros(3 * LONG_FRAMES, np.float32))
    under = Placement(-RATE, song, 1.0, "music", ClipSpan(RATE, 3 * LONG_FRAMES))
    clicks = [Placement(RATE // 2 * n, noise(1, 2_400), 1.0, "count") for n in range(80)]
    score = Score.holding([*clicks, under])
    late = 30 * RATE
    assert score.sounding(late, late + 480) == [under, clicks[60]]
    assert score.sounding(late - 10, late + 480) == [under, clicks[60]]
    assert score.sounding(under.end, under.end + 1) == []


def test_of_a_part_those_frames_are_heard_and_its_edges_rise_and_fall_evenly() -> None:
    clip = Clip("level", np.arange(1, 1_001, dtype=np.float32))
    placed = Placement(50, clip, 0.5, "music", ClipSpan(200, 300, fade_in=9, fade_out=4))
    assert (placed.frames, placed.end) == (100, 150)
    heard = placed.sound(50, 150) / (0.5 * clip.samples[200:300])
    np.testing.assert_allclose(heard[:9], np.arange(1, 10) / 10, rtol=1e-6)
    np.testing.assert_array_equal(heard[9:96], np.ones(87))
    np.testing.assert_allclose(heard[96:], [0.8, 0.6, 0.4, 0.2], rtol=1e-6)
    assert clip.samples[200] == 201  # the clip itself is as it was


def test_edges_longer_than_the_part_are_both_kept() -> None:
    placed = Placement(0, Clip("ones", np.ones(10, np.float32)), 1.0, "music", ClipSpan(2, 6, fade_in=7, fade_out=9))
    rising, falling = np.arange(1, 5) / 8, np.arange(4, 0, -1) / 10
    np.testing.assert_allclose(placed.sound(0, 4), rising * falling, rtol=1e-6)
