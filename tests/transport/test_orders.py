"""Laws of the one table of orders, and playbooks of the transport: order in, state and effect out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual._xterm_parser import XTermParser
from textual.events import Key

from caller.transport.order import ORDERS, Order, OrderEntry, order_of_key, order_typed
from caller.transport.state import State
from caller.transport.table import TABLE, Effect, respond
from caller.transport.tempo import FASTEST, SLOWEST, STEP, Pace


def test_every_order_stands_in_the_table_once() -> None:
    assert [entry.order for entry in ORDERS] == list(Order)


def test_no_key_or_word_gives_two_orders() -> None:
    keys = [key for entry in ORDERS for key in entry.keys]
    words = [word for entry in ORDERS for word in entry.typed]
    assert len(keys) == len(set(keys))
    assert len(words) == len(set(words))


@pytest.mark.parametrize("entry", ORDERS, ids=lambda entry: entry.order.value)
def test_every_order_can_be_given_and_is_told_in_a_sentence(entry: OrderEntry) -> None:
    assert entry.typed
    assert entry.title
    assert entry.tells[0].isupper() or entry.tells[0].isdigit()
    assert entry.tells.endswith(".")
    assert all(order_of_key(key) is entry.order for key in entry.keys)
    assert all(order_typed(f" {word.upper()}\n") is entry.order for word in entry.typed)


@pytest.mark.parametrize(
    ("sent", "order"),
    [
        (" ", Order.GO),
        ("\r", Order.GO),
        ("\x1b[6~", Order.GO),
        ("-", Order.SLOWER),
        ("\x1b[D", Order.SLOWER),
        ("\x1b[B", Order.SLOWER),
        ("+", Order.FASTER),
        ("=", Order.FASTER),
        ("\x1b[C", Order.FASTER),
        ("\x1b[A", Order.FASTER),
        ("h", Order.HALF),
        ("\x1b[5~", Order.HALF),
        ("a", Order.SECTION_AGAIN),
        ("\x7f", Order.SECTION_AGAIN),
        ("e", Order.STOP_AT_EIGHT),
        ("b", Order.TAP_TEMPO),
        ("w", Order.WALL_AGAIN),
        ("p", Order.PREVIOUS),
        ("n", Order.NEXT),
        ("l", Order.LOOP),
        ("c", Order.MANNER),
        ("o", Order.EASIER),
        ("m", Order.MUTE),
        ("1", Order.COUNT_SOFTER),
        ("2", Order.COUNT_LOUDER),
        ("3", Order.CALLS_SOFTER),
        ("4", Order.CALLS_LOUDER),
        ("5", Order.MUSIC_SOFTER),
        ("6", Order.MUSIC_LOUDER),
        ("t", Order.TOP),
        ("\x1b[H", Order.TOP),
        ("?", Order.HELP),
        ("\x1bOP", Order.HELP),
        ("q", Order.QUIT),
        ("\x11", Order.QUIT),
    ],
)
def test_the_bytes_that_a_terminal_sends_for_a_key_give_its_order(sent: str, order: Order) -> None:
    """Textual's own parser of what terminals send (the sequences are xterm's) names the keys that the table uses."""
    keys = [event.key for event in XTermParser().feed(sent) if isinstance(event, Key)]
    assert [order_of_key(key) for key in keys] == [order]


def test_what_is_no_order_is_none() -> None:
    assert order_of_key("z") is None
    assert order_typed("jump") is None


def test_the_transport_answers_every_order_in_every_state() -> None:
    assert set(TABLE) == set(product(State, Order))


PLAYBOOKS = [
    ("start, pause, go on", State.READY, [Order.GO, Order.GO, Order.GO], [Effect.START, Effect.HUSH, Effect.RESUME]),
    ("a start asked for early waits", State.GETTING_READY, [Order.GO, Order.TOP], [Effect.WHEN_READY, Effect.NOTHING]),
    ("a tempo while paused only changes the pace", State.PAUSED, [Order.FASTER, Order.HALF], [Effect.NOTHING] * 2),
    (
        "a tempo while dancing is heard",
        State.RUNNING,
        [Order.FASTER, Order.SLOW_ON, Order.SLOW_OFF],
        [Effect.RETIME] * 3,
    ),
    ("again while paused", State.PAUSED, [Order.SECTION_AGAIN, Order.GO], [Effect.AGAIN, Effect.HUSH]),
    ("once more after the end", State.FINISHED, [Order.GO], [Effect.FROM_TOP]),
    ("again means nothing before the first step", State.READY, [Order.SECTION_AGAIN], [Effect.NOTHING]),
    (
        "to the end of the eight, and on after all",
        State.RUNNING,
        [Order.STOP_AT_EIGHT, Order.FASTER, Order.STOP_AT_EIGHT],
        [Effect.TO_EIGHT, Effect.RETIME, Effect.RUN_ON],
    ),
    ("finishing, then at once", State.RUNNING, [Order.STOP_AT_EIGHT, Order.GO], [Effect.TO_EIGHT, Effect.HUSH]),
    (
        "there and back",
        State.PAUSED,
        [Order.NEXT, Order.PREVIOUS, Order.WALL_AGAIN],
        [Effect.NEXT, Effect.PREVIOUS, Effect.WALL],
    ),
    ("set while paused, heard later", State.PAUSED, [Order.LOOP, Order.EASIER, Order.MUTE], [Effect.NOTHING] * 3),
    ("called otherwise", State.RUNNING, [Order.MANNER, Order.EASIER, Order.LOOP], [Effect.REPLAN] * 3),
    ("louder and mute", State.RUNNING, [Order.COUNT_LOUDER, Order.MUTE], [Effect.LEVEL] * 2),
    ("help is the screen's", State.RUNNING, [Order.HELP], [Effect.NOTHING]),
]


@pytest.mark.parametrize(("name", "state", "orders", "effects"), PLAYBOOKS, ids=[p[0] for p in PLAYBOOKS])
def test_playbook(name: str, state: State, orders: list[Order], effects: list[Effect]) -> None:
    met = []
    for order in orders:
        response = respond(state, order)
        state = response.state
        met.append(response.effect)
    assert met == effects


@given(st.sampled_from(State), st.lists(st.sampled_from(Order), max_size=30))
def test_sound_starts_only_into_a_count_in_and_stops_only_into_a_pause(state: State, orders: list[Order]) -> None:
    moves = {Effect.AGAIN, Effect.WALL, Effect.PREVIOUS, Effect.NEXT}
    starts = {Effect.START, Effect.RESUME, Effect.FROM_TOP, *moves}
    for order in orders:
        before, response = state, respond(state, order)
        state = response.state
        if response.effect in starts:
            assert state is State.COUNT_IN
        elif state is State.COUNT_IN:
            assert before is State.COUNT_IN
        assert (response.effect is Effect.HUSH) == (state is State.PAUSED and before is not State.PAUSED)


@pytest.mark.parametrize(("state", "order"), list(product(State, Order)))
def test_what_does_nothing_leaves_the_state_alone(state: State, order: Order) -> None:
    response = respond(state, order)
    still = {Effect.NOTHING, Effect.RETIME, Effect.REPLAN, Effect.LEVEL, Effect.LEAVE, Effect.WHEN_READY}
    if response.effect in still:
        assert response.state is state


@pytest.mark.parametrize("effect", [Effect.RETIME, Effect.REPLAN, Effect.LEVEL])
def test_only_what_sounds_is_changed(effect: Effect) -> None:
    changed = {state for state, order in TABLE if TABLE[state, order].effect is effect}
    assert changed == {State.COUNT_IN, State.RUNNING, State.FINISHING}


@pytest.mark.parametrize("state", State)
def test_leaving_is_possible_from_everywhere(state: State) -> None:
    assert respond(state, Order.QUIT).effect is Effect.LEAVE


shares = st.integers(25, 100).map(lambda percent: Fraction(percent, 100))
paces = st.builds(Pace, st.fractions(SLOWEST, FASTEST, max_denominator=8), st.booleans(), st.booleans(), shares)


@given(paces, st.lists(st.sampled_from(Order), max_size=60))
def test_steps_never_leave_their_limits(pace: Pace, orders: list[Order]) -> None:
    for order in orders:
        pace = pace.after(order)
    assert SLOWEST <= pace.tempo <= FASTEST
    assert 0 < pace.effective <= pace.tempo


@given(paces)
def test_half_speed_twice_and_hold_and_release_change_nothing(pace: Pace) -> None:
    assert pace.after(Order.HALF).after(Order.HALF) == pace
    assert pace.after(Order.SLOW_ON).after(Order.SLOW_OFF).effective == replace(pace, held=False).effective


@given(paces, shares, st.fractions(SLOWEST, FASTEST, max_denominator=8))
def test_an_expression_pedal_has_its_share_of_whatever_is_asked_for_until_a_tempo_is_typed(
    pace: Pace, share: Fraction, tempo: Fraction
) -> None:
    assert pace.leaning(share).effective == share * pace.leaning(Fraction(1)).effective
    assert replace(pace, held=False).at(tempo).effective == tempo


def test_half_speed_and_the_pedal_add_up_exactly() -> None:
    pace = Pace(Fraction(104)).after(Order.HALF).after(Order.SLOW_ON)
    assert pace.effective == 39
    assert pace.after(Order.FASTER).effective == Fraction(81, 2)


def test_a_tempo_asked_for_beyond_the_steps_is_kept_and_stepped_from() -> None:
    assert Pace(Fraction(30)).after(Order.SLOWER).tempo == 30
    assert Pace(Fraction(240)).after(Order.FASTER).tempo == 240
    assert Pace(Fraction(240)).after(Order.SLOWER).tempo == 236


def test_a_step_is_small_enough_not_to_throw_a_class() -> None:
    """A tempo change is noticed from 6 % after one interval (Drake & Botte 1993): steps stay under that from 67 on."""
    noticed = Fraction(6, 100)
    assert min(t for t in range(SLOWEST, FASTEST) if Fraction(STEP, t) < noticed) == 67
    assert Pace(Fraction(67)).after(Order.FASTER).effective / 67 - 1 < noticed
