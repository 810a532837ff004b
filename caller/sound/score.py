"""A score: all that sounds in one take, on exact frames.

Conventions: frames are integers at ``rate`` a second from the score's own start; samples are float32 in -1..1; clips
are mono (shape ``(n,)``) or, as recordings may be, stereo (``(n, 2)``); what is rendered is stereo. A placement's gain
is a factor, 1.0 = as it is. Everything is frozen: a command makes a new score.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from heapq import merge
from itertools import accumulate

import numpy as np
import numpy.typing as npt

Samples = npt.NDArray[np.float32]

RATE = 48_000
# Longer than anything spoken: no more than a few such sound at once.
LONG_FRAMES = 20 * RATE


@dataclass(frozen=True, eq=False)
class Clip:
    """One sound. key: names its content (equal keys = equal samples), so that it need be sent to a player only once."""

    key: str
    samples: Samples = field(repr=False)

    @property
    def frames(self) -> int:
        return len(self.samples)


@dataclass(frozen=True, slots=True)
class ClipSpan:
    """Frames [first, last) of a clip, rising over the first ``fade_in`` and falling over the last ``fade_out`` of
    them: a recording is come in upon, and left, where it is loud."""

    first: int
    last: int
    fade_in: int = 0
    fade_out: int = 0

    def faded(self, sound: Samples, since: int) -> Samples:
        """``sound``, which begins ``since`` frames into the part, with what it has of the edges; may change it."""
        to_end = self.last - self.first - since - len(sound)
        if since < self.fade_in:
            _rise(sound[: self.fade_in - since], since, self.fade_in)
        if to_end < self.fade_out:
            _rise(sound[::-1][: self.fade_out - to_end], to_end, self.fade_out)
        return sound


_WHOLE = ClipSpan(-1, -1)  # stands before any part there can be


@dataclass(frozen=True, slots=True)
class Placement:
    """A clip that begins on ``frame``. kind: "count" (the count track), "music" or "call" (whatever is spoken). part:
    what is heard of the clip (None: all of it)."""

    frame: int
    clip: Clip
    gain: float
    kind: str
    part: ClipSpan | None = None

    @property
    def frames(self) -> int:
        return self.clip.frames if self.part is None else self.part.last - self.part.first

    @property
    def end(self) -> int:
        return self.frame + self.frames

    def sound(self, start: int, stop: int) -> Samples:
        """Score frames [start, stop) of it, as loud as placed; both within it. Always a new array."""
        first = 0 if self.part is None else self.part.first
        heard = np.asarray(self.clip.samples[start - self.frame + first : stop - self.frame + first])
        heard = heard * np.float32(self.gain)
        return heard if self.part is None else self.part.faded(heard, start - self.frame)


@dataclass(frozen=True)
class Score:
    """Placements in order of frame; ``frames`` = length, after which there is silence.

    duck_db: how much softer all else is while something is spoken (:mod:`caller.sound.ducking`).
    """

    placements: tuple[Placement, ...]
    frames: int
    rate: int = RATE
    duck_db: float = 0.0

    @classmethod
    def holding(cls, placements: Iterable[Placement], frames: int = 0, rate: int = RATE, duck_db: float = 0.0) -> Score:
        """A score of placements in any order: ``frames`` long, or longer where one of them sounds on beyond that."""
        ordered = tuple(sorted(placements, key=_order))
        return cls(ordered, max([frames, *(placement.end for placement in ordered)]), rate, duck_db)

    def sounding(self, first: int, last: int) -> list[Placement]:
        """The placements of which some frame lies in [first, last), always in the same order.

        That order hangs on the placements alone, not on how the score lists them, so that two scores that hold the
        same sounds at a place add them up alike, to the last bit.
        """
        short, long = self._indices
        if not long.placements:
            return short.sounding(first, last)
        return list(merge(short.sounding(first, last), long.sounding(first, last), key=_order))

    @cached_property
    def _indices(self) -> tuple[_Index, _Index]:
        """The short and the long apart: under a whole song, all that begins in it would be looked at each time."""
        ordered = sorted(self.placements, key=_order)
        short = tuple(placement for placement in ordered if placement.frames <= LONG_FRAMES)
        return _Index.of(short), _Index.of(tuple(placement for placement in ordered if placement.frames > LONG_FRAMES))


@dataclass(frozen=True, slots=True)
class _Index:
    """starts: each placement's first frame. reach: the furthest end among it and those before it. Both ascend, so both
    can be searched by halves."""

    placements: tuple[Placement, ...]
    starts: tuple[int, ...]
    reach: tuple[int, ...]

    @classmethod
    def of(cls, ordered: tuple[Placement, ...]) -> _Index:
        reach = accumulate((placement.end for placement in ordered), max)
        return cls(ordered, tuple(placement.frame for placement in ordered), tuple(reach))

    def sounding(self, first: int, last: int) -> list[Placement]:
        begun = bisect_left(self.starts, last)
        over = bisect_right(self.reach, first)
        return [placement for placement in self.placements[over:begun] if placement.end > first]


def _order(placement: Placement) -> tuple[int, str, str, float, tuple[int, int, int, int]]:
    part = placement.part or _WHOLE
    heard = (part.first, part.last, part.fade_in, part.fade_out)
    return placement.frame, placement.kind, placement.clip.key, placement.gain, heard


def _rise(sound: Samples, since: int, frames: int) -> None:
    """Multiplies by an even rise over ``frames``, ``since`` frames into it. Changes ``sound``."""
    gains = (np.arange(since + 1, since + 1 + len(sound)) / (frames + 1)).astype(np.float32)
    sound *= gains if sound.ndim == 1 else gains[:, np.newaxis]
