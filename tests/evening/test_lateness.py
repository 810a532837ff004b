"""What is proposed to be taken out, and that it is never more than there is."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.evening.lateness import over_by, proposal
from caller.evening.plan import Item, Kind

LATER = st.lists(st.builds(Item, st.sampled_from(Kind), st.integers(0, 60), keep=st.booleans()), max_size=8)


@pytest.mark.parametrize(("over", "place"), [(0, None), (-3, None), (3, 2), (5, 2), (6, 3), (20, 3)])
def test_the_shortest_that_is_enough_goes_else_the_longest(over: int, place: int | None) -> None:
    later = [Item(Kind.RUN, 4, "A"), Item(Kind.REQUEST, 5), Item(Kind.REQUEST, 5), Item(Kind.REQUEST, 8)]
    assert proposal(later, over) == place


def test_what_is_missed_least_goes_first() -> None:
    items = [Item(kind, 60) for kind in (Kind.LESSON, Kind.BREAK, Kind.RECAP, Kind.RUN, Kind.REQUEST)]
    for left in range(5, 0, -1):
        assert proposal(items[:left], 9) == left - 1
    assert proposal([Item(Kind.LESSON, 60, keep=True)], 9) is None


@given(LATER, st.integers(-60, 120))
def test_what_is_kept_is_never_proposed_and_in_time_nothing_is(later: list[Item], over: int) -> None:
    found = proposal(later, over)
    if over <= 0 or all(item.keep for item in later):
        assert found is None
    else:
        assert found is not None
        assert not later[found].keep


@given(LATER, st.integers(1, 60))
def test_taking_out_what_is_proposed_time_and_again_ends(later: list[Item], over: int) -> None:
    left = list(later)
    while (found := proposal(left, over - sum(i.minutes for i in later) + sum(i.minutes for i in left))) is not None:
        del left[found]
    out = sum(item.minutes for item in later) - sum(item.minutes for item in left)
    assert out >= over or all(item.keep for item in left)


def test_how_far_beyond_the_closing_time_it_goes() -> None:
    later = [Item(Kind.RUN, 4, "A"), Item(Kind.BREAK, 10)]
    assert over_by(Fraction(1150), Fraction(5, 2), later, 1160) == 6
    assert over_by(1146 + Fraction(59, 60), Fraction(0), later, 1160) == 0  # of whole minutes none
    assert over_by(Fraction(1100), Fraction(0), later, 1160) == -46
