"""A terminal with 256 characters: nothing is drawn that it has not."""

from __future__ import annotations

import ast
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from textual.app import App
from textual.scrollbar import ScrollBarRender

from caller import screen
from caller.rig.clicking import SteadyClick
from caller.screen.app import ClassScreen
from caller.screen.console import few_characters, in_few
from caller.screen.offset import OffsetPage
from caller.screen.picker import Picker
from caller.transport.state import State
from tests.fakes.room import TAG_IN_8, FakeSession, view_of
from tests.fakes.speaker import HandSpeaker
from tests.screen.seen import lines_of
from tests.screen.test_class_screen import LANTERN

# What Textual draws scroll bars with, beside blanks.
SCROLL_BARS = "".join(sign for bar in (ScrollBarRender.VERTICAL_BARS, ScrollBarRender.HORIZONTAL_BARS) for sign in bar)
# These tell of other characters, and draw none of them.
NO_SCREENS = ("console", "plain_text")
# Code page 437 as Python's own codec has it, and so Unicode's table for it (CP437.TXT).
FONT = frozenset(bytes(range(32, 256)).decode("cp437"))


@given(st.text())
def test_any_text_is_as_wide_in_few_characters(text: str) -> None:
    shown = in_few(text)
    assert FONT.issuperset(character for character in shown if ord(character) > 126)
    assert cell_len(shown) == cell_len(text)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Café – “on 1”…", 'Café - "on 1".'),
        ("Őrség", "Orség"),
        ("踊り", "????"),
        ("▀▄█ 12:00 →", "▀▄█ 12:00 >"),
        ("▶ walk ★ ▇▇ †", "> walk * ██ +"),
    ],
)
def test_what_is_shown_instead(text: str, shown: str) -> None:
    assert in_few(text) == shown


def test_which_terminals_have_few() -> None:
    told = {name: few_characters({"TERM": name}) for name in ("linux", "vt220", "xterm-256color", "tmux")}
    assert told == {"linux": True, "vt220": True, "xterm-256color": False, "tmux": False}
    assert not few_characters({})


def pages() -> dict[str, App[Any]]:
    rows = [{"title": f"Sträße {n} – ő", "path": str(n), "counts": 32, "walls": 4, "tempo": 100} for n in range(60)]
    speaker = HandSpeaker()
    shows = replace(view_of(coming=(TAG_IN_8,)), state=State.RUNNING, cannot=("Not in time…",), notices=("“So”.",))
    return {
        "picker": Picker(rows),
        "offset": OffsetPage(SteadyClick(speaker, speaker.now), ["pulse"], lambda device: 20.0, (-50, 500)),
        "class": ClassScreen(FakeSession(shows, dance=LANTERN)),
    }


async def drawn(app: App[Any]) -> set[str]:
    """Every character of a page, of its help and of its typed line, at 80x24."""
    seen: set[str] = set()
    async with app.run_test(size=(80, 24)) as pilot:
        for key in ("", "question_mark", "escape", "slash"):
            if key:
                await pilot.press(key)
            await pilot.pause()
            seen |= set("".join(lines_of(app)))
    return seen


@pytest.mark.parametrize("page", ["picker", "offset", "class"])
async def test_a_page_draws_only_what_the_linux_console_has(page: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "linux")
    seen = await drawn(pages()[page])
    assert seen - FONT == set()
    assert len(seen) > 10


def of_the_screen() -> set[str]:
    """Every character that stands in the screen's own code."""
    texts = [file.read_text("utf-8") for file in Path(screen.__path__[0]).glob("*.py") if file.stem not in NO_SCREENS]
    words = [node.value for text in texts for node in ast.walk(ast.parse(text)) if isinstance(node, ast.Constant)]
    return {character for word in words if isinstance(word, str) for character in word}


def test_no_sign_of_the_screen_is_a_question_mark_there() -> None:
    broken = {sign for sign in of_the_screen() | set(SCROLL_BARS) if sign != "?" and in_few(sign) == "?"}
    assert broken == set()


async def test_other_terminals_get_all(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    assert "ő" in await drawn(pages()["picker"])
