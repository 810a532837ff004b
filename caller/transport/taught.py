"""The transport of a programme as a table: what each order does in each state of a lesson. Pure; every pair is there.

Conventions: an effect that lets something else be heard sets the state by what that is (told, counted in); the table
says where a lesson stands still.
"""

from __future__ import annotations

from collections.abc import Iterable

from caller.transport.order import Order
from caller.transport.state import State
from caller.transport.table import CHANGES, Effect, Response

_DANCED = (State.COUNT_IN, State.RUNNING, State.FINISHING)
_SOUNDING = (State.TELLING, *_DANCED)
# In all of these there is a stage to go from.
_PLACED = (*_SOUNDING, State.PAUSED, State.WAITING)
_MOVES = {
    Order.SECTION_AGAIN: Effect.AGAIN,
    Order.WALL_AGAIN: Effect.AGAIN,
    Order.PREVIOUS: Effect.PREVIOUS,
    Order.NEXT: Effect.NEXT,
}


def _rows() -> Iterable[tuple[State, Order, State | None, Effect]]:
    """(state, order, where it then stands or None, effect); what is not here does nothing to the sound. (What an order
    sets, a tempo or a level, is set in every state.)"""
    yield State.GETTING_READY, Order.GO, None, Effect.WHEN_READY
    yield State.READY, Order.GO, None, Effect.START
    yield State.PAUSED, Order.GO, None, Effect.RESUME
    yield State.WAITING, Order.GO, None, Effect.NEXT
    yield State.FINISHED, Order.GO, None, Effect.FROM_TOP
    yield State.FINISHED, Order.PREVIOUS, None, Effect.PREVIOUS
    yield State.COUNT_IN, Order.STOP_AT_EIGHT, State.FINISHING, Effect.TO_EIGHT
    yield State.RUNNING, Order.STOP_AT_EIGHT, State.FINISHING, Effect.TO_EIGHT
    yield State.FINISHING, Order.STOP_AT_EIGHT, State.RUNNING, Effect.RUN_ON
    for state in _SOUNDING:
        yield state, Order.GO, State.PAUSED, Effect.HUSH
        for order, effect in CHANGES.items():
            yield state, order, None, effect
    for state in _PLACED:
        for order, effect in _MOVES.items():
            yield state, order, None, effect
    for state in State:
        if state is not State.GETTING_READY:
            yield state, Order.TOP, None, Effect.FROM_TOP
        yield state, Order.QUIT, None, Effect.LEAVE


def _table() -> dict[tuple[State, Order], Response]:
    table = {(state, order): Response(state, Effect.NOTHING) for state in State for order in Order}
    for state, order, stands, effect in _rows():
        table[state, order] = Response(stands or state, effect)
    return table


LESSON_TABLE = _table()


def respond_in_lesson(state: State, order: Order) -> Response:
    """What ``order`` does in ``state`` of a lesson, and the state after it, where that is not set by what is run."""
    return LESSON_TABLE[state, order]
