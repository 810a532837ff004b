"""How far two words are apart."""

from __future__ import annotations

import pytest

from caller.routine.notation.nearest import _distance


@pytest.mark.parametrize("at", range(6))
def test_two_neighbours_swapped_are_one_slip_wherever_they_stand(at: int) -> None:
    word = "pathwise"
    slipped = word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    assert _distance(word, slipped) == _distance(slipped, word) == 1


@pytest.mark.parametrize(
    ("one", "other", "slips"),
    [
        ("rock", "rock", 0),
        ("rock", "rok", 1),
        ("rock", "rrock", 1),
        ("rock", "rick", 1),
        ("rock", "", 4),
        ("vine", "even", 3),
    ],
)
def test_a_letter_put_in_left_out_or_mistaken_is_a_slip(one: str, other: str, slips: int) -> None:
    assert _distance(one, other) == slips
