"""WCAG 2.3.1 on the class screen as drawn, at tempi faster than any class; and that the measure tells a strobe."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from caller.cli.amounts import FASTEST
from caller.screen.app import ClassScreen
from caller.screen.looks import Look
from caller.transport.order import Order
from tests.screen.flashes import MOST_CHANGES, Picture, Terminal, Worst, luminances, most_of_field, worst_second
from tests.session.classroom import Class

PICTURES_A_SECOND = 20
SECONDS = 6


def _flicker(times_a_second: float, part: tuple[int, int], seconds: int = 3) -> Worst:
    """Of 768 x 1024 pixels, the first rows and columns black and white in turn."""

    def picture(number: int) -> Picture:
        shown = np.ones((96, 128))
        lit = int(number * times_a_second * 2 / 60) % 2
        shown[: part[0], : part[1]] = lit
        return shown

    return worst_second((number / 60, picture(number)) for number in range(60 * seconds))


def test_a_strobe_is_told_from_what_is_allowed() -> None:
    assert not _flicker(4, (96, 128)).safe
    assert not _flicker(4, (20, 28)).safe, "more than a quarter of a field of 32 x 43"
    assert _flicker(4, (16, 20)).safe, "less than a quarter of one"
    assert _flicker(3, (96, 128)).safe, "three a second may be"
    assert _flicker(3, (96, 128)).at_a_place == MOST_CHANGES


def test_small_changes_light_ones_and_slow_rises_are_no_flashes() -> None:
    def worst(*levels: float) -> int:
        pictures = ((place / 20, np.full((3, 3), level)) for place, level in enumerate(levels))
        return worst_second(pictures).at_a_place

    assert worst(*[0.30, 0.39] * 10) == 0
    assert worst(*[0.80, 1.00] * 10) == 0
    assert worst(*[level / 20 for level in range(20)]) == 1
    assert worst(0.0, 0.06, 0.12, 0.06, 0.0) == 2


def test_the_field_is_found_wherever_it_lies() -> None:
    places = np.zeros((30, 60), dtype=np.bool_)
    places[13:18, 35:45] = True
    assert most_of_field(places) == 50 / (10 * 20)


def test_luminance_is_that_of_published_colours() -> None:
    # CSS Color 4's examples of sRGB: white 1, black 0; WCAG's #767676 has 4.54 : 1 on white, so 1.05 / 4.54 - 0.05.
    found = luminances(np.array([(255, 255, 255), (0, 0, 0), (0x76, 0x76, 0x76)], dtype=np.uint8))
    assert found == pytest.approx([1, 0, 1.05 / 4.54 - 0.05], abs=5e-4)


@pytest.mark.parametrize(
    ("size", "tempo", "look"),
    [((80, 24), FASTEST, Look.DARK), ((100, 30), 220, Look.LIGHT)],
)
async def test_the_class_screen_does_not_flash_at_any_tempo(size: tuple[int, int], tempo: int, look: Look) -> None:
    room, terminal = Class(tempo=Fraction(tempo)), Terminal()
    app = ClassScreen(room.session, room.speaker.now, look)
    pictures: list[tuple[float, Picture]] = []
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        room.session.obey(Order.GO)
        for number in range(PICTURES_A_SECOND * SECONDS):
            room.speaker.advance(room.speaker.rate // PICTURES_A_SECOND)
            app.look()
            await pilot.pause()
            pictures.append((number / PICTURES_A_SECOND, terminal.picture(app)))
    worst = worst_second(pictures)
    assert worst.at_a_place > 0, "the count changes"
    assert worst.safe, worst


@pytest.mark.parametrize("key", ["space", "d", "question_mark"])
async def test_a_key_that_is_held_makes_nothing_flash(key: str) -> None:
    room, terminal = Class(tempo=Fraction(120)), Terminal()
    app = ClassScreen(room.session, room.speaker.now)
    pictures: list[tuple[float, Picture]] = []
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        room.session.obey(Order.GO)
        for number in range(PICTURES_A_SECOND * 2):
            room.speaker.advance(room.speaker.rate // PICTURES_A_SECOND)
            await pilot.press(key)
            app.look()
            await pilot.pause()
            pictures.append((number / PICTURES_A_SECOND, terminal.picture(app)))
    worst = worst_second(pictures)
    assert worst.at_once > 0, "something changes"
    assert worst.safe, worst
