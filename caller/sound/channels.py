"""One channel of a recording to look at, and where in it there is any sound.

Conventions: samples float32, shape (n,) or (n, 2), at ``RATE``.
"""

from __future__ import annotations

import numpy as np

from caller.sound.score import RATE, Samples

# Where what two channels differ by has so many times the energy of what they share, one of them is the wrong way round.
OPPOSED = 4.0
_BLOCK = RATE // 100
# So much softer than where a recording is loudest it is silent.
SILENT_DB = 60.0


def one_channel(samples: Samples) -> Samples:
    """The middle of two channels; what they differ by, where they would cancel each other."""
    if samples.ndim == 1:
        return samples
    left, right = samples[:, 0], samples[:, 1]
    middle, side = (left + right) * np.float32(0.5), (left - right) * np.float32(0.5)
    return side if float(np.dot(side, side)) > OPPOSED * float(np.dot(middle, middle)) else middle


def sounding(samples: Samples) -> tuple[int, int]:
    """The first frame and the last (excluded) of what there is between silence at the beginning and at the end, to a
    hundredth of a second; all, where there is no sound. samples: of one channel."""
    blocks = np.abs(samples[: len(samples) // _BLOCK * _BLOCK].reshape(-1, _BLOCK)).max(axis=1, initial=0)
    if not len(blocks) or not blocks.max() > 0:
        return 0, len(samples)
    loud = np.flatnonzero(blocks > blocks.max() * 10 ** (-SILENT_DB / 20))
    return int(loud[0]) * _BLOCK, min((int(loud[-1]) + 1) * _BLOCK, len(samples))
