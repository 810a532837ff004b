"""Laws of the tables of orders: how each is given, and what it does, and says, where a class stands."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual._xterm_parser import XTermParser
from textual.binding import Binding
from textual.events import Key

from caller.calls.wording import short_counts, spoken_number
from caller.routine.layout.fact_patterns import METERS
from caller.routine.meter import Meter
from caller.screen.app import ClassScreen
from caller.transport.context import CONTEXTS, Effect, OrderContext
from caller.transport.footing import PEDAL_ORDERS
from caller.transport.leaving import ends_the_class
from caller.transport.order import ORDERS, Order, OrderEntry, order_typed, request_typed
from caller.transport.respond import TABLE, respond
from caller.transport.state import UNDER_WAY, State
from caller.transport.table import ROWS
from caller.transport.tempo import FASTEST, SLOWEST, STEP, Slowing, floor_of, stepped

# As the class screen has them.
_BOUND = {
    key: binding.action
    for binding in ClassScreen.BINDINGS
    if isinstance(binding, Binding)
    for key in binding.key.split(",")
}


def order_of_key(key: str) -> Order | None:
    """What a key orders on the class screen, by Textual's name of it, while help is closed."""
    name, _, given = _BOUND.get(key, "").partition("(")
    return Order(given.removesuffix("')").rpartition("'")[2]) if name in ("order", "page_or_order") else None


def test_every_order_stands_in_the_table_once() -> None:
    assert [entry.order for entry in ORDERS] == list(Order)


def test_no_key_or_word_gives_two_orders() -> None:
    keys = [key for entry in ORDERS for key in entry.keys]
    words = [word for entry in ORDERS for word in entry.typed]
    assert len(keys) == len(set(keys))
    assert len(words) == len(set(words))


@pytest.mark.parametrize("entry", ORDERS, ids=lambda entry: entry.order.value)
def test_every_order_can_be_given(entry: OrderEntry) -> None:
    assert entry.typed or entry.form or entry.keys
    assert all(order_of_key(key) is entry.order for key in entry.keys)
    assert all(order_of_key(key.upper()) is entry.order for key in entry.keys if len(key) == 1)
    assert all(order_typed(f" {word.upper()}\n") == (entry.order, ()) for word in entry.typed)


@pytest.mark.parametrize("entry", [entry for entry in ORDERS if entry.form], ids=lambda entry: entry.order.value)
def test_an_order_that_carries_amounts_is_given_as_its_example_shows(entry: OrderEntry) -> None:
    assert not entry.keys, "a key carries none"
    typed = order_typed(entry.example.upper())
    assert typed is not None
    assert typed[0] is entry.order
    assert typed[1]


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
        ("q", Order.STOP_OR_LEAVE),
        ("\x11", Order.QUIT),
    ],
)
def test_the_bytes_that_a_terminal_sends_for_a_key_give_its_order(sent: str, order: Order) -> None:
    """Textual's own parser of what terminals send (the sequences are xterm's) names the keys that the table uses."""
    keys = [event.key for event in XTermParser().feed(sent) if isinstance(event, Key)]
    assert [order_of_key(key) for key in keys] == [order]


def test_what_is_no_order_is_none() -> None:
    assert order_of_key("f9") is None
    assert order_typed("jump") is None


@pytest.mark.parametrize(
    ("line", "name", "amounts"),
    [
        ("request slow water", "slow water", (2,)),
        ("REQUEST  Slow", "Slow", (2,)),
        ("request row", "row", (13,)),  # part of one
        ("request row last", "row last", (13, 1)),
        ("request at last", "at last", (5,)),  # that is its name
        ("request at last last", "at last last", (5, 1)),
        ("request chalk", "chalk", ()),  # of two
        ("request chalk last", "chalk last", ()),
        ("request chalk line", "chalk line", (1,)),  # one to the letter, though the other begins so
        ("request polka", "polka", ()),
        ("request 2", "", ()),  # by number
        ("request 2 last", "", ()),
        ("request", "", ()),
        ("slow", "", ()),
    ],
)
def test_a_request_by_name_is_the_one_dance_that_is_called_so(line: str, name: str, amounts: tuple[int, ...]) -> None:
    titles = {1: "Chalk Line", 2: "Slow Water", 13: "Lantern Row", 104: "Chalk Line Two", 5: "Here At Last"}
    assert request_typed(line, tuple(titles.items())) == (name, amounts)


def test_a_request_by_number_is_for_the_next_place_or_the_last() -> None:
    assert order_typed("request 2") == (Order.REQUEST, (2,))
    assert order_typed("Request 2  last") == (Order.REQUEST, (2, 1))
    assert order_typed("request 104") == (Order.REQUEST, (104,))


DANCE, LESSON = (OrderContext(state, lesson) for lesson in (False, True) for state in [State.RUNNING])
TELLING_ONLY = [context for context in CONTEXTS if context.lesson and not context.danced]


def test_the_transport_answers_every_order_in_every_context() -> None:
    assert set(TABLE) == set(product(CONTEXTS, Order))
    assert {context.state for context in CONTEXTS if context.lesson} == set(State)
    assert {context.state for context in CONTEXTS if not context.lesson} == set(State) - {State.WAITING}


def test_every_row_holds_somewhere() -> None:
    used = {next(row for row in ROWS if row.order is order and row.holds(context)) for context, order in TABLE}
    assert [row for row in ROWS if row not in used] == []


@pytest.mark.parametrize("context", CONTEXTS, ids=str)
def test_every_order_says_what_it_does_in_whole_sentences(context: OrderContext) -> None:
    for order in Order:
        response = respond(context, order)
        assert response.title[0].isupper()
        assert response.tells[0].isupper() or response.tells[0].isdigit()
        assert response.tells.endswith(".")


@pytest.mark.parametrize("order", Order)
def test_an_order_that_does_nothing_says_something_else_than_where_it_does(order: Order) -> None:
    does = {TABLE[context, order].tells for context in CONTEXTS if TABLE[context, order].effect is not Effect.NOTHING}
    why = {TABLE[context, order].tells for context in CONTEXTS if TABLE[context, order].effect is Effect.NOTHING}
    assert does
    assert not does & why


EFFECTS = [
    (OrderContext(State.GETTING_READY), Order.GO, Effect.WHEN_READY),
    (OrderContext(State.GETTING_READY), Order.TOP, Effect.NOTHING),
    (OrderContext(State.GETTING_READY), Order.SECTION, Effect.NOTHING),
    (OrderContext(State.GETTING_READY, lesson=True), Order.STAGE, Effect.NOTHING),
    (OrderContext(State.READY), Order.GO, Effect.START),
    (OrderContext(State.READY), Order.SECTION_AGAIN, Effect.NOTHING),
    (OrderContext(State.READY), Order.LOOP_COUNTS, Effect.BEGIN),
    (OrderContext(State.COUNT_IN), Order.STOP_AT_EIGHT, Effect.TO_EIGHT),
    (DANCE, Order.GO, Effect.HUSH),
    (DANCE, Order.FASTER, Effect.CHANGE),
    (DANCE, Order.SLOW_ON, Effect.CHANGE),
    (DANCE, Order.LOOP_TO, Effect.CHANGE),
    (DANCE, Order.MUTE, Effect.LEVEL),
    (DANCE, Order.HELP, Effect.SHOW),
    (DANCE, Order.TO_WALL, Effect.BEGIN),
    (DANCE, Order.CHANGE_OVER, Effect.CHANGE),
    (DANCE, Order.WAIT, Effect.NOTHING),
    (LESSON, Order.TO_WALL, Effect.BEGIN),
    (LESSON, Order.CHANGE_OVER, Effect.NOTHING),
    (LESSON, Order.WAIT, Effect.CHANGE),
    (LESSON, Order.MANNER, Effect.CHANGE),
    (OrderContext(State.TELLING, lesson=True, danced=False), Order.MANNER, Effect.NOTHING),
    (OrderContext(State.WAITING, lesson=True), Order.LAST_FOUR, Effect.BEGIN),
    (
        OrderContext(State.WAITING, lesson=True, danced=False, evening=True, between=True),
        Order.LAST_FOUR,
        Effect.NOTHING,
    ),
    (LESSON, Order.LOOP_TO, Effect.BEGIN),
    (LESSON, Order.LOOP_FROM, Effect.CHANGE),
    (OrderContext(State.FINISHING), Order.STOP_AT_EIGHT, Effect.RUN_ON),
    (OrderContext(State.PAUSED), Order.GO, Effect.RESUME),
    (OrderContext(State.PAUSED), Order.FASTER, Effect.CHANGE),
    (OrderContext(State.PAUSED), Order.STOP_AT_EIGHT, Effect.NOTHING),
    (OrderContext(State.TELLING, lesson=True), Order.GO, Effect.HUSH),
    (OrderContext(State.TELLING, lesson=True), Order.STOP_AT_EIGHT, Effect.NOTHING),
    (OrderContext(State.TELLING, lesson=True, danced=False), Order.LOOP, Effect.NOTHING),
    (OrderContext(State.WAITING, lesson=True, alone=True), Order.WELL, Effect.BEGIN),
    (OrderContext(State.COUNT_IN, lesson=True, alone=True), Order.WELL, Effect.CHANGE),
    (OrderContext(State.PAUSED, lesson=True, alone=True), Order.WELL, Effect.BEGIN),
    (OrderContext(State.READY, lesson=True, alone=True), Order.WELL, Effect.NOTHING),
    (OrderContext(State.FINISHED), Order.NEXT, Effect.NOTHING),
    (OrderContext(State.FINISHED, lesson=True, danced=False), Order.PREVIOUS, Effect.BEGIN),
]


@pytest.mark.parametrize(("context", "order", "effect"), EFFECTS, ids=str)
def test_what_an_order_does_in_its_context(context: OrderContext, order: Order, effect: Effect) -> None:
    assert respond(context, order).effect is effect


GIVES = [
    (OrderContext(State.FINISHED), Order.GO, Order.TOP),
    (OrderContext(State.WAITING, lesson=True), Order.GO, Order.NEXT),
    (OrderContext(State.WAITING, lesson=True), Order.WALL_AGAIN, Order.SECTION_AGAIN),
    (LESSON, Order.WALL_AGAIN, Order.WALL_AGAIN),
    (DANCE, Order.NEXT, Order.NEXT),
]


@pytest.mark.parametrize(("context", "order", "gives"), GIVES, ids=str)
def test_an_order_may_ask_another_of_the_programme(context: OrderContext, order: Order, gives: Order) -> None:
    assert respond(context, order).gives is gives


def test_a_loop_of_ones_own_can_be_marked_wherever_something_is_danced_and_nowhere_else() -> None:
    for context in CONTEXTS:
        danced = context.danced and context.state in (State.COUNT_IN, State.RUNNING, State.FINISHING, State.PAUSED)
        for order in (Order.LOOP_FROM, Order.LOOP_TO):
            assert (respond(context, order).effect is not Effect.NOTHING) == danced


def test_help_tells_a_lesson_what_is_true_of_a_lesson() -> None:
    assert respond(LESSON, Order.NEXT).title == "Next stage"
    assert respond(DANCE, Order.NEXT).title == "Next section"
    slower = "From here on a little slower, in slow stages only or at full speed only, as here; the calls are back."
    assert respond(LESSON, Order.SLOWER).tells == slower
    assert respond(DANCE, Order.STAGE).tells == "A dance has no stages."
    assert respond(LESSON, Order.TOP).tells == "All of it from the first stage."
    assert respond(DANCE, Order.TOP).tells == "The whole dance from its first step."
    assert respond(LESSON, Order.SHARE).tells == "That share of this stage's tempo."
    assert respond(DANCE, Order.SHARE).tells == "That share of the full tempo."
    assert respond(LESSON, Order.SECTION).tells == "The stage that teaches that section."
    assert respond(DANCE, Order.SECTION).tells == "From that section of this wall, counted in."
    assert respond(LESSON, Order.LOOP).title == "Loop this stage"
    assert respond(DANCE, Order.LOOP).title == "Loop this section"
    assert respond(TELLING_ONLY[0], Order.SLOWER).tells == "All of it 4 counts a minute slower."


def test_help_leaves_out_what_another_kind_of_class_is_ordered() -> None:
    assert {order for order in Order if respond(DANCE, order).elsewhere} == {
        *(Order.NEXT_ITEM, Order.ITEM, Order.CUT, Order.PUT_BACK, Order.REQUEST),
        *(Order.LEARNT, Order.SHAKY, Order.NOT_DONE, Order.WELL),
    }


@pytest.mark.parametrize("context", CONTEXTS, ids=str)
def test_leaving_is_possible_from_everywhere(context: OrderContext) -> None:
    assert respond(context, Order.QUIT).effect is Effect.LEAVE
    key = respond(context, Order.STOP_OR_LEAVE)
    assert key.effect is (Effect.HUSH if context.state in UNDER_WAY else Effect.LEAVE)
    assert ends_the_class(Order.STOP_OR_LEAVE, context.state) is (key.effect is Effect.LEAVE)


shares = st.integers(25, 100).map(lambda percent: Fraction(percent, 100))
slowings = st.builds(Slowing, st.booleans(), st.booleans(), shares)
tempos = st.fractions(SLOWEST, FASTEST, max_denominator=8)


@given(tempos, slowings, st.lists(st.sampled_from(PEDAL_ORDERS), max_size=60))
def test_steps_never_leave_their_limits(tempo: Fraction, slowing: Slowing, orders: list[Order]) -> None:
    for order in orders:
        tempo, slowing = stepped(tempo, order), slowing.after(order)
    assert SLOWEST <= tempo <= FASTEST
    assert 0 < slowing.of(tempo) <= tempo


@given(slowings)
def test_half_speed_twice_and_hold_and_release_change_nothing(slowing: Slowing) -> None:
    assert slowing.after(Order.HALF).after(Order.HALF) == slowing
    released = slowing.after(Order.SLOW_ON).after(Order.SLOW_OFF)
    assert released.of(Fraction(100)) == replace(slowing, held=False).of(Fraction(100))


@given(slowings, shares)
def test_an_expression_pedal_has_its_share_of_whatever_is_asked_for_until_a_tempo_is_given(
    slowing: Slowing, share: Fraction
) -> None:
    leaning = slowing.after(Order.SHARE, (share,))
    assert leaning.of(Fraction(100)) == share * replace(slowing, share=Fraction(1)).of(Fraction(100))
    assert replace(leaning, held=False).after(Order.TEMPO, (Fraction(96),)).of(Fraction(100)) == 100
    assert leaning.after(Order.TEMPO, (Fraction(96),)).held == slowing.held


def test_half_speed_and_the_pedal_multiply_exactly() -> None:
    assert Slowing().after(Order.HALF).after(Order.SLOW_ON).of(Fraction(104)) == 39


@pytest.mark.parametrize(("bar", "floor"), [(4, 60), (2, 60), (3, 66)])
def test_half_speed_goes_no_lower_than_can_be_danced_and_raises_nothing(bar: int, floor: int) -> None:
    half = Slowing(half=True)
    assert [half.of(Fraction(tempo), floor_of(bar)) for tempo in (200, 120, 100, 50)] == [
        100,
        max(60, floor),
        floor,
        50,
    ]


def test_a_tempo_asked_for_beyond_the_steps_is_kept_and_stepped_from() -> None:
    assert stepped(Fraction(30), Order.SLOWER) == 30
    assert stepped(Fraction(240), Order.FASTER) == 240
    assert stepped(Fraction(240), Order.SLOWER) == 236


def test_a_step_is_small_enough_not_to_throw_a_class() -> None:
    """A tempo change is noticed from 6 % after one interval (Drake & Botte 1993): steps stay under that from 67 on."""
    noticed = Fraction(6, 100)
    assert min(t for t in range(SLOWEST, FASTEST) if Fraction(STEP, t) < noticed) == 67
    assert stepped(Fraction(67), Order.FASTER) / 67 - 1 < noticed


@pytest.mark.parametrize("meter", METERS.values(), ids=str)
def test_an_order_that_goes_back_by_counts_has_words_in_each_meter_that_a_sheet_may_have(meter: Meter) -> None:
    short = short_counts(meter)
    context = OrderContext(State.RUNNING, short=short)
    titles = [respond(context, order).title for order in (Order.LAST_FOUR, Order.LAST_EIGHT)]
    assert titles == [f"Last {spoken_number(short)}", f"Last {spoken_number(2 * short)}"]
