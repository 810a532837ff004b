"""The deck: what comes out is the reel, however it is cut into blocks and whenever orders come."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.rig.stream.deck import Deck
from caller.sound.reel import CROSSING_FRAMES, Reel, Splice, render_reel
from tests.rig.scores import steady

LONG = 20_000
BLOCKS = st.lists(st.sampled_from([1, 64, 65, 480, 1_441, 8_193]), min_size=1, max_size=12)


def played(deck: Deck, *blocks: int) -> npt.NDArray[np.float32]:
    return np.concatenate([deck.block(frames) for frames in blocks])


@given(BLOCKS, st.lists(st.integers(0, LONG), max_size=4))
@settings(max_examples=40)
def test_samples_do_not_depend_on_the_blocks(blocks: list[int], places: list[int]) -> None:
    deck = Deck()
    for seed, at in enumerate(sorted(places)):
        deck.splice(steady(LONG, seed), 0, at)
    whole = render_reel(deck.reel, 0, sum(blocks))
    np.testing.assert_array_equal(played(deck, *blocks), whole)


@given(st.lists(st.tuples(st.integers(0, 120_000), st.integers(1, 30_000)), max_size=6))
@settings(max_examples=30)
def test_forgetting_what_has_passed_changes_no_sample(steps: list[tuple[int, int]]) -> None:
    forgetful, mindful = Deck(), Deck()
    for seed, (ahead, frames) in enumerate(steps):
        for deck in (forgetful, mindful):
            deck.splice(steady(60_000, seed), 0, deck.written + ahead)
        forgetful.prune()
        np.testing.assert_array_equal(forgetful.block(frames), mindful.block(frames))


def test_splices_that_have_passed_are_forgotten() -> None:
    deck = Deck()
    for _ in range(50):
        deck.splice(None, 0, deck.written)
        deck.block(24_000)
        deck.prune()
    assert len(deck.reel.splices) <= 4


def test_a_newer_order_drops_what_was_to_come_after_it() -> None:
    deck = Deck()
    deck.splice(steady(LONG, 1), 0, 0)
    deck.splice(steady(LONG, 2), 0, 10_000)
    deck.splice(None, 0, 5_000)
    assert [splice.at for splice in deck.reel.splices] == [0, 5_000]
    assert not played(deck, LONG)[10_000:].any()


@pytest.mark.parametrize("lateness", [1, 480, 3_000])
def test_a_score_that_comes_late_is_joined_late_in_its_own_time(lateness: int) -> None:
    score = steady(LONG)
    deck = Deck()
    deck.block(1_000 + lateness)
    deck.splice(score, 50, 1_000)
    assert deck.late == 1
    in_time = render_reel(Reel((Splice(1_000, score, 50),)), 0, LONG)
    fade = 1_000
    np.testing.assert_allclose(deck.block(8_000)[fade:], in_time[1_000 + lateness :][fade:8_000], atol=1e-7)


def test_a_score_that_comes_in_time_is_not_late() -> None:
    deck = Deck()
    deck.block(480)
    deck.splice(steady(LONG), 0, 480)
    assert deck.late == 0


def test_hush_is_silence_from_the_next_block_on() -> None:
    deck = Deck()
    deck.splice(steady(LONG), 0, 0)
    deck.block(480)
    deck.hush()
    assert deck.hushed_at == 480
    after = deck.block(8_000)
    assert after[:10].any()  # it fades, so that there is no click
    assert not after[2_400:].any()


def test_skipping_never_goes_back() -> None:
    deck = Deck()
    deck.skip_to(9_600)
    deck.skip_to(480)
    assert deck.written == 9_600


@given(st.integers(0, 60), st.integers(0, 12_000))
def test_a_cut_goes_back_to_what_was_not_heard_and_is_silent_from_there(blocks: int, back: int) -> None:
    score = steady(60_000, 5)
    deck = Deck()
    deck.splice(score, 0, 0)
    for _ in range(blocks):
        deck.block(480)
        deck.prune()
    cut = deck.written - back
    deck.cut(cut)
    assert deck.written == deck.hushed_at == max(cut, 0)
    assert not deck.block(960).any()
    deck.splice(score, deck.written, deck.written)
    later = deck.written + CROSSING_FRAMES
    deck.block(CROSSING_FRAMES)
    assert np.array_equal(deck.block(480), render_reel(Reel((Splice(0, score),)), later, later + 480))
    assert deck.late == 0
