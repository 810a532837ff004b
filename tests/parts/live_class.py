"""A class on real parts, and the same class again without them.

Whatever a session is told by its speaker and its clock while it runs live is written down; told the same once more, in
the same order, it must ask for the same sound: its orders are rendered offline at the frames where they took hold.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import Any

from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.notation.read import read_bytes
from caller.session import Desk, Session, WholeDance
from caller.session.desk import Pedal
from caller.sound.reel import Reel, Splice
from caller.sound.score import RATE, Score
from caller.sound.speaker import Heard, Speaker
from caller.transport.order import Order
from caller.transport.unit import Footwork
from tests.session.classroom import Gestures, KnownVoice, Prepared, looked

LANTERN = Path(__file__).parents[2] / "routines" / "lantern-row.txt"
Told = deque[tuple[str, Any]]


@dataclass
class WrittenDown:
    """A speaker and a clock, and all that they told, in order."""

    speaker: Speaker
    told: Told = field(default_factory=deque)
    rate: int = RATE

    def earliest(self, after_seconds: float = 0.0) -> int:
        return self._kept("earliest", self.speaker.earliest(after_seconds))

    def splice(self, score: Score | None, score_frame: int = 0, at: int | None = None) -> int:
        return self._kept("splice", self.speaker.splice(score, score_frame, at))

    def hush(self) -> None:
        self._kept("hush", self.speaker.hush())

    def heard(self) -> Heard:
        return self._kept("heard", self.speaker.heard())

    def now(self) -> float:
        return self._kept("now", time.perf_counter())

    def close(self) -> None:
        self.speaker.close()

    def _kept(self, what: str, said: Any) -> Any:
        self.told.append((what, said))
        return said


@dataclass
class ToldAgain:
    """Tells what was written down; keeps the reel of what it is asked for. Asked anything else, or in another order, it
    fails."""

    told: Told
    reel: Reel = field(default_factory=Reel)
    rate: int = RATE

    def earliest(self, after_seconds: float = 0.0) -> int:
        return int(self.told_next("earliest"))

    def splice(self, score: Score | None, score_frame: int = 0, at: int | None = None) -> int:
        frame = int(self.told_next("splice"))
        self.reel = self.reel.with_splice(Splice(frame, score, score_frame))
        return frame

    def hush(self) -> None:
        self.told_next("hush")
        hushed = (said.hushed_at for what, said in self.told if what == "heard" and said.hushed_at is not None)
        self.reel = self.reel.with_splice(Splice(next(hushed), None))

    def heard(self) -> Heard:
        heard = self.told_next("heard")
        assert isinstance(heard, Heard)
        return heard

    def now(self) -> float:
        return float(self.told_next("now"))

    def close(self) -> None: ...

    def told_next(self, what: str) -> Any:
        asked, said = self.told.popleft()
        assert asked == what
        return said


@dataclass
class WrittenPedal:
    """A pedal, and what it made, among what the speaker told."""

    pedal: Pedal
    told: Told

    @property
    def says(self) -> str:
        return self.pedal.says

    def poll(self, now: float) -> Footwork:
        made = self.pedal.poll(now)
        self.told.append(("poll", made))
        return made

    def close(self) -> None:
        self.pedal.close()


@dataclass
class PedalAgain:
    """Makes what was made."""

    speaker: ToldAgain
    says: str = "on the same pedal"

    def poll(self, now: float) -> Footwork:
        return tuple(self.speaker.told_next("poll"))

    def close(self) -> None: ...


def lantern() -> Dance:
    return unroll(read_bytes(LANTERN.read_bytes()).routine)


def session_on(speaker: WrittenDown | ToldAgain, tempo: int, pedal: Pedal | None = None) -> Session:
    desk = Desk(speaker, KnownVoice(), Prepared(), pedal or Gestures(), speaker.now)
    return Session(WholeDance.of(lantern(), Fraction(tempo)), desk)


def looked_for(session: Session, seconds: float) -> int:
    """Looks as a screen does for so long; returns how often."""
    looks, ends = 0, time.perf_counter() + seconds
    while time.perf_counter() < ends:
        looked(session)
        looks += 1
        time.sleep(0.02)
    return looks


def played(session: Session, script: Sequence[tuple[Order, float]]) -> list[tuple[Order, int]]:
    """Each order, and then so many seconds of looks; returns the orders with the looks after each."""
    done = []
    for order, seconds in script:
        session.obey(order)
        done.append((order, looked_for(session, seconds)))
    return done


def played_again(session: Session, done: Sequence[tuple[Order, int]]) -> None:
    for order, looks in done:
        session.obey(order)
        for _ in range(looks):
            looked(session)
