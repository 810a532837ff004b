"""A section's counts are numbered alike wherever they are told, called, shown and typed: as the sheet has them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.calls.glance import glance
from caller.calls.plan import CallKind, Manner
from caller.calls.wording import spoken_number
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.notation.read import read_bytes
from caller.screen.course import counts_from
from caller.session.asked import counts_asked
from caller.session.programme import ProgrammeEvent
from caller.session.route import CountSpan
from caller.teaching.options import section_told_easier
from caller.teaching.telling import mind_told
from caller.transport.order import Order
from tests.calls.takes import take_of

WALTZ = b"""MOTH AND MILL - 24 counts, 1 wall, improver, 96 bpm, waltz

[1-12] One
1-3  Cross L over R, step R to side, step L behind R
4-6  Step R to side, drag L to R over two counts
1-3  Rolling vine left
4-6  Cross rock R over L, recover L, step R to side
Option 7-9: vine left

[13-24] Two
1-3  Left basic waltz forward
4-6  Right basic waltz back
1-3  Left basic waltz forward
4-6  Right basic waltz back
"""
LONG = b"""LONG LOFT - 16 counts, 1 wall

Section 1: One
1-4  vine right, touch L
5-8  vine left, touch R
9-12  rolling vine right, touch L
13-16  vine left, touch R
Option 9-12: vine right, touch L
"""
SECOND_SIX = [7, 8, 9, 10, 11, 12]


@pytest.fixture(scope="module")
def waltz() -> Dance:
    return unroll(read_bytes(WALTZ).routine)


def test_the_second_six_of_a_waltz_is_seven_to_twelve_on_the_screen_and_counted_aloud(waltz: Dance) -> None:
    take = take_of(waltz, 96, Manner.COUNTS, count_in=6)
    shown = [glance(take, take.timeline.frame_of(Fraction(at))).count for at in range(24)]
    assert shown == 2 * [1, 2, 3, 4, 5, 6, *SECOND_SIX]
    said = [call.utterance.words for call in take.plan.calls if call.cue.kind is CallKind.COUNT]
    assert said == 2 * [spoken_number(number) for number in range(1, 13)]
    assert counts_from(waltz, Fraction(9))[-1].startswith("10 ")


def test_the_turn_and_the_easier_way_are_told_on_those_counts(waltz: Dance) -> None:
    wall = waltz.walls[0]
    assert mind_told(wall, wall.stretches[0], waltz.routine) == ("mind the turn on seven to nine.",)
    assert section_told_easier(waltz.routine, "", 1)[0].endswith("on seven to nine: vine left.")


def test_an_easier_way_in_a_long_section_in_four_is_told_by_the_counts_that_are_shown() -> None:
    assert "on one to four" in section_told_easier(read_bytes(LONG).routine, "", 1)[0]


@pytest.mark.parametrize("at", [0, 7, 14, 23])
@pytest.mark.parametrize(("first", "last"), [(1, 3), (7, 9), (4, 12)])
def test_counts_that_are_typed_are_those_of_the_section_that_is_danced(
    waltz: Dance, at: int, first: int, last: int
) -> None:
    section = at // 12 * 12
    amounts = (Fraction(first), Fraction(last))
    asked = counts_asked(waltz, Fraction(at), ProgrammeEvent(Order.LOOP_COUNTS, amounts=amounts))
    assert asked == CountSpan(Fraction(section + first - 1), Fraction(section + last))
