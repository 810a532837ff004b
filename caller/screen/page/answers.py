"""What the page's server answers: the page, its two files, and the newest facts as server-sent events.

Conventions: GET alone is answered. Without a token, no other name than the loopback address's is answered to, so that
no web site can read the page through the browser; with one, nothing is told without it. What another site's page asks
for is refused: it could read nothing, but take the places of those who watch. Each answer goes without the names and
versions of what makes it, also those that are aiohttp's own.
"""

from __future__ import annotations

import asyncio
import hmac
from collections.abc import Awaitable, Callable
from pathlib import Path

from aiohttp import web

from caller.screen.page.addresses import is_loopback
from caller.screen.page.door import Door
from caller.screen.page.publishing import Publisher

MOST_VIEWERS = 60
# A page that hears nothing for longer than this and a little says so.
ALIVE_SECONDS = 1.0
# As long as a viewer may take nothing in: the network of a hall halts for seconds.
TAKES_SECONDS = 15.0
_FILES = {"page.js": "text/javascript", "page.css": "text/css"}
_HEADERS = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-store",
    "Server": "caller",
}
Answer = Callable[[web.Request], Awaitable[web.StreamResponse]]


def application(publisher: Publisher, token: str, door: Door) -> web.Application:
    """token: "" where none is needed, on the loopback address. door: is told who has been let in."""

    @web.middleware
    async def guarded(request: web.Request, handler: Answer) -> web.StreamResponse:
        try:
            host, knows = request.url.host or "", _knows(request, token)
        except ValueError:  # a Host that is no address
            return web.Response(status=400, text="This is no address.\n")
        if not token and not is_loopback(host):
            return _refused("This page answers to its own address alone.")
        if _from_elsewhere(request):
            return _refused("This page answers to no other site's.")
        if not knows and request.path.strip("/") not in _FILES:
            return _refused("Open the whole address as the caller shows it, with its token.")
        if knows:
            door.let_in(request.protocol)
        return await handler(request)

    app = web.Application(middlewares=[guarded], client_max_size=1)
    answers = {"/": _page, "/events": _Events(publisher).answer, "/{name}": _file}
    app.add_routes([web.get(path, answer, allow_head=False) for path, answer in answers.items()])
    app.on_response_prepare.append(_headed)
    return app


async def _headed(_: web.Request, response: web.StreamResponse) -> None:
    response.headers.update(_HEADERS)


def _knows(request: web.Request, token: str) -> bool:
    """Whether it has the token, where there is one."""
    return not token or hmac.compare_digest(request.query.get("token", "").encode("utf-8", "replace"), token.encode())


def _from_elsewhere(request: web.Request) -> bool:
    """Whether a browser says that another site's page asks, and not for being led here."""
    site, mode = request.headers.get("Sec-Fetch-Site", "none"), request.headers.get("Sec-Fetch-Mode")
    if site in ("cross-site", "same-site") and mode != "navigate":
        return True
    origin = request.headers.get("Origin")
    return origin is not None and origin.partition("://")[2] != request.host


def _refused(why: str) -> web.Response:
    return web.Response(status=403, text=why + "\n")


async def _page(_: web.Request) -> web.Response:
    return web.Response(body=_shipped("page.html"), content_type="text/html", charset="utf-8")


async def _file(request: web.Request) -> web.Response:
    name = request.match_info["name"]
    if name not in _FILES:
        return web.Response(status=404, text="There is nothing here.\n")
    return web.Response(body=_shipped(name), content_type=_FILES[name], charset="utf-8")


class _Events:
    """The newest facts to each viewer, and a sign of life where there is nothing new."""

    def __init__(self, publisher: Publisher) -> None:
        self._publisher = publisher
        self._viewers = 0

    async def answer(self, request: web.Request) -> web.StreamResponse:
        if self._viewers >= MOST_VIEWERS:
            return web.Response(status=503, text="Too many screens are watching.\n")
        response = web.StreamResponse(headers={"Content-Type": "text/event-stream"})
        await response.prepare(request)
        self._viewers += 1
        try:
            await self._feed(response)
        except ConnectionError:
            pass  # the viewer has gone
        except TimeoutError:  # or takes nothing in any more
            if request.transport is not None:
                request.transport.abort()
        finally:
            self._viewers -= 1
        return response

    async def _feed(self, response: web.StreamResponse) -> None:
        """Until the viewer goes or the server ends, which cancels it."""
        await _write(response, b"retry: 500\n\n")
        number = -1
        while True:
            newer = await self._publisher.newer(number, ALIVE_SECONDS)
            if newer is None:
                await _write(response, b"event: alive\ndata: \n\n")
            else:
                number, text = newer
                await _write(response, f"data: {text}\n\n".encode())


async def _write(response: web.StreamResponse, content: bytes) -> None:
    """Raises TimeoutError where the viewer takes nothing in."""
    async with asyncio.timeout(TAKES_SECONDS):
        await response.write(content)


def _shipped(name: str) -> bytes:
    return (Path(__file__).parent / name).read_bytes()
