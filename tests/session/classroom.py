"""A class to give orders to: a session, and the hands that drive what it was given."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from pathlib import Path

from caller.calls.plan import Manner
from caller.cli.keeping import BookKeeping
from caller.clock.timeline import HeardTimeline
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.notation.read import read_bytes
from caller.session import Desk, Live, Session, SpeakingVoice, View, WholeDance
from caller.transport.expression import Lean
from caller.transport.order import Order
from caller.transport.state import GoOn
from caller.transport.unit import Footwork, Stroke
from tests.fakes.lexicon import MeasuredVoice
from tests.fakes.music import HandMusic
from tests.fakes.speaker import HandSpeaker

LANTERN = Path(__file__).parents[2] / "routines" / "lantern-row.txt"
TEMPO = Fraction(120)  # a count is 24,000 frames
COUNT = 24_000


@cache
def lantern() -> Dance:
    return unroll(read_bytes(LANTERN.read_bytes()).routine)


def looked(live: Live) -> View:
    """What shows a moment later: time has moved the class on."""
    live.tick(live.desk.now())
    return live.view(live.desk.now())


class KnownVoice(MeasuredVoice):
    why = ""
    note = ""

    def close(self) -> None:
        """Nothing is under way."""


class NoVoice:
    why = "There is no speech on this machine."
    note = ""

    def utterance(self, words: str, speed: float) -> None:
        return None

    def clip(self, words: str, speed: float) -> None:
        return None

    def close(self) -> None:
        """Nothing is under way."""


@dataclass
class Prepared:
    """A voice that is ready when it is told to be. made: batches, where it isn't."""

    done: bool = True
    made: int = 0
    progress: tuple[int, int] = (3, 10)
    more: list[tuple[str, float]] = field(default_factory=list)

    @property
    def batches(self) -> int:
        return self.made + self.done

    def also(self, phrases: Iterable[tuple[str, float]]) -> None:
        self.more += phrases


@dataclass
class Gestures:
    """A pedal on which that is done which it is given, once."""

    says: str = "on a pedal made by hand"
    waiting: list[Stroke | Lean] = field(default_factory=list)
    closed: bool = False

    def poll(self, now: float) -> Footwork:
        made, self.waiting = tuple(self.waiting), []
        return made

    def close(self) -> None:
        self.closed = True


class Followed:
    """Goes on with the beat, and keeps what it was told."""

    def __init__(self) -> None:
        self.beats: list[HeardTimeline | None] = []
        self.closed = False

    def follow(self, beat: HeardTimeline | None) -> None:
        self.beats.append(beat)

    def close(self) -> None:
        self.closed = True


@dataclass
class Class:
    """A session and the hands that drive what it was given."""

    speaker: HandSpeaker = field(default_factory=HandSpeaker)
    voice: SpeakingVoice = field(default_factory=KnownVoice)
    prepared: Prepared = field(default_factory=Prepared)
    pedal: Gestures = field(default_factory=Gestures)
    tempo: Fraction = TEMPO
    go_on: GoOn = GoOn.BAR
    offset_ms: float = 0.0
    music: HandMusic | None = None
    dance: Dance = field(default_factory=lantern)
    book: BookKeeping | None = None  # the whole dance, with its own tempo as the full one

    def __post_init__(self) -> None:
        desk = Desk(
            self.speaker,
            self.voice,
            self.prepared,
            self.pedal,
            self.speaker.now,
            lambda device: self.offset_ms,
            self.go_on,
            music=self.music,
        )
        whole, book = WholeDance.of(self.dance, self.tempo, Manner.AHEAD), self.book
        self.session = Session(
            whole,
            desk,
            done=None if book is None else lambda whole, danced: book.danced_whole(whole, danced, TEMPO),
            passed=None if book is None else lambda whole, count, danced: book.passed(whole, count, danced, TEMPO),
        )

    def order(self, *orders: Order) -> View:
        for order in orders:
            self.session.obey(order)
        return looked(self.session)

    def danced(self, counts: float) -> View:
        """So many counts at full tempo later; looked at ten times a count, as a screen would."""
        view = looked(self.session)
        for _ in range(round(counts * 10)):
            self.speaker.advance(COUNT // 10)
            view = looked(self.session)
        return view

    def clicks(self) -> list[int]:
        """Frames at which the count track's clicks were placed on the stream, as they were heard."""
        return [p.frame for p in self.session.air.playout.parts[-1].piece.score.placements if p.kind == "count"]
