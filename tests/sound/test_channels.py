"""One channel to look at, and where in a recording there is sound."""

from __future__ import annotations

import numpy as np

from caller.sound.channels import one_channel, sounding
from caller.sound.score import RATE
from tests.fakes.songs import tune


def test_the_middle_is_looked_at_and_where_that_is_nothing_what_the_channels_differ_by() -> None:
    song = tune(104, 4, 0.5)
    np.testing.assert_array_equal(one_channel(song), song)
    np.testing.assert_allclose(one_channel(np.stack([song, song], 1)), song, atol=1e-6)
    np.testing.assert_allclose(one_channel(np.stack([song, -song], 1)), song, atol=1e-6)
    # Wide, but no channel is the wrong way round.
    np.testing.assert_allclose(one_channel(np.stack([song, 0 * song], 1)), song / 2, atol=1e-6)


def test_silence_is_left_out_at_both_ends() -> None:
    sound = np.zeros(3 * RATE, np.float32)
    sound[RATE : 2 * RATE] = 0.1
    sound[100] = 1e-5  # noise
    assert sounding(sound) == (RATE, 2 * RATE)
    assert sounding(np.zeros(RATE, np.float32)) == (0, RATE)
    assert sounding(np.zeros(5, np.float32)) == (0, 5)
    assert sounding(np.ones(RATE + 7, np.float32)) == (0, RATE)


def test_what_is_60_db_softer_than_the_loudest_is_silence() -> None:
    for softer_db, first in ((59.9, 0), (60.1, RATE)):
        sound = np.full(2 * RATE, 0.5, np.float32)
        sound[:RATE] *= np.float32(10 ** (-softer_db / 20))
        assert sounding(sound) == (first, 2 * RATE)
