"""What a voice must have ready."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from caller.calls.needed import _distinct
from tests.calls.test_forms import groups


def test_what_is_called_alike_in_another_place_is_made_ready_once() -> None:
    [first] = groups("1&2 R shuffle forward")
    again = replace(first, at=first.at + 8, place=first.place + 8)
    assert list(_distinct([first, again])) == [first]


def test_between_two_counts_it_is_called_otherwise() -> None:
    [group] = groups("1-2 Step R to side, touch L beside R")
    between = replace(group, at=group.at + Fraction(1, 2), place=group.place + Fraction(1, 2))
    assert list(_distinct([group, between])) == [group, between]
