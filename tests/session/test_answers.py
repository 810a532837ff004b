"""Every programme answers whatever the table of orders asks of it: an order left out would do nothing, in silence."""

from __future__ import annotations

from contextlib import suppress
from fractions import Fraction

import pytest

from caller.session import evening, lesson_answers, lesson_ways, whole
from caller.session.programme import CanNot, Passed, ProgrammeEvent
from caller.transport.context import CONTEXTS, Effect, OrderContext
from caller.transport.order import Order
from caller.transport.respond import TABLE
from tests.session.test_replies import AMOUNTS
from tests.session.test_taught import after, begun

# What is kept beside the programme: half speed, the pedal's slowing down, a tapped tempo.
BESIDE = {Order.HALF, Order.SHARE, Order.SLOW_ON, Order.SLOW_OFF, Order.TAP_TEMPO}


def answered(context: OrderContext) -> set[object]:
    """By the programme that runs in a context: an evening hands on to its item what it does not take itself."""
    own = {*lesson_answers.ANSWERS, *lesson_ways.WAYS} if context.lesson else set(whole._ANSWERS)
    own |= set(evening._ANSWERS) if context.evening else set()
    return {*evening._ANSWERS, *evening._BETWEEN} if context.between else own


@pytest.mark.parametrize("context", CONTEXTS, ids=str)
def test_every_order_that_moves_or_changes_a_programme_is_answered_by_it(context: OrderContext) -> None:
    responses = (TABLE[context, order] for order in Order)
    asked = {response.gives for response in responses if response.effect in (Effect.BEGIN, Effect.CHANGE)}
    assert asked - BESIDE <= answered(context)
    assert not answered(context) & BESIDE


@pytest.mark.parametrize("asked", [*lesson_answers.ANSWERS, *lesson_ways.WAYS], ids=lambda asked: asked.value)
def test_when_a_lesson_is_over_whatever_needs_a_stage_says_so_or_changes_nothing(asked: Order | Passed) -> None:
    over = after(begun(3), Order.NEXT)
    assert over.over
    amounts = tuple(Fraction(amount) for amount in AMOUNTS.get(asked, ())) if isinstance(asked, Order) else ()
    with suppress(CanNot):
        came = over.after(ProgrammeEvent(asked, amounts=amounts))
        assert came.over or came.running.index < len(came.running.programme.stages)
