"""The long, the short and the one-word forms, and everything as it is spoken."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.calls.shorten import Forms, on_count_forms, spoken, step_forms
from caller.routine.facing import Turn
from caller.routine.figures import Figure
from caller.routine.naming import figure_wordings
from caller.routine.step import Foot
from caller.routine.vocabulary import shipped

FIGURES = [
    (figure, way, turn)
    for figure in shipped().figures.values()
    for way in figure.ways
    for turn in (Turn(0), Turn(2))
    if not turn or figure.turns
]


def forms(*wordings: str, movements: int = 2) -> tuple[str, ...]:
    return step_forms(wordings, movements).wordings


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("1/4 R", "quarter right"),
        ("step, 1/2 L", "step, half left"),
        ("turn 3/4, 1/8", "turn three quarters, eighth"),
        ("face 7:30", "face half past seven"),
        ("to 12:00", "to twelve o'clock"),
        ("1&2", "one and two"),
        ("tag 2", "tag two"),
        ("rock & cross", "rock and cross"),
        ("Larry, left", "Larry, left"),
    ],
)
def test_numbers_turns_and_clock_times_are_spoken_in_words(written: str, said: str) -> None:
    assert spoken(written) == said


@given(st.text(st.sampled_from("ab RL&/:0123456789, "), max_size=30))
def test_nothing_is_spoken_in_figures_and_once_is_enough(text: str) -> None:
    said = spoken(text)
    assert not re.search(r"\d", said)
    assert spoken(said) == said


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        (
            ("right shuffle forward", "right shuffle", "shuffle"),
            ("right shuffle forward", "shuffle forward", "shuffle"),
        ),
        (("left coaster step", "coaster step"), ("left coaster step", "coaster step", "coaster")),
        (
            ("rock to the side, recover", "rock, recover"),
            ("rock to the side, recover", "rock side, recover", "rock, recover", "rock"),
        ),
        (("step, pivot half right", "step, pivot"), ("step, pivot half right", "pivot half right", "pivot")),
        (("right jazz box", "jazz box"), ("right jazz box", "jazz box")),
        (("sway right, sway left", "sway, sway"), ("sway right, sway left", "sway, sway", "sway")),
    ],
)
def test_a_step_has_its_long_short_and_one_word_forms(given: tuple[str, ...], expected: tuple[str, ...]) -> None:
    found = forms(*given)
    assert found == expected


def test_a_quoted_call_comes_first_and_is_shortened_within_its_own_words() -> None:
    assert forms("cross and cross", "shuffle") == ("cross and cross", "cross")
    assert forms("behind side cross", "sailor cross") == ("behind side cross", "behind")
    assert forms("step, half right", "step, pivot") == ("step, half right", "half right")
    assert forms("cross, unwind 3/4 left") == ("cross, unwind three quarters left", "unwind three quarters left")
    assert forms("and cross") == ("and cross",)


@pytest.mark.parametrize(("figure", "way", "turn"), FIGURES)
def test_every_figure_shrinks_to_a_word_or_two(figure: Figure, way: str, turn: Turn) -> None:
    found = step_forms(figure_wordings(figure, way, Foot.RIGHT, turn), len(figure.movements(way, Foot.RIGHT)))
    assert len(found.wordings[-1].split()) <= 2
    lengths = [len(words) for words in found.wordings[: found.telling]]
    assert lengths == sorted(lengths, reverse=True)
    assert list(found.lost) == sorted(found.lost)


@pytest.mark.parametrize(("figure", "way", "turn"), [one for one in FIGURES if one[2]])
def test_a_turn_is_told_by_all_but_what_comes_last(figure: Figure, way: str, turn: Turn) -> None:
    found = step_forms(figure_wordings(figure, way, Foot.LEFT, turn), 3)
    assert all("quarter right" in words for words in found.wordings[: found.telling])
    assert not any("quarter" in words for words in found.wordings[found.telling :])
    assert found.telling >= 2


def test_on_the_count_a_turn_may_leave_its_side_to_the_screen() -> None:
    assert on_count_forms("quarter left") == ("quarter left", "quarter")
    assert on_count_forms("3/4 right") == ("three quarters right", "three quarters")
    assert on_count_forms("step") == ("step",)
    assert on_count_forms(" ") == ()


def test_one_word_for_one_movement_loses_little() -> None:
    assert step_forms(("touch left together", "touch"), 1).lost < step_forms(("rock back, recover", "rock"), 2).lost


def test_the_shorter_forms_are_those_without_the_fullest() -> None:
    assert Forms(("a b c", "a b", "a"), (0, 4, 26), 3).shorter() == Forms(("a b", "a"), (0, 22), 2)
    assert Forms(("step, quarter", "step"), (0, 26), 1).shorter().wordings == ("step, quarter", "step")
