"""Playbooks for going back by counts: while it is danced, between two goes, while a stage waits, before a loop."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from caller.dance.walls import Dance
from caller.session.lesson_again import NONE_BEFORE
from caller.teaching.drill import drill_of
from caller.teaching.running import Waits
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.teaching.standing import turn_before
from caller.transport.order import Order
from caller.transport.state import State
from tests.session.classroom import Class, looked
from tests.session.lessons import Taught

FULL = Fraction(100)
TOLD = Stage("third", StageKind.TELL, said=("third.",))
BACK = "back to twelve o'clock, change weight, right foot free."


def twice(dance: Dance) -> LessonPlan:
    """The first two sections twice, which begin at 12:00 and end at 9:00."""
    stage = Stage("both", StageKind.ADD, Fraction(0), Fraction(16), Fraction(1), 2, count_in=8)
    last = Stage("last", StageKind.ADD, Fraction(16), Fraction(24), count_in=8)
    return LessonPlan("Lantern Row", "walkthrough", FULL, len(dance.walls), (stage, last))


def between_goes() -> Taught:
    taught = Taught(twice)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    view = taught.comes_to(State.TELLING)
    assert (view.telling, view.stage) == (BACK, "both, 2 of 2")
    return taught


@pytest.mark.parametrize(("order", "start"), [(Order.LAST_FOUR, 12), (Order.LAST_EIGHT, 8)])
def test_between_two_goes_they_are_the_last_counts_of_the_one_that_was_danced(order: Order, start: int) -> None:
    taught = between_goes()
    view = taught.order(order)
    assert view.state is State.TELLING
    assert view.telling.startswith("again" if start == 12 else "back to twelve o'clock")
    assert view.facing is not None
    assert view.facing.clock == ("9:00" if start == 12 else "12:00"), "as they stand there, not at the stage's start"
    view = taught.comes_to(State.COUNT_IN)
    assert (taught.take.start, taught.take.end, view.stage) == (start, 16, "both, 1 of 2")
    view = taught.until(lambda view: view.stage == "both, 2 of 2")
    assert view.telling == BACK
    taught.comes_to(State.COUNT_IN)
    assert (taught.take.start, taught.take.end) == (0, 16)
    taught.until(lambda view: view.stage.startswith("last"))


def test_asked_twice_it_goes_back_further_but_not_beyond_the_go() -> None:
    taught = between_goes()
    taught.order(Order.LAST_FOUR, Order.LAST_FOUR)
    taught.comes_to(State.COUNT_IN)
    assert taught.take.start == 8
    taught.lesson.obey(Order.LAST_COUNTS, 99)
    taught.comes_to(State.COUNT_IN)
    assert taught.take.start == 0


def test_while_a_stage_waits_they_are_its_last_and_it_waits_again() -> None:
    taught = Taught(twice, waits=Waits.STAGES)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.comes_to(State.WAITING)
    taught.lesson.obey(Order.LAST_COUNTS, 12)
    view = taught.comes_to(State.COUNT_IN)
    assert (taught.take.start, taught.take.end, view.stage) == (4, 16, "both, 2 of 2")
    taught.comes_to(State.RUNNING)
    taught.comes_to(State.WAITING)
    assert taught.order(Order.GO).stage.startswith("last")


def test_as_they_were_danced_where_goes_go_on_from_where_everybody_stands() -> None:
    taught = Taught(lambda dance: drill_of(dance, (Fraction(8), Fraction(16)), "Section 2", tempo=FULL))
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "Section 2, time 3")
    before = taught.lesson.programme.turn
    taught.order(Order.LAST_FOUR)
    view = taught.comes_to(State.COUNT_IN)
    assert (taught.take.start, view.stage) == (12, "Section 2, time 2")
    assert view.glance is not None
    assert view.glance.facing.clock == "6:00", "a quarter to the left in each go"
    taught.until(lambda view: view.stage == "Section 2, time 3")
    assert taught.lesson.programme.turn == before


def test_in_the_count_in_of_another_go_they_are_the_last_of_the_one_before() -> None:
    taught = between_goes()
    taught.comes_to(State.COUNT_IN)
    taught.order(Order.LAST_FOUR)
    taught.comes_to(State.COUNT_IN)
    assert taught.take.start == 12


def test_in_the_count_in_of_a_loop_they_are_the_counts_before_it() -> None:
    taught = Taught(twice)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.lesson.obey(Order.LOOP_COUNTS, 5, 8)
    taught.comes_to(State.COUNT_IN)
    assert (taught.take.start, taught.take.end) == (4, 8)
    taught.order(Order.LAST_FOUR)
    taught.comes_to(State.COUNT_IN)
    assert (taught.take.start, taught.take.end) == (0, 8)
    taught.comes_to(State.RUNNING)
    taught.comes_to(State.COUNT_IN)
    assert (taught.take.start, taught.take.end) == (4, 8)


def test_where_nothing_was_danced_before_it_says_so_and_counts_on() -> None:
    taught = Taught(twice)
    taught.order(Order.GO)
    taught.comes_to(State.COUNT_IN)
    take = taught.take
    view = taught.order(Order.LAST_FOUR)
    assert view.notices[-1] == NONE_BEFORE
    assert taught.take is take


def test_while_the_steps_are_told_again_they_are_the_counts_before_that() -> None:
    taught = Taught(twice)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.goes_on(9.5 * 0.6)
    view = taught.order(Order.SAY_AGAIN, Order.GO)
    assert view.state is State.PAUSED
    taught.order(Order.LAST_FOUR)
    taught.comes_to(State.COUNT_IN)
    assert taught.take.start == 4


def test_a_figure_is_told_where_its_section_was_being_told_too() -> None:
    taught = Taught(twice)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.goes_on(4.5 * 0.6)
    view = taught.order(Order.SAY_AGAIN, Order.GO, Order.SAY_FIGURE)
    assert view.telling == "rock left forward, recover."
    assert taught.lesson.view(taught.speaker.now()).answers == view.notices[-1:]


def opening() -> Taught:
    """In the opening words of a stage, right after another has been danced twice."""
    taught = Taught(lambda dance: replace(twice(dance), stages=tuple(map(with_words, twice(dance).stages))))
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "last")
    return taught


def with_words(stage: Stage) -> Stage:
    return replace(stage, said=(f"{stage.name} now.",))


@pytest.mark.parametrize("state", [State.TELLING, State.PAUSED, State.COUNT_IN])
def test_while_a_stage_opens_they_are_the_last_of_the_one_just_danced_and_then_it_opens_again(state: State) -> None:
    taught = opening()
    if state is State.PAUSED:
        taught.order(Order.GO)
    taught.comes_to(state)
    view = taught.order(Order.LAST_FOUR)
    assert (view.state, view.stage) == (State.TELLING, "both, 2 of 2")
    assert view.telling == "again, right foot."
    taught.comes_to(State.COUNT_IN)
    assert (taught.take.start, taught.take.end) == (12, 16)
    taught.comes_to(State.RUNNING)
    view = taught.comes_to(State.TELLING)
    assert (view.stage, view.telling) == ("last", "last now.")


def test_before_what_is_only_told_too_however_much_was_told_meanwhile_but_not_over_what_is_danced() -> None:
    def told_after(dance: Dance) -> LessonPlan:
        both, last = twice(dance).stages
        told = [Stage(name, StageKind.TELL, said=(f"{name}.",)) for name in ("first", "second")]
        return replace(twice(dance), stages=(both, *told, last))

    taught = Taught(told_after)
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "first")
    assert taught.order(Order.LAST_FOUR).stage == "both, 2 of 2"
    taught.until(lambda view: view.stage == "second")
    assert taught.order(Order.LAST_FOUR).stage == "both, 2 of 2"
    taught.comes_to(State.COUNT_IN)
    assert (taught.take.start, taught.take.end) == (12, 16)
    taught = Taught(lambda dance: replace(told_after(dance), stages=(*told_after(dance).stages, TOLD)))
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "second")
    taught.order(Order.NEXT, Order.NEXT)
    assert taught.order(Order.LAST_FOUR).notices[-1] == NONE_BEFORE


def test_of_what_goes_over_and_over_they_face_as_in_its_last_go() -> None:
    def then_told(dance: Dance) -> LessonPlan:
        drill = drill_of(dance, (Fraction(8), Fraction(16)), "Section 2", tempo=FULL)
        told = Stage("told", StageKind.TELL, said=("that was it.",))
        return replace(drill, stages=(*drill.stages, told))

    taught = Taught(then_told)
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "Section 2, time 3")
    turn = turn_before(taught.lesson.dance, taught.lesson.programme.running.stage, taught.lesson.programme.turn)
    taught.order(Order.NEXT, Order.LAST_FOUR)
    assert taught.lesson.programme.turn == turn
    assert taught.comes_to(State.COUNT_IN).stage == "Section 2, time 2"


@pytest.mark.parametrize("order", [Order.SAY_FIGURE, Order.SAY_AGAIN])
def test_told_in_a_pause_it_stays_paused_where_it_was(order: Order) -> None:
    taught = Taught(twice)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.goes_on(4.5 * 0.6)
    view = taught.order(Order.GO)
    assert view.state is State.PAUSED
    told = taught.order(order)
    assert told.state is State.TELLING
    if order is Order.SAY_FIGURE:
        assert told.telling == "rock left forward, recover."
    view = taught.comes_to(State.PAUSED)
    assert view.telling == ""
    taught.goes_on(30)
    assert looked(taught.lesson).state is State.PAUSED
    assert taught.order(Order.GO).state is State.COUNT_IN
    assert taught.take.start == 4


def test_in_a_pause_of_the_opening_words_the_figure_is_the_first_one_and_the_words_come_after_it() -> None:
    taught = opening()
    taught.order(Order.GO)
    view = taught.order(Order.SAY_FIGURE)
    assert view.telling.startswith("left behind, right to the side, left over")
    view = taught.comes_to(State.PAUSED)
    assert view.telling == "last now."
    assert taught.order(Order.GO).telling == "last now."
    taught.comes_to(State.COUNT_IN)
    assert taught.take.start == 16


def test_in_a_dance_too_what_is_told_in_a_pause_leaves_it_paused() -> None:
    room = Class()
    room.danced(0)
    room.order(Order.GO)
    room.danced(8 + 5)
    assert room.order(Order.GO).state is State.PAUSED
    assert room.order(Order.SAY_FIGURE).state is State.TELLING
    for _ in range(40):
        room.danced(1)
    view = looked(room.session)
    assert view.state is State.PAUSED
    assert view.glance is not None
    assert view.glance.at == 4
    assert room.order(Order.GO).state is State.COUNT_IN
    assert room.danced(6).state is State.RUNNING
    room.order(Order.SAY_FIGURE)
    room.danced(12)
    assert looked(room.session).state in (State.COUNT_IN, State.RUNNING), "told while it is danced, it goes on"


def test_in_a_dance_too_before_a_loop_and_while_its_steps_are_told() -> None:
    room = Class()
    room.danced(0)
    room.order(Order.GO)
    room.danced(8 + 9)
    room.session.obey(Order.LOOP_COUNTS, 5, 8)
    room.danced(1)
    room.order(Order.LAST_FOUR)
    room.danced(1)
    assert room.session.air.playout.parts[-1].piece.start == 8
    room.danced(4 + 6)
    assert room.order(Order.SAY_AGAIN).state is State.TELLING
    room.order(Order.LAST_FOUR)
    assert room.danced(1).state is State.COUNT_IN
    assert room.session.air.playout.parts[-1].piece.start == 8
