"""Leaving the class, whichever way: within a second, and with the terminal as it was. On a real (pseudo-)terminal."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("a pseudo-terminal is POSIX's", allow_module_level=True)

from tests.parts.terminal import Terminal

pytestmark = pytest.mark.parts

DANCE = ("dance", "Lantern Row", "--sound", "none", "--pedal", "none")
# What Textual switches on and has to switch off again (xterm's private modes: other screen, cursor).
ON, OFF, CURSOR = b"\x1b[?1049h", b"\x1b[?1049l", b"\x1b[?25h"
FAULTY = """
from caller.session import Session
looks = []
def look(self):
    looks.append(1)
    if len(looks) > 3:
        raise ZeroDivisionError("counts divided by no bars")
    return true_look(self)
true_look, Session.look = Session.look, look
from caller.cli import main
raise SystemExit(main({words!r}))
"""


@pytest.fixture
def started(tmp_path: Path) -> Iterator[Callable[..., Terminal]]:
    made: list[Terminal] = []
    folders = {f"XDG_{kind}_HOME": str(tmp_path / kind.lower()) for kind in ("CONFIG", "STATE", "DATA")}

    def start(*command: str) -> Terminal:
        made.append(Terminal(command, {**os.environ, **folders}))
        return made[-1]

    yield start
    for terminal in made:
        terminal.close()


def is_as_it_was(terminal: Terminal) -> bool:
    return terminal.written.rfind(OFF) > terminal.written.rfind(ON) > -1 and terminal.now == terminal.before


def test_the_key_leaves_within_a_second_and_the_terminal_is_as_it_was(started: Callable[..., Terminal]) -> None:
    terminal = started("-m", "caller", *DANCE)
    terminal.reads_until(ON, 20)
    terminal.reads_until(b"Lantern Row", 20)
    terminal.types("q")
    assert terminal.reads_until(OFF, 5) < 1
    assert terminal.ends(5) < 3  # the interpreter's own end is in it, on a machine that may be busy
    assert terminal.process.returncode == 0
    assert is_as_it_was(terminal)
    assert terminal.written.rfind(CURSOR) > -1


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_leaves_the_same_way(started: Callable[..., Terminal], number: int) -> None:
    terminal = started("-m", "caller", *DANCE)
    terminal.reads_until(b"Lantern Row", 20)
    terminal.process.send_signal(number)
    assert terminal.reads_until(OFF, 5) < 1
    assert terminal.ends(5) < 3
    assert terminal.process.returncode == 128 + number
    assert is_as_it_was(terminal)


def test_a_fault_of_ours_gives_the_terminal_back_and_names_the_log(
    started: Callable[..., Terminal], tmp_path: Path
) -> None:
    terminal = started("-c", FAULTY.format(words=list(DANCE)))
    terminal.reads_until(ON, 20)
    terminal.ends(10)
    log = tmp_path / "state" / "caller" / "log" / "crash.log"
    assert terminal.process.returncode == 1
    assert is_as_it_was(terminal)
    told = terminal.written[terminal.written.rfind(OFF) :].decode()
    assert "counts divided by no bars" in told
    assert str(log) in told.replace("\r\n", "")
    assert "ZeroDivisionError: counts divided by no bars" in log.read_text()


def test_a_signal_ends_the_plain_mode_too(started: Callable[..., Terminal]) -> None:
    terminal = started("-m", "caller", *DANCE, "--plain")
    terminal.reads_until(b"Tempo", 20)
    terminal.process.send_signal(signal.SIGTERM)
    assert terminal.ends(5) < 3
    assert terminal.process.returncode == 128 + signal.SIGTERM
    assert terminal.now == terminal.before
