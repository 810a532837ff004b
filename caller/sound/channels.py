"""One channel of a recording to look at, and where in it there is any sound.

Conventions: samples float32, shape (n,) or (n, 2), at ``RATE``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from caller.sound.score import RATE, Samples

# Where what two channels differ by has so many times the energy of what they share, one of them is the wrong way round.
OPPOSED = 4.0
_BLOCK = RATE // 100
_LOOKED_AT = 1000 * _BLOCK
# So much softer than where a recording is loudest it is silent.
SILENT_DB = 60.0


def one_channel(samples: Samples) -> Samples:
    """The middle of two channels; what they differ by, where they would cancel each other."""
    return samples if samples.ndim == 1 else mixed(samples, opposed(looked_at(samples)))


def opposed(blocks: Iterable[Samples]) -> bool:
    """Whether two channels, told block by block, would cancel each other."""
    middle = side = 0.0
    for block in blocks:
        energies = [float(np.dot(one, one)) for one in (mixed(block, False), mixed(block, True))]
        middle, side = middle + energies[0], side + energies[1]
    return side > OPPOSED * middle


def mixed(samples: Samples, differ: bool) -> Samples:
    """Two channels as one: their middle, or what they differ by."""
    left, right = samples[:, 0], samples[:, 1]
    return np.asarray((left - right if differ else left + right) * np.float32(0.5))


def sounding(samples: Samples) -> tuple[int, int]:
    """The first frame and the last (excluded) of what there is between silence at the beginning and at the end, to a
    hundredth of a second; all, where there is no sound. samples: of one channel."""
    found = [
        np.abs(one[: len(one) // _BLOCK * _BLOCK].reshape(-1, _BLOCK)).max(axis=1, initial=0)
        for one in looked_at(samples)
    ]
    blocks = np.concatenate([*found, np.zeros(0, np.float32)])
    if not len(blocks) or not blocks.max() > 0:
        return 0, len(samples)
    loud = np.flatnonzero(blocks > blocks.max() * 10 ** (-SILENT_DB / 20))
    return int(loud[0]) * _BLOCK, min((int(loud[-1]) + 1) * _BLOCK, len(samples))


def looked_at(samples: Samples) -> Iterator[Samples]:
    """Samples block by block, so that what is made of them needs little room."""
    for first in range(0, len(samples), _LOOKED_AT):
        yield samples[first : first + _LOOKED_AT]
