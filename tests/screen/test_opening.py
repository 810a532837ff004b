"""The screen is up before the class is: what is shown, what becomes of keys, and of what goes wrong."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest

from caller.screen.app import ClassScreen
from caller.screen.board import Board
from caller.screen.opening import SessionLoader
from caller.session import Session
from caller.transport.order import Order
from tests.fakes.room import VIEW, FakeSession
from tests.screen.seen import lines_in, lines_of, read, words_in


class HandOpening(SessionLoader):
    """The session comes, or fails to, when it is told to."""

    def __init__(self) -> None:
        super().__init__(FakeSession)
        self.begun = 0

    def begin(self) -> None:
        self.begun += 1

    def fail(self) -> None:
        self._fault = OSError("no such sheet")


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (160, 45)])
async def test_one_word_is_painted_before_the_session_is_made(size: tuple[int, int]) -> None:
    opening, shown = HandOpening(), list[Board]()
    app = ClassScreen(opening, shown=[shown.append])
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        assert read([line[1:-1] for line in lines_of(app)])[0] == "GETTING READY"
        assert opening.begun == 1
        assert shown == []
        opening.session = FakeSession()
        await app.look_for_session()
        await pilot.pause()
        assert words_in(app, "#call")[0] == "RIGHT SHUFFLE"
        assert shown[-1].large.call == ("right shuffle",)


async def test_what_is_told_while_it_is_made_stands_there_with_it() -> None:
    opening, told = HandOpening(), list[str]()
    app = ClassScreen(opening, told=told)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        told += ["the voice is another", "the voice is another"]
        opening.session = FakeSession(replace(VIEW, notices=("The sound is back.",)))
        await app.look_for_session()
        await pilot.pause()
        assert [line.strip() for line in lines_in(app, "#notice")] == ["The voice is another.", "The sound is back."]


async def test_orders_given_early_are_obeyed_once_it_is_there() -> None:
    opening, session = HandOpening(), FakeSession()
    app = ClassScreen(opening)
    async with app.run_test() as pilot:
        await pilot.press("space", "plus", "v", "d", "question_mark")
        opening.session = session
        await app.look_for_session()
        await app.look_for_session()
        await pilot.pause()
        assert session.obeyed == [Order.GO, Order.FASTER]
        await pilot.press("ctrl+q")
    assert session.obeyed[-1] is Order.QUIT


@pytest.mark.parametrize("size", [(80, 24), (100, 30)])
async def test_a_start_that_is_ordered_early_is_answered_at_once(size: tuple[int, int]) -> None:
    app = ClassScreen(HandOpening())
    async with app.run_test(size=size) as pilot:
        await pilot.press("plus")
        await pilot.pause()
        before = lines_in(app, "#splash")
        assert not any(line.strip() for line in before[17:])
        await pilot.press("space")
        await pilot.pause()
        after = lines_in(app, "#splash")
        assert [line.rstrip() for line in after[:17]] == [line.rstrip() for line in before[:17]]  # the word stays
        assert read(after[17:])[0] == "STARTS BY ITSELF"


@pytest.mark.parametrize("key", ["q", "ctrl+c"])
async def test_it_can_be_left_before_it_is_there(key: str) -> None:
    app = ClassScreen(HandOpening())
    async with app.run_test() as pilot:
        await pilot.press(key)
        await pilot.pause()
        assert not app.is_running


async def test_a_session_that_can_not_be_made_ends_the_screen() -> None:
    opening = HandOpening()
    app = ClassScreen(opening)
    async with app.run_test() as pilot:
        opening.fail()
        await app.look_for_session()
        await pilot.pause()
        assert not app.is_running
    with pytest.raises(OSError, match="no such sheet"):
        opening.close()


def made_by(opening: SessionLoader) -> None:
    """Waits until it has been made, or never will be."""
    opening.begin()
    opening._thread.join(20)
    assert not opening._thread.is_alive()


def test_what_was_made_is_closed() -> None:
    session = FakeSession()
    opening = SessionLoader(lambda: session)
    made_by(opening)
    opening.close()
    assert opening.session is session
    assert session.closed


def test_what_making_it_raised_is_raised_at_the_end() -> None:
    def make() -> Session:
        raise SystemExit(2)

    opening = SessionLoader(make)
    made_by(opening)
    with pytest.raises(SystemExit):
        opening.close()


def test_leaving_waits_for_nothing_and_what_comes_afterwards_is_closed() -> None:
    session, goes_on = FakeSession(), threading.Event()

    def make() -> Session:
        assert goes_on.wait(20)
        return session

    opening = SessionLoader(make)
    opening.begin()
    opening.close()  # while it is being made: it would wait for ever otherwise
    assert (opening.session, session.closed) == (None, False)
    goes_on.set()
    made_by(opening)
    assert (opening.session, session.closed) == (None, True)


def test_nothing_is_made_for_a_screen_that_never_came_up() -> None:
    opening = SessionLoader(FakeSession)
    opening.close()
    assert opening.session is None
