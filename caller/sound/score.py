"""A score: all that sounds in one take, on exact frames.

Conventions: frames are integers at ``rate`` a second from the score's own start; samples are float32 in -1..1; clips are
mono (shape ``(n,)``), what is rendered is stereo (shape ``(n, 2)``). Everything is frozen: a command makes a new score.
"""

from __future__ import annotations

from dataclasses import dataclass, field

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


@dataclass(frozen=True, slots=True)
class Score:
    """Placements in order of frame; ``frames`` = length, after which there is silence."""

    placements: tuple[Placement, ...]
    frames: int
    rate: int = RATE
