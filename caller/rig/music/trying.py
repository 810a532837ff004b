"""A recording played by itself, with clicks laid over its counts: what its beat is tapped and checked by.

Conventions: see ``caller.sound.speaker``; times are seconds of the recording. All is called from one thread, and
nothing waits.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil
from statistics import linear_regression, median

from caller.clock.grid import Grid
from caller.sound.clicks import ACCENT, COUNT, count_track
from caller.sound.score import Clip, Placement, Score
from caller.sound.speaker import Heard, Speaker

LEAST_TAPS = 8
LEAST_STRETCH_TAPS = 4
BAR = 4
# Taps come so long before what they are meant for (Repp, Psychonomic Bulletin & Review 12, 2005).
EARLY_SECONDS = 0.03
_AROUND = 4


def tapped(times: Sequence[float]) -> tuple[float, float] | None:
    """Tempo in counts a minute and where the first tap was, None for too few taps. Rough: taps come some 30 ms before
    what they are meant for (Repp, Psychonomic Bulletin & Review 12, 2005), and unevenly; the recording itself then
    tells where its counts are, and taps which of them are meant."""
    if len(times) < LEAST_TAPS:
        return None
    apart = median(later - sooner for sooner, later in pairwise(times))
    return (60 / apart, times[0]) if apart > 0 else None


def steadied(times: Sequence[float]) -> list[float]:
    """Where the counts are that were meant by taps: each on the line through the taps around it, a little later than
    they came."""
    found = []
    for n in range(len(times)):
        around = range(max(n - _AROUND, 0), min(n + _AROUND + 1, len(times)))
        slope, start = linear_regression(list(around), [times[k] for k in around])
        found.append(start + slope * n + EARLY_SECONDS)
    return found


class Trial:
    """clip, gain: the recording, and what it is played with. now: seconds of the speaker's clock."""

    def __init__(
        self,
        speaker: Speaker,
        clip: Clip,
        gain: float,
        now: Callable[[], float],
        offset_ms: Callable[[str], float] = lambda device: 0.0,
    ) -> None:
        self._speaker, self._clip, self._gain, self._now, self._offset_ms = speaker, clip, gain, now, offset_ms
        self._grid: Grid | None = None
        self._bar = BAR
        self._began: int | None = None  # the stream frame on which the recording began
        self._heard: Heard = speaker.heard()

    @property
    def fault(self) -> str:
        """One sentence on why there is no sound, "" while there is."""
        return self._heard.fault

    @property
    def over(self) -> bool:
        return self._began is not None and self._heard.heard >= self._began + self._clip.frames

    def look(self) -> None:
        """How far the sound has come; begins once a device plays."""
        self._heard = self._speaker.heard()
        if self._began is None and self._heard.device and not self._heard.fault:
            self._began = self._speaker.splice(self._score(), 0)

    def at_seconds(self) -> float | None:
        """Where in the recording the ear is; None before it has begun."""
        if self._began is None:
            return None
        heard = self._speaker.heard()
        frame = heard.frame_at(self._now(), self._speaker.rate, self._offset_ms(heard.device))
        return (frame - self._began) / self._speaker.rate

    def lay(self, grid: Grid, bar: int = BAR) -> None:
        """Clicks on those counts from now on, the first of each bar accented."""
        self._grid, self._bar = grid, bar
        if self._began is not None:
            at = self._speaker.earliest()
            self._speaker.splice(self._score(), at - self._began, at)

    def go_to(self, seconds: float) -> None:
        """Plays on from another place of the recording."""
        if self._began is None:
            return
        frame = min(max(round(seconds * self._speaker.rate), 0), max(self._clip.frames - 1, 0))
        at = self._speaker.earliest()
        self._speaker.splice(self._score(), frame, at)
        self._began = at - frame

    def _score(self) -> Score:
        rate = self._speaker.rate
        placed = [Placement(0, self._clip, self._gain, "music")]
        if self._grid is not None:
            counts = range(ceil(self._grid.count_at(Fraction(self._clip.frames, rate))))
            frames = (round(self._grid.seconds_of(Fraction(n)) * rate) for n in counts)
            placed += count_track((at, COUNT if n % self._bar else ACCENT) for n, at in enumerate(frames))
        return Score.holding(placed, self._clip.frames, rate)
