"""Both programmes answer whatever the table of orders asks of them: an order left out would do nothing, in silence."""

from __future__ import annotations

import pytest

from caller.session import lesson_ways, taught, whole
from caller.transport.order import Order
from caller.transport.table import TABLE, Effect

# What is kept beside the programme: half speed, the pedal's slowing down, a tapped tempo.
BESIDE = {Order.HALF, Order.SHARE, Order.SLOW_ON, Order.SLOW_OFF, Order.TAP_TEMPO}


@pytest.mark.parametrize(
    ("lesson", "answered"),
    [(False, set(whole._ANSWERS)), (True, set(taught._ANSWERS) | set(lesson_ways.WAYS))],
    ids=["a dance", "a lesson"],
)
def test_every_order_that_moves_or_changes_a_programme_is_answered_by_it(lesson: bool, answered: set[object]) -> None:
    asked = {
        response.gives
        for (context, _), response in TABLE.items()
        if context.lesson is lesson and response.effect in (Effect.BEGIN, Effect.CHANGE)
    }
    assert asked - BESIDE <= answered
    assert not answered & BESIDE
