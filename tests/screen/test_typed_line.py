"""Orders typed on the class screen: a line that takes the keys while it is there."""

from __future__ import annotations

from fractions import Fraction

import pytest
from textual import events
from textual.widgets import Input

from caller.evening.plan import Kind
from caller.screen.app import ClassScreen
from caller.screen.own_orders import OWN_ORDERS, OwnOrder
from caller.screen.typed_line import TypedLine
from caller.screen.typing import asks_where, obey_typed
from caller.transport.order import Order
from caller.transport.state import State
from tests.fakes.room import FakeSession
from tests.screen.seen import lines_of
from tests.session.classroom import Class, looked
from tests.session.evenings import Hall, evening_of, requested, rest, run, short

OPENS = next(entry.keys[0] for entry in OWN_ORDERS if entry.order is OwnOrder.TYPE)


@pytest.fixture
def room() -> Class:
    room = Class()
    looked(room.session)
    return room


async def test_a_tempo_typed_is_taken_and_the_line_is_gone(room: Class) -> None:
    async with ClassScreen(room.session).run_test() as pilot:
        await pilot.press(OPENS, *"96", "enter")
        await pilot.pause()
        assert room.session.tempo == Fraction(96)
        assert not pilot.app.query("#line")
        await pilot.press("space")  # keys are orders again
        assert room.session.state is State.COUNT_IN


@pytest.mark.parametrize("line", ["/96", "//96", " / 96"])
async def test_a_slash_typed_behind_the_one_that_opens_the_line_is_ignored(line: str, room: Class) -> None:
    assert obey_typed(room.session, line)[0] is Order.TEMPO
    assert room.session.tempo == Fraction(96)
    assert asks_where("/Where")
    assert obey_typed(room.session, "/") == (None, "")


@pytest.mark.parametrize("line", ["/900", "12000", "/15"])
def test_a_number_that_can_be_no_tempo_says_what_a_tempo_is(line: str, room: Class) -> None:
    order, answer = obey_typed(room.session, line)
    assert order is None
    assert (
        answer == f"{line.strip('/')} is no tempo: that is counts a minute, from 20 to a fifth above the dance's own."
    )


async def test_letters_typed_are_no_orders_until_the_line_is_left(room: Class) -> None:
    async with ClassScreen(room.session).run_test() as pilot:
        await pilot.press(OPENS, "q", "space", "t", "m")
        await pilot.pause()
        assert pilot.app.query_one("#line", Input).value == "q tm"
        assert room.session.state is State.READY
        await pilot.press("escape")
        await pilot.pause()
        assert not pilot.app.query("#line")
        assert not room.session.levels.muted
        await pilot.press("m")
        assert room.session.levels.muted


async def test_counts_typed_are_looped(room: Class) -> None:
    async with ClassScreen(room.session).run_test() as pilot:
        await pilot.press(OPENS, *"loop", "space", *"5-12", "enter")
        await pilot.pause()
        assert looked(room.session).holds == ("looping 8 counts",)


async def test_what_is_no_order_is_answered_and_the_keys_are_orders_again(room: Class) -> None:
    """Space has to pause, whatever was typed before."""
    async with ClassScreen(room.session).run_test(size=(120, 34)) as pilot:
        for _ in range(2):  # the same again is answered again
            await pilot.press(OPENS, *"waltz", "enter")
            await pilot.pause()
            assert not pilot.app.query("#line")
            assert 'No order is called "waltz". Type "help" for all of them.' in "\n".join(lines_of(pilot.app))
        await pilot.press("space")
        assert room.session.state is State.COUNT_IN


async def test_that_a_word_is_no_order_goes_once_another_order_is_answered(room: Class) -> None:
    async with ClassScreen(room.session).run_test() as pilot:
        await pilot.press(OPENS, *"waltz", "enter")
        await pilot.pause()
        await pilot.press("m")
        await pilot.pause()
        shown = "\n".join(lines_of(pilot.app))
        assert "Muted." in shown
        assert "No order is called" not in shown


async def test_help_typed_opens_the_help_and_a_word_to_leave_leaves(room: Class) -> None:
    screen = ClassScreen(room.session)
    async with screen.run_test() as pilot:
        await pilot.press(OPENS, *"help", "enter")
        await pilot.pause()
        assert screen.query_one("#help").has_class("some")
        await pilot.press("escape", OPENS, *"leave", "enter")
        await pilot.pause()
    assert room.session.left


async def test_a_request_by_name_is_answered_on_the_screen_at_once() -> None:
    """Also where a notice stands there already: the answer has its own row."""
    short_dance = short()
    catalogue = (requested(short_dance, "Chalk Line", 1), requested(short_dance, "Slow Water", 2))
    hall = Hall(evening_of(run(short_dance), rest(short_dance, Kind.REQUEST, 5), catalogue=catalogue))
    hall.order(Order.GO)
    async with ClassScreen(hall.session).run_test(size=(100, 30)) as pilot:
        await pilot.press("m")
        await pilot.pause(0.1)
        assert "Muted." in "\n".join(lines_of(pilot.app))
        await pilot.press(OPENS, *"request", "space", *"slow", "enter")
        await pilot.pause(0.1)
        assert not pilot.app.query("#line")
        assert "Muted." in "\n".join(lines_of(pilot.app))
        assert "Slow Water: next, at 19:04, 5 min; it still ends at 19:09." in "\n".join(lines_of(pilot.app))
        await pilot.press(OPENS, *"request", "space", *"polka", "enter")
        await pilot.pause(0.1)
        assert 'No one dance here is called "polka". Type "request" for those' in "\n".join(lines_of(pilot.app))
        await pilot.press(OPENS, *"request", "enter")
        await pilot.pause(0.1)
        assert "Say which dance, by number or name: 1 Chalk Line, 2 Slow Water." in "\n".join(lines_of(pilot.app))


async def test_where_tells_where_the_class_is_as_in_the_plain_mode(room: Class) -> None:
    room.order(Order.GO)
    room.danced(8 + 10)
    async with ClassScreen(room.session).run_test(size=(100, 30)) as pilot:
        await pilot.press(OPENS, *"where", "enter")
        await pilot.pause()
        shown = " ".join(" ".join(lines_of(pilot.app)).split())
        assert "Wall 1 of 7, starting at 12:00. Section 2: Rock back, quarter pivot." in shown
        assert "Facing 12:00." in shown
        assert "No order" not in shown


async def test_what_is_typed_before_the_line_has_the_focus_stands_on_it() -> None:
    """As a quick hand sends it: all keys at once."""
    session = FakeSession()
    app = ClassScreen(session)
    async with app.run_test() as pilot:
        for key in ("slash", "7", "5", "percent_sign", "enter"):
            app.post_message(events.Key(key, {"slash": "/", "percent_sign": "%", "enter": None}.get(key, key)))
        await pilot.pause()
        await pilot.pause()
        assert not app.query(TypedLine)
    assert session.obeyed == [Order.SHARE]
