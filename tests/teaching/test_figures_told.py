"""Figures as they are told: their names, where each foot goes, as often as they are danced."""

from __future__ import annotations

import pytest

from caller.teaching.figures_told import figures_told, movements_told
from tests.takehome.packets import dance_in


def told(steps: str, meter: str = "4/4") -> list[str]:
    dance = dance_in(f"Title: Told\nTempo: 90\nMeter: {meter}\nStarts: right\nSection 1: One\n{steps}\n")
    wall = dance.walls[0]
    return [one.words for one in figures_told(wall, wall.stretches[0], dance.routine)]


@pytest.mark.parametrize(
    ("steps", "words"),
    [
        ("1-2 Walk R, L", ["two walks, right, left."]),
        ("1-3 Walk back R, L, R", ["three walks back, right, left, right."]),
        ("1-4 Sway R, L, R, L", ["four sways, right, left, right, left."]),
        ("1-4 Walk fwd R, L, R, kick L", ["walk forward right, left, right, kick left."]),
        ("1-4 Walk back R, L, R, touch L", ["walk back right, left, right, touch left beside, no weight."]),
        ("1-3 Step R to side, sway L, hold", ["right to the side, sway left, hold."]),
        ("1-2 Step R forward, pivot 1/2 left", ["step forward on the right, half turn left."]),
        ("1-2 Step R to side, touch L beside R", ["right to the side, touch left beside, no weight."]),
        ("1-2 Heel R forward, step R beside L", ["right heel in front, and home."]),
        ("1-2 Rock R forward, recover L", ["rock right forward, recover."]),
        ("1-2 Step R to side, hold", ["right to the side, hold."]),
        ("1&2 Right kick ball change", ["right kick ball change: kick right, ball, left in place."]),
        (
            "1&2 Right kick ball change\n3&4 Right kick ball change",
            ["right kick ball change, twice: kick right, ball, left in place."],
        ),
        (
            "1&2 Right sailor step\n3&4 Left sailor step",
            ["right sailor step: right behind, left to the side, right to the side.", "the same on the left."],
        ),
        (
            '1-2 Rock R back, recover L "back, and go"',
            ["rock right back, recover; called back, and go."],
        ),
    ],
)
def test_a_figure_is_told_as_a_teacher_tells_it(steps: str, words: list[str]) -> None:
    """Common practice, no published source."""
    assert told(steps) == words


def test_a_turn_that_one_step_of_several_takes_is_told_on_that_step() -> None:
    """Common practice, no published source: without it nobody knows on which to turn."""
    steps = "1-3 Left basic waltz forward turning 1/2 left"
    words = "left basic waltz forward: left forward turning half left, right together, left in place."
    assert told(steps.replace("Left", "Right").replace("1/2 left", "1/2 right"), "3/4") == [
        words.replace("left", "LEFT").replace("right", "left").replace("LEFT", "right")
    ]
    chasse = "1&2 Right chasse turning 1/4 right"
    assert told(chasse) == [
        "chasse right: right to the side, left together, right to the side turning a quarter right."
    ]


def test_what_comes_again_is_told_once() -> None:
    heels = "1-2 Heel R forward, step R beside L\n3-4 Heel L forward, step L beside R\n"
    again = "5-6 Heel R forward, step R beside L\n7-8 Heel L forward, step L beside R"
    assert told(heels + again) == [
        "right heel in front, and home.",
        "the same on the left.",
        "and all that again.",
        "",
    ]


def test_each_movement_is_walked_by_itself() -> None:
    dance = dance_in("Title: Told\nTempo: 90\nSection 1: One\n1-2 Walk R, L\n3&4 Right shuffle forward\n")
    wall = dance.walls[0]
    assert movements_told(wall, wall.at, wall.end) == (
        "right forward.",
        "left forward.",
        "right forward.",
        "left together.",
        "right forward.",
    )


def test_what_is_walked_says_which_way_and_what_by_itself() -> None:
    dance = dance_in("Title: Told\nTempo: 90\nSection 1: One\n1-3 Walk back R, L, R\n4 Touch L\n5-8 Sway L, R, L, R\n")
    wall = dance.walls[0]
    assert movements_told(wall, wall.at, wall.end)[:3] == ("right back.", "left back.", "right back.")
    assert movements_told(wall, wall.at, wall.end)[4:] == ("sway left.", "sway right.", "sway left.", "sway right.")
    words = [word for phrase in wall.phrases for word in phrase.each]
    assert words[:3] == ["back"] * 3


def test_a_walk_home_from_a_corner_says_which_way_that_is() -> None:
    steps = "1-2 R fwd to right diagonal, touch L next to R\n3-4 L back to centre, touch R next to L"
    dance = dance_in(f"Title: Told\nStarts: right\nSection 1: One\n{steps}\n")
    wall = dance.walls[0]
    assert movements_told(wall, wall.at, wall.end)[2] == "left back to the centre."
