"""Start and pause, each by a word of its own: what is typed is what it says, where one key and one foot are both.

Conventions: rows of the one table, made from those of the key that is both, so that they never come to differ. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from caller.transport.context import Effect, OrderRow
from caller.transport.order import Order
from caller.transport.state import State

_GOES_ON = "It goes on already; pause stops it."
# Why there is nothing to pause, by what the key would do.
_STILL = {
    Effect.WHEN_READY: "It has not begun; the calls are still being prepared.",
    Effect.START: "It has not begun; start begins it.",
    Effect.RESUME: "It is paused already; go goes on.",
    Effect.BEGIN: "Nothing is under way that could be paused; go begins what comes next.",
}


def each_by_its_word(rows: Iterable[OrderRow]) -> Iterator[OrderRow]:
    """The rows of both, from all rows of the key that is both."""
    for row in rows:
        if row.order is Order.GO:
            yield from _go_on(row)
            yield _pause(row)


def _go_on(row: OrderRow) -> Iterator[OrderRow]:
    titled = replace(row, order=Order.GO_ON, title=_title(row))
    if row.effect is not Effect.HUSH:
        yield titled
        return
    if State.FINISHING in (row.states or ()):
        yield replace(titled, effect=Effect.RUN_ON, tells="Dances on after all.", states=(State.FINISHING,))
    others = tuple(state for state in row.states or () if state is not State.FINISHING)
    yield replace(titled, effect=Effect.NOTHING, tells=_GOES_ON, states=others)


def _title(row: OrderRow) -> str:
    if row.gives is Order.WELL:
        return row.title
    return "Start" if row.effect in (Effect.START, Effect.WHEN_READY) else "Go on"


def _pause(row: OrderRow) -> OrderRow:
    pause = replace(row, order=Order.PAUSE, title="Pause at once")
    if row.effect in (Effect.HUSH, Effect.NOTHING):
        return pause
    return replace(pause, effect=Effect.NOTHING, tells=_STILL[row.effect], gives=None)
