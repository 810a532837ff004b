"""Places typed in the plain mode."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.transport.order import ORDERS
from caller.transport.typed import loop_typed, section_typed


@pytest.mark.parametrize("line", ["loop 5 to 12", "Loop  5-12 ", " LOOP 5 - 12"])
def test_counts_to_loop_in_any_case_and_spacing(line: str) -> None:
    assert loop_typed(line) == (5, 12)


@given(st.integers(0, 999))
def test_a_section_by_its_number(number: int) -> None:
    assert section_typed(f"section {number}") == number


@pytest.mark.parametrize("line", ["", "loop", "loop 5", "loop 5 to", "loop 5000 to 6", "section", "section two", "96"])
def test_what_is_neither_is_none(line: str) -> None:
    assert loop_typed(line) is None
    assert section_typed(line) is None


def test_no_word_of_an_order_is_taken_for_a_place() -> None:
    assert not any(loop_typed(word) or section_typed(word) for entry in ORDERS for word in entry.typed)
