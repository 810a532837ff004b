"""A lesson to give orders to, and the hands that drive what it was given."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction

from caller.calls.take import Take
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.notation.read import read_bytes
from caller.session import Desk, Lesson, View, Voice
from caller.sound.score import RATE
from caller.teaching.play import Floors, Told
from caller.teaching.running import Running
from caller.teaching.stage import Programme
from caller.transport.order import Order
from caller.transport.state import State
from tests.fakes.speaker import HandSpeaker
from tests.session.classroom import LANTERN, Gestures, KnownVoice, Prepared

LOOK = RATE // 20


def lantern() -> Dance:
    return unroll(read_bytes(LANTERN.read_bytes()).routine)


@dataclass
class Taught:
    """A lesson, and all that it has told of."""

    make: Callable[[Dance], Programme]
    speaker: HandSpeaker = field(default_factory=HandSpeaker)
    voice: Voice = field(default_factory=KnownVoice)
    prepared: Prepared = field(default_factory=Prepared)
    pedal: Gestures = field(default_factory=Gestures)
    told: list[Running] = field(default_factory=list)
    says: str = ""

    def __post_init__(self) -> None:
        dance = lantern()
        desk = Desk(self.speaker, self.voice, self.prepared, self.pedal, self.speaker.now)
        self.programme = self.make(dance)
        self.lesson = Lesson(self.programme, Floors.of(dance), desk, taught=self.hear)
        self.lesson.look()

    def hear(self, running: Running) -> str:
        self.told.append(running)
        return self.says

    def order(self, *orders: Order) -> View:
        for order in orders:
            self.lesson.obey(order)
        return self.lesson.look()

    def goes_on(self, seconds: float) -> View:
        """So many seconds later, looked at twenty times a second."""
        view = self.lesson.look()
        for _ in range(round(seconds * RATE / LOOK)):
            self.speaker.advance(LOOK)
            view = self.lesson.look()
        return view

    def until(self, true: Callable[[View], bool], seconds: float = 600) -> View:
        """On until something shows."""
        view = self.lesson.look()
        for _ in range(round(seconds * RATE / LOOK)):
            if true(view):
                return view
            self.speaker.advance(LOOK)
            view = self.lesson.look()
        raise AssertionError(f"not within {seconds} s: {view}")

    def comes_to(self, state: State) -> View:
        return self.until(lambda view: view.state is state)

    @property
    def take(self) -> Take:
        """The go that is heard, or waits to be."""
        piece = self.lesson.air.waiting or self.lesson.air.playing[0].piece
        assert isinstance(piece, Take)
        return piece

    @property
    def telling(self) -> Told:
        piece = self.lesson.air.waiting or self.lesson.air.playing[0].piece
        assert isinstance(piece, Told)
        return piece

    @property
    def tempo(self) -> Fraction:
        return self.take.timeline.segments[-1].tempo
