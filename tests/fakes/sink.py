"""A sink and a clock driven by hand: once the sink's queue is full, each block written moves the clock by its
length."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from caller.rig.stream.player import SoundLost
from caller.sound.score import RATE, Samples


class HandClock:
    """Seconds, moved by whoever holds it."""

    def __init__(self, seconds: float = 100.0) -> None:
        self.seconds = seconds

    def now(self) -> float:
        return self.seconds

    def wait(self, seconds: float) -> None:
        self.seconds += seconds


class HandSink:
    """lost_after: blocks after which it is lost. dry: numbers of the blocks that come too late. before: called with
    the number of each block before it is written, so that a test can give orders there. dropped: of each drop, how
    many blocks were written before it, and the frames that were lost."""

    def __init__(
        self,
        clock: HandClock,
        before: Callable[[int], None] = lambda number: None,
        latency_frames: int = 4_800,
        lead_frames: int = 0,
        lost_after: int | None = None,
        dry: tuple[int, ...] = (),
    ) -> None:
        self.device = "by hand"
        self.latency_frames = latency_frames
        self.lead_frames = lead_frames
        self._queue = 0
        self.closed = False
        self._clock = clock
        self._before = before
        self._lost_after = lost_after
        self._dry = dry
        self._blocks: list[Samples] = []
        self.dropped: list[tuple[int, int]] = []

    def wait_for_room(self, frames: int, look: Callable[[], bool]) -> None:
        """There is room: by hand, writing is what waits."""

    def write(self, block: Samples) -> bool:
        number = len(self._blocks)
        if number == self._lost_after:
            raise SoundLost("The device by hand is lost.")
        self._before(number)
        self._blocks.append(block)
        over = max(0, self._queue + len(block) + self.lead_frames - self.latency_frames)
        self._clock.wait(over / RATE)
        self._queue += len(block) - over
        return number in self._dry

    def queued(self) -> int:
        return self._queue + self.lead_frames

    def drop(self) -> None:
        self.dropped.append((len(self._blocks), self._queue))
        self._queue = 0

    def close(self) -> None:
        self.closed = True

    @property
    def sound(self) -> Samples:
        """All that was written, and as it was."""
        return np.concatenate(self._blocks)

    @property
    def heard(self) -> Samples:
        """What came to the ear, or will."""
        cut, lost = np.concatenate([np.zeros((0, 2), np.float32), *self._blocks]), 0
        for blocks, frames in self.dropped:
            ends = sum(len(block) for block in self._blocks[:blocks]) - lost
            cut, lost = np.delete(cut, slice(ends - frames, ends), axis=0), lost + frames
        return cut
