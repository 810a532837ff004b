"""A score: all that sounds in one take, on exact frames.

Conventions: frames are integers at ``rate`` a second from the score's own start; samples are float32 in -1..1; clips
are mono (shape ``(n,)``), what is rendered is stereo (shape ``(n, 2)``). A placement's gain is a factor, 1.0 = as it
is. Everything is frozen: a command makes a new score.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from itertools import accumulate

import numpy as np
import numpy.typing as npt

Samples = npt.NDArray[np.float32]

RATE = 48_000


@dataclass(frozen=True, eq=False)
class Clip:
    """One sound. key: names its content (equal keys = equal samples), so that it need be sent to a player only once."""

    key: str
    samples: Samples = field(repr=False)

    @property
    def frames(self) -> int:
        return len(self.samples)


@dataclass(frozen=True, slots=True)
class Placement:
    """A clip that begins on ``frame``. kind: "count" (the count track) or "call" (whatever is spoken)."""

    frame: int
    clip: Clip
    gain: float
    kind: str

    @property
    def end(self) -> int:
        return self.frame + self.clip.frames


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
        index = self._index
        begun = bisect_left(index.starts, last)
        over = bisect_right(index.reach, first)
        return [placement for placement in index.placements[over:begun] if placement.end > first]

    @cached_property
    def _index(self) -> _Index:
        ordered = tuple(sorted(self.placements, key=_order))
        reach = accumulate((placement.end for placement in ordered), max)
        return _Index(ordered, tuple(placement.frame for placement in ordered), tuple(reach))


@dataclass(frozen=True, slots=True)
class _Index:
    """starts: each placement's first frame. reach: the furthest end among it and those before it. Both ascend, so both
    can be searched by halves."""

    placements: tuple[Placement, ...]
    starts: tuple[int, ...]
    reach: tuple[int, ...]


def _order(placement: Placement) -> tuple[int, str, str, float]:
    return placement.frame, placement.kind, placement.clip.key, placement.gain
