"""The dial: the clock's own geometry (12:00 up, clockwise), told by shape."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.routine.facing import CLOCK, NO_TURN, Facing, Turn
from caller.screen.dial import dial

SIZES = [(26, 9), (28, 10), (46, 16)]
_LIT = {"▀": (True, False), "▄": (False, True), "█": (True, True)}


def lit_squares(lines: tuple[str, ...]) -> set[tuple[float, float]]:
    """Lit squares as (right, up) of the middle."""
    wide, high = len(lines[0]), 2 * len(lines)
    return {
        (x - (wide - 1) / 2, (high - 1) / 2 - (2 * row + half))
        for row, line in enumerate(lines)
        for x, cell in enumerate(line)
        for half in (0, 1)
        if _LIT.get(cell, (False, False))[half]
    }


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("eighths", range(8))
def test_the_hand_points_where_the_class_faces(size: tuple[int, int], eighths: int) -> None:
    right, up = max(lit_squares(dial(Facing(eighths), NO_TURN, *size)), key=lambda square: math.hypot(*square))
    told = math.degrees(math.atan2(right, up)) % 360
    assert min(abs(told - 45 * eighths), 360 - abs(told - 45 * eighths)) < 22.5


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("eighths", range(8))
def test_all_eight_directions_are_written_whole(size: tuple[int, int], eighths: int) -> None:
    words = " ".join(dial(Facing(eighths), Turn(4), *size)).translate(dict.fromkeys(map(ord, "▀▄█"), " ")).split()
    assert sorted(words) == sorted(CLOCK)


@pytest.mark.parametrize(("turn", "way"), [(Turn(2), 1), (Turn(-2), -1), (Turn(6), 1)])
def test_the_trail_runs_the_way_of_the_turn(turn: Turn, way: int) -> None:
    still = lit_squares(dial(Facing(0), NO_TURN, 46, 16))
    trail = lit_squares(dial(Facing(0), turn, 46, 16)) - still
    first = max(trail, key=lambda square: square[1])
    assert math.copysign(1, first[0]) == way
    swept = {round(math.degrees(math.atan2(right, up)) * way % 360 / 45) for right, up in trail}
    assert max(swept) == abs(turn.eighths)


@given(st.integers(0, 7), st.integers(-40, 40), st.integers(0, 90), st.integers(0, 40))
def test_the_dial_keeps_to_its_place_at_any_size(eighths: int, turn: int, width: int, rows: int) -> None:
    lines = dial(Facing(eighths), Turn(turn), width, rows)
    assert not lines or (len(lines) == rows and {len(line) for line in lines} == {width})
