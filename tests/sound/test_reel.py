"""The reel: one score takes over from another on the frame, without a click, however the stream is cut."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.sound.mix import CHANNELS, render
from caller.sound.reel import CROSSING_FRAMES, Reel, Splice, render_reel
from caller.sound.score import Clip, Placement, Score
from tests.sound.scores import NASTY_BLOCKS, SCORES, blocks_of, noise

SPLICES = st.builds(
    Splice, st.integers(-300, 3_000), st.one_of(st.none(), SCORES), st.sampled_from([0, 1, 700, 2_000, -50])
)
REELS = st.lists(SPLICES, max_size=5, unique_by=lambda splice: splice.at).map(
    lambda splices: Reel(tuple(sorted(splices, key=lambda splice: splice.at)))
)


def steady(seed: int, frames: int = 30_000) -> Score:
    return Score((Placement(0, noise(seed, frames), 1.0, "call"),), frames)


def level(value: float, frames: int = 20_000) -> Score:
    return Score((Placement(0, Clip(f"level {value}", np.full(frames, value, np.float32)), 1.0, "call"),), frames)


def in_blocks(reel: Reel, last: int, sizes: list[int]) -> npt.NDArray[np.float32]:
    return np.concatenate([render_reel(reel, *block) for block in blocks_of(last, sizes)])


@pytest.mark.parametrize("size", NASTY_BLOCKS)
def test_no_sample_hangs_on_the_block_size(size: int) -> None:
    reel = Reel((Splice(0, steady(1)), Splice(4_000, steady(2), 77), Splice(4_100, None), Splice(9_000, steady(3))))
    np.testing.assert_array_equal(in_blocks(reel, 12_000, [size]), render_reel(reel, 0, 12_000))


@given(REELS, st.lists(st.sampled_from([*NASTY_BLOCKS, 240, 7]), min_size=1, max_size=5))
def test_no_sample_hangs_on_any_cutting(reel: Reel, sizes: list[int]) -> None:
    np.testing.assert_array_equal(in_blocks(reel, 4_000, sizes), render_reel(reel, 0, 4_000))


def plainly(reel: Reel, first: int, last: int) -> npt.NDArray[np.float64]:
    """The same by its definition: each splice in turn laid over all that was before it."""
    heard = np.zeros((last - first, CHANNELS))
    frames = np.arange(first, last)
    for splice in reel.splices:
        shift = splice.score_frame - splice.at
        new = render(splice.score, first + shift, last + shift) if splice.score else np.zeros_like(heard)
        share = np.clip((frames - splice.at) / CROSSING_FRAMES, 0, 1)[:, np.newaxis]
        heard = (1 - share) * heard + share * new
    return heard


@given(REELS, st.integers(-500, 3_000), st.integers(0, 2_000))
def test_what_is_heard_is_each_splice_laid_over_what_was_before(reel: Reel, first: int, frames: int) -> None:
    np.testing.assert_allclose(
        render_reel(reel, first, first + frames), plainly(reel, first, first + frames), atol=1e-6
    )


def test_before_the_first_splice_there_is_silence_and_after_it_the_score() -> None:
    heard = render_reel(Reel((Splice(1_000, steady(1), 50),)), 0, 5_000)
    assert not heard[:1_000].any()
    np.testing.assert_array_equal(heard[1_000 + CROSSING_FRAMES :], render(steady(1), 50 + CROSSING_FRAMES, 50 + 4_000))


def test_the_old_score_sounds_untouched_until_the_splice() -> None:
    reel = Reel((Splice(0, steady(1)),)).with_splice(Splice(5_000, steady(2)))
    np.testing.assert_array_equal(render_reel(reel, CROSSING_FRAMES, 5_000), render(steady(1), CROSSING_FRAMES, 5_000))


def test_the_crossing_goes_evenly_from_old_to_new_within_five_milliseconds() -> None:
    reel = Reel((Splice(0, level(0.5)), Splice(10_000, level(-0.5))))
    crossing = render_reel(reel, 10_000, 10_000 + CROSSING_FRAMES + 1)[:, 0]
    np.testing.assert_allclose(np.diff(crossing), -1 / CROSSING_FRAMES, atol=1e-6)
    assert crossing[0] == 0.5
    assert crossing[-1] == -0.5
    assert CROSSING_FRAMES / 48_000 == 0.005


@given(SCORES, SCORES, st.integers(300, 4_000))
def test_crossing_over_to_the_same_sound_changes_no_sample(score: Score, other: Score, at: int) -> None:
    # The other differs wherever its own placements begin; around the splice both hold the same.
    reach = at + CROSSING_FRAMES
    later = tuple(one for one in other.placements if one.frame >= reach)
    here = tuple(one for one in score.placements if one.frame < reach)
    old, new = Score(score.placements, 4_500), Score((*later, *reversed(here)), 4_500)
    spliced = render_reel(Reel((Splice(0, old), Splice(at, new, at))), CROSSING_FRAMES, 4_500)
    np.testing.assert_array_equal(spliced[: reach - CROSSING_FRAMES], render(old, CROSSING_FRAMES, reach))
    np.testing.assert_array_equal(spliced[reach - CROSSING_FRAMES :], render(new, reach, 4_500))


@given(REELS, st.integers(-300, 4_000))
def test_what_is_forgotten_is_not_heard_any_more(reel: Reel, frame: int) -> None:
    shorter = reel.forget_before(frame)
    np.testing.assert_array_equal(render_reel(shorter, frame, 4_200), render_reel(reel, frame, 4_200))
    assert sum(splice.at + CROSSING_FRAMES <= frame for splice in shorter.splices) <= 1


@given(REELS, SPLICES)
def test_a_splice_drops_what_was_to_come_from_its_frame_on(reel: Reel, splice: Splice) -> None:
    spliced = reel.with_splice(splice)
    assert spliced.splices[-1] == splice
    assert spliced.splices[:-1] == tuple(old for old in reel.splices if old.at < splice.at)


@pytest.mark.parametrize("frames", [(100, 100), (200, 100)])
def test_splices_out_of_order_are_refused_by_frame(frames: tuple[int, int]) -> None:
    with pytest.raises(ValueError, match=f"{frames[0]}, the next at {frames[1]}"):
        Reel(tuple(Splice(at, None) for at in frames))


def test_a_reel_of_nothing_is_silence_and_a_backward_stretch_is_refused() -> None:
    assert not render_reel(Reel(), 0, 100).any()
    assert render_reel(Reel((Splice(0, steady(1)),)), 5, 5).shape == (0, CHANNELS)
    with pytest.raises(ValueError, match="6 to 5"):
        render_reel(Reel(), 6, 5)
