"""Numbers from outside: within their range or told, and soon."""

from __future__ import annotations

import argparse
import time
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.cli import amounts
from caller.cli.drill import counts
from caller.outside.numbers import NotInRange, number, shown, whole

HOSTILE = [
    "1e99999999", "1E+99", "nan", "inf", "-inf", "Infinity", "1_000", "0x60", "9" * 5000, "1/0", "1/" + "9" * 5000,
    "", " ", ".", "+", "-", "1.2.3", "1/2/3", "९६", "96 BPM", "\x1b[31m96", "1" + "0" * 399 + "/1",
]  # fmt: skip


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_what_is_no_plain_number_within_the_range_is_told_at_once(text: str) -> None:
    began = time.perf_counter()
    with pytest.raises(NotInRange, match="counts a minute from 20 to 400, not") as fault:
        number(text, 20, 400, "counts a minute")
    assert time.perf_counter() - began < 0.1
    assert len(str(fault.value)) < 120
    assert "\x1b" not in str(fault.value)


NO_NUMBERS = [float("nan"), float("inf"), 1e300, 10**6000, True, None, [96], {}, object(), b"96"]


@pytest.mark.parametrize("met", NO_NUMBERS, ids=range(len(NO_NUMBERS)))
def test_so_is_what_a_file_may_hold_in_the_place_of_one(met: object) -> None:
    with pytest.raises(NotInRange):
        number(met, 20, 400)
    with pytest.raises(NotInRange):
        whole(met, 20, 400)


@pytest.mark.parametrize(
    ("met", "exact"),
    [("96", 96), (" 97.5 ", Fraction(195, 2)), ("265/2", Fraction(265, 2)), ("+20", 20), (96, 96),
     (96.1, Fraction("96.1")), (Fraction(1000, 3), Fraction(1000, 3)), ("400.", 400), ("0020", 20)],
)  # fmt: skip
def test_a_number_is_exact(met: object, exact: Fraction) -> None:
    assert number(met, 20, 400) == exact


@given(st.fractions(20, 400), st.fractions())
def test_whatever_we_write_is_read_and_nothing_beyond_the_range(inside: Fraction, any_at_all: Fraction) -> None:
    assert number(str(inside), 20, 400) == inside
    if not 20 <= any_at_all <= 400:
        with pytest.raises(NotInRange):
            number(str(any_at_all), 20, 400)


def test_a_whole_number_has_no_fraction() -> None:
    assert whole("5", 1, 9) == whole(5.0, 1, 9) == 5
    for met in ("5.5", "10", "0", 5.5):
        with pytest.raises(NotInRange):
            whole(met, 1, 9)


@given(st.one_of(st.text(), st.integers(), st.floats(), st.lists(st.text()), st.none()))
def test_what_was_met_can_always_be_shown(met: object) -> None:
    assert len(shown(met)) < 50


@pytest.mark.parametrize(
    ("read", "good"),
    [(amounts.tempo, "96"), (amounts.floating(-50, 500), "180"), (amounts.per_cent(10, 200), "50%"),
     (amounts.whole(1, 999), "7"), (amounts.walls, "4"), (counts, "5-12")],
)  # fmt: skip
def test_every_number_on_the_command_line_goes_through_it(read: object, good: str) -> None:
    assert callable(read)
    read(good)
    for text in (*HOSTILE, "-1e400", "99999"):
        with pytest.raises(argparse.ArgumentTypeError):
            read(text)
