"""Which gesture orders what: the tables, what holds in all of them, and what a teacher sets."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.transport.expression import Lean
from caller.transport.foot import Gesture
from caller.transport.footing import FOR_A_DANCE, FOR_A_LESSON, FOR_A_TAPPED_DRILL, PEDAL_ORDERS, Footing
from caller.transport.order import ORDERS, Order
from caller.transport.unit import Stroke, Which

FIRST = [Stroke(gesture) for gesture in Gesture]
SECOND = [Stroke(gesture, Which.SECOND) for gesture in Gesture]


def ordered(footing: Footing, strokes: list[Stroke]) -> dict[str, list[str]]:
    given = {stroke.gesture.value: [order.value for order in footing.orders(stroke)] for stroke in strokes}
    return {gesture: orders for gesture, orders in given.items() if orders}


def test_for_a_dance_a_tap_goes_and_holding_slows_down() -> None:
    assert ordered(FOR_A_DANCE, FIRST) == {
        "tap": ["go"],
        "double tap": ["section-again"],
        "hold": ["slow-on"],
        "release": ["slow-off"],
        "long release": ["slow-off"],
        "tap and hold": ["slow-on"],
        "tap and release": ["slow-off"],
    }


def test_for_a_lesson_a_hold_slows_the_stage_down_and_a_long_one_goes_on() -> None:
    assert ordered(FOR_A_LESSON, FIRST) == {
        "tap": ["go"],
        "double tap": ["section-again"],
        "long hold": ["wait"],
        "release": ["slower"],
        "tap and hold": ["next"],
    }


def test_in_a_drill_that_gets_quicker_on_a_tap_each_of_two_taps_counts_and_a_hold_goes() -> None:
    assert ordered(FOR_A_TAPPED_DRILL, FIRST) == {
        "tap": ["faster"],
        "double tap": ["faster"],
        "long hold": ["slower"],
        "release": ["go"],
        "tap and release": ["go"],
    }


@pytest.mark.parametrize("footing", [FOR_A_DANCE, FOR_A_LESSON, FOR_A_TAPPED_DRILL])
def test_the_second_pedal_goes_about_the_dance(footing: Footing) -> None:
    assert ordered(footing, SECOND) == {
        "tap": ["section-again"],
        "double tap": ["previous"],
        "long hold": ["half"],
        "release": ["next"],
        "tap and release": ["next"],
    }


def test_every_order_has_a_key_a_gesture_or_a_form() -> None:
    by_word = (Order.GO_ON, Order.PAUSE)  # what the one key and the one foot are both
    told = [entry for entry in ORDERS if entry.order not in by_word]
    assert all(entry.keys or entry.form or FOR_A_DANCE.strokes(entry.order) for entry in told)


def test_a_lean_is_no_order() -> None:
    assert FOR_A_DANCE.orders(Lean(Fraction(1, 2))) == ()


rows = st.dictionaries(st.sampled_from(Gesture), st.sampled_from(PEDAL_ORDERS))
changes = st.dictionaries(st.sampled_from(Gesture), st.sampled_from(PEDAL_ORDERS) | st.none())
footings = st.builds(Footing, rows, rows)
STROKES = [*FIRST, *SECOND]


@given(footings)
def test_what_slows_down_while_it_is_held_is_up_to_speed_at_the_release(footing: Footing) -> None:
    for pedal in Which:
        hold, long_hold, release, long_release = (
            footing.orders(Stroke(gesture, pedal))
            for gesture in (Gesture.HOLD, Gesture.LONG_HOLD, Gesture.RELEASE, Gesture.LONG_RELEASE)
        )
        if Order.SLOW_ON in hold:
            assert release[0] is Order.SLOW_OFF
        if Order.SLOW_ON in (*hold, *long_hold):
            assert long_release[0] is Order.SLOW_OFF


@given(footings)
def test_a_double_tap_that_orders_nothing_is_a_second_tap(footing: Footing) -> None:
    for pedal, rows in ((Which.FIRST, footing.first), (Which.SECOND, footing.second)):
        same = Stroke(Gesture.DOUBLE_TAP if Gesture.DOUBLE_TAP in rows else Gesture.TAP, pedal)
        assert footing.orders(Stroke(Gesture.DOUBLE_TAP, pedal)) == footing.orders(same)


@given(footings)
def test_a_tap_and_hold_that_orders_nothing_is_a_hold_and_let_go_like_one(footing: Footing) -> None:
    for pedal, rows in ((Which.FIRST, footing.first), (Which.SECOND, footing.second)):
        if Gesture.TAP_AND_HOLD in rows:
            assert footing.orders(Stroke(Gesture.TAP_AND_HOLD, pedal)) == (rows[Gesture.TAP_AND_HOLD],)
        else:
            for after_a_tap, plain in ((Gesture.TAP_AND_HOLD, Gesture.HOLD),):
                assert footing.orders(Stroke(after_a_tap, pedal)) == footing.orders(Stroke(plain, pedal))


@given(footings, changes, changes)
def test_what_is_set_holds_in_place_of_the_usual_and_the_rest_stays(
    footing: Footing, first: dict[Gesture, Order | None], second: dict[Gesture, Order | None]
) -> None:
    after = footing.changed(first, second)
    for rows, changed, usual in ((after.first, first, footing.first), (after.second, second, footing.second)):
        for gesture in Gesture:
            assert rows.get(gesture) is (changed[gesture] if gesture in changed else usual.get(gesture))


@given(footings, st.sampled_from(STROKES))
def test_what_is_told_of_an_order_is_what_gives_it(footing: Footing, stroke: Stroke) -> None:
    for order in Order:
        assert (stroke in footing.strokes(order)) == (order in footing.orders(stroke))
        assert bool(footing.words(order)) == bool(footing.strokes(order))


@pytest.mark.parametrize(
    ("order", "words"),
    [
        (Order.GO, "tap"),
        (Order.SECTION_AGAIN, "double tap; second: tap"),
        (Order.SLOW_OFF, "release"),
        (Order.PREVIOUS, "second: double tap"),
        (Order.HALF, "second: long hold"),
        (Order.QUIT, ""),
    ],
)
def test_gestures_are_told_in_words(order: Order, words: str) -> None:
    assert FOR_A_DANCE.words(order) == words


def test_a_second_tap_that_is_a_tap_is_not_told_twice() -> None:
    footing = FOR_A_DANCE.changed({Gesture.DOUBLE_TAP: None, Gesture.TAP: Order.TAP_TEMPO}, {})
    assert footing.words(Order.TAP_TEMPO) == "tap"
    assert footing.words(Order.SECTION_AGAIN) == "second: tap"


def test_no_foot_leaves_the_class_or_gives_an_order_that_carries_something() -> None:
    carrying = {entry.order for entry in ORDERS if entry.form}
    assert set(Order) - set(PEDAL_ORDERS) == {Order.HELP, Order.STOP_OR_LEAVE, Order.QUIT} | carrying
