"""A loudspeaker driven by hand.

``advance(frames)`` is all that moves it: it takes the orders given since, lets the real deck render with the real
renderer, and keeps what came out. Its clock is its own frame count, so ``now`` can be handed to whoever wants a clock.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from caller.rig.stream.deck import Deck
from caller.rig.stream.live import MARGIN_BLOCKS
from caller.sound.score import RATE, Samples, Score
from caller.sound.speaker import Heard


@dataclass(frozen=True, slots=True)
class Asked:
    """A splice as it was asked for."""

    score: Score | None
    score_frame: int
    at: int


@dataclass
class HandSpeaker:
    """latency: frames between written and heard. block: frames taken at once; like the real one it takes orders at a
    block's edge only. fault, underruns: set them to have them told. asked, hushes, closed: what was done to it."""

    rate: int = RATE
    latency: int = 0
    block: int = 480
    fault: str = ""
    underruns: int = 0
    asked: list[Asked] = field(default_factory=list)
    hushes: int = 0
    closed: bool = False
    deck: Deck = field(default_factory=Deck)
    _blocks: list[Samples] = field(default_factory=list)
    _hush_waits: bool = False

    def now(self) -> float:
        """Seconds by the speaker's own clock, 0 at frame 0."""
        return self.deck.written / self.rate

    def advance(self, frames: int) -> Samples:
        """Let ``frames`` more frames out; returns them, shape (frames, 2)."""
        fresh: list[Samples] = []
        while frames > 0:
            self._take_hush()
            taken = min(frames, self.block)
            fresh.append(self.deck.block(taken))
            frames -= taken
        self._blocks += fresh
        return _joined(fresh)

    @property
    def sound(self) -> Samples:
        """All that has come out, from frame 0 on, shape (written, 2)."""
        return _joined(self._blocks)

    def earliest(self, after_seconds: float = 0.0) -> int:
        return self.deck.written + MARGIN_BLOCKS * self.block + round(after_seconds * self.rate)

    def splice(self, score: Score | None, score_frame: int = 0, at: int | None = None) -> int:
        if score is not None and score.rate != self.rate:
            raise ValueError(f"a score at {score.rate} frames a second for a speaker at {self.rate}")
        frame = self.earliest() if at is None else at
        self.asked.append(Asked(score, score_frame, frame))
        self._take_hush()  # orders are taken in the order given
        self.deck.splice(score, score_frame, frame)
        return frame

    def hush(self) -> None:
        self.hushes += 1
        self.deck.hushed_at = None
        self._hush_waits = True

    def heard(self) -> Heard:
        at_ear = max(0, self.deck.written - self.latency)
        return Heard(
            written=self.deck.written,
            heard=at_ear,
            at_seconds=self.now(),
            underruns=self.underruns,
            late=self.deck.late,
            hushed_at=self.deck.hushed_at,
            device="" if self.fault else "a speaker driven by hand",
            fault=self.fault,
        )

    def close(self) -> None:
        self.closed = True

    def _take_hush(self) -> None:
        if self._hush_waits:
            self.deck.hush()
            self._hush_waits = False


def _joined(blocks: list[Samples]) -> Samples:
    return np.concatenate(blocks) if blocks else np.zeros((0, 2), np.float32)
