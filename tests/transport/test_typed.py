"""Orders typed that carry amounts: a tempo, a share, places."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.transport.context import CONTEXTS, Effect, OrderContext
from caller.transport.order import ORDERS, Order, order_typed
from caller.transport.respond import respond
from caller.transport.state import State

ON, PAUSE = (Order.GO_ON, ()), (Order.PAUSE, ())


@pytest.mark.parametrize("line", ["loop 5 to 12", "Loop  5-12 ", " LOOP 5 - 12"])
def test_counts_to_loop_in_any_case_and_spacing(line: str) -> None:
    assert order_typed(line) == (Order.LOOP_COUNTS, (5, 12))


@given(st.integers(0, 999))
def test_a_section_by_its_number(number: int) -> None:
    assert order_typed(f"section {number}") == (Order.SECTION, (number,))


def test_places_of_the_wall_and_of_a_lesson_by_their_numbers() -> None:
    assert order_typed("loop wall 5-12") == (Order.LOOP_WALL, (5, 12))
    assert order_typed("Stage 13") == (Order.STAGE, (13,))
    assert order_typed("wall 3") == (Order.TO_WALL, (3,))
    assert order_typed("wall") == (Order.WALL_AGAIN, ())
    assert order_typed("last 12") == order_typed("Last twelve") == (Order.LAST_COUNTS, (Fraction(12),))
    assert order_typed("last 0") is None
    assert order_typed("last 4") == order_typed("Last three") == (Order.LAST_FOUR, ())


@pytest.mark.parametrize(
    ("line", "state", "effect"),
    [
        *(("go", State.READY, Effect.START), ("start", State.GETTING_READY, Effect.WHEN_READY)),
        *(("go", State.RUNNING, Effect.NOTHING), ("go", State.PAUSED, Effect.RESUME)),
        *(("go on", State.FINISHING, Effect.RUN_ON), ("start", State.FINISHED, Effect.BEGIN)),
        *(("pause", State.RUNNING, Effect.HUSH), ("pause", State.COUNT_IN, Effect.HUSH)),
        *(("pause", State.FINISHING, Effect.HUSH), ("pause", State.PAUSED, Effect.NOTHING)),
        *(("pause", State.READY, Effect.NOTHING), ("pause", State.FINISHED, Effect.NOTHING)),
    ],
)
def test_go_and_pause_are_each_what_they_say(line: str, state: State, effect: Effect) -> None:
    typed = order_typed(line)
    assert typed is not None
    assert respond(OrderContext(state), typed[0]).effect is effect


def test_whatever_goes_on_can_be_paused_and_whatever_stands_gone_on_with() -> None:
    for context in CONTEXTS:
        both, on, pause = (respond(context, order) for order in (Order.GO, Order.GO_ON, Order.PAUSE))
        assert (both.effect is Effect.HUSH) == (pause.effect is Effect.HUSH)
        assert pause.effect in (Effect.HUSH, Effect.NOTHING)
        assert on.effect is not Effect.HUSH
        if both.effect is not Effect.HUSH:
            assert (on.effect, on.gives if on.effect is Effect.BEGIN else None) == (
                both.effect,
                both.gives if both.effect is Effect.BEGIN else None,
            )


@pytest.mark.parametrize("short", [4, 3])
def test_what_the_table_calls_an_order_is_typed_as_it_is_called(short: int) -> None:
    """Whatever help shows where the class stands; of two orders that are called alike there, either."""
    for context, entry in product(CONTEXTS, ORDERS):
        here = replace(context, short=short)
        title = respond(here, entry.order).title
        if entry.order is Order.GO and title == "Start, pause, go on":
            assert [order_typed(words) for words in title.split(", ")] == [ON, PAUSE, ON], "each what it says"
            continue
        if entry.form and not entry.typed:
            assert order_typed(title) is None, "it needs an amount"
            continue
        for words in title.split(", "):
            typed = order_typed(words)
            assert typed is not None, words
            assert respond(here, typed[0]).title == title


def test_an_order_is_typed_by_the_name_that_settings_have_for_it() -> None:
    for entry in ORDERS:
        for name in (entry.order.value, entry.order.value.replace("-", " ").title()):
            if entry.order is Order.GO:
                assert order_typed(name) == ON, "of a gesture both, but typed what it says"
                continue
            assert order_typed(name) == (None if entry.form and not entry.typed else (entry.order, ()))


@pytest.mark.parametrize("line", ["", "loop 5", "loop 5 to", "loop 5000 to 6", "section", "section two", "5 %", "120%"])
def test_what_is_none_of_these_is_none(line: str) -> None:
    assert order_typed(line) is None


def test_a_share_is_typed_in_per_cent() -> None:
    assert order_typed("75%") == order_typed("75 %") == (Order.SHARE, (Fraction(3, 4),))
