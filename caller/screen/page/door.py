"""Who may stay connected: the page's own connections, counted, and each shown out that has not said soon who it is.

Conventions: on the server's loop alone. A connection is a stranger until a request of it has been let in (with the
token, or by the loopback address where none is needed). There may be so many strangers; the one who has waited longest
goes when another comes, so that a flood of them keeps nobody out for long, and takes no more of this program's
descriptors than are set aside for it.
"""

from __future__ import annotations

import asyncio
from typing import Protocol

MOST_CONNECTIONS, MOST_STRANGERS = 100, 24
# A whole request is asked for within this; a browser sends it at once.
STRANGER_SECONDS = 5.0


class Transport(Protocol):
    def abort(self) -> None: ...


class Door:
    """most, strangers: how many there may be. seconds: how long a stranger may stay."""

    def __init__(
        self, most: int = MOST_CONNECTIONS, strangers: int = MOST_STRANGERS, seconds: float = STRANGER_SECONDS
    ) -> None:
        self._most, self._strangers, self._seconds = most, strangers, seconds
        self._there: dict[object, Transport] = {}
        self._waiting: dict[object, asyncio.TimerHandle] = {}  # strangers, in the order in which they came

    def __len__(self) -> int:
        return len(self._there)

    def come(self, connection: object, transport: Transport) -> None:
        """A new one; shown out at once where there is no room for it. connection: what it is known by from now on."""
        self._there[connection] = transport
        self._waiting[connection] = asyncio.get_running_loop().call_later(self._seconds, self._show_out, connection)
        if len(self._waiting) > self._strangers or len(self._there) > self._most:
            self._show_out(next(iter(self._waiting)))

    def let_in(self, connection: object) -> None:
        """It is no stranger any more."""
        timer = self._waiting.pop(connection, None)
        if timer is not None:
            timer.cancel()

    def gone(self, connection: object) -> None:
        self.let_in(connection)
        self._there.pop(connection, None)

    def _show_out(self, connection: object) -> None:
        transport = self._there[connection]
        self.gone(connection)
        transport.abort()
