"""Headings as they are shown and said: short, whole words, in small letters."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.routine.short_heading import LONGEST, short_heading


@pytest.mark.parametrize(
    ("typed", "short"),
    [
        ("Rock back", "Rock back"),
        ("GRAPEVINES WITH A TOUCH AND A CLAP OR TWO", "Grapevines with a touch"),
        ("Walks, right shuffle, rock, back shuffle", "Walks, right shuffle, rock"),
        ("Vine quarter, scuff / step pivot step pivot", "Vine quarter, scuff"),
        ("side rock - behind side cross - side (9:00)", "side rock - behind side cross"),
        ("Walks & a triple half turn over the shoulder", "Walks"),
        ("one unbroken row of many quite short words", "one unbroken row of many quite"),
        ("", ""),
    ],
)
def test_a_heading_is_its_first_parts(typed: str, short: str) -> None:
    assert short_heading(typed) == short


@given(st.text(max_size=120))
def test_whatever_is_typed_is_short_on_one_line_and_no_longer_than_it_was(typed: str) -> None:
    short = short_heading(typed)
    assert len(short) <= LONGEST + 2  # a letter may become two when it is made small
    assert "\n" not in short
    assert short_heading(short) == short or "(" in typed or "[" in typed or short.isupper()


def test_sides_stay_sides_where_all_was_in_capitals() -> None:
    assert short_heading("SIDE TOUCH, VINE L") == "Side touch, vine L"
    assert short_heading("R TWINKLE, L TWINKLE") == "R twinkle, L twinkle"
    assert short_heading("WALK RL, STOMP RF") == "Walk RL, stomp RF"
