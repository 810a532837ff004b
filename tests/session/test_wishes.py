"""What a teacher asks of a programme: orders in, wishes out."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.session.wishes import Wishes
from caller.teaching.running import Outcome, begin, next_stage
from caller.teaching.stage import Kind, Programme, Stage
from caller.transport.order import Order
from caller.transport.state import State
from caller.transport.tempo import Pace

FULL = Fraction(100)
TOLD = Stage("told", Kind.TELL, said=("words",))
SLOW = Stage("slow", Kind.WORDS, Fraction(0), Fraction(8), Fraction(1, 2), times=2)
TOP = Stage("top", Kind.ADD, Fraction(0), Fraction(16), Fraction(3, 4))
OPTION = Stage("option", Kind.OPTION, Fraction(0), Fraction(8), easier=True)
PROGRAMME = Programme("Tin Lantern", "walkthrough", FULL, 4, (TOLD, SLOW, OPTION, TOP))
DANCING = Wishes(begin(PROGRAMME, 1), Pace(FULL))


def after(wishes: Wishes, *orders: Order, state: State = State.RUNNING) -> Wishes:
    for order in orders:
        wishes = wishes.after(order, state)
    return wishes


def test_half_speed_and_the_held_pedal_are_shares_of_the_stages_tempo() -> None:
    assert DANCING.tempo == 50
    assert after(DANCING, Order.HALF).tempo == 25
    assert after(DANCING, Order.HALF, Order.HALF).tempo == 50
    assert after(DANCING, Order.SLOW_ON).tempo == Fraction(75, 2)


@pytest.mark.parametrize("order", [Order.HALF, Order.SLOW_ON, Order.SLOWER])
def test_to_be_slowed_down_is_no_clean_go(order: Order) -> None:
    assert not after(DANCING, order).running.clean
    assert after(DANCING, Order.FASTER).running.clean


def test_where_nothing_is_danced_a_tempo_is_the_whole_programmes() -> None:
    told = Wishes(begin(PROGRAMME), Pace(FULL))
    assert after(told, Order.SLOWER, state=State.TELLING).running.programme.tempo == 96
    assert told.at_tempo(Fraction(80), State.TELLING).running.programme.tempo == 80
    assert DANCING.at_tempo(Fraction(80), State.READY).running.programme.tempo == 80
    assert DANCING.at_tempo(Fraction(80), State.PAUSED).running.tempo == 80


def test_a_tempo_asked_for_ends_half_speed_and_leaning() -> None:
    leaning = after(DANCING, Order.HALF).paced(Pace(FULL, half=True, share=Fraction(3, 5)), State.RUNNING)
    assert leaning.at_tempo(Fraction(80), State.RUNNING).tempo == 80


def test_a_loop_let_on_leaves_as_many_times_as_were_meant_and_at_least_this_one() -> None:
    looped = after(DANCING, Order.LOOP)
    assert (looped.running.stage.times, looped.calling.looping) == (0, True)
    assert after(looped, Order.LOOP).running.stage.times == 2
    running = looped.running
    for _ in range(4):
        running = next_stage(running, Outcome.DONE)
    let_on = after(looped.moved(running), Order.LOOP)
    assert (let_on.running.stage.times, let_on.calling.looping) == (5, False)


def test_the_easier_way_leaves_an_option_that_is_shown_alone() -> None:
    eased = after(DANCING, Order.EASIER).running.programme.stages
    assert [stage.easier for stage in eased] == [False, True, True, True]
    again = after(DANCING, Order.EASIER, Order.EASIER).running.programme.stages
    assert [stage.easier for stage in again] == [False, False, True, False]


@given(st.lists(st.tuples(st.sampled_from(Order), st.sampled_from(State)), max_size=40), st.integers(0, 4))
def test_whatever_is_ordered_wherever_the_tempo_stays_within_reason(
    orders: list[tuple[Order, State]], index: int
) -> None:
    wishes = Wishes(begin(PROGRAMME, index), Pace(FULL))
    for order, state in orders:
        wishes = wishes.after(order, state)
        assert 4 < wishes.tempo < 400
        assert wishes.running.index == index
