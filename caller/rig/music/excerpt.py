"""The half minute of a version that is made before the whole, and what the whole takes from it.

Conventions: as in ``caller.rig.music.stretch``. An excerpt is as long as the whole, and silent where that isn't made
yet, so that each of its frames is where it will be there.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import numpy as np

from caller.rig.music.stretch import MARGIN_FRAMES, NEAR_FRAMES, SEAM_FRAMES, meeting_near, stretched
from caller.sound.score import RATE, ClipSpan, Samples

# How much of the recording it holds.
EXCERPT_FRAMES, EXCERPT_FADE = 30 * RATE, RATE // 20
# Far enough from where it is cut for its fade, at whatever speed.
_ASIDE_FRAMES = RATE // 4


def excerpt_of(samples: Samples, speed: Fraction, seconds: float) -> tuple[Samples, int]:
    """What is heard of a recording from a time on, its edges faded, and the whole version's frame it begins on. Raises
    NoMusic."""
    first, last = _held(len(samples), seconds)
    heard = stretched(samples[first:last], speed)
    # Where it is cut, what it was stretched with is missing.
    margin = round(MARGIN_FRAMES / speed)
    begins, ends = margin if first else 0, len(heard) - (margin if last < len(samples) else 0)
    part = ClipSpan(begins, ends, EXCERPT_FADE if first else 0, EXCERPT_FADE if last < len(samples) else 0)
    return part.faded(heard[begins:ends], 0), round(first / speed) + begins


def taken_of(samples: Samples, seconds: float) -> tuple[int, int]:
    """Between which frames of the recording the whole takes it from the excerpt."""
    first, last = _held(len(samples), seconds)
    aside = MARGIN_FRAMES + NEAR_FRAMES + _ASIDE_FRAMES
    return (
        meeting_near(samples, first + aside) if first else 0,
        meeting_near(samples, last - aside) if last < len(samples) else len(samples),
    )


def take_into(out: Samples, excerpt: Path, speed: Fraction, first: int, last: int) -> Samples:
    """Copies what is between those frames of the recording. What there is for the seam before it is told, and not
    written, as by :func:`caller.rig.music.stretch.pieces_into`. Changes ``out``. Raises OSError."""
    heard = np.load(excerpt, mmap_mode="r")
    since, until = round(first / speed), min(round(last / speed) + SEAM_FRAMES, len(out), len(heard))
    opening = np.array(heard[since : since + (SEAM_FRAMES if first else 0)])
    out[since + len(opening) : until] = heard[since + len(opening) : until]
    return opening


def _held(length: int, seconds: float) -> tuple[int, int]:
    """What it is stretched from, frames of the recording."""
    first = max(round(seconds * RATE) - MARGIN_FRAMES, 0)
    # No rest that is too short to be made by itself.
    last = first + EXCERPT_FRAMES + 2 * MARGIN_FRAMES
    return first, last if last + MARGIN_FRAMES < length else length
