"""The terminal given back, and the foot heeded between two looks."""

from __future__ import annotations

import asyncio
import os
import signal
import sys
from pathlib import Path

import pytest

from caller.screen.app import LISTENS_A_SECOND, LOOKS_A_SECOND, ClassScreen
from caller.screen.terminal import FullScreen, leaving_by_signal, run_on_terminal
from tests.fakes.room import FakeSession

FIVE_LOOKS = 5 * LISTENS_A_SECOND // LOOKS_A_SECOND


class Heeding(FakeSession):
    """Says so once its pedal has been asked for as often as it is in five looks."""

    def __init__(self) -> None:
        super().__init__()
        self.heeded = asyncio.Event()
        self.asked = 0

    def listen(self) -> None:
        self.asked += 1
        if self.asked == FIVE_LOOKS:
            self.heeded.set()


async def test_the_pedal_is_asked_without_waiting_for_a_look() -> None:
    session = Heeding()
    app = ClassScreen(session)
    async with app.run_test():
        await asyncio.wait_for(session.heeded.wait(), 20)
    assert session.asked >= FIVE_LOOKS


@pytest.mark.skipif(sys.platform == "win32", reason="uses POSIX signals")
def test_a_signal_outside_the_screens_own_time_ends_it_too() -> None:
    with pytest.raises(SystemExit) as ended, leaving_by_signal(FullScreen()) as came:
        os.kill(os.getpid(), signal.SIGTERM)
    assert came == [signal.SIGTERM]
    assert ended.value.code == 128 + signal.SIGTERM


def test_a_log_that_can_not_be_written_is_told_and_the_terminal_left_alone(tmp_path: Path) -> None:
    before = sys.__stderr__
    with pytest.raises(OSError, match="no such folder"):
        run_on_terminal(FullScreen(), tmp_path / "no such folder" / "screen.log")
    assert sys.__stderr__ is before
