"""The player's process: ``python -m caller.rig.stream BOARD RATE LATENCY_SECONDS WISH``, orders on stdin.

It ends when stdin does, so it never outlives whoever started it.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
import threading
import time
import traceback
from pathlib import Path
from typing import BinaryIO

from caller.rig.stream.board import SharedBoard
from caller.rig.stream.player import Inbox, Player
from caller.rig.stream.sink import sink_opener
from caller.rig.stream.wire import Unpacker

BROKEN, STALLED = 1, 3
GLANCE_SECONDS = 0.1
LONGEST_LOG_BYTES = 1_000_000


class WriteWatchdog:
    """A thread that ends this process when the main thread is not through in time."""

    def __init__(self) -> None:
        self._deadline = float("inf")
        threading.Thread(target=self._look, name="watchdog", daemon=True).start()

    def expect(self, within_seconds: float) -> None:
        self._deadline = time.perf_counter() + within_seconds

    def rest(self) -> None:
        self._deadline = float("inf")

    def _look(self) -> None:
        while time.perf_counter() < self._deadline:
            time.sleep(GLANCE_SECONDS)
        os._exit(STALLED)  # a hung device call can't be interrupted in any other way


def fill(inbox: Inbox, pipe: BinaryIO, ended: threading.Event) -> None:
    """Orders from the pipe into the inbox, until it is closed."""
    try:
        for order in Unpacker().orders(pipe):
            inbox.waiting.append(order)
    finally:
        inbox.ended = True
        ended.set()


def main(board_path: str, rate: str, latency_seconds: str, wish: str) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl+C goes to the whole group; the end of stdin is what counts
    inbox, ended = Inbox(), threading.Event()
    threading.Thread(target=fill, args=(inbox, sys.stdin.buffer, ended), name="orders", daemon=True).start()
    board = SharedBoard(Path(board_path))
    player = Player(int(rate), board, inbox, WriteWatchdog(), time.perf_counter)
    gc.collect()
    gc.freeze()
    code = BROKEN

    def wait(seconds: float) -> None:
        if os.fstat(2).st_size > LONGEST_LOG_BYTES:
            os.ftruncate(2, 0)  # sound libraries print at each try, for as long as there is no device
        ended.wait(seconds)

    try:
        player.run(sink_opener(wish, int(rate), float(latency_seconds)), wait)
        board.discard()  # whoever made it is closing it too, or was killed and can't
        code = 0
    except Exception:
        traceback.print_exc()
    os._exit(code)  # an orderly exit would wait for the thread that reads stdin


if __name__ == "__main__":
    main(*sys.argv[1:])
