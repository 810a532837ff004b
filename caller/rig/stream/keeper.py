"""The keeper: starts the player's process, hands it orders, and starts it again where it ends unasked.

Conventions: one thread of its own does all that may wait (starting, writing to the pipe), so giving an order never
does.
"""

from __future__ import annotations

import contextlib
import queue
import subprocess
import threading
import time
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from caller.children.starting import creation_flags, environment
from caller.rig.stream.board import BoardReading, SharedBoard
from caller.rig.stream.deck import Deck
from caller.rig.stream.wire import HushOrder, Packer, PlayerOrder, SpliceOrder

GLANCE_SECONDS = 0.1
# Between an end unasked and the next start; doubled each time until a player lives long.
FIRST_PAUSE_SECONDS, LONGEST_PAUSE_SECONDS, LONG_LIFE_SECONDS = 0.25, 4.0, 10.0
# A player that sounds tells the board a hundred times a second, and ends itself where the device holds it up for half a
# second (``player.WRITE_LIMIT_SECONDS``). One that can do neither is stopped altogether.
SILENT_SECONDS = 1.5
# close(): how long the player has to fade and finish, how long to heed each harder word. Together under a second.
FINISH_SECONDS, HEED_SECONDS = 0.4, 0.1


class Keeper:
    """command: starts the player. log: where the player's process prints."""

    def __init__(self, command: Iterable[str], board: SharedBoard, log: Path) -> None:
        self._command = list(command)
        self._board = board
        self._log = log
        self._orders: queue.SimpleQueue[PlayerOrder | None] = queue.SimpleQueue()
        self._record = Deck()  # what a new player must be told: the splices that still count,
        self._hush: HushOrder | None = None  # and a hush that is the last word
        self._closing = threading.Event()
        self._child: subprocess.Popen[bytes] | None = None
        self._thread = threading.Thread(target=self._keep, name="sound", daemon=True)
        self._thread.start()

    def give(self, order: PlayerOrder) -> None:
        """Send an order; doesn't wait."""
        self._orders.put(order)

    def close(self) -> None:
        """End the player, within a second; the hard way if it must be."""
        self._closing.set()
        self._orders.put(None)
        self._thread.join(FINISH_SECONDS + 2 * HEED_SECONDS)
        if self._thread.is_alive() and self._child is not None:
            self._child.kill()  # the thread may be stuck on a pipe that nobody reads: this ends both
            self._thread.join(HEED_SECONDS)

    def _keep(self) -> None:
        pause = FIRST_PAUSE_SECONDS
        while not self._closing.is_set():
            began = time.perf_counter()
            with self._log.open("ab") as log:
                self._child = subprocess.Popen(
                    self._command,
                    stdin=subprocess.PIPE,
                    stdout=log,
                    stderr=log,
                    env=environment(),
                    creationflags=creation_flags(),
                )
            with contextlib.suppress(OSError):  # a broken pipe: it has ended
                self._feed(self._child)
            _end(self._child)
            if self._closing.is_set():
                return
            self._tell_end(self._child.returncode)
            lived = time.perf_counter() - began
            pause = FIRST_PAUSE_SECONDS if lived > LONG_LIFE_SECONDS else min(2 * pause, LONGEST_PAUSE_SECONDS)
            self._closing.wait(pause)

    def _feed(self, child: subprocess.Popen[bytes]) -> None:
        """Hand on orders until the player ends or we do."""
        packer = Packer()
        for splice in self._record.reel.splices:
            _send(child, packer, SpliceOrder(splice.score, splice.score_frame, splice.at))
        if self._hush is not None and self._board.read().hush < self._hush.number:
            _send(child, packer, self._hush)
        while child.poll() is None and not self._closing.is_set():
            with contextlib.suppress(queue.Empty):
                order = self._orders.get(timeout=GLANCE_SECONDS)
                if order is not None:
                    self._note(order)
                    _send(child, packer, order)
            if stands_still(self._board.read(), time.perf_counter()):
                child.kill()
                child.wait()

    def _note(self, order: PlayerOrder) -> None:
        written = self._board.read().written
        self._hush = order if isinstance(order, HushOrder) else None
        if isinstance(order, HushOrder):
            order = SpliceOrder(None, 0, written)
        self._record.splice(order.score, order.score_frame, order.at)
        self._record.prune(written)

    def _tell_end(self, code: int) -> None:
        """The player is gone, so the board is ours to write until the next one starts."""
        last = self._board.read()
        since = last.at_seconds if last.begun else time.perf_counter()
        sentence = f"The sound stopped by itself (exit {code}); it is being started again."
        self._board.write(replace(last, begun=True, at_seconds=since, fault=sentence))


def stands_still(told: BoardReading, now_seconds: float) -> bool:
    """Whether a player that sounded has told nothing for too long."""
    return told.begun and not told.fault and now_seconds - told.at_seconds > SILENT_SECONDS


def _send(child: subprocess.Popen[bytes], packer: Packer, order: PlayerOrder) -> None:
    assert child.stdin is not None
    for message in packer.messages(order):
        child.stdin.write(message)
    child.stdin.flush()


def _end(child: subprocess.Popen[bytes]) -> None:
    """Close the pipe, which asks it to end; then less and less kindly."""
    with contextlib.suppress(OSError):
        if child.stdin is not None:
            child.stdin.close()
    for seconds, harder in ((FINISH_SECONDS, child.terminate), (HEED_SECONDS, child.kill)):
        try:
            child.wait(seconds)
            return
        except subprocess.TimeoutExpired:
            harder()
    child.wait()
