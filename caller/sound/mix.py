"""A score's frames as samples: a pure function, the same for a file and a loudspeaker, however it is cut into blocks.

Conventions: float32, stereo, shape (frames, 2). Placements are added in their order in 32 bit, sample by sample, so a
sample's value does not depend on the block it is rendered in. What would come near full scale is bent, without memory, to
stay below ``CEILING``; nothing below ``KNEE`` is touched.
"""

from __future__ import annotations

import numpy as np

from caller.sound.score import Samples, Score

CHANNELS = 2
KNEE = np.float32(10 ** (-3 / 20))  # -3 dBFS
CEILING = np.float32(10 ** (-1.5 / 20))  # half a decibel of room for what lies between samples


def render(score: Score, first: int, last: int) -> Samples:
    """Frames [first, last) of a score; silence before its start and after its end.

    Shape (last - first, 2). Raises ValueError where last < first.
    """
    if last < first:
        raise ValueError(f"frames must run forward, not from {first} to {last}")
    mixed = np.zeros(last - first, dtype=np.float32)
    until = min(last, score.frames)
    for placement in score.sounding(first, until):
        begin, end = max(placement.frame, first, 0), min(placement.end, until)
        if begin < end:
            part = placement.clip.samples[begin - placement.frame : end - placement.frame]
            mixed[begin - first : end - first] += part * np.float32(placement.gain)
    return np.repeat(limited(mixed)[:, None], CHANNELS, axis=1)


def limited(samples: Samples) -> Samples:
    """Bent to stay below CEILING in size; what is below KNEE comes back as it was."""
    size = np.abs(samples)
    if not size.size or size.max() <= KNEE:
        return samples
    room = CEILING - KNEE
    bent = KNEE + room * np.tanh((size - KNEE) / room)
    return np.where(size > KNEE, np.copysign(bent, samples), samples).astype(np.float32)
