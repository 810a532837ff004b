"""Counts as written, to exact positions."""

from __future__ import annotations

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.routine.count import label_of, read_counts
from caller.routine.meter import Feel
from tests.routine.writing import read


def _at(text: str, feel: Feel = Feel.STRAIGHT) -> list[F]:
    counts = read_counts(f"{text}  Walk", feel)
    assert counts is not None
    return [beat.at for beat in counts.beats]


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("1-4", [0, 1, 2, 3]),
        ("1&2", [0, F(1, 2), 1]),
        ("1 & 2", [0, F(1, 2), 1]),
        ("1,2", [0, 1]),
        ("1 2", [0, 1]),
        ("&1", [F(-1, 2), 0]),
        ("7&8&", [6, F(13, 2), 7, F(15, 2)]),
        ("a1", [F(-1, 4), 0]),
        ("1a2", [0, F(3, 4), 1]),
        ("1e&a2", [0, F(1, 4), F(1, 2), F(3, 4), 1]),
        ("&5-6", [F(7, 2), 4, 5]),
        ("1 and 2", [0, F(1, 2), 1]),
        ("3&4&5", [2, F(5, 2), 3, F(7, 2), 4]),
        ("Counts 1-2", [0, 1]),
        ("1–2.", [0, 1]),
        ("1 to 4", [0, 1, 2, 3]),
    ],
)
def test_straight_counts_fall_on_halves_and_quarters(text: str, at: list[F]) -> None:
    assert _at(text) == at


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("1&2", [0, F(2, 3), 1]),
        ("1a2", [0, F(2, 3), 1]),
        ("1&a2", [0, F(1, 3), F(2, 3), 1]),
        ("1e2", [0, F(1, 4), 1]),
        ("&1", [F(-1, 3), 0]),
        ("1-2", [0, 1]),
    ],
)
def test_swung_counts_fall_on_the_triplet(text: str, at: list[F]) -> None:
    assert _at(text, Feel.SWING) == at


def test_an_and_after_the_last_count_belongs_to_it() -> None:
    assert _at("8&")[-1] == F(15, 2)


def test_an_and_on_a_line_of_its_own_belongs_to_the_count_before() -> None:
    counts = read_counts("&  Step R beside L", previous=4)
    assert counts is not None
    assert [(b.number, b.part, b.at) for b in counts.beats] == [(4, "&", F(7, 2))]


def test_counts_that_run_on_are_told_from_the_section() -> None:
    counts = read_counts("17-18  Walk R, L", base=16)
    assert counts is not None
    assert [b.at for b in counts.beats] == [0, 1]


@pytest.mark.parametrize("text", ["Walk R, L", "", "&", "-1  Walk", "1/2 turn left", "9:00"])
def test_what_begins_with_no_count_is_no_step_line(text: str) -> None:
    counts = read_counts(text)
    assert counts is None or text == "&"


def test_a_quarter_turn_is_not_taken_for_counts() -> None:
    counts = read_counts("1-2  1/4 turn left stepping L forward, hold")
    assert counts is not None
    assert len(counts.beats) == 2


def test_a_range_that_runs_backwards_is_said_to() -> None:
    counts = read_counts("4-1  Walk")
    assert counts is not None
    assert counts.backward


@given(st.integers(1, 64), st.integers(0, 31))
def test_a_range_has_every_count_from_first_to_last(first: int, length: int) -> None:
    assert _at(f"{first}-{first + length}") == [F(n) for n in range(first - 1, first + length)]


@given(st.integers(0, 40), st.sampled_from([F(0), F(1, 4), F(1, 2), F(3, 4)]))
def test_a_position_reads_as_it_is_labelled(whole: int, part: F) -> None:
    label = label_of(whole + part)
    assert (
        _at(label if part == 0 else f"{whole + 1}{label.lstrip('0123456789')}{whole + 2}")[int(part > 0)]
        == whole + part
    )


@pytest.mark.parametrize(
    ("lines", "codes"),
    [
        (["1-2  Walk R, L", "4  Step R forward"], ["counts-gap"]),
        (["1-2  Walk R, L", "2-3  Walk R, L"], ["counts-overlap"]),
        (["3-4  Walk R, L", "1-2  Walk R, L"], ["counts-order"]),
        (["4-1  Walk R, L, R, L"], ["counts-order"]),
        (["1-2  Walk R, L", "5-6  Walk R, L", "3-4  Walk R, L"], ["counts-order"]),
        (["1-2  Walk R, L, R"], ["counts-mismatch"]),
        (["1-4  Walk R, L"], ["counts-mismatch"]),
        (["1&2  Walk R, L"], ["counts-mismatch"]),
        (["1-4  Walk R, L, hold"], []),
        (["1-4  Sway R"], []),
    ],
)
def test_a_fault_of_the_counts_is_told_once(lines: list[str], codes: list[str]) -> None:
    assert [f.code for f in read(*lines).findings] == codes
