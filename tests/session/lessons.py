"""A lesson to give orders to, and the hands that drive what it was given."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction

from caller.calls.take import Take
from caller.dance.walls import Dance
from caller.session import Desk, Session, SpeakingVoice, TaughtProgramme, View
from caller.sound.score import RATE
from caller.teaching.play import Narration
from caller.teaching.running import Running, Waits
from caller.teaching.stage import LessonPlan
from caller.transport.order import Order
from caller.transport.state import State
from tests.fakes.music import HandMusic
from tests.fakes.speaker import HandSpeaker
from tests.session.classroom import Gestures, KnownVoice, Prepared, lantern, looked

LOOK = RATE // 20


@dataclass
class Taught:
    """A lesson, and all that it has told of."""

    make: Callable[[Dance], LessonPlan]
    speaker: HandSpeaker = field(default_factory=HandSpeaker)
    voice: SpeakingVoice = field(default_factory=KnownVoice)
    prepared: Prepared = field(default_factory=Prepared)
    pedal: Gestures = field(default_factory=Gestures)
    told: list[Running] = field(default_factory=list)
    says: str = ""
    music: HandMusic | None = None
    waits: Waits = Waits.NEVER
    ordered: Callable[[TaughtProgramme, Order], str] | None = None

    def __post_init__(self) -> None:
        dance = lantern()
        desk = Desk(self.speaker, self.voice, self.prepared, self.pedal, self.speaker.now, music=self.music)
        self.programme = self.make(dance)
        taught = TaughtProgramme.of(self.programme, dance, waits=self.waits)
        self.lesson = Session(taught, desk, done=self.hear, ordered=self.ordered)
        looked(self.lesson)

    def hear(self, taught: TaughtProgramme, tempo: Fraction) -> str:
        self.told.append(taught.running)
        return self.says

    def order(self, *orders: Order) -> View:
        for order in orders:
            self.lesson.obey(order)
        return looked(self.lesson)

    def goes_on(self, seconds: float) -> View:
        """So many seconds later, looked at twenty times a second."""
        view = looked(self.lesson)
        for _ in range(round(seconds * RATE / LOOK)):
            self.speaker.advance(LOOK)
            view = looked(self.lesson)
        return view

    def until(self, true: Callable[[View], bool], seconds: float = 600) -> View:
        """On until something shows."""
        view = looked(self.lesson)
        for _ in range(round(seconds * RATE / LOOK)):
            if true(view):
                return view
            self.speaker.advance(LOOK)
            view = looked(self.lesson)
        raise AssertionError(f"not within {seconds} s: {view}")

    def comes_to(self, state: State) -> View:
        return self.until(lambda view: view.state is state)

    @property
    def take(self) -> Take:
        """The go that is heard, or waits to be."""
        piece = self.lesson.air.waiting or self.lesson.air.playout.parts[0].piece
        assert isinstance(piece, Take)
        return piece

    @property
    def telling(self) -> Narration:
        piece = self.lesson.air.waiting or self.lesson.air.playout.parts[0].piece
        assert isinstance(piece, Narration)
        return piece

    @property
    def tempo(self) -> Fraction:
        return self.take.timeline.segments[-1].tempo
