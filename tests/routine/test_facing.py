"""Facing and turning: laws, and the clock against plain arithmetic."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.dance.check import walls_of
from caller.routine.facing import CLOCK, EIGHTHS, FRONT, NO_TURN, Facing, Turn
from caller.routine.naming import turn_words
from caller.routine.notation.standard import turn_written
from caller.routine.notation.stated import eighths_of, facing_of, read_stated
from caller.routine.step import Body, Foot, Movement, Weight

turns = st.integers(-40, 40).map(Turn)
facings = st.integers(-100, 100).map(Facing)


@given(facings)
def test_four_quarter_turns_are_none(facing: Facing) -> None:
    quarter = Turn(2)
    assert facing + quarter + quarter + quarter + quarter == facing


@given(facings, turns)
def test_a_turn_and_its_opposite_are_none(facing: Facing, turn: Turn) -> None:
    assert facing + turn + -turn == facing


@given(facings, turns, turns)
def test_two_turns_are_their_sum(facing: Facing, first: Turn, second: Turn) -> None:
    assert facing + first + second == facing + (first + second)


@given(facings, facings)
def test_the_difference_of_two_facings_is_the_shorter_turn_between_them(a: Facing, b: Facing) -> None:
    assert b + (a - b) == a
    assert -4 < (a - b).eighths <= 4


@given(st.integers(0, 7))
def test_the_clock_runs_an_hour_and_a_half_an_eighth(eighths: int) -> None:
    """Twelve hours round: each eighth is 12/8 hours, checked with fractions."""
    hours, minutes = CLOCK[eighths].split(":")
    told = Fraction(int(hours) % 12) + Fraction(int(minutes), 60)
    assert told == Fraction(12, EIGHTHS) * eighths
    assert facing_of(hours, minutes) == Facing(eighths)


@given(st.integers(0, 7))
def test_walls_are_eight_over_the_greatest_common_divisor(eighths: int) -> None:
    """Arithmetic: the number of turns until a multiple of 8, by math.gcd; odd eighths are no walls of a room."""
    walls = EIGHTHS // math.gcd(EIGHTHS, eighths)
    assert walls_of(Facing(eighths)) == (None if eighths % 2 else walls)
    facing, passes = FRONT + Turn(eighths), 1
    while facing != FRONT:
        facing, passes = facing + Turn(eighths), passes + 1
    assert passes == walls


@pytest.mark.parametrize(
    ("said", "eighths"),
    [
        ("1/4", 2),
        ("½", 4),
        ("¾", 6),
        ("1/8", 1),
        ("⅜", 3),
        ("1 1/4", 10),
        ("1½", 12),
        ("1/1", 8),
        ("2/4", 4),
        ("1/3", None),
        ("1/0", None),
        ("9/2", None),
        ("0/4", None),
    ],
)
def test_a_fraction_of_a_turn_is_whole_eighths_or_nothing(said: str, eighths: int | None) -> None:
    assert eighths_of(said) == eighths


@given(st.integers(1, 32))
def test_every_number_of_eighths_is_read_as_its_fraction(eighths: int) -> None:
    assert eighths_of(str(Fraction(eighths, 8)) if eighths % 8 else f"{eighths // 8}/1") == eighths


@given(st.integers(1, 7), st.sampled_from([1, -1]))
def test_a_turn_is_written_as_it_is_read(eighths: int, way: int) -> None:
    amount, side = turn_written(Turn(eighths * way)).split(" ")
    assert eighths_of(amount) == eighths
    assert side == ("right" if way > 0 else "left")


def test_turns_are_told_in_words() -> None:
    assert turn_words(NO_TURN) == ""
    assert turn_words(Turn(-2)) == "quarter left"
    assert turn_words(Turn(8)) == "full turn right"
    assert turn_words(Turn(10)) == "one and a quarter right"
    assert turn_words(Turn(9)) == "one and an eighth right"
    assert turn_words(Turn(-12)) == "one and a half left"
    assert turn_words(Turn(16)) == "2 full turns right"


@pytest.mark.parametrize("text", ["see the note", "9", "count 3:00 times", "", "weight"])
def test_what_is_no_facing_and_no_weight_is_a_note(text: str) -> None:
    assert read_stated(text) is None


def test_brackets_may_state_a_facing_and_a_weight() -> None:
    stated = read_stated("weight on L, facing 6 o'clock")
    assert stated is not None
    assert [(s.facing, s.weight) for s in stated] == [(None, Weight.LEFT), (Facing(4), None)]


@given(st.sampled_from(list(Weight)), st.sampled_from(list(Foot)))
def test_a_foot_is_free_unless_it_bears_all_the_weight(weight: Weight, foot: Foot) -> None:
    assert weight.frees(foot) == (weight is Weight.BOTH or weight is not Weight.on(foot))
    assert (weight.free_foot is None) == (weight is Weight.BOTH)


@given(facings, turns)
def test_a_body_keeps_its_weight_unless_a_movement_takes_it(facing: Facing, turn: Turn) -> None:
    body = Body(facing, Weight.LEFT)
    assert body.after(Movement("touch", Foot.RIGHT, turn=turn)) == Body(facing + turn, Weight.LEFT)
    assert body.after(Movement("step", Foot.RIGHT, weight=Weight.RIGHT)) == Body(facing, Weight.RIGHT)
