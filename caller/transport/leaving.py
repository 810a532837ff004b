"""The orders that leave a class: a key that only stops what sounds, so that no finger that slips ends it, and the words
and keys that nobody gives by mistake. Pure."""

from __future__ import annotations

from collections.abc import Iterator

from caller.transport.context import Effect, OrderRow
from caller.transport.order import Order
from caller.transport.state import UNDER_WAY, State

LEAVING = (Order.STOP_OR_LEAVE, Order.QUIT)
_ENDS = "Ends the class."


def ends_the_class(order: Order, state: State) -> bool:
    """Whether it does, given where a class stands so."""
    return order is Order.QUIT or (order is Order.STOP_OR_LEAVE and state not in UNDER_WAY)


def leaving() -> Iterator[OrderRow]:
    """Their rows."""
    key, title, stops = Order.STOP_OR_LEAVE, "Stop or leave", "Stops at once; once more, ends the class."
    answer = "Paused. q again ends the class."
    yield OrderRow(key, title, Effect.HUSH, stops, tuple(UNDER_WAY), answer=answer)
    yield OrderRow(key, title, Effect.LEAVE, _ENDS)
    yield OrderRow(Order.QUIT, "Leave", Effect.LEAVE, _ENDS)
