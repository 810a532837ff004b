"""Contrast, few colours, none at all, and nothing that flashes: measured on the running screen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from rich.color import ColorSystem
from rich.style import Style
from textual import events
from textual.app import App

from caller.rig.clicking import SteadyClick
from caller.routine.findings import Finding, Place
from caller.screen.app import ClassScreen
from caller.screen.findings import FindingsPage
from caller.screen.looks import Look
from caller.screen.offset import OffsetPage
from caller.screen.picker import Picker
from caller.screen.sheet_rows import Checked
from caller.transport.state import State
from tests.fakes.room import TAG_IN_8, VIEW, Clock, FakeSession, view_of
from tests.fakes.speaker import HandSpeaker
from tests.screen.seen import lines_of
from tests.screen.test_class_screen import LANTERN

SIZES = [(80, 24), (100, 30), (160, 45)]
Rgb = tuple[int, int, int]


def _luminance(colour: Rgb) -> float:
    """Relative luminance as WCAG 2 defines it."""
    parts = [part / 255 for part in colour]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Rgb, other: Rgb) -> float:
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_measure_agrees_with_published_pairs() -> None:
    # WCAG 1.4.3 and 1.4.6: #767676 on white 4.54, #777777 4.48, #595959 7.00.
    white = (255, 255, 255)
    found = [round(contrast((grey, grey, grey), white), 2) for grey in (0x76, 0x77, 0x59)]
    assert found == [4.54, 4.48, 7.0]


def _styles(app: App[Any]) -> Iterator[Style]:
    """Every style that something visible is drawn in."""
    for strip in app.screen._compositor.render_strips():
        for segment in strip:
            if segment.text.strip() and segment.style is not None:
                yield segment.style


def _pairs(app: App[Any], few: bool = False) -> set[tuple[Rgb, Rgb]]:
    """The (ink, ground) pairs on the screen; few: as a terminal of 16 colours shows them."""
    pairs = set()
    for style in _styles(app):
        assert style.color is not None
        assert style.bgcolor is not None
        both = [
            (colour.downgrade(ColorSystem.STANDARD) if few else colour).get_truecolor()
            for colour in (style.color, style.bgcolor)
        ]
        ink, ground = reversed(both) if style.reverse else both
        pairs.add((tuple(ink), tuple(ground)))
    return pairs


async def _all_pairs(few: bool = False, look: Look = Look.DARK) -> set[tuple[Rgb, Rgb]]:
    """Of every state, with a warning, a notice, the focus lost and the help page."""
    pairs: set[tuple[Rgb, Rgb]] = set()
    session, clock = FakeSession(dance=LANTERN), Clock()
    app = ClassScreen(session, clock, look)
    async with app.run_test(size=(100, 30)) as pilot:
        for state in State:
            clock.seconds += 2
            notices = ("A notice.",) if state is State.PAUSED else ()
            session.shows = replace(view_of(coming=(TAG_IN_8,)), state=state, cannot=("Not in time.",), notices=notices)
            app.look()
            await pilot.pause()
            pairs |= _pairs(app, few)
        app.post_message(events.AppBlur())
        await pilot.pause()
        pairs |= _pairs(app, few)
        await pilot.press("question_mark")
        pairs |= _pairs(app, few)
        await pilot.press("escape", "slash")
        await pilot.pause()
        pairs |= _pairs(app, few)
    return pairs


@pytest.mark.parametrize("look", Look)
async def test_every_ink_stands_out_seven_to_one(look: Look) -> None:
    pairs = await _all_pairs(look=look)
    assert len(pairs) >= 8
    assert min(contrast(*pair) for pair in pairs) >= 7  # WCAG 1.4.6


@pytest.mark.parametrize("look", Look)
async def test_sixteen_colours_are_enough(look: Look) -> None:
    # The 16 colours as the terminal library takes them to be; a terminal may have others.
    assert min(contrast(*pair) for pair in await _all_pairs(few=True, look=look)) >= 7


@pytest.mark.parametrize("few", [False, True])
@pytest.mark.parametrize("look", Look)
async def test_the_pages_to_pick_to_mend_and_to_set_stand_out_as_much(look: Look, few: bool, tmp_path: Path) -> None:
    rows = [{"title": f"Dance {n}", "path": str(n), "counts": 32, "walls": 4, "tempo": 100} for n in range(60)]
    sheet = tmp_path / "sheet.txt"
    sheet.write_text("Title: x\n" * 60)
    finding = Finding(Place(2, 3), "facing", "odd")
    speaker = HandSpeaker()
    pages: tuple[App[Any], ...] = (
        Picker(rows, look),
        FindingsPage(sheet, lambda path: Checked(path.read_text(), (finding,)), look),
        OffsetPage(SteadyClick(speaker, speaker.now), ["pulse"], lambda device: 20.0, (-50, 500), look),
    )
    for app in pages:
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            pairs = _pairs(app, few)
            await pilot.press("d")
            await pilot.pause()
            pairs |= _pairs(app, few)
        assert len(pairs) >= 2
        assert min(contrast(*pair) for pair in pairs) >= 7


async def test_one_key_changes_from_dark_to_light_and_back() -> None:
    app = ClassScreen(FakeSession())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        dark = _pairs(app)
        await pilot.press("d")
        await pilot.pause()
        assert all(_luminance(paper) > _luminance(ink) for ink, paper in _pairs(app))
        await pilot.press("d")
        await pilot.pause()
        assert _pairs(app) == dark


@pytest.mark.parametrize("look", Look)
async def test_without_colours_everything_is_still_there(look: Look, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")  # no-color.org
    pairs = await _all_pairs(look=look)
    assert all(len(set(colour)) == 1 for pair in pairs for colour in pair), "greys only"
    assert min(contrast(*pair) for pair in pairs) >= 7


@pytest.mark.parametrize("size", SIZES)
async def test_nothing_blinks_and_nothing_is_dimmed(size: tuple[int, int]) -> None:
    app = ClassScreen(FakeSession(view_of(coming=(TAG_IN_8,))))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        assert not [s for s in _styles(app) if s.blink or s.blink2 or s.dim]
        assert app.animation_level == "none"


async def test_the_two_feet_differ_without_colour() -> None:
    from caller.routine.step import Foot

    shown = []
    for foot in Foot:
        app = ClassScreen(FakeSession(replace(VIEW, glance=view_of(foot=foot).glance)))
        async with app.run_test(size=(100, 30)) as pilot:
            await pilot.pause()
            shown.append(lines_of(app))
    assert shown[0] != shown[1]
