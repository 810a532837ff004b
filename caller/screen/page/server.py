"""The page's server: a thread with a loop of its own, read-only, on the loopback address unless another is asked for.

Conventions: on any other address a token is needed, which is part of the address shown.
"""

from __future__ import annotations

import asyncio
import logging
import secrets
import socket
import threading
from typing import TYPE_CHECKING

from caller.screen.page.addresses import is_loopback
from caller.screen.page.publishing import Publisher

if TYPE_CHECKING:
    from aiohttp import web

    from caller.screen.board import Board
    from caller.screen.page.door import Door

LOOPBACK, USUAL_PORT = "127.0.0.1", 8470
_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"  # none that looks like another, for typing with a remote control
_TOKEN_LETTERS = 10
UP_SECONDS = 5.0
# A browser that keeps its connection open for more asks more within this.
IDLE_SECONDS = 5.0
# Connections that the system holds for us beyond those that are open.
BACKLOG = 32


class PageError(Exception):
    """The page can't be served; the message is one sentence that says why and what to do."""


class PageServer:
    """url: what to open, with its token where one is needed. Closed within a second."""

    def __init__(self, address: str = LOOPBACK, port: int = USUAL_PORT, publisher: Publisher | None = None) -> None:
        """port: 0 = any free one. Raises PageError where it can't be opened."""
        self.publisher = publisher or Publisher()
        self.address, self.port = address, port
        self.token = "" if is_loopback(address) else "".join(secrets.choice(_LETTERS) for _ in range(_TOKEN_LETTERS))
        self._loop: asyncio.AbstractEventLoop | None = None
        self._over: asyncio.Event | None = None
        self._up = threading.Event()
        self._fault: Exception | None = None
        self._thread = threading.Thread(target=self._run, name="second screen", daemon=True)
        self._thread.start()
        if not self._up.wait(UP_SECONDS):
            self._fault = TimeoutError("there is no answer")
        if self._fault is not None:
            raise PageError(_why_not(address, port, self._fault)) from self._fault

    @property
    def url(self) -> str:
        host = _outward() if self.address in ("0.0.0.0", "::") else self.address
        name = f"[{host}]" if ":" in host else host
        return f"http://{name}:{self.port}/" + (f"?token={self.token}" if self.token else "")

    @property
    def says(self) -> str:
        """One or two sentences for the one who started it."""
        if not self.token:
            return f"The second screen is at {self.url} (on this machine alone)."
        open_to = "Whoever in this network has that whole address can watch the class, not steer it."
        return f"The second screen is at {self.url} . {open_to}"

    def publish(self, board: Board) -> None:
        """Any thread; doesn't wait."""
        self.publisher.publish(board)

    def close(self) -> None:
        if self._loop is not None and self._over is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._over.set)
        self._thread.join(1.0)

    # -- the server's own thread

    def _run(self) -> None:
        try:
            asyncio.run(self._serve())
        except Exception as fault:  # told to the one who opened it; a class goes on without its page
            self._fault = fault
        finally:
            self._up.set()

    async def _serve(self) -> None:
        from aiohttp import web

        from caller.screen.page.answers import application
        from caller.screen.page.door import Door

        self._loop, self._over = asyncio.get_running_loop(), asyncio.Event()
        self.publisher.attach()
        door = Door()
        app = application(self.publisher, self.token, door)
        runner = web.AppRunner(
            app,
            access_log=None,
            logger=_silent(),
            handler_cancellation=True,
            shutdown_timeout=0.2,
            keepalive_timeout=IDLE_SECONDS,
            lingering_time=0.0,
        )
        await runner.setup()
        _watched(runner.server, door)
        asyncio.get_running_loop().set_exception_handler(lambda loop, told: None)  # the terminal is the class's
        try:
            site = web.TCPSite(runner, self.address, self.port, backlog=BACKLOG)
            await site.start()
            self.port = runner.addresses[0][1]
            self._up.set()
            await self._over.wait()
        finally:
            await runner.cleanup()


def _watched(server: web.Server | None, door: Door) -> None:
    """Each connection of the server comes and goes by the door."""
    assert server is not None, "set up first"
    made, lost = server.connection_made, server.connection_lost

    def connection_made(handler: web.RequestHandler, transport: asyncio.Transport) -> None:
        made(handler, transport)
        door.come(handler, transport)

    def connection_lost(handler: web.RequestHandler, exc: BaseException | None = None) -> None:
        door.gone(handler)
        lost(handler, exc)

    server.connection_made, server.connection_lost = connection_made, connection_lost  # type: ignore[method-assign]


def _silent() -> logging.Logger:
    """What strangers send is no news, and the terminal is the class's."""
    logger = logging.getLogger("caller.page")
    logger.propagate, logger.disabled = False, True
    return logger


def opened_page(where: str = "", publisher: Publisher | None = None) -> PageServer:
    """A page for "ADDRESS", "ADDRESS:PORT", ":PORT" or "" (the loopback address). Raises PageError."""
    address, port = LOOPBACK, USUAL_PORT
    if where:
        host, _, number = where.rpartition(":") if where.count(":") == 1 or where.startswith("[") else (where, "", "")
        if number and not (number.isascii() and number.isdecimal() and len(number) < 6 and int(number) < 65536):
            raise PageError(f"the address {where!r} ends in no port; say it as ADDRESS or ADDRESS:PORT")
        address, port = host.strip("[]") or LOOPBACK, int(number or USUAL_PORT)
    return PageServer(address, port, publisher)


def _why_not(address: str, port: int, fault: Exception) -> str:
    if isinstance(fault, ImportError):
        return f"the second screen needs aiohttp, which is not installed: {fault}"
    reason = "it is no address" if isinstance(fault, UnicodeError) else getattr(fault, "strerror", "") or str(fault)
    return f"the second screen can't be opened at {address}, port {port}: {reason}; another port can be asked for"


def _outward() -> str:
    """This machine's own address as others in its network know it. Nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))
            return str(probe.getsockname()[0])
        except OSError:
            return socket.gethostname()
