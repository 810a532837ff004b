"""Tempo by tapping and typing, and how loud."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.transport.levels import LOUDEST_DB, SOFTEST_DB, STEP_DB, Levels
from caller.transport.order import Order, order_typed
from caller.transport.tempo import FASTEST, LONGEST_INTERVAL_SECONDS, SLOWEST, Slowing, Taps


def tapped(*times: float) -> Taps:
    taps = Taps()
    for now in times:
        taps = taps.after(now)
    return taps


@given(st.integers(SLOWEST, FASTEST), st.lists(st.floats(-0.004, 0.004), min_size=3, max_size=12))
def test_even_taps_tell_their_tempo(tempo: int, slips: list[float]) -> None:
    """Taps that slip by up to 4 ms: no interval, so no median, is off by more than 8 ms."""
    taps = tapped(*(10 + n * 60 / tempo + slip for n, slip in enumerate(slips)))
    assert taps.tempo is not None
    slowest, fastest = 60 / (60 / tempo + 0.008), 60 / (60 / tempo - 0.008)
    assert round(slowest) <= taps.tempo <= max(round(fastest), SLOWEST)


def test_one_tap_missed_and_one_doubled_do_no_harm() -> None:
    """The median is what statistics calls it; of these nine taps two intervals are wrong."""
    times = [0.0, 0.5, 1.0, 2.0, 2.5, 3.0, 3.1, 3.5, 4.0]
    assert tapped(*times).tempo == 120
    assert median(b - a for a, b in pairwise(times)) == 0.5


def test_two_taps_tell_nothing_and_a_long_wait_begins_anew() -> None:
    assert tapped(1.0, 1.5).tempo is None
    assert tapped(1.0, 1.5, 2.0, 2.0 + 1.01 * LONGEST_INTERVAL_SECONDS).times == (
        2.0 + 1.01 * LONGEST_INTERVAL_SECONDS,
    )


@given(st.lists(st.floats(0, 1e6), max_size=30))
def test_any_taps_give_a_tempo_within_reach_or_none(times: list[float]) -> None:
    tempo = tapped(*times).tempo
    assert tempo is None or SLOWEST <= tempo <= FASTEST


def test_a_tapped_tempo_is_what_is_danced() -> None:
    assert Slowing(half=True).after(Order.TEMPO, (Fraction(90),)).of(Fraction(90)) == 90


@pytest.mark.parametrize(
    ("line", "tempo"),
    [("96", 96), (" tempo 104 ", 104), ("Tempo  97.5\n", Fraction(195, 2)), ("400", 400), ("20", 20)],
)
def test_a_tempo_is_typed_as_a_number(line: str, tempo: Fraction) -> None:
    assert order_typed(line) == (Order.TEMPO, (tempo,))


@pytest.mark.parametrize(
    "line", ["", "tempo", "19", "401", "00", "-96", "96/2", "1e99999999", "９６x", "tempo96x", "nan"]
)
def test_what_is_no_tempo_or_out_of_reach_is_none(line: str) -> None:
    assert order_typed(line) is None


LOUD = [
    Order.COUNT_LOUDER,
    Order.COUNT_SOFTER,
    Order.CALLS_LOUDER,
    Order.CALLS_SOFTER,
    Order.MUSIC_LOUDER,
    Order.MUSIC_SOFTER,
    Order.MUTE,
]


@given(st.lists(st.sampled_from([*LOUD, Order.FASTER]), max_size=60))
def test_levels_stay_within_their_limits(orders: list[Order]) -> None:
    levels = Levels()
    for order in orders:
        levels = levels.after(order)
    assert SOFTEST_DB <= levels.count_db <= LOUDEST_DB
    assert SOFTEST_DB <= levels.call_db <= LOUDEST_DB
    assert SOFTEST_DB <= levels.music_db <= LOUDEST_DB


def test_a_step_up_and_a_step_down_are_as_before() -> None:
    assert Levels().after(Order.COUNT_LOUDER).after(Order.COUNT_SOFTER) == Levels()
    assert Levels().after(Order.CALLS_SOFTER).after(Order.CALLS_LOUDER) == Levels()
    assert Levels().after(Order.MUSIC_SOFTER).after(Order.MUSIC_LOUDER) == Levels()
    softer = Levels().after(Order.MUSIC_SOFTER)
    assert (softer.gain("count"), softer.gain("call")) == (1, 1)
    assert softer.gain("music") == pytest.approx(0.794, abs=0.001)  # 10 ** (-2 / 20)


def test_each_level_is_its_own_gain_and_six_db_is_about_double() -> None:
    levels = Levels()
    for _ in range(3):
        levels = levels.after(Order.CALLS_LOUDER)
    assert levels.call_db == 3 * STEP_DB == 6
    assert levels.gain("call") == pytest.approx(1.995, abs=0.001)  # 10 ** (6 / 20)
    assert levels.gain("count") == 1


def test_mute_twice_is_none_and_louder_ends_it() -> None:
    muted = Levels().after(Order.MUTE)
    assert muted.muted
    assert muted.after(Order.MUTE) == Levels()
    assert not muted.after(Order.CALLS_LOUDER).muted
    assert muted.after(Order.CALLS_SOFTER).muted
