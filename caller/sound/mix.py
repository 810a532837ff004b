"""The one renderer: what a score sounds like in any stretch of frames.

Conventions: frames [first, last) on the score's own axis; what comes out is float32 of shape (last - first, 2), the
same in both but for recordings in stereo. Pure: the samples hang on the score and the frame alone, never on how the
frames are cut into blocks, so a live run and a recording are equal sample for sample. Before frame 0 and from
``score.frames`` on there is silence. What is not spoken is ducked under what is (:mod:`caller.sound.ducking`).

Headroom: clicks peak at ``CLICK_PEAK`` at most, speech and music at ``SPEECH_PEAK`` (factors of full scale), so that a
click and one of them together stay below ``KNEE`` and pass untouched. What goes beyond it all the same (a voice made
louder by hand, clicks one upon another) is bent so that no sample passes ``CEILING``, -1 dBFS. The bend has no memory:
a limiter with one would hang on where the block began.
"""

from __future__ import annotations

import numpy as np

from caller.sound.ducking import ducked_gains
from caller.sound.score import Samples, Score

CHANNELS = 2
CLICK_PEAK = 0.33
SPEECH_PEAK = 0.51
KNEE = 0.85
CEILING = 0.891


def render(score: Score, first: int, last: int) -> Samples:
    """Frames [first, last) of a score, shape (last - first, 2). Raises ValueError where last comes before first."""
    if last < first:
        raise ValueError(f"frames {first} to {last}: the last comes before the first")
    mixed = np.zeros((last - first, CHANNELS), np.float32)
    begin, end = max(first, 0), min(last, score.frames)
    gains = ducked_gains(score, first, last)
    for placement in score.sounding(begin, end) if begin < end else ():
        start, stop = max(placement.frame, begin), min(placement.end, end)
        sound = placement.sound(start, stop)
        if gains is not None and placement.kind != "call":
            sound *= (
                gains[start - first : stop - first]
                if sound.ndim == 1
                else gains[start - first : stop - first, np.newaxis]
            )
        mixed[start - first : stop - first] += sound if sound.ndim == 2 else sound[:, np.newaxis]
    return limited(mixed)


def limited(samples: Samples) -> Samples:
    """Samples up to KNEE as they are; beyond it bent towards CEILING, which none passes. Any shape.

    Each sample by itself, and only by operations that IEEE 754 rounds exactly, so the same on every machine.
    """
    size = np.abs(samples)
    loud = size > np.float32(KNEE)
    if not loud.any():
        return samples
    room = np.float32(CEILING - KNEE)
    beyond = (size - np.float32(KNEE)) / room
    bent = np.minimum(np.float32(KNEE) + room * (beyond / (1 + beyond)), np.float32(CEILING))
    return np.where(loud, np.copysign(bent, samples), samples)
