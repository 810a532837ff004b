"""The machine sleeps in the middle of a class: by hand, on clocks that stand still meanwhile and on clocks that go
on."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction

import numpy as np
import pytest

from caller.rig.asleep import seconds_through_sleep
from caller.session import Desk, Live, Session, TaughtProgramme, View, WholeDance
from caller.session.waking import LONG_SECONDS, Moment, slept_words
from caller.sound.mix import render
from caller.sound.score import RATE
from caller.sound.speaker import Heard
from caller.transport.order import Order
from caller.transport.state import State
from tests.fakes.speaker import HandSpeaker
from tests.session.classroom import Gestures, KnownVoice, Prepared, lantern, looked
from tests.session.test_lesson import two_stages

LOOK = RATE // 20
COUNT = RATE // 2  # at 120 counts a minute


@dataclass
class Sleeper(HandSpeaker):
    """A loudspeaker and its clocks on a machine that can sleep."""

    frozen: float = 0.0
    asleep: float = 0.0

    def now(self) -> float:
        return super().now() + self.frozen

    def through_sleep(self) -> float:
        return self.now() + self.asleep

    def heard(self) -> Heard:
        """As the player has told it: what it told before it slept is as old as that."""
        return replace(super().heard(), at_seconds=super().now())

    def sleeps_with_its_clock(self, seconds: float) -> None:
        """As Linux and macOS do it: nothing but a clock that goes on tells it."""
        self.asleep += seconds

    def sleeps_while_its_clock_goes_on(self, seconds: float) -> None:
        """As Windows does it, and whoever stops the whole program."""
        self.frozen += seconds

    def player_joins_by_the_clock(self) -> None:
        """A player that stood still for too long is started anew, and plays from where the clock has got to."""
        self.deck.skip_to(self.deck.written + round(self.frozen * self.rate))
        self.frozen = 0.0


@dataclass
class Room:
    """A class on a machine that can sleep."""

    speaker: Sleeper = field(default_factory=Sleeper)
    taught: bool = False

    def __post_init__(self) -> None:
        desk = Desk(
            self.speaker,
            KnownVoice(),
            Prepared(),
            Gestures(),
            self.speaker.now,
            through_sleep=self.speaker.through_sleep,
        )
        dance = lantern()
        self.live: Live = Session(WholeDance.of(dance, Fraction(120)), desk)
        if self.taught:
            self.live = Session(TaughtProgramme.of(two_stages(dance), dance), desk)
        looked(self.live)

    def goes_on(self, seconds: float) -> View:
        view = looked(self.live)
        for _ in range(round(seconds * RATE / LOOK)):
            self.speaker.advance(LOOK)
            view = looked(self.live)
        return view

    def dances(self, counts: float = 30) -> View:
        """Started, and so many counts on."""
        self.live.obey(Order.GO)
        return self.goes_on(counts * COUNT / RATE)


def slept(view: View) -> list[str]:
    return [notice for notice in view.notices if notice.startswith("The machine slept")]


SLEEPS = [Sleeper.sleeps_with_its_clock, Sleeper.sleeps_while_its_clock_goes_on]


@pytest.mark.parametrize("sleep", SLEEPS)
def test_after_a_sleep_it_is_paused_where_it_was_and_says_so(sleep: object) -> None:
    room = Room()
    before = room.dances()
    assert before.state is State.RUNNING
    sleep(room.speaker, 600)  # type: ignore[operator]
    view = looked(room.live)
    assert view.state is State.PAUSED
    assert slept(view) == ["The machine slept for 10 minutes: paused where it was."]
    assert before.glance is not None
    assert view.glance is not None
    assert (view.glance.wall, view.glance.section) == (before.glance.wall, before.glance.section)
    assert abs(view.glance.count - before.glance.count) <= 1  # what shows is a moment ahead, what stopped is not
    silent = room.speaker.advance(RATE)
    assert not silent[RATE // 10 :].any()


@pytest.mark.parametrize("rejoins", ["not", "after the first look", "before it"])
@pytest.mark.parametrize("sleep", SLEEPS)
def test_it_goes_on_from_that_very_bar_neither_doubled_nor_lost(sleep: object, rejoins: str) -> None:
    rooms = Room(), Room()
    stood = []
    for room, sleeps in zip(rooms, (True, False), strict=True):
        room.dances()
        if sleeps:
            sleep(room.speaker, 600)  # type: ignore[operator]
            if rejoins == "before it":
                room.speaker.player_joins_by_the_clock()
                room.speaker.fault = "The sound stopped by itself."
            looked(room.live)
            room.speaker.fault = ""
            if rejoins == "after the first look":
                room.speaker.player_joins_by_the_clock()
        else:
            room.live.obey(Order.GO)
        room.goes_on(1)
        room.live.obey(Order.GO)
        view = room.goes_on(0.5)
        assert view.state is State.COUNT_IN
        took = room.live.air.playout.parts[-1].piece  # type: ignore[attr-defined]
        stood.append(took)
    asleep, paused = stood
    assert asleep.start == paused.start
    assert np.array_equal(render(asleep.score, 0, 4 * RATE), render(paused.score, 0, 4 * RATE))


@pytest.mark.parametrize("sleep", SLEEPS)
@pytest.mark.parametrize("order", [Order.GO, Order.FASTER, Order.MUTE])
def test_the_key_that_woke_the_machine_does_not_set_it_dancing(sleep: object, order: Order) -> None:
    room = Room()
    room.dances()
    sleep(room.speaker, 60)  # type: ignore[operator]
    room.live.obey(order)
    view = looked(room.live)
    assert view.state is State.PAUSED
    assert slept(view) == ["The machine slept for 60 seconds: paused where it was."]
    assert view.tempo == (124 if order is Order.FASTER else 120)


@pytest.mark.parametrize("sleep", SLEEPS)
def test_a_nap_is_bridged(sleep: object) -> None:
    room = Room()
    room.dances()
    sleep(room.speaker, LONG_SECONDS - 0.2)  # type: ignore[operator]
    view = room.goes_on(1)
    assert view.state is State.RUNNING
    assert slept(view) == []


def test_a_screen_that_was_held_up_while_the_sound_went_on_is_no_sleep() -> None:
    room = Room()
    room.dances()
    room.speaker.advance(30 * RATE)
    view = looked(room.live)
    assert view.state is State.RUNNING
    assert slept(view) == []


def test_a_lost_loudspeaker_is_no_sleep() -> None:
    room = Room()
    room.dances()
    room.speaker.fault = "The sound device is lost."
    view = room.goes_on(20)
    assert view.state is State.RUNNING
    assert slept(view) == []


@pytest.mark.parametrize("sleep", SLEEPS)
def test_a_class_without_sound_is_paused_too(sleep: object) -> None:
    room = Room(Sleeper(fault="Sound is off, as asked."))
    room.dances()
    sleep(room.speaker, 60)  # type: ignore[operator]
    assert looked(room.live).state is State.PAUSED


@pytest.mark.parametrize("sleep", SLEEPS)
def test_what_does_not_sound_sleeps_unnoticed(sleep: object) -> None:
    room = Room()
    sleep(room.speaker, 600)  # type: ignore[operator]
    view = looked(room.live)
    assert (view.state, slept(view)) == (State.READY, [])
    room.dances()
    room.live.obey(Order.GO)
    sleep(room.speaker, 600)  # type: ignore[operator]
    view = looked(room.live)
    assert (view.state, slept(view)) == (State.PAUSED, [])


@pytest.mark.parametrize("sleep", SLEEPS)
def test_a_count_in_is_paused_before_its_first_step(sleep: object) -> None:
    room = Room()
    assert room.dances(3).state is State.COUNT_IN
    sleep(room.speaker, 60)  # type: ignore[operator]
    assert looked(room.live).state is State.PAUSED
    room.goes_on(0.5)
    room.live.obey(Order.GO)
    assert looked(room.live).state is State.COUNT_IN
    assert room.live.air.playout.parts[-1].piece.start == 0  # type: ignore[attr-defined]


@pytest.mark.parametrize("sleep", SLEEPS)
@pytest.mark.parametrize("seconds", [0.3, 40])
def test_a_lesson_is_paused_where_it_was_told_or_danced(sleep: object, seconds: float) -> None:
    room = Room(taught=True)
    room.live.obey(Order.GO)
    before = room.goes_on(seconds)
    assert (before.state is State.TELLING) == (seconds < 1)
    sleep(room.speaker, 600)  # type: ignore[operator]
    view = looked(room.live)
    assert view.state is State.PAUSED
    assert len(slept(view)) == 1
    room.goes_on(1)
    room.live.obey(Order.GO)
    again = room.goes_on(0.1)
    assert again.state in (State.TELLING, State.COUNT_IN)
    assert again.stage == before.stage


HEARD = Heard(written=480_000, heard=475_200, at_seconds=10.0, device="pulse")


def later(seconds: float, played: float, *, asleep: float = 0.0, fault: str = "") -> float:
    """What is found of a gap in which so much was played."""
    heard = replace(HEARD, heard=HEARD.heard + round(played * RATE), fault=fault)
    before = Moment(HEARD, 10.0, 1_000.0)
    return before.stood_still(Moment(heard, 10.0 + seconds, 1_000.0 + seconds + asleep), RATE)


@pytest.mark.parametrize(
    ("gap", "found"),
    [
        ({"seconds": 0.05, "played": 0.05}, 0),
        ({"seconds": 2.9, "played": 0.1}, 0),
        ({"seconds": 3.1, "played": 0.1}, 3.1),
        ({"seconds": 60, "played": 59.5}, 0),
        ({"seconds": 60, "played": 58.5}, 60),
        ({"seconds": 60, "played": 60, "fault": "Lost."}, 60),
        ({"seconds": 0.05, "played": 0.05, "asleep": 2.9}, 0),
        ({"seconds": 0.05, "played": 0.05, "asleep": 60}, 60.05),
        ({"seconds": 0.05, "played": 0.05, "asleep": -60}, 0),
    ],
)
def test_a_gap_is_a_sleep_where_nothing_sounded_for_long(gap: dict[str, float], found: float) -> None:
    assert later(**gap) == pytest.approx(found)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("seconds", "words"), [(4.2, "4 seconds"), (89, "89 seconds"), (100, "2 minutes"), (3_600, "60 minutes")]
)
def test_a_sleep_in_words(seconds: float, words: str) -> None:
    assert slept_words(seconds) == f"The machine slept for {words}: paused where it was."


def test_the_clock_that_goes_on_does_not_run_back() -> None:
    told = [seconds_through_sleep() for _ in range(100)]
    assert told == sorted(told)
