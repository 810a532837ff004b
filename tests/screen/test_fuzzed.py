"""Any text in any place of the screen, of the picker and of the findings: shown as text, within its place, no mark of
it obeyed."""

from __future__ import annotations

import unicodedata
from dataclasses import fields, replace
from itertools import cycle
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from rich.cells import cell_len
from textual.app import App

from caller.calls.glance import Coming
from caller.routine.facing import Facing, Turn
from caller.routine.findings import Finding, Place
from caller.routine.step import Foot
from caller.screen.app import ClassScreen
from caller.screen.board import Board, Large, Side
from caller.screen.captions import Caption
from caller.screen.course import CoursePiece, OrderWall, Strip
from caller.screen.findings import FindingsPage
from caller.screen.picker import Picker
from caller.screen.plain_text import plain_text
from caller.screen.sheet_rows import Checked
from caller.session import View
from caller.transport.state import State
from tests.fakes.room import GLANCE, VIEW, Clock, FakeSession
from tests.screen.seen import lines_of

MARKUP = st.sampled_from(["[red]", "[/]", "[@click=app.quit]x[/]", "\\[", "[bold", "\x1b[2J", "\u202e", "${paper}"])
TEXT = st.one_of(
    st.text(alphabet=st.characters(codec=None), max_size=40), st.lists(MARKUP | st.text(max_size=6)).map("".join)
)
# What stands on a board has been made plain already; what comes in a view has not.
PLAIN = TEXT.map(plain_text)
WORDINGS = st.lists(PLAIN, min_size=1, max_size=3).map(tuple)
LINES = st.lists(PLAIN, max_size=4).map(tuple)
PIECES = st.builds(CoursePiece, PLAIN, st.integers(1, 64), st.sampled_from([(), ((2, 4),), ((0, 99),)]))
WALLS = st.builds(OrderWall, st.integers(1, 99), PLAIN, st.builds(Facing, st.integers(0, 7)), LINES)
SIDES = st.builds(
    Side,
    st.sampled_from(["", "3", "48"]) | PLAIN,
    st.integers(0, 11),
    st.integers(0, 12),
    st.none() | st.sampled_from(Foot),
    st.none() | st.builds(Facing, st.integers(0, 7)),
    st.builds(Turn, st.integers(-24, 24)),
    PLAIN,
    PLAIN,
    st.booleans(),
)
BOARDS = st.builds(
    Board,
    state=PLAIN,
    moving=st.booleans(),
    title=PLAIN,
    section=PLAIN,
    wall=WORDINGS,
    tempo=WORDINGS,
    holds=LINES,
    large=st.builds(Large, WORDINGS, PLAIN, WORDINGS),
    side=SIDES,
    coming=PLAIN,
    caption=st.builds(Caption, PLAIN, st.booleans()),
    listed=LINES,
    marked=st.integers(-1, 12),
    strip=st.none() | st.builds(Strip, st.lists(PIECES, max_size=9).map(tuple), PLAIN, st.integers(0, 500), PLAIN),
    order=st.lists(WALLS, max_size=30).map(tuple),
    order_now=st.integers(0, 99),
    status=LINES,
    notices=LINES,
)


def _view(words: list[str], state: State) -> View:
    """A view with other words wherever there are words, used in turn."""
    turn = cycle(words)
    glance = replace(GLANCE, **{field.name: next(turn) for field in fields(GLANCE) if field.type == "str"})
    glance = replace(glance, coming=(Coming(next(turn), 3, next(turn)),))
    told = {field.name: next(turn) for field in fields(View) if field.type == "str"}
    return replace(VIEW, glance=glance, state=state, notices=(next(turn),), cannot=(next(turn),), **told)


VIEWS = st.builds(_view, st.lists(TEXT, min_size=1, max_size=12), st.sampled_from(State))
SIZES = st.sampled_from([(80, 24), (100, 30), (160, 45), (60, 20), (24, 9)])
# Not shrunk: each example runs a screen, and what fails is short enough.
few = settings(
    max_examples=8,
    suppress_health_check=list(HealthCheck),
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
)


def shown_as_text(app: App[Any], size: tuple[int, int]) -> None:
    lines = lines_of(app)
    assert len(lines) == size[1]
    for line in lines:
        assert cell_len(line) == size[0]
        assert not [sign for sign in line if unicodedata.category(sign) in ("Cc", "Cf", "Cs", "Co", "Cn")]
    assert app.is_running


@few
@given(st.lists(BOARDS, min_size=3, max_size=8), SIZES)
async def test_the_places_of_the_class_screen(boards: list[Board], size: tuple[int, int]) -> None:
    app = ClassScreen(FakeSession())
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        for board in boards:
            assert app._room is not None
            app._room.show(board)
            await pilot.pause()
            shown_as_text(app, size)


@few
@given(st.lists(VIEWS, min_size=3, max_size=8), SIZES)
async def test_the_class_screen(views: list[View], size: tuple[int, int]) -> None:
    session, clock = FakeSession(), Clock()
    app = ClassScreen(session, clock)
    async with app.run_test(size=size) as pilot:
        for view in views:
            session.shows = view
            clock.seconds += 2
            app.look()
            await pilot.pause()
            shown_as_text(app, size)


@few
@given(
    st.lists(st.fixed_dictionaries({"title": TEXT, "level": TEXT, "path": st.just("x")}), min_size=1, max_size=6), TEXT
)
async def test_the_picker(rows: list[dict[str, Any]], typed: str) -> None:
    app = Picker(rows)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        shown_as_text(app, (80, 24))
        app._line.value = "".join(sign for sign in typed if sign.isprintable())
        await pilot.pause()
        shown_as_text(app, (80, 24))


@few
@given(TEXT, TEXT, TEXT)
async def test_the_findings(name: str, sheet: str, message: str) -> None:
    finding = Finding(Place(1, 2), "facing", message)
    app = FindingsPage(Path(__file__), lambda path: Checked(f"Title: {name}\n{sheet}\n", (finding,)))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("n")
        await pilot.pause()
        shown_as_text(app, (80, 24))


@pytest.mark.parametrize("words", ["w" * 200, "ẅ̈́̈" * 50, "日本" * 60, "a" * 3 + " " * 90 + "b"])
async def test_a_word_wider_than_the_screen(words: str) -> None:
    app = ClassScreen(FakeSession())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        board = app._board
        assert board is not None
        assert app._room is not None
        app._room.show(replace(board, title=words, section=words))
        await pilot.pause()
        shown_as_text(app, (80, 24))
