"""Contrast, few colours, none at all, and nothing that flashes: measured on the running screen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from rich.color import ColorSystem
from rich.console import Console
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


Shows = Callable[[Style], tuple[Rgb, Rgb]]


def in_full(style: Style) -> tuple[Rgb, Rgb]:
    """Ink and ground as a terminal of all colours shows them."""
    assert style.color is not None
    assert style.bgcolor is not None
    both = [tuple(colour.get_truecolor()) for colour in (style.color, style.bgcolor)]
    ink, ground = reversed(both) if style.reverse else both
    return ink, ground


def _pairs(app: App[Any], shows: Shows = in_full) -> set[tuple[Rgb, Rgb]]:
    """The (ink, ground) pairs on the screen."""
    return {shows(style) for style in _styles(app)}


# 0 to 15 of the Linux console, and of xterm (its XTerm-col resources).
CONSOLE = (
    "000000 aa0000 00aa00 aa5500 0000aa aa00aa 00aaaa aaaaaa 555555 ff5555 55ff55 ffff55 5555ff ff55ff 55ffff ffffff"
)
XTERM = (
    "000000 cd0000 00cd00 cdcd00 0000ee cd00cd 00cdcd e5e5e5 7f7f7f ff0000 00ff00 ffff00 5c5cff ff00ff 00ffff ffffff"
)


def in_sixteen(style: Style, colours: str = XTERM, grounds: int = 16) -> tuple[Rgb, Rgb]:
    """As a terminal of 16 colours shows them, where bold letters are drawn in the brighter ink."""
    assert style.color is not None
    assert style.bgcolor is not None
    numbers = [colour.downgrade(ColorSystem.STANDARD).number or 0 for colour in (style.color, style.bgcolor)]
    ink, ground = reversed(numbers) if style.reverse else numbers
    ink |= 8 if style.bold else 0
    shown = [bytes.fromhex(colours.split()[number]) for number in (ink, ground % grounds)]
    return tuple(shown[0]), tuple(shown[1])  # type: ignore[return-value]


def on_the_console(style: Style) -> tuple[Rgb, Rgb]:
    """As the Linux console does, which has no bright ground (console_codes(4))."""
    return in_sixteen(style, CONSOLE, grounds=8)


# Each with what the terminal calls itself.
FEW = {"xterm-16color": in_sixteen, "linux": on_the_console}


@pytest.fixture(autouse=True)
def many(monkeypatch: pytest.MonkeyPatch) -> None:
    """A terminal of all colours, whatever the tests are run on."""
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setattr(Console, "color_system", "truecolor")


@pytest.fixture
def few(request: pytest.FixtureRequest, many: None, monkeypatch: pytest.MonkeyPatch) -> Shows:
    """A terminal of few colours, as the program finds it."""
    monkeypatch.setenv("TERM", request.param)
    monkeypatch.setattr(Console, "color_system", "standard")
    return FEW[request.param]


async def _all_pairs(look: Look, shows: Shows = in_full) -> set[tuple[Rgb, Rgb]]:
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
            pairs |= _pairs(app, shows)
        app.post_message(events.AppBlur())
        await pilot.pause()
        pairs |= _pairs(app, shows)
        await pilot.press("question_mark")
        pairs |= _pairs(app, shows)
        await pilot.press("escape", "slash")
        await pilot.pause()
        pairs |= _pairs(app, shows)
    return pairs


@pytest.mark.parametrize("look", Look)
async def test_every_ink_stands_out_seven_to_one(look: Look) -> None:
    pairs = await _all_pairs(look)
    assert len(pairs) >= 8
    assert min(contrast(*pair) for pair in pairs) >= 7  # WCAG 1.4.6


@pytest.mark.parametrize("few", FEW, indirect=True)
@pytest.mark.parametrize("look", Look)
async def test_sixteen_colours_are_enough(look: Look, few: Shows) -> None:
    assert min(contrast(*pair) for pair in await _all_pairs(look, few)) >= 7


@pytest.mark.parametrize("look", Look)
async def test_the_pages_to_pick_to_mend_and_to_set_stand_out_as_much(look: Look, tmp_path: Path) -> None:
    await _pages_stand_out(look, in_full, tmp_path)


@pytest.mark.parametrize("few", FEW, indirect=True)
@pytest.mark.parametrize("look", Look)
async def test_those_pages_stand_out_in_sixteen_colours(look: Look, few: Shows, tmp_path: Path) -> None:
    await _pages_stand_out(look, few, tmp_path)


async def _pages_stand_out(look: Look, shows: Shows, tmp_path: Path) -> None:
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
            pairs = _pairs(app, shows)
            await pilot.press("d")
            await pilot.pause()
            pairs |= _pairs(app, shows)
        assert len(pairs) >= (2 if shows is in_full else 1)  # few colours may be black and grey alone
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
    pairs = await _all_pairs(look)
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
