"""Where everybody stands before a count: the facing, and the foot that is free."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.dance.unroll import unroll
from caller.routine.facing import Facing
from caller.routine.notation.read import read_sheet
from caller.routine.step import Foot
from caller.teaching.standing import changes_weight, facing_at, free_foot_at, stand_words

DANCE = unroll(
    read_sheet(
        "Title: Test Piece\nTempo: 100\nStarts: right\n"
        "Section 1\n1-2 Walk R, L\n3-4 Step R forward, pivot 1/4 left\n5-8 Walk R, L, R, touch L\n"
        "Section 2\n1-8 Walk L, R, L, R, L, R, L, touch R\n"
    ).routine,
    2,
)


@pytest.mark.parametrize(
    ("count", "foot", "eighths", "words"),
    [
        (0, Foot.RIGHT, 0, "facing twelve o'clock, right foot free."),
        (1, Foot.LEFT, 0, "facing twelve o'clock, left foot free."),
        (4, Foot.RIGHT, -2, "facing nine o'clock, right foot free."),
        (8, Foot.LEFT, -2, "facing nine o'clock, left foot free."),
        (16, Foot.RIGHT, -2, "facing nine o'clock, right foot free."),
        (20, Foot.RIGHT, -4, "facing six o'clock, right foot free."),
    ],
)
def test_how_everybody_stands_before_a_count(count: int, foot: Foot, eighths: int, words: str) -> None:
    at = Fraction(count)
    assert (free_foot_at(DANCE, at), facing_at(DANCE, at)) == (foot, Facing(eighths % 8))
    assert stand_words(DANCE, at) == words


@pytest.mark.parametrize(
    ("start", "end", "changes"),
    [(0, 2, False), (0, 3, True), (0, 8, True), (4, 6, False), (8, 15, True)],
)
def test_who_stands_on_the_foot_that_it_begins_with_changes_weight(start: int, end: int, changes: bool) -> None:
    assert changes_weight(DANCE, Fraction(start), Fraction(end)) is changes
