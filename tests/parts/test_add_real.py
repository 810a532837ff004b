"""A printed sheet added on a real (pseudo-)terminal: the page, the questions, the file."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("a pseudo-terminal is POSIX's", allow_module_level=True)

from tests.intake.files_made import FOLDER
from tests.parts.terminal import Terminal

pytestmark = pytest.mark.parts
SECONDS = 60.0  # as long as a page may take to come on a busy machine


@pytest.fixture
def adding(tmp_path: Path) -> Iterator[Callable[..., Terminal]]:
    made: list[Terminal] = []

    def start(*words: str) -> Terminal:
        environment = {**os.environ, "CALLER_ROUTINES": str(tmp_path)}
        made.append(Terminal(("-m", "caller", "add", *words), environment))
        return made[-1]

    yield start
    for terminal in made:
        terminal.close()


def test_the_page_is_left_for_the_questions_and_the_answers_are_saved(
    adding: Callable[..., Terminal], tmp_path: Path
) -> None:
    terminal = adding(str(FOLDER / "columns.pdf"))
    terminal.reads_until(b"goes on to save it", SECONDS)
    assert b"columns.pdf (a PDF)" in terminal.written
    terminal.types("\r")
    terminal.reads_until(b"At which tempo", SECONDS)
    terminal.types("104\n")
    for _ in range(3):  # what the author's own words leave unsure is let be
        terminal.types("\n")
    terminal.ends(SECONDS)
    assert terminal.now == terminal.before
    text = (tmp_path / "coffee-at-the-office.txt").read_text(encoding="utf-8")
    assert "Tempo: 104\n" in text
    assert "if you are enjoying yourselves" in text


def test_left_with_q_nothing_is_saved(adding: Callable[..., Terminal], tmp_path: Path) -> None:
    terminal = adding(str(FOLDER / "columns.pdf"))
    terminal.reads_until(b"goes on to save it", SECONDS)
    terminal.types("q")
    terminal.ends(SECONDS)
    assert terminal.process.returncode == 1
    assert b"not saved" in terminal.written
    assert list(tmp_path.iterdir()) == []


def test_plain_shows_lines_and_asks(adding: Callable[..., Terminal], tmp_path: Path) -> None:
    terminal = adding("--plain", str(FOLDER / "columns.pdf"))
    terminal.reads_until(b"At which tempo", SECONDS)
    assert b"\x1b[?1049h" not in terminal.written
    assert b"= 3 step R forward, 3& step L beside R, 4 step R forward" in terminal.written
    terminal.types("\n" * 4)
    terminal.ends(SECONDS)
    assert (tmp_path / "coffee-at-the-office.txt").is_file()
