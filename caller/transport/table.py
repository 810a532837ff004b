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
    RESUME = "resume"  # from the bar, counted in
    AGAIN = "again"  # from the section's start, counted in
    FROM_TOP = "from-top"
    RETIME = "retime"  # the same take at another tempo
    LEAVE = "leave"


@dataclass(frozen=True, slots=True)
class Response:
    state: State
    effect: Effect


_SOUNDING = (State.COUNT_IN, State.RUNNING)
_PACES = (Order.SLOWER, Order.FASTER, Order.HALF, Order.SLOW_ON, Order.SLOW_OFF)


def _rows() -> Iterable[tuple[State, Order, State | None, Effect]]:
    """(state, order, new state or None for the same, effect); what is not here does nothing."""
    yield State.GETTING_READY, Order.GO, None, Effect.WHEN_READY
    yield State.READY, Order.GO, State.COUNT_IN, Effect.START
    yield State.PAUSED, Order.GO, State.COUNT_IN, Effect.RESUME
    yield State.FINISHED, Order.GO, State.COUNT_IN, Effect.FROM_TOP
    for state in _SOUNDING:
        yield state, Order.GO, State.PAUSED, Effect.HUSH
        for pace in _PACES:
            yield state, pace, None, Effect.RETIME
    for state in (*_SOUNDING, State.PAUSED):
        yield state, Order.SECTION_AGAIN, State.COUNT_IN, Effect.AGAIN
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
