"""Playbooks for two dances on one floor: one called, the other on its own line; a key changes over."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from caller.calls.groups import groups_between, shown_words
from caller.calls.plan import Manner
from caller.dance.shared_floor import danced_beside
from caller.dance.walls import Dance
from caller.routine.notation.read import read_bytes
from caller.screen.board import board_of
from caller.screen.plain_lines import place_lines
from caller.session import Desk, Session, WholeDance
from caller.session.beside import Beside
from caller.transport.context import Effect, OrderContext
from caller.transport.order import Order
from caller.transport.respond import respond
from caller.transport.state import State
from tests.session.classroom import TEMPO, Class, lantern, looked

CHALK = Path(__file__).parents[2] / "routines" / "chalk-line.txt"


def chalk() -> Dance:
    return danced_beside(lantern(), read_bytes(CHALK.read_bytes()).routine)


@dataclass
class Split(Class):
    """A class of which one half dances another dance."""

    def __post_init__(self) -> None:
        desk = Desk(self.speaker, self.voice, self.prepared, self.pedal, self.speaker.now)
        whole = WholeDance.of(self.dance, TEMPO, Manner.AHEAD)
        self.session = Session(WholeDance.on_one_floor(whole, chalk()), desk)


def danced(counts: float) -> Split:
    room = Split()
    looked(room.session)
    room.order(Order.GO)
    room.danced(8 + counts)
    return room


def test_the_other_dance_is_shown_on_a_line_of_its_own_with_wall_count_and_facing() -> None:
    """Its walls are half as long."""
    room = danced(20.5)
    view = looked(room.session)
    assert view.title == "Lantern Row"
    assert view.beside == "Chalk Line: wall 2, section 1, count 5, facing 12:00: back, two, three"
    assert board_of(view).beside == view.beside
    assert f"Beside it {view.beside}." in place_lines(view)


def test_a_key_changes_over_at_once_and_back_and_the_beat_goes_on() -> None:
    room = danced(4.5)
    clicks = room.clicks()
    view = room.order(Order.CHANGE_OVER)
    assert (view.title, view.state) == ("Chalk Line", State.RUNNING)
    assert view.notices[-1] == "The other dance is called from here on."
    assert view.beside.startswith("Lantern Row: wall 1, section 1, count 5")
    room.danced(14)
    view = looked(room.session)
    assert view.glance is not None
    assert (view.glance.wall, view.glance.count) == (2, 3)
    chalk_line = [shown_words(group) for group in groups_between(chalk(), Fraction(0), Fraction(32))]
    assert view.glance.now in chalk_line, "the letters are of the dance that is called"
    assert view.glance.next in chalk_line
    assert view.beside.startswith("Lantern Row: wall 1, section 3, count 3")
    assert room.clicks() == clicks
    assert room.order(Order.CHANGE_OVER).title == "Lantern Row"


def test_what_is_looped_is_looped_for_both() -> None:
    room = danced(4.5)
    room.order(Order.LOOP)
    view = room.danced(8)
    assert view.glance is not None
    assert (view.glance.section, view.glance.count) == (1, 5)
    assert view.beside.startswith("Chalk Line: wall 1, section 1, count 5")


def test_both_are_danced_for_as_many_counts() -> None:
    whole = WholeDance.on_one_floor(WholeDance.of(lantern(), TEMPO), chalk())
    assert isinstance(whole.beside, Beside)
    assert whole.beside.dance.counts == whole.dance.counts == lantern().counts
    last = danced(lantern().counts - 0.5)
    assert looked(last.session).beside.startswith("Chalk Line: wall ")


def test_with_one_dance_there_is_nothing_to_change_over_to() -> None:
    room = Class()
    looked(room.session)
    assert room.order(Order.CHANGE_OVER).notices[-1].startswith("One dance is danced here")
    assert looked(room.session).beside == ""
    assert respond(OrderContext(State.RUNNING, lesson=True), Order.CHANGE_OVER).effect is Effect.NOTHING
