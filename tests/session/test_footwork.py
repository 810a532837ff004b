"""A foot on the pedal in front of a class: what its gestures order, and the tempo that an expression pedal leans to."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from caller.calls.take import Take
from caller.session import View
from caller.sound.score import RATE
from caller.transport.expression import TELL_SECONDS, Expression, Lean
from caller.transport.foot import HOLD_SECONDS, LONG_SECONDS, Gesture
from caller.transport.footing import FOR_A_DANCE, FOR_A_LESSON, Footing
from caller.transport.order import Order
from caller.transport.state import State
from caller.transport.unit import Stroke, Unit, UnitState, Which
from tests.fakes.pedal import HandPedal
from tests.fakes.speaker import HandSpeaker
from tests.session.classroom import COUNT, Class, looked
from tests.session.lessons import Taught
from tests.session.test_lesson import two_stages

FRAMES = RATE // 100  # a screen asks the pedal a hundred times a second


class Floor:
    """A class with a teacher whose feet are on a unit of two switches and an expression pedal."""

    def __init__(self, footing: Footing = FOR_A_DANCE) -> None:
        self.speaker = HandSpeaker()
        self.pedal = HandPedal(standing=UnitState.on(Unit(expression=Expression(11, 0, 127))))
        self.room = Class(self.speaker, pedal=self.pedal)  # type: ignore[arg-type]
        self.session = self.room.session
        self.session.desk = replace(self.session.desk, footing=footing)
        self.room.order(Order.GO)
        self.room.danced(8 + 12)

    def waits(self, seconds: float) -> View:
        for _ in range(round(seconds * RATE / FRAMES)):
            self.speaker.advance(FRAMES)
            self.session.listen()
        return looked(self.session)

    def presses(self, seconds: float, number: int = 64) -> View:
        self.pedal.sends(bytes((0xB0, number, 127)), self.speaker.now())
        self.waits(seconds)
        self.pedal.sends(bytes((0xB0, number, 0)), self.speaker.now())
        return self.waits(0.01)

    def leans(self, value: int) -> None:
        self.pedal.sends(bytes((0xB0, 11, value)), self.speaker.now())


def test_a_tap_pauses_as_soon_as_the_foot_is_lifted() -> None:
    floor = Floor()
    assert floor.presses(0.1).state is State.PAUSED
    assert floor.speaker.hushes == 1


def test_a_second_tap_soon_after_is_the_section_again_and_one_later_goes_on() -> None:
    floor = Floor()
    seen = looked(floor.session).glance
    assert seen is not None
    assert seen.section == 2
    floor.presses(0.1)
    floor.waits(0.15)
    view = floor.presses(0.1)
    assert view.state is State.COUNT_IN
    floor.waits(0.1)
    assert floor.session.air.playout.parts[-1].piece.start == 8, "from the section's start"
    floor = Floor()
    floor.presses(0.1)
    floor.waits(0.6)
    floor.presses(0.1)
    floor.waits(0.1)
    assert floor.session.air.playout.parts[-1].piece.start == 12, "from the bar"


@pytest.mark.parametrize("seconds", [HOLD_SECONDS + 0.3, LONG_SECONDS + 0.3])
def test_held_it_is_slow_however_long_and_let_go_up_to_speed(seconds: float) -> None:
    floor = Floor()
    floor.pedal.press(floor.speaker.now())
    assert floor.waits(seconds).speed == Fraction(3, 4)
    floor.pedal.release(floor.speaker.now())
    view = floor.waits(0.05)
    assert (view.speed, view.state) == (1, State.RUNNING)


def test_the_second_pedal_goes_about_the_dance() -> None:
    floor = Floor()
    floor.presses(0.5, 67)
    floor.waits(0.1)
    assert floor.session.air.playout.parts[-1].piece.start == 16, "the next section"
    assert floor.presses(LONG_SECONDS + 0.1, 67).speed == Fraction(1, 2)


def test_what_a_teacher_has_set_is_obeyed() -> None:
    floor = Floor(FOR_A_DANCE.changed({Gesture.TAP: Order.MUTE, Gesture.DOUBLE_TAP: None}, {}))
    assert "muted" in floor.presses(0.1).holds
    floor.waits(0.1)
    assert floor.presses(0.1).holds == (), "a second tap soon after is a tap too"
    assert floor.session.footing.words(Order.MUTE) == "tap"


def test_the_expression_pedal_is_the_tempo_and_what_sounds_follows_it() -> None:
    floor = Floor()
    floor.leans(0)
    view = floor.waits(0.05)
    assert (view.speed, view.tempo) == (Fraction(1, 2), 120)
    assert floor.session.air.playout.parts[-1].piece.timeline.segments[-1].tempo == 60
    floor.leans(127)
    assert floor.waits(TELL_SECONDS + 0.05).speed == 1
    assert floor.session.air.playout.parts[-1].piece.timeline.segments[-1].tempo == 120


def test_a_pedal_swept_through_all_its_values_costs_four_takes_a_second_and_ends_where_it_stands() -> None:
    floor = Floor()
    takes = []
    for value in range(127, -1, -1):
        floor.leans(value)
        floor.waits(0.02)
        takes.append(floor.session.air.playout.parts[-1].piece)
    view = floor.waits(2 * TELL_SECONDS)
    assert 5 <= len({id(take) for take in takes}) <= 2.56 / TELL_SECONDS + 2
    assert view.speed == Fraction(1, 2)
    assert view.state is State.RUNNING


def test_before_the_start_it_sets_what_is_started() -> None:
    room = Class()
    looked(room.session)
    room.pedal.waiting.append(Lean(Fraction(3, 4)))
    assert looked(room.session).speed == Fraction(3, 4)
    room.order(Order.GO)
    room.speaker.advance(COUNT)
    looked(room.session)
    assert room.session.air.playout.parts[-1].piece.timeline.segments[0].tempo == 90


def test_a_tempo_typed_is_what_is_danced_wherever_the_pedal_stands() -> None:
    floor = Floor()
    floor.leans(0)
    floor.waits(0.05)
    floor.session.obey(Order.TEMPO, Fraction(96))
    view = floor.waits(0.5)
    assert (view.tempo, view.speed) == (96, 1)


def lesson() -> Taught:
    taught = Taught(two_stages)
    taught.lesson.desk = replace(taught.lesson.desk, footing=FOR_A_LESSON)
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    return taught


def tempo(taught: Taught) -> Fraction:
    """What is danced once what was made anew is heard."""
    piece = taught.lesson.air.playout.parts[-1].piece
    assert isinstance(piece, Take)
    return piece.timeline.segments[-1].tempo


def test_in_a_lesson_one_foot_goes_slows_down_lets_stages_wait_and_goes_to_the_next() -> None:
    taught = lesson()
    before = tempo(taught)
    taught.pedal.waiting += [Stroke(Gesture.HOLD), Stroke(Gesture.RELEASE)]
    taught.goes_on(0.5)
    assert tempo(taught) < before
    taught.pedal.waiting += [Stroke(Gesture.HOLD), Stroke(Gesture.LONG_HOLD), Stroke(Gesture.LONG_RELEASE)]
    assert taught.goes_on(0.5).holds == ("waits after each stage",)
    taught.pedal.waiting += [Stroke(Gesture.TAP), Stroke(Gesture.TAP_AND_HOLD), Stroke(Gesture.TAP_AND_RELEASE)]
    assert taught.goes_on(0.5).stage == "top"
    taught.pedal.waiting += [Stroke(Gesture.TAP, Which.SECOND)]
    assert taught.goes_on(0.5).stage == "top"


def test_in_a_lesson_the_expression_pedal_has_its_share_of_the_stage() -> None:
    taught = lesson()
    taught.pedal.waiting.append(Lean(Fraction(4, 5)))
    view = taught.goes_on(0.5)
    assert tempo(taught) == 40
    assert view.speed == Fraction(2, 5)
    assert not taught.lesson.programme.running.clean, "a go that was slowed down is not clean"
    taught.pedal.waiting.append(Lean(Fraction(1)))
    taught.goes_on(0.5)
    assert tempo(taught) == 50
