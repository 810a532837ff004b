"""Picking a routine: what a typed line finds, and the page it is typed on."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.screen.picker import Picker
from caller.screen.search import found
from tests.screen.seen import lines_of


def _row(title: str, counts: int, walls: int | None, level: str, tempo: float | None) -> dict[str, object]:
    facts = {"title": title, "counts": counts, "walls": walls, "level": level, "tempo": tempo}
    return {**facts, "path": f"/sheets/{title}.txt", "ok": True}


ROWS = [
    _row("Chalk Line", 16, 1, "beginner", 96),
    _row("Copper Kettle", 32, 4, "beginner", 104.5),
    _row("Lantern Row", 32, 4, "improver", 108),
    _row("Slate and Feather", 48, 2, "improver", None),
    _row("32 Steps", 64, 2, "", 120),
]


@pytest.mark.parametrize(
    ("line", "titles"),
    [
        ("", ["Chalk Line", "Copper Kettle", "Lantern Row", "Slate and Feather", "32 Steps"]),
        ("row", ["Lantern Row"]),
        ("LINE chalk", ["Chalk Line"]),
        ("beginner", ["Chalk Line", "Copper Kettle"]),
        ("32 counts", ["Copper Kettle", "Lantern Row"]),
        ("counts: 32 improver", ["Lantern Row"]),
        ("4 wall", ["Copper Kettle", "Lantern Row"]),
        ("2 walls 48 counts", ["Slate and Feather"]),
        ("32", ["32 Steps"]),
        ("tempo 100-110", ["Copper Kettle", "Lantern Row"]),
        ("tempo 96", ["Chalk Line"]),
        ("tempo 104.5", ["Copper Kettle"]),
        ("under 100", ["Chalk Line"]),
        ("faster than 107", ["Lantern Row", "32 Steps"]),
        ("improver 4 walls over 110", []),
        ("[red]", []),
    ],
)
def test_a_line_finds_what_it_says(line: str, titles: list[str]) -> None:
    assert [row["title"] for row in found(ROWS, line)] == titles


@given(st.text(max_size=40))
def test_any_line_finds_some_of_them_in_their_order(line: str) -> None:
    kept = found(ROWS, line)
    assert [row for row in ROWS if row in kept] == kept


async def test_typing_searches_and_enter_takes_the_one_marked() -> None:
    app = Picker(ROWS)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"beginner")
        await pilot.pause()
        page = "\n".join(lines_of(app))
        assert "2 of 5 routines" in page
        assert "Copper Kettle  32 counts  4 walls  beginner  104.5 a minute" in page
        assert "Lantern Row" not in page
        await pilot.press("down", "down", "enter")
    assert app.return_value == Path("/sheets/Copper Kettle.txt")


async def test_nothing_found_is_told_and_nothing_is_taken() -> None:
    app = Picker(ROWS)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"zzz", "enter", "down", "up")
        await pilot.pause()
        assert "0 of 5 routines: fewer words find more." in "\n".join(lines_of(app))
        assert app.is_running
        await pilot.press("escape")
    assert app.return_value is None


@pytest.mark.parametrize("title", ["[red]x[/]", "\x1b[2Jgone", "日本語", "[@click=app.quit]q[/]", ""])
async def test_nasty_titles_are_shown_as_text(title: str) -> None:
    app = Picker([_row(title, 32, 4, title, 100)])
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        page = "\n".join(lines_of(app))
        assert "32 counts" in page
        assert "\x1b" not in page
        assert "[" not in title or title.startswith("\x1b") or title in page


async def test_no_routine_at_all_is_borne() -> None:
    app = Picker([])
    async with app.run_test(size=(40, 10)) as pilot:
        await pilot.press("enter", "down", "ctrl+c")
    assert app.return_value is None
