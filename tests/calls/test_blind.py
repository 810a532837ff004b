"""Somebody who has seen no sheet dances what is called: the dancer, and how many movements of strangers' sheets are
danced right."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.calls.blind import Heard, Moved, danced
from tests.calls.danced import blindly, known_sheets
from tests.fakes.lexicon import MeasuredVoice

# Batches that no wording was made for, and the share danced right today less two hundredths.
_BATCHES, _LEAST = "bdfhj", 0.91


def feet(*calls: tuple[str, float], threes: bool = False, counts: int = 8) -> str:
    """calls: with the count (from 1) on which each is over, less a quarter."""
    heard = [Heard(words, Fraction(0), Fraction(at) - 1 - Fraction(1, 4)) for words, at in calls]
    found = danced(heard, threes, Fraction(counts))
    return " ".join(f"{_label(moved)}{moved.foot}" for moved in found)


def _label(moved: Moved) -> str:
    whole = int(moved.at // 1) + 1
    return str(whole) if moved.at.denominator == 1 else f"{whole}&"


@pytest.mark.parametrize(
    ("calls", "told"),
    [
        ((("right shuffle", 1), ("rock forward", 3), ("coaster", 5)), "1R 1&L 2R 3L 4R 5L 5&R 6L"),
        ((("right vine right, touch", 1), ("and left", 5)), "1R 2L 3R 4L 5L 6R 7L 8R"),
        ((("right step, half left", 1), ("again", 3)), "1R 2L 3R 4L"),
        ((("right behind side cross", 1), ("side rock", 3)), "1R 1&L 2R 3L 4R"),
        ((("right jazz box", 1), ("quarter right", 3), ("walk, walk", 5)), "1R 2L 3R 4L 5R 6L"),
        ((("right rock forward and back", 1), ("coaster", 3)), "1R 1&L 2R 3L 3&R 4L"),
        ((("right side, rock behind, recover", 1), ("and left", 3)), "1R 2L 2&R 3L 4R 4&L"),
        ((("right side, rock behind", 1), ("and left", 3)), "1R 2L 2&R 3L 4R 4&L"),
        ((("right heel switches", 1), ("heel, together", 3)), "1R 1&R 2L 2&L 3R 4R"),
        ((("right side rock cross, hold", 1), ("and left", 5)), "1R 2L 3R 5L 6R 7L"),
        ((("left kick, clap", 1), ("sway right, left", 3)), "1L 3R 4L"),
        ((("right cross, hold", 1), ("two quarters right", 3), ("cross, hold", 5)), "1R 3L 4R 5L"),
        ((("right side rock, quarter left", 1), ("walk, walk", 3)), "1R 2L 3R 4L"),
        ((("right side, slow drag", 1), ("left side, slow drag", 4)), "1R 2L 4L 5R"),
        ((("right stomp stomp", 1), ("right kick, step", 3), ("kick again", 5)), "1R 2L 3R 4R 5L 6L"),
    ],
)
def test_the_dancer_knows_figures_and_the_rhythm_that_the_moments_leave(
    calls: tuple[tuple[str, float], ...], told: str
) -> None:
    assert feet(*calls) == told


def test_in_threes_three_steps_are_three_counts() -> None:
    assert feet(("left twinkle", 1), ("right coaster", 4), threes=True, counts=6) == "1L 2R 3L 4R 5L 6R"


def test_a_call_that_is_wrong_is_danced_wrong() -> None:
    assert feet(("right touch", 1), ("step", 2)) != feet(("right step", 1), ("step", 2))


def test_strangers_sheets_are_danced_right_from_their_calls_alone() -> None:
    voice = MeasuredVoice()
    found = [blindly(sheet, voice, voice.clip) for sheet in known_sheets(_BATCHES)]
    assert len(found) > 40
    assert sum(one.right for one in found) >= _LEAST * sum(len(one.sheet.truth) for one in found)
