"""What is under a call, made softer while it is spoken.

Conventions: depths in dB (0 = none), speech over the rest in LU, frames on the score's axis; gains are factors. All
but what is spoken (kind "call") is ducked: fully from a call's first frame to its last, falling before and rising after
in decibels evenly. The gain at a frame hangs on how far it is from the nearest call and on nothing else, so it is the
same however the frames are cut into blocks.
How deep it has to be: :func:`caller.sound.levels.duck_for`.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from caller.sound.score import RATE, Samples, Score

FALL_FRAMES = RATE // 20  # 50 ms: done before the first word, and no click
RISE_FRAMES = RATE // 5  # 200 ms: slow enough not to pump between two words


def ducked_gains(score: Score, first: int, last: int) -> Samples | None:
    """The gain of what is not spoken for frames [first, last), shape (last - first,); None where it is 1 throughout."""
    if score.duck_db <= 0:
        return None
    near = [one for one in score.sounding(first - RISE_FRAMES, last + FALL_FRAMES) if one.kind == "call" and one.frames]
    if not near:
        return None
    gains = np.ones(last - first, np.float32)
    falling, rising = _slopes(score.duck_db)
    for call in near:
        _lower(gains, falling, call.frame - FALL_FRAMES - first)
        spoken = gains[max(call.frame - first, 0) : max(call.end - first, 0)]
        np.minimum(spoken, falling[-1], out=spoken)
        _lower(gains, rising, call.end - first)
    return gains


def _lower(gains: Samples, curve: Samples, at: int) -> None:
    """Where a curve that begins at ``at`` is lower than ``gains``, take it. Changes ``gains``."""
    start, stop = max(at, 0), min(at + len(curve), len(gains))
    if start < stop:
        np.minimum(gains[start:stop], curve[start - at : stop - at], out=gains[start:stop])


@cache
def _slopes(depth_db: float) -> tuple[Samples, Samples]:
    """From nearly 1 down to the depth, and back up."""

    def slope(frames: int) -> Samples:
        db = depth_db * (np.arange(frames) + 1) / frames
        return (10 ** (-db / 20)).astype(np.float32)

    return slope(FALL_FRAMES), slope(RISE_FRAMES)[::-1].copy()
