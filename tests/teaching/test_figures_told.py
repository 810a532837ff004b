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
        ("1-2 Step R forward, pivot 1/2 left", ["step on the right, half turn left."]),
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
        "right.",
        "left.",
        "right forward.",
        "left together.",
        "right forward.",
    )
