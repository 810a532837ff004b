"""What sounds when: found by halves, as it would be by going through them all."""

from __future__ import annotations

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from caller.sound.score import Placement, Score
from tests.sound.scores import PLACEMENTS, SCORES, noise


@given(SCORES, st.integers(-600, 5_000), st.integers(0, 2_000))
@settings(deadline=None)
def test_what_sounds_in_a_stretch_is_found_whatever_the_order(score: Score, first: int, frames: int) -> None:
    last = first + frames
    plain = [one for one in score.placements if one.frame < last and one.end > first]
    found = score.sounding(first, last)
    assert sorted(map(id, found)) == sorted(map(id, plain))


@given(SCORES, st.integers(0, 4_000), st.integers())
@settings(deadline=None)
def test_the_order_of_what_sounds_does_not_hang_on_the_scores(score: Score, first: int, seed: int) -> None:
    shuffled = list(score.placements)
    random.Random(seed).shuffle(shuffled)
    assert Score(tuple(shuffled), score.frames).sounding(first, first + 500) == score.sounding(first, first + 500)


@given(st.lists(PLACEMENTS, max_size=8), st.integers(0, 5_000))
@settings(deadline=None)
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
