"""Both programmes answer whatever the table of orders asks of them: an order left out would do nothing, in silence."""

from __future__ import annotations

import pytest

from caller.session import evening, lesson_ways, taught, whole
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
    """In an evening by the item under way, or by the evening itself."""
    for in_evening in (False, True):
        asked = {
            response.gives
            for (context, _), response in TABLE.items()
            if (context.lesson, context.evening, context.between) == (lesson, in_evening, False)
            and response.effect in (Effect.BEGIN, Effect.CHANGE)
        }
        assert asked - BESIDE <= answered | (set(evening._ANSWERS) if in_evening else set())
    assert not answered & BESIDE


def test_between_two_items_the_evening_answers() -> None:
    asked = {
        response.gives
        for (context, _), response in TABLE.items()
        if context.between and response.effect in (Effect.BEGIN, Effect.CHANGE)
    }
    assert asked - BESIDE <= set(evening._ANSWERS) | set(evening._BETWEEN)
    assert not set(evening._ANSWERS) & set(evening._BETWEEN)
