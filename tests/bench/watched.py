"""A class that sounds, looked at as the screen looks, and captured: when a frame was played, on the program's clock."""

from __future__ import annotations

import time
from bisect import bisect_left
from collections.abc import Callable, Sequence
from fractions import Fraction

import numpy as np
import numpy.typing as npt

from caller.rig.stream.live import DeviceSpeaker
from caller.session import Desk, Session, WholeDance
from caller.sound.score import RATE
from tests.parts.live_class import lantern
from tests.parts.pulse import Capture, PulseServer
from tests.parts.waiting import until
from tests.session.classroom import KnownVoice, Prepared, looked

LOOK_SECONDS, LISTEN_SECONDS = 0.05, 0.01  # as the screen does

Floats = npt.NDArray[np.float64]


class Screen:
    """Looks at a session as the screen does: the pedal a hundred times a second, the rest twenty times."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.seen: list[tuple[float, object]] = []
        self._next = 0.0

    def until(self, true: Callable[[], bool], seconds: float) -> None:
        ends = time.perf_counter() + seconds
        while not true() and time.perf_counter() < ends:
            now = time.perf_counter()
            if now >= self._next:
                view, self._next = looked(self.session), now + LOOK_SECONDS
                if view.glance is not None:
                    self.seen.append((now, (view.glance.counting_in, view.glance.section, view.glance.count)))
            else:
                self.session.listen()
            time.sleep(LISTEN_SECONDS)

    def changes(self) -> Floats:
        """When what shows changed."""
        return np.array([now for (now, place), (_, was) in zip(self.seen[1:], self.seen, strict=False) if place != was])


class CaptureClock:
    """When, on the program's clock, a captured frame was played: the soonest that frames near it were seen to come. (A
    virtual sink runs unevenly on a loaded machine, so that what holds a second later tells nothing.)"""

    def __init__(self, capture: Capture) -> None:
        self.capture = capture
        self._frames: list[int] = []
        self._began: list[float] = []  # where frame 0 would be, as seen at each look

    def look(self) -> bool:
        frames = self.capture.frames_so_far()
        if not self._frames or frames > self._frames[-1]:
            self._frames.append(frames)
            self._began.append(time.perf_counter() - frames / RATE)
        return False

    def seconds(self, frame: int) -> float:
        first, last = (bisect_left(self._frames, frame + beside * RATE // 4) for beside in (-1, 1))
        return min(self._began[first : max(last, first + 1)] or self._began[-1:]) + frame / RATE

    def frame(self, seconds: float) -> int:
        return round((seconds - self._began[-1]) * RATE)


def opened(server: PulseServer, pedal: object, tempo: int) -> tuple[DeviceSpeaker, Session]:
    speaker = DeviceSpeaker("pulse", server.folder / "sound.log")
    until(lambda: speaker.heard().heard > 0, 30, "the first frame heard")
    desk = Desk(speaker, KnownVoice(), Prepared(), pedal, time.perf_counter)  # type: ignore[arg-type]
    session = Session(WholeDance.of(lantern(), Fraction(tempo)), desk)
    looked(session)
    return speaker, session


def line(what: str, ms: Sequence[float]) -> None:
    low, middle, high = np.min(ms), np.median(ms), np.max(ms)
    print(f"{what}: median {middle:.1f} ms, {low:.1f} to {high:.1f} ms ({len(ms)} times)", flush=True)
