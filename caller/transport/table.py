"""The transport as a table: what each order does in each state. Pure; every pair is there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from caller.transport.order import Order
from caller.transport.state import State


class Effect(Enum):
    NOTHING = "nothing"
    WHEN_READY = "when-ready"  # start as soon as the voice is ready
    START = "start"  # from the first step, as made ready
    HUSH = "hush"  # silence at once
    RESUME = "resume"  # from the bar (or as is set), counted in
    AGAIN = "again"  # from the section's start, counted in
    WALL = "wall"  # from the wall's start, counted in
    PREVIOUS = "previous"  # from the start of the section before, counted in
    NEXT = "next"  # from the start of the section after, counted in
    FROM_TOP = "from-top"
    RETIME = "retime"  # the same take at another tempo
    REPLAN = "replan"  # the same take, danced or called another way from here on
    TO_EIGHT = "to-eight"  # the same take, ending with the eight
    RUN_ON = "run-on"  # no, not ending with it
    LEVEL = "level"  # the same take at another loudness
    LEAVE = "leave"


@dataclass(frozen=True, slots=True)
class Response:
    state: State
    effect: Effect


_SOUNDING = (State.COUNT_IN, State.RUNNING, State.FINISHING)
_PLACED = (*_SOUNDING, State.PAUSED)  # there is a place in the dance to go from
CHANGES = {
    **dict.fromkeys(
        (Order.SLOWER, Order.FASTER, Order.HALF, Order.TAP_TEMPO, Order.SLOW_ON, Order.SLOW_OFF), Effect.RETIME
    ),
    **dict.fromkeys((Order.LOOP, Order.LOOP_TO, Order.MANNER, Order.EASIER), Effect.REPLAN),
    **dict.fromkeys(
        (
            Order.MUTE,
            Order.COUNT_SOFTER,
            Order.COUNT_LOUDER,
            Order.CALLS_SOFTER,
            Order.CALLS_LOUDER,
            Order.MUSIC_SOFTER,
            Order.MUSIC_LOUDER,
        ),
        Effect.LEVEL,
    ),
}
_MOVES = {
    Order.SECTION_AGAIN: Effect.AGAIN,
    Order.WALL_AGAIN: Effect.WALL,
    Order.PREVIOUS: Effect.PREVIOUS,
    Order.NEXT: Effect.NEXT,
}


def _rows() -> Iterable[tuple[State, Order, State | None, Effect]]:
    """(state, order, new state or None for the same, effect); what is not here does nothing to the sound. (What an
    order sets, a tempo or a level, is set in every state, and holds for what is started next.)"""
    yield State.GETTING_READY, Order.GO, None, Effect.WHEN_READY
    yield State.READY, Order.GO, State.COUNT_IN, Effect.START
    yield State.PAUSED, Order.GO, State.COUNT_IN, Effect.RESUME
    yield State.FINISHED, Order.GO, State.COUNT_IN, Effect.FROM_TOP
    yield State.COUNT_IN, Order.STOP_AT_EIGHT, State.FINISHING, Effect.TO_EIGHT
    yield State.RUNNING, Order.STOP_AT_EIGHT, State.FINISHING, Effect.TO_EIGHT
    yield State.FINISHING, Order.STOP_AT_EIGHT, State.RUNNING, Effect.RUN_ON
    for state in _SOUNDING:
        yield state, Order.GO, State.PAUSED, Effect.HUSH
        for order, effect in CHANGES.items():
            yield state, order, None, effect
    for state in _PLACED:
        for order, effect in _MOVES.items():
            yield state, order, State.COUNT_IN, effect
    for state in State:
        if state is not State.GETTING_READY:
            yield state, Order.TOP, State.COUNT_IN, Effect.FROM_TOP
        yield state, Order.QUIT, None, Effect.LEAVE


def _table() -> dict[tuple[State, Order], Response]:
    table = {(state, order): Response(state, Effect.NOTHING) for state in State for order in Order}
    for state, order, new, effect in _rows():
        table[state, order] = Response(new or state, effect)
    return table


TABLE = _table()


def respond(state: State, order: Order) -> Response:
    """What ``order`` does in ``state``, and the state after it."""
    return TABLE[state, order]
