"""The check's findings at their lines, and again after a save."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.dance.check import check
from caller.routine.findings import Finding, Place
from caller.routine.notation.read import read_bytes
from caller.routine.vocabulary import shipped
from caller.screen.findings import FindingsPage
from caller.screen.plain_text import plain_text
from caller.screen.sheet_rows import Checked, finding_rows
from caller.screen.understood import understood
from tests.screen.seen import lines_of

SHEET = """Title: Chalk Line
Counts: 8
Walls: 1

Section 1: Walk in
1-3    Walk forward R, L, R
4      Touch L beside R
5-7    Walk back L, R, L
"""


def _checked(path: Path) -> Checked:
    read = read_bytes(path.read_bytes(), shipped())
    return Checked(read.text, check(read), understood(read, shipped()))


def _saved(path: Path, text: str, seconds: int) -> None:
    path.write_text(text)
    os.utime(path, (seconds, seconds))


async def test_findings_stand_below_their_lines_and_go_once_the_sheet_is_mended(tmp_path: Path) -> None:
    path = tmp_path / "chalk-line.txt"
    _saved(path, SHEET, 1_000)
    app = FindingsPage(path, _checked)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        page = lines_of(app)
        assert "chalk-line.txt: 1 error" in page[0]
        (at,) = [row for row, line in enumerate(page) if "error: " in line]
        assert "^" in page[at]
        _saved(path, SHEET + "8      Touch R beside L\n", 2_000)
        app.look()
        await pilot.pause()
        page = lines_of(app)
        assert "8      Touch R beside L" in "\n".join(page)
        assert not [line for line in page if "error: " in line]


async def test_a_file_that_is_gone_is_told_and_its_return_is_seen(tmp_path: Path) -> None:
    path = tmp_path / "chalk-line.txt"
    app = FindingsPage(path, _checked)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "chalk-line.txt: can't be read: No such file" in lines_of(app)[0]
        _saved(path, SHEET, 1_000)
        app.look()
        await pilot.pause()
        assert "1 error" in lines_of(app)[0]


async def test_a_file_that_stays_is_not_checked_again(tmp_path: Path) -> None:
    path, checks = tmp_path / "chalk-line.txt", list[Path]()
    _saved(path, SHEET, 1_000)

    def counted(asked: Path) -> Checked:
        checks.append(asked)
        return _checked(asked)

    app = FindingsPage(path, counted)
    async with app.run_test() as pilot:
        app.look()
        app.look()
        await pilot.pause()
    assert checks == [path]


async def test_keys_go_from_finding_to_finding_and_round(tmp_path: Path) -> None:
    path = tmp_path / "long.txt"
    _saved(path, "\n".join(f"line {n}" for n in range(1, 200)), 1_000)
    findings = tuple(Finding(Place(line, 3), "facing", f"[b]odd at {line}") for line in (1, 90, 180))
    app = FindingsPage(path, lambda asked: Checked(asked.read_text(), findings))
    async with app.run_test(size=(80, 24)) as pilot:
        for key, line in (("n", 1), ("n", 90), ("n", 180), ("n", 1), ("p", 180), ("space", 1)):
            await pilot.press(key)
            await pilot.pause()
            assert f"[b]odd at {line} (facing)" in "\n".join(lines_of(app))
        await pilot.press("q")
        assert not app.is_running


@given(st.text(max_size=200), st.lists(st.tuples(st.integers(-2, 30), st.integers(-2, 300)), max_size=5))
def test_every_finding_has_a_row_whatever_the_sheet(text: str, places: list[tuple[int, int]]) -> None:
    findings = [Finding(Place(*place), "caution", text) for place in places]
    rows, begins = finding_rows(Checked(text, findings))
    assert len(begins) == len(findings)
    assert all("advice: " in rows[row + (rows[row].strip() == "^")] for row in begins)
    assert all("\n" not in row and "\x1b" not in row for row in rows)


def test_a_mark_stands_under_its_column() -> None:
    rows, (at,) = finding_rows(Checked("one\ntwo three", [Finding(Place(2, 5), "header", "odd")]))
    assert rows[at].index("^") == rows[at - 1].index("three")


@pytest.mark.parametrize("column", [1, 20, 60, 150])
async def test_no_word_of_a_finding_is_cut(column: int, tmp_path: Path) -> None:
    path = tmp_path / "long.txt"
    _saved(path, "Title: " + "x" * 160, 1_000)
    message = "the sections add up to a good deal more than Counts says, so that one of the two is to be mended"
    app = FindingsPage(path, lambda asked: Checked(asked.read_text(), (Finding(Place(1, column), "header", message),)))
    async with app.run_test(size=(80, 24)) as pilot:
        for width in (80, 60, 120):
            await pilot.resize_terminal(width, 24)
            await pilot.pause()
            told = " ".join(" ".join(line for line in lines_of(app)[2:-3]).replace("^", " ").split())
            assert message in told


@pytest.mark.parametrize("size", [(20, 5), (160, 45)])
async def test_any_size_is_borne(size: tuple[int, int], tmp_path: Path) -> None:
    path = tmp_path / "chalk-line.txt"
    _saved(path, SHEET, 1_000)
    app = FindingsPage(path, _checked)
    async with app.run_test(size=size) as pilot:
        await pilot.press("n", "p")
        assert len(lines_of(app)) == size[1]


def test_what_a_line_was_taken_for_stands_beside_it_where_there_is_room_and_below_it_else() -> None:
    checked = Checked("Title: Copper Pan\n1-2  Walk R, L\n", (), {1: "title", 2: "1 walk R, 2 L"})
    assert finding_rows(checked, 100)[0] == [
        "1  Title: Copper Pan \u2502 title",
        "2  1-2  Walk R, L    \u2502 1 walk R, 2 L",
    ]
    assert finding_rows(checked, 60)[0] == [
        "1  Title: Copper Pan",
        "   = title",
        "2  1-2  Walk R, L",
        "   = 1 walk R, 2 L",
    ]


@given(st.text(max_size=300), st.text(max_size=300), st.integers(20, 200))
def test_no_letter_of_a_line_or_of_what_it_was_taken_for_is_lost(line: str, taken_for: str, width: int) -> None:
    checked = Checked(re.sub(r"[\r\n\f\x0b]", " ", f"1-2{line}"), (), {1: taken_for})
    rows, _ = finding_rows(checked, width)
    shown = "".join(rows)
    for letter in "".join(line.split()) + "".join(plain_text(taken_for).split()):
        assert letter in shown or not letter.isprintable()


@pytest.mark.parametrize(("key", "saved"), [("enter", True), ("q", False), ("escape", False)])
async def test_a_page_that_asks_is_left_with_the_answer(key: str, saved: bool, tmp_path: Path) -> None:
    path = tmp_path / "chalk-line.pdf"
    _saved(path, SHEET, 1_000)
    app = FindingsPage(path, _checked, asks="goes on to save it", name="chalk-line.pdf (a PDF)")
    async with app.run_test(size=(120, 30)) as pilot:
        await pilot.pause()
        page = lines_of(app)
        assert page[0].strip().startswith("chalk-line.pdf (a PDF): ")
        assert any("1-3    Walk forward R, L, R" in row and "1 walk R, 2 L, 3 R" in row for row in page)
        assert "Enter goes on to save it" in page[-1]
        await pilot.press(key)
    assert app.return_value is saved


def test_a_long_line_is_broken_between_words_and_a_mark_stands_under_its_piece() -> None:
    line = "1-4 Step R to side, step L behind R, step R to side, touch L beside R and clap as high as the shoulders"
    column = line.index("clap") + 1
    rows, (at,) = finding_rows(Checked(line, [Finding(Place(1, column), "guess", "odd")], {1: "1 step R"}), 100)
    assert rows[at].index("^") == rows[at - 1].index("clap")
    assert "1 step R" in rows[0]
    assert " ".join(row.split("\u2502")[0].removeprefix("1  ").strip() for row in rows if "^" not in row) == line


def test_what_was_left_out_of_a_file_stands_at_the_end() -> None:
    rows, _ = finding_rows(Checked("1-2  Walk R, L\n", told=["left out: Page 1 of 1"]), 80)
    assert rows[-1] == "left out: Page 1 of 1"
