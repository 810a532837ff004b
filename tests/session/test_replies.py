"""Every order is answered, wherever it is given, and the answer is the last thing said."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.dance.walls import Dance
from caller.session import View
from caller.teaching.running import Waits
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.transport.expression import Lean
from caller.transport.leaving import LEAVING
from caller.transport.order import ORDERS, Order
from caller.transport.state import State
from tests.session.classroom import looked
from tests.session.lessons import Taught

FULL = Fraction(100)
AMOUNTS: dict[Order, tuple[Fraction | int, ...]] = {
    Order.TEMPO: (80,),
    Order.SHARE: (Fraction(1, 2),),
    Order.LAST_COUNTS: (12,),
    Order.LOOP_COUNTS: (3, 4),
    Order.LOOP_WALL: (5, 8),
    Order.SECTION: (2,),
    Order.TO_WALL: (2,),
    Order.STAGE: (2,),
    Order.ITEM: (2,),
    Order.REQUEST: (1,),
}
# The screen's own, and the end.
UNANSWERED = {Order.HELP, *LEAVING}


def lesson(dance: Dance) -> LessonPlan:
    told = Stage("told", StageKind.TELL, said=("first words.",), sections=(("", 1),))
    slow = Stage("slow", StageKind.WORDS, Fraction(0), Fraction(8), Fraction(3, 4), 2, said=("slowly.",), count_in=4)
    return LessonPlan("Lantern Row", "walkthrough", FULL, len(dance.walls), (told, slow, told, slow))


def at(state: State) -> Taught:
    taught = Taught(lesson, waits=Waits.STAGES if state is State.WAITING else Waits.NEVER)
    if state is State.READY:
        return taught
    taught.order(Order.GO)
    if state is State.WAITING:
        taught.comes_to(State.WAITING)
        return taught
    if state is not State.TELLING:
        taught.order(Order.NEXT)
        taught.comes_to(State.RUNNING if state is State.PAUSED else state)
        taught.goes_on(1)
    if state is State.PAUSED:
        taught.order(Order.GO)
    return taught


@pytest.mark.parametrize("state", [State.READY, State.TELLING, State.RUNNING, State.PAUSED, State.WAITING])
def test_each_order_is_answered_at_once(state: State) -> None:
    assert {entry.order for entry in ORDERS if entry.form} == set(AMOUNTS)
    for order in set(Order) - UNANSWERED:
        taught = at(state)
        before = looked(taught.lesson).notices
        taught.lesson.obey(order, *AMOUNTS.get(order, ()))
        fresh = looked(taught.lesson).notices[len(before) :]
        assert fresh, f"{order} where {state}"
        assert all(sentence.endswith(".") for sentence in fresh)


def test_the_last_answer_is_that_of_the_last_order_also_while_a_stage_ends() -> None:
    taught = at(State.RUNNING)
    taught.until(lambda view: len(taught.lesson.air.playout.parts) == 2)  # what follows is on the air
    answers = {Order.SLOWER: "Slower: 72 counts a minute.", Order.MUTE: "Muted.", Order.WAIT: "Waits after each stage."}
    for order, answer in answers.items():
        view: View = taught.order(order)
        assert view.notices[-1] == answer


def test_what_is_told_has_no_tempo_of_its_own_so_the_full_one_is_said() -> None:
    taught = at(State.TELLING)
    assert taught.order(Order.SLOWER).notices[-1] == "Slower: full speed is 96 now."
    assert taught.order(Order.FASTER).notices[-1] == "Faster: full speed is 100 now."


def test_where_an_order_leads_is_in_its_answer() -> None:
    taught = at(State.RUNNING)
    assert taught.order(Order.PREVIOUS).notices[-1] == "Previous stage: told."
    assert taught.order(Order.GO).notices[-1] == "Paused."
    assert taught.order(Order.GO).notices[-1] == "Goes on."


def test_the_key_that_leaves_only_stops_what_sounds_and_asks() -> None:
    for state in (State.TELLING, State.RUNNING):
        taught = at(state)
        view = taught.order(Order.STOP_OR_LEAVE)
        assert (view.state, view.notices[-1]) == (State.PAUSED, "Paused. q again ends the class.")
        assert not taught.lesson.left
        taught.order(Order.STOP_OR_LEAVE)
        assert taught.lesson.left


def test_whoever_keeps_the_book_is_told_of_the_end_whatever_key_it_was() -> None:
    given: list[Order] = []
    taught = Taught(lesson, ordered=lambda _, order: given.append(order) or "")
    taught.order(Order.GO, Order.STOP_OR_LEAVE, Order.STOP_OR_LEAVE)
    assert given == [Order.GO, Order.STOP_OR_LEAVE, Order.QUIT]


def test_an_expression_pedal_that_moves_all_the_time_says_nothing() -> None:
    taught = at(State.RUNNING)
    before = looked(taught.lesson).notices
    for percent in range(60, 100, 2):
        taught.pedal.waiting.append(Lean(Fraction(percent, 100)))
        taught.lesson.listen()
    assert looked(taught.lesson).notices == before
