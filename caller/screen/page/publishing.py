"""The newest facts, handed to as many viewers as look.

Conventions: published from any thread; viewers wait on the server's own loop.
"""

from __future__ import annotations

import asyncio
import contextlib
import threading
from typing import TYPE_CHECKING

from caller.screen.page.facts import NO_CLASS, text_of

if TYPE_CHECKING:
    from caller.screen.board import Board


class Publisher:
    """number: of the newest text, 0 for the one before any was published."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._newest = (0, NO_CLASS)
        self._loop: asyncio.AbstractEventLoop | None = None
        self._changed: asyncio.Event | None = None

    def publish(self, board: Board) -> None:
        """A board that shows from now on. Any thread; doesn't wait."""
        self.publish_text(text_of(board))

    def publish_text(self, text: str) -> None:
        with self._lock:
            if text == self._newest[1]:
                return
            self._newest = (self._newest[0] + 1, text)
            loop = self._loop
        if loop is not None:
            with contextlib.suppress(RuntimeError):  # it is closed, or being closed
                loop.call_soon_threadsafe(self._wake)

    def attach(self) -> None:
        """On the loop whose tasks will wait for what is newer."""
        self._changed = asyncio.Event()
        with self._lock:
            self._loop = asyncio.get_running_loop()

    async def newer(self, than: int, within_seconds: float) -> tuple[int, str] | None:
        """The newest text, as soon as it is newer than the one of that number; None after so long without."""
        assert self._changed is not None, "attached to a loop first"
        try:
            async with asyncio.timeout(within_seconds):
                while self._newest[0] == than:  # a waking may be for one that was seen already
                    await self._changed.wait()
        except TimeoutError:
            return None
        return self._newest

    def _wake(self) -> None:
        """Lets all that wait go on; those that come next wait for the next change."""
        if self._changed is not None:
            self._changed.set()
            self._changed = asyncio.Event()
