"""The second screen: what it is told, to whom, and that it takes no orders. Driven through real sockets on the loopback
address."""

from __future__ import annotations

import json
import os
import socket
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import aiohttp
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.cli.second_screens import second_screens, while_it_can
from caller.routine.facing import Facing
from caller.screen.board import Board, board_of
from caller.screen.course import course_of
from caller.screen.page.door import MOST_STRANGERS, Door
from caller.screen.page.facts import NO_CLASS, text_of
from caller.screen.page.server import BACKLOG, PageError, PageServer, opened_page
from caller.screen.page.spool import Follower, Spool
from caller.transport.state import State
from tests.fakes.room import GLANCE, TAG_IN_8, VIEW, view_of
from tests.screen.test_class_screen import LANTERN

BOARD = board_of(view_of(coming=(TAG_IN_8,), facing=Facing(5)), course_of(LANTERN))


@pytest.fixture
def page() -> Iterator[PageServer]:
    server = opened_page(":0")
    yield server
    server.close()


async def _events(response: aiohttp.ClientResponse) -> Any:
    """The facts of each event, as they come."""
    async for line in response.content:
        if line.startswith(b"data: {"):
            yield json.loads(line[6:])


async def test_a_viewer_is_told_what_shows_and_each_change(page: PageServer) -> None:
    page.publish(BOARD)
    async with aiohttp.ClientSession() as client, client.get(page.url + "events") as response:
        assert response.headers["Content-Type"] == "text/event-stream"
        told = _events(response)
        first = await anext(told)
        shown = {key: first[key] for key in ("title", "call", "count", "clock", "coming", "wall", "foot", "state")}
        assert shown == {
            "title": "Copper Kettle",
            "call": ["right shuffle"],
            "count": "3",
            "clock": "7:30",
            "coming": "tag in 8",
            "wall": "Wall 3 of 8",
            "foot": "right",
            "state": "running",
        }
        for count in range(4, 12):
            page.publish(board_of(view_of(count=count)))
            assert (await anext(told))["count"] == str(count)


async def test_one_who_comes_late_is_told_how_things_are_now(page: PageServer) -> None:
    for count in range(1, 9):
        page.publish(board_of(view_of(count=count)))
    async with aiohttp.ClientSession() as client, client.get(page.url + "events") as response:
        assert (await anext(_events(response)))["count"] == "8"


async def test_before_a_class_it_says_that_there_is_none(page: PageServer) -> None:
    async with aiohttp.ClientSession() as client, client.get(page.url + "events") as response:
        assert await anext(_events(response)) == {"state": "none"}


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH", "HEAD"])
@pytest.mark.parametrize("path", ["", "events", "page.js"])
async def test_it_takes_no_orders(page: PageServer, method: str, path: str) -> None:
    async with aiohttp.ClientSession() as client, client.request(method, page.url + path, data=b"go") as response:
        assert response.status == 405


async def test_a_web_site_can_not_read_it_through_the_browser(page: PageServer) -> None:
    async with aiohttp.ClientSession() as client:
        async with client.get(page.url + "events", headers={"Host": f"evil.example:{page.port}"}) as response:
            assert response.status == 403
        async with client.get(page.url) as response:
            assert "Access-Control-Allow-Origin" not in response.headers
            assert "default-src 'none'" in response.headers["Content-Security-Policy"]


ELSEWHERE = [
    {"Origin": "http://evil.example"},
    {"Origin": "null"},
    {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "cors"},
    {"Sec-Fetch-Site": "same-site", "Sec-Fetch-Mode": "no-cors"},
]


@pytest.mark.parametrize("headers", ELSEWHERE)
async def test_a_web_site_takes_no_place_of_those_who_watch(page: PageServer, headers: dict[str, str]) -> None:
    async with aiohttp.ClientSession() as client:
        for path in ("events", "page.js"):
            async with client.get(page.url + path, headers=headers) as response:
                assert response.status == 403


async def test_a_link_on_a_web_site_leads_here_and_the_page_asks_for_its_own(page: PageServer) -> None:
    led = {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}
    own = {"Sec-Fetch-Site": "same-origin", "Sec-Fetch-Mode": "cors", "Origin": page.url.rstrip("/")}
    async with aiohttp.ClientSession() as client:
        for path, headers in {"": led, "events": own}.items():
            async with client.get(page.url + path, headers=headers) as response:
                assert response.status == 200


async def test_no_answer_tells_what_it_is_made_by(page: PageServer) -> None:
    async with aiohttp.ClientSession() as client:
        for path in ("", "page.js", "nothing", "no/such", "events"):
            async with client.get(page.url + path) as response:
                assert response.headers["Server"] == "caller"
                assert response.headers["X-Content-Type-Options"] == "nosniff"


async def test_on_another_address_nothing_is_told_without_the_token() -> None:
    page = PageServer("0.0.0.0", 0)
    page.publish(BOARD)
    here = f"http://127.0.0.1:{page.port}/"
    try:
        assert f"?token={page.token}" in page.url
        assert len(page.token) >= 10
        assert "watch the class, not steer it" in page.says
        async with aiohttp.ClientSession() as client:
            for query in ("", "?token=", f"?token={page.token[:-1]}", "?token=%F0%9F"):
                for path in ("", "events", "other"):
                    async with client.get(here + path + query) as response:
                        assert response.status == 403
                        assert "Copper" not in await response.text()
            async with client.get(f"{here}events?token={page.token}") as response:
                assert (await anext(_events(response)))["title"] == "Copper Kettle"
    finally:
        page.close()


async def test_nothing_else_is_there(page: PageServer) -> None:
    async with aiohttp.ClientSession() as client:
        for path in ("server.py", "..%2Fapp.py", "page.html", "favicon.ico"):
            async with client.get(page.url + path) as response:
                assert response.status == 404


def test_a_port_in_use_is_told_in_a_sentence(page: PageServer) -> None:
    with pytest.raises(PageError, match=f"can't be opened at 127.0.0.1, port {page.port}: .*another port"):
        PageServer("127.0.0.1", page.port)


@pytest.mark.parametrize("where", ["127.0.0.1:port", ":99999"])
def test_an_address_without_a_port_that_can_be_is_told(where: str) -> None:
    with pytest.raises(PageError, match="ADDRESS:PORT"):
        opened_page(where)


def test_closing_it_takes_no_second(page: PageServer) -> None:
    began = time.perf_counter()
    page.close()
    assert time.perf_counter() - began < 1
    page.publish(BOARD)  # and publishing afterwards does no harm


@given(st.text(max_size=40), st.sampled_from(State))
def test_any_text_comes_through_as_text(text: str, state: State) -> None:
    glance = replace(GLANCE, now=text, next=text, section_name=text, saying=text)
    view = replace(VIEW, glance=glance, title=text, state=state, notices=(text,), cannot=(text,), holds=(text,))
    line = text_of(board_of(view))
    assert "\n" not in line
    assert "\r" not in line
    assert json.loads(line)["state"] == state.value


@pytest.fixture(params=["this system", "Windows"])
def system(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both ways of locking a file; Windows' on the calls that it has."""
    if request.param == "Windows":
        from tests.fakes.windows import windows

        windows(monkeypatch)


def test_a_page_in_another_process_follows_from_dance_to_dance(system: None, tmp_path: Path) -> None:
    path = tmp_path / "now"
    follower = Follower(path)
    assert follower.look() == NO_CLASS
    for dance in ("Copper Kettle", "Lantern Row"):
        spool = Spool(path)
        for count in (1, 2):
            board = replace(board_of(view_of(count=count)), title=dance)
            spool.publish(board)
            assert follower.look() == text_of(board)
            assert follower.look() is None
        spool.close()
        assert not follower.class_runs()


def test_a_second_class_at_once_is_not_shown(system: None, tmp_path: Path) -> None:
    path = tmp_path / "now"
    one, other, follower = Spool(path), Spool(path), Follower(path)
    one.publish(BOARD)
    other.publish(_titled("another"))
    assert follower.look() == text_of(BOARD)
    one.close()
    other.publish(_titled("another"))
    follower.class_runs()
    assert "another" in (follower.newer() or "")


def _titled(title: str) -> Board:
    return replace(BOARD, title=title)


def test_what_is_caught_half_written_is_not_shown(tmp_path: Path) -> None:
    path = tmp_path / "now"
    spool, follower = Spool(path), Follower(path)
    spool.publish(BOARD)
    whole = path.read_bytes()
    path.write_bytes(whole[:-5] + b"xxxxx")
    assert follower.look() is None
    path.write_bytes(whole)
    assert follower.look() == text_of(BOARD)


def test_a_class_goes_on_where_no_file_can_be_kept(tmp_path: Path) -> None:
    spool = Spool(tmp_path / "no such folder" / "now")
    spool.publish(BOARD)
    spool.close()


@pytest.mark.skipif(sys.platform == "win32", reason="uses links and pipes")
def test_a_link_or_a_pipe_in_its_place_is_neither_written_over_nor_waited_on(tmp_path: Path) -> None:
    sheet, link, pipe = tmp_path / "sheet.txt", tmp_path / "link", tmp_path / "pipe"
    sheet.write_text("a sheet")
    link.symlink_to(sheet)
    os.mkfifo(pipe)
    for path in (link, pipe):
        spool = Spool(path)
        spool.publish(BOARD)
        spool.close()
        assert not Follower(path).class_runs()
    assert sheet.read_text() == "a sheet"


def _connecting(page: PageServer) -> socket.socket:
    """A connection that nobody waits for: where the door's queue is full, the system tries again seconds later."""
    connection = socket.socket()
    connection.setblocking(False)
    connection.connect_ex(("127.0.0.1", page.port))
    return connection


def _connected(page: PageServer) -> socket.socket:
    return socket.create_connection(("127.0.0.1", page.port), timeout=10)


def _ends(connection: socket.socket) -> bytes:
    """What comes until the other side closes it."""
    got = b""
    try:
        while piece := connection.recv(65536):
            got += piece
    except ConnectionResetError:
        pass
    return got


@pytest.mark.skipif(sys.platform != "linux", reason="descriptors are counted in /proc")
@pytest.mark.parametrize("address", ["127.0.0.1", "0.0.0.0"])
async def test_a_flood_takes_no_more_descriptors_than_are_set_aside_and_keeps_nobody_out(address: str) -> None:
    """1,137 idle connections once took all that the class had."""
    page = PageServer(address, 0)
    page.publish(BOARD)
    before = len(os.listdir("/proc/self/fd"))
    flood = []
    try:
        flood += [_connecting(page) for _ in range(400)]
        here = f"http://127.0.0.1:{page.port}/events?token={page.token}"
        async with aiohttp.ClientSession() as client, client.get(here) as response:
            told = _events(response)
            assert (await anext(told))["title"] == "Copper Kettle"
            ours = len(os.listdir("/proc/self/fd")) - before - len(flood)
            assert ours < MOST_STRANGERS + BACKLOG + 10
            flood += [_connecting(page) for _ in range(100)]
            page.publish(replace(BOARD, title="still there"))
            assert (await anext(told))["title"] == "still there"
    finally:
        for one in flood:
            one.close()
        page.close()


async def test_who_is_let_in_counts_too_and_there_is_an_end_to_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("caller.screen.page.answers.MOST_VIEWERS", 3)
    page = PageServer("127.0.0.1", 0)
    try:
        async with aiohttp.ClientSession() as client:
            kept = [await client.get(page.url + "events") for _ in range(3)]
            async with client.get(page.url + "events") as response:
                assert response.status == 503
            for one in kept:
                one.close()
    finally:
        page.close()


@pytest.mark.parametrize("sent", [b"", b"GET / HTT", b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX: ", b"\x16\x03\x01"])
def test_who_does_not_say_what_is_wanted_is_shown_out(sent: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Door.__init__, "__defaults__", (100, 24, 0.2))
    page = PageServer("127.0.0.1", 0)
    try:
        with _connected(page) as connection:
            connection.sendall(sent)
            assert b"200" not in _ends(connection)
    finally:
        page.close()


def test_files_that_need_no_token_let_nobody_in(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Door.__init__, "__defaults__", (100, 24, 0.3))
    page = PageServer("0.0.0.0", 0)
    try:
        with _connected(page) as connection:
            connection.sendall(b"GET /page.css HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
            assert b"200 OK" in _ends(connection)  # which ends, since it stays a stranger
    finally:
        page.close()


@pytest.mark.parametrize(
    "host", ["127.0.0.1:99999999", "127.0.0.1:port", "[1", "[", ":", "127.0.0.1:-1", "a b", "\xff", "x" * 9000, ""]
)
def test_a_host_that_is_no_address_is_answered_and_nothing_is_printed(
    page: PageServer, host: str, capfd: pytest.CaptureFixture[str], caplog: pytest.LogCaptureFixture
) -> None:
    with _connected(page) as connection:
        connection.sendall(f"GET / HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n".encode("latin-1"))
        assert _ends(connection)[9:12] in (b"400", b"403")
    assert capfd.readouterr() == ("", "")
    assert caplog.records == []


def test_a_page_that_can_not_be_served_is_told_and_the_class_goes_on(
    page: PageServer, capsys: pytest.CaptureFixture[str]
) -> None:
    told: list[str] = []
    with second_screens(f"127.0.0.1:{page.port}", told) as shown:
        for show in shown:
            show(BOARD)
    assert "another port can be asked for" in told[0]
    assert "the class goes on without it" in capsys.readouterr().err


def test_a_second_screen_that_fails_is_that_screens_end_alone(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    asked: list[Board] = []

    def fails(board: Board) -> None:
        asked.append(board)
        raise ZeroDivisionError

    show = while_it_can(fails)
    show(BOARD)
    show(BOARD)
    assert len(asked) == 1
    (tmp_path / "file").touch()
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    with second_screens(None, []) as shown:
        assert shown == []
