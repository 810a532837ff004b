"""Loudspeakers that are no device; for what a speaker is see ``caller.sound.speaker``."""

from __future__ import annotations

import math
import time
from collections.abc import Callable

from caller.sound.score import RATE, Score
from caller.sound.speaker import Heard


class SilentSpeaker:
    """No device: the same positions, by the clock, so that the class goes on. fault: why there is no sound.

    now: seconds; frame 0 is when it was made.
    """

    MARGIN_FRAMES = 960

    def __init__(self, fault: str, rate: int = RATE, now: Callable[[], float] = time.perf_counter) -> None:
        self.rate = rate
        self._fault = fault
        self._now = now
        self._began = now()
        self._late = 0
        self._hushed_at: int | None = None

    def earliest(self, after_seconds: float = 0.0) -> int:
        return self._frame() + self.MARGIN_FRAMES + math.ceil(after_seconds * self.rate)

    def splice(self, score: Score | None, score_frame: int = 0, at: int | None = None) -> int:
        check_rate(score, self.rate)
        frame = self.earliest() if at is None else at
        self._late += frame < self._frame()
        return frame

    def hush(self) -> None:
        self._hushed_at = self._frame()

    def heard(self) -> Heard:
        now = self._now()
        frame = self._frame(now)
        return Heard(frame, frame, now, late=self._late, hushed_at=self._hushed_at, fault=self._fault)

    def close(self) -> None:
        """Nothing to end."""

    def _frame(self, now: float | None = None) -> int:
        return round(((self._now() if now is None else now) - self._began) * self.rate)


def check_rate(score: Score | None, rate: int) -> None:
    """Raises ValueError for a score that a speaker at ``rate`` can't play in time."""
    if score is not None and score.rate != rate:
        raise ValueError(f"a score at {score.rate} frames a second for a speaker at {rate}")
