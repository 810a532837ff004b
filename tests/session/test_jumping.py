"""A jump while it is danced: the beat that the class has in its feet goes on, and no click comes upon another."""

from __future__ import annotations

import numpy as np
import pytest

from caller.calls.take import Take
from caller.session.playout import Playing
from caller.session.route import section_starts
from caller.sound.reel import CROSSING_FRAMES
from caller.teaching.play import Piece
from caller.transport.order import Order
from caller.transport.state import State
from tests.session.classroom import COUNT, Class, lantern, looked


@pytest.fixture
def room() -> Class:
    room = Class()
    looked(room.session)
    return room


def last(room: Class) -> Playing[Piece]:
    return room.session.air.playout.parts[-1]


@pytest.mark.parametrize("order", [Order.NEXT, Order.SECTION_AGAIN, Order.TOP])
@pytest.mark.parametrize("tenths", range(0, 10, 3))
def test_a_jump_sets_in_on_the_next_half_count(room: Class, order: Order, tenths: int) -> None:
    room.order(Order.GO)
    room.danced(8 + 20 + tenths / 10)
    before, here = last(room), room.session.air.here
    room.order(order)
    after = last(room)
    assert after.number > before.number
    assert (after.origin - before.origin) % (COUNT // 2) == 0
    assert here < after.origin <= here + COUNT


def test_a_second_jump_takes_the_place_of_the_first(room: Class) -> None:
    room.order(Order.GO)
    room.danced(8 + 20.1)
    room.order(Order.NEXT)
    first = last(room)
    room.order(Order.NEXT)
    assert last(room).origin == first.origin
    assert last(room).piece != first.piece


def test_what_was_danced_is_heard_until_then(room: Class) -> None:
    other = Class()
    looked(other.session)
    for each in (room, other):
        each.order(Order.GO)
        each.danced(8 + 20.1)
    room.order(Order.NEXT)
    crosses = room.speaker.asked[-1].at
    for each in (room, other):
        each.danced(1)
    assert crosses == last(room).origin - CROSSING_FRAMES
    assert np.array_equal(room.speaker.sound[:crosses], other.speaker.sound[:crosses])


def test_after_a_pause_it_goes_on_at_once(room: Class) -> None:
    room.order(Order.GO)
    room.danced(8 + 20.1)
    assert room.order(Order.GO).state is State.PAUSED
    room.danced(0.5)
    soonest = room.session.air.soonest
    room.order(Order.GO)
    assert last(room).origin == soonest


def test_behind_the_last_section_there_is_none_and_it_is_danced_again(room: Class) -> None:
    dance = lantern()
    room.order(Order.GO)
    room.session.obey(Order.TO_WALL, len(dance.walls))
    for _ in range(5):  # of four sections
        room.danced(1)
        room.order(Order.NEXT)
    piece = last(room).piece
    assert isinstance(piece, Take)
    assert piece.start == section_starts(dance)[-1]
