"""An expression pedal's values to shares of the full tempo: what is told, how often, and what does nothing."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.transport.expression import (
    END_VALUES,
    EXPRESSION,
    LEAST_APART_PERCENT,
    LEAST_PERCENT,
    LEAST_TRAVEL,
    MOST_PERCENT,
    TELL_SECONDS,
    USUAL_LIMITS,
    Expression,
    Lean,
    Lever,
    Limits,
)

USUAL = Lever(Expression(), USUAL_LIMITS)
Timed = list[tuple[float, int | None]]  # None: time passes


def sent(value: int, number: int = EXPRESSION) -> bytes:
    return bytes((0xB0, number, value))


def told(moves: Timed, lever: Lever = USUAL) -> list[tuple[float, Fraction]]:
    made = []
    for now, value in moves:
        lever, leans = lever.later(now) if value is None else lever.heard(sent(value, lever.known.number), now)
        made += [(now, lean.share) for lean in leans]
    return made


def percent(moves: Timed, lever: Lever = USUAL) -> list[tuple[float, int]]:
    return [(now, int(share * 100)) for now, share in told(moves, lever)]


def test_the_expression_controller_is_eleven_and_its_fine_half_not_listened_to() -> None:
    """MIDI 1.0 Detailed Specification, Table 3: 11 expression controller, 43 (11 + 32) its least significant half."""
    assert EXPRESSION == 11
    lever, made = USUAL.heard(sent(127, 11), 1.0)
    assert made == (Lean(Fraction(1)),)
    assert lever.heard(sent(0, 43), 2.0) == (lever, ())


PLAYBOOKS = [
    ("toe down is the full tempo, heel down the least", USUAL, [(0, 0), (1, 127)], [(0, 50), (1, 100)]),
    ("half-way", USUAL, [(0, 63)], [(0, 74)]),
    ("nothing before it has moved", USUAL, [(0, None), (5, None)], []),
    ("the first change acts at once, what follows within a quarter of a second once, as it came to be", USUAL,
        [(0, 127), (1, 100), (1.05, 80), (1.1, 60), (1.2, 40), *((t, None) for t in (1.24, 1.25, 1.5))],
        [(0, 100), (1, 90), (1.25, 66)]),
    ("there and back within it is nothing", USUAL, [(0, 127), (0.1, 20), (0.2, 127), (0.3, None)], [(0, 100)]),
    ("wavering", USUAL, [(0, 64), *((1 + n / 3, 64 + n % 3 - 1) for n in range(30))], [(0, 76)]),
    ("an end that isn't quite reached is reached", USUAL, [(0, 125), (1, 2)], [(0, 100), (1, 50)]),
    ("an end come to from beside it", USUAL, [(0, 114), (1, 127), (2, 126), (3, 127)], [(0, 96), (1, 100)]),
    ("the other way round: pressed to slow down", Lever(Expression(), Limits(100, 60)), [(0, 0), (1, 127)],
        [(0, 100), (1, 60)]),
    ("a pedal that sends less towards the toe", Lever(Expression(4, 120, 10), USUAL_LIMITS), [(0, 120), (1, 10)],
        [(0, 50), (1, 100)]),
    ("limits an odd number apart are both reached", Lever(Expression(), Limits(55, 100)), [(0, 0), (1, 127)],
        [(0, 55), (1, 100)]),
]  # fmt: skip


@pytest.mark.parametrize(("name", "lever", "moves", "made"), PLAYBOOKS, ids=[row[0] for row in PLAYBOOKS])
def test_playbook(name: str, lever: Lever, moves: Timed, made: list[tuple[float, int]]) -> None:
    assert percent(moves, lever) == made


percents = st.integers(LEAST_PERCENT, MOST_PERCENT)
limits = (
    st.tuples(percents, percents)
    .filter(lambda two: abs(two[0] - two[1]) >= LEAST_APART_PERCENT)
    .map(lambda t: Limits(*t))
)
values = st.integers(0, 127)
pedals = st.tuples(values, values).filter(lambda two: abs(two[0] - two[1]) >= LEAST_TRAVEL)
levers = st.builds(lambda ends, within: Lever(Expression(EXPRESSION, *ends), within), pedals, limits)
moves = st.lists(st.tuples(st.floats(0, 0.6), st.none() | values), max_size=80)


def at_times(gaps: Timed) -> Timed:
    now, timed = 0.0, []
    for gap, value in gaps:
        now += gap
        timed.append((now, value))
    return timed


@given(levers, moves)
def test_never_more_than_four_changes_a_second_and_none_of_less_than_two_per_cent(lever: Lever, gaps: Timed) -> None:
    made = told(at_times(gaps), lever)
    assert all(later - sooner >= TELL_SECONDS for (sooner, _), (later, _) in pairwise(made))
    assert all(abs(after / before - 1) >= Fraction(2, 100) for (_, before), (_, after) in pairwise(made))
    low, high = sorted((lever.limits.heel, lever.limits.toe))
    assert all(Fraction(low, 100) <= share <= Fraction(high, 100) for _, share in made)


@given(levers, moves, values)
def test_the_last_value_always_wins_in_the_end(lever: Lever, gaps: Timed, last: int) -> None:
    """To the rung of a value beside it, within the play; at an end exactly."""
    timed = at_times(gaps)
    now = timed[-1][0] if timed else 0.0
    *_, (_, share) = told([*timed, (now, last), (now + 2 * TELL_SECONDS, None)], lever)
    way, within = lever.known.way, lever.limits
    assert share in {within.share(way(value)) for value in (last - 1, last, last + 1)}
    if abs(last - lever.known.toe) < END_VALUES:
        assert share == Fraction(within.toe, 100)
    if abs(last - lever.known.heel) < END_VALUES:
        assert share == Fraction(within.heel, 100)


@given(levers, moves, st.integers(1, 126), st.lists(st.integers(-1, 1), max_size=50))
def test_wavering_by_one_never_goes_to_and_fro(lever: Lever, gaps: Timed, middle: int, wavers: list[int]) -> None:
    """It may settle once, where it came to rest on an edge; then nothing."""
    timed = at_times(gaps)
    now = (timed[-1][0] if timed else 0.0) + 1
    timed += [(now, middle), (now + 1, None)]
    wavering: Timed = [(now + 2 + n, middle + by) for n, by in enumerate(wavers)]
    assert len(told([*timed, *wavering], lever)) - len(told(timed, lever)) <= 1


@given(levers)
def test_further_towards_the_toe_is_never_back_towards_the_heel(lever: Lever) -> None:
    known = lever.known
    step = 1 if known.toe > known.heel else -1
    shares = [lever.limits.share(known.way(value)) for value in range(known.heel, known.toe + step, step)]
    if lever.limits.heel > lever.limits.toe:
        shares.reverse()
    assert shares == sorted(shares)
    assert {shares[0], shares[-1]} == {Fraction(lever.limits.heel, 100), Fraction(lever.limits.toe, 100)}


@given(st.lists(st.tuples(st.floats(allow_nan=True), st.binary(max_size=5)), max_size=30))
def test_any_bytes_at_any_times_are_survived(timed: list[tuple[float, bytes]]) -> None:
    lever = USUAL
    for now, message in timed:
        lever, made = lever.heard(message, now)
        assert all(Fraction(1, 2) <= lean.share <= 1 for lean in made)


@pytest.mark.parametrize(("heel", "toe"), [(50, 53), (24, 100), (50, 101), (100, 100)])
def test_limits_out_of_reach_or_too_near_are_none(heel: int, toe: int) -> None:
    with pytest.raises(ValueError, match=f"{heel}, {toe}"):
        Limits(heel, toe)


@pytest.mark.parametrize(("number", "heel", "toe"), [(128, 0, 127), (11, 0, 128), (11, -1, 127), (11, 60, 90)])
def test_what_is_no_controller_or_hardly_moves_is_no_expression_pedal(number: int, heel: int, toe: int) -> None:
    with pytest.raises(ValueError, match=str(heel)):
        Expression(number, heel, toe)
