"""Playbooks for practice alone: one key says that it went well, one that it is to come again with calls."""

from __future__ import annotations

import pytest

from caller.calls.plan import Manner
from caller.dance.walls import Dance
from caller.teaching.alone import Asked, practice_alone
from caller.teaching.stage import LessonPlan, StageKind
from caller.transport.context import CONTEXTS, Effect
from caller.transport.foot import Gesture
from caller.transport.order import Order
from caller.transport.respond import respond
from caller.transport.state import State
from caller.transport.unit import Stroke
from tests.session.lessons import Taught


def practised(dance: Dance) -> LessonPlan:
    return practice_alone(dance, None, Asked(first=3))


def at_the_question() -> Taught:
    """The first rung danced three times, the calls fading."""
    taught = Taught(practised)
    taught.order(Order.GO)
    taught.comes_to(State.WAITING)
    return taught


def test_a_rung_that_has_been_danced_asks_how_it_went() -> None:
    taught = at_the_question()
    assert [run.done[-1].manner for run in taught.told] == [Manner.AHEAD, Manner.PROMPTS, Manner.QUIET]
    assert taught.order().alone
    assert respond(taught.lesson.context, Order.GO).title == "That went well"
    assert respond(taught.lesson.context, Order.SECTION_AGAIN).title == "Again with calls"


def test_one_key_or_a_tap_says_that_it_went_well() -> None:
    for order in (Order.WELL, Order.GO):
        taught = at_the_question()
        view = taught.order(order)
        assert view.stage.startswith("100%, from wall one")
        assert taught.lesson.programme.running.well == (0,)


def test_one_key_has_it_again_with_its_calls() -> None:
    taught = at_the_question()
    view = taught.order(Order.SECTION_AGAIN)
    assert (view.state, view.stage) == (State.TELLING, "90%, from wall one, 1 of 3")
    assert taught.lesson.manner is Manner.AHEAD
    assert taught.lesson.programme.running.well == ()


def test_a_second_tap_takes_the_first_back() -> None:
    """A double tap is told once its first tap has acted."""
    taught = at_the_question()
    taught.pedal.waiting.append(Stroke(Gesture.TAP))
    assert taught.order().state is State.TELLING
    taught.pedal.waiting.append(Stroke(Gesture.DOUBLE_TAP))
    view = taught.order()
    assert view.stage.startswith("90%, from wall one")
    assert taught.lesson.programme.running.well == ()


def test_said_while_it_is_danced_it_is_left_once_that_go_is_over() -> None:
    taught = Taught(practised)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.order(Order.WELL)
    view = taught.until(lambda view: view.stage.startswith("100%"))
    assert view.state is State.TELLING
    assert len(taught.told) == 1


@pytest.mark.parametrize("go", [1, 2])
def test_said_while_it_stands_the_rung_is_left_and_nothing_goes_on_by_itself(go: int) -> None:
    taught = Taught(practised)
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == f"90%, from wall one, {go} of 3" and view.state is State.RUNNING)
    assert taught.order(Order.GO).state is State.PAUSED
    view = taught.order(Order.WELL)
    assert (view.state, view.told_next, view.alone) == (State.WAITING, "100%, from wall one", False)
    assert view.notices[-1] == "That went well: what comes next begins when you go on."
    assert taught.goes_on(20).state is State.WAITING
    assert taught.lesson.programme.running.well == (0,)
    assert taught.order(Order.GO).stage == "100%, from wall one, 1 of 3"


def test_a_rung_left_so_is_had_again_with_its_calls_by_the_key_for_that() -> None:
    taught = Taught(practised)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.order(Order.GO, Order.WELL)
    view = taught.order(Order.SECTION_AGAIN)
    assert view.stage == "90%, from wall one, 1 of 3"
    assert taught.lesson.programme.running.well == ()


def test_a_weak_place_and_an_event_are_left_by_the_same_key_and_are_no_rungs() -> None:
    taught = Taught(lambda dance: practice_alone(dance, None, Asked(weak=(2,))))
    taught.order(Order.GO)
    for name in ("Section 2, a weak place", "60%", "Tag in wall 3", "Step change"):
        view = taught.until(lambda view, name=name: view.stage.startswith(name) and view.state is State.RUNNING)
        assert view.alone
        assert taught.order(Order.WELL).notices[-1] == "On after this go."
    assert taught.lesson.programme.running.well == (0, 1, 2, 3)


def test_a_rung_of_which_nothing_has_been_danced_has_not_gone_well() -> None:
    taught = Taught(practised)
    taught.order(Order.GO, Order.GO)
    view = taught.order(Order.WELL)
    assert (view.state, view.notices[-1]) == (
        State.PAUSED,
        "A rung goes well once it is danced: Space goes on with it.",
    )
    assert taught.lesson.programme.running.well == ()


def test_said_twice_a_rung_is_noted_once() -> None:
    taught = Taught(practised)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.order(Order.WELL, Order.WELL)
    assert taught.lesson.programme.running.well == (0,)


def test_where_it_was_stopped_that_section_comes_by_itself_and_then_the_rung_with_its_calls() -> None:
    taught = Taught(practised)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.until(lambda view: view.glance is not None and view.glance.section == 2)
    view = taught.order(Order.SECTION_AGAIN)
    assert (view.state, view.stage) == (State.TELLING, "Section 2, a weak place, 1 of 2")
    assert view.telling == "section 2 by itself."
    taught.comes_to(State.RUNNING)
    assert (taught.take.start, taught.take.end) == (8, 16)
    view = taught.until(lambda view: view.stage.startswith("90%"))
    assert taught.lesson.programme.running.stage.manners == (Manner.AHEAD,)


def test_a_rung_is_never_left_by_itself() -> None:
    taught = at_the_question()
    assert taught.goes_on(60).state is State.WAITING


def test_outside_a_practice_the_key_says_so() -> None:
    for context in CONTEXTS:
        if not context.alone:
            assert respond(context, Order.WELL).effect is Effect.NOTHING
            assert respond(context, Order.WELL).tells == "Only what is danced in a practice alone is left so."


def test_a_practice_goes_up_to_its_end_by_taps() -> None:
    taught = Taught(lambda dance: practice_alone(dance, None, Asked(first=4)))
    taught.order(Order.GO)
    taught.comes_to(State.WAITING)
    taught.order(Order.GO)
    taught.comes_to(State.FINISHED)
    assert [run.done[-1].stage.kind for run in taught.told] == [StageKind.PRACTICE] * 3 + [StageKind.WHOLE]


@pytest.mark.parametrize("order", [Order.WELL, Order.GO])
def test_what_went_well_is_named_and_not_what_comes_next(order: Order) -> None:
    taught = Taught(practised)
    taught.order(Order.GO)
    stage = taught.comes_to(State.WAITING).stage
    assert stage.startswith("90%")
    view = taught.order(order)
    assert view.stage.startswith("100%")
    assert view.notices[-1] == f"That went well: {stage}."
