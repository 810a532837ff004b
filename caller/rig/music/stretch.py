"""A recording at another speed, its pitch kept: in pieces, since the library keeps all that it works on several times.

Conventions: samples float32, shape (n,) or (n, 2), at ``RATE``; they may be mapped from a file. speed: above 1 =
quicker. Each frame n of a recording comes on frame n / speed.

Where two pieces meet, the one gives way to the other just before the steepest rise there is near, which covers the seam
as where two passages of a song meet: each was stretched by itself, so only what is struck is at one with it in both.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil

import numpy as np

from caller.rig.music.decode import NoMusic
from caller.rig.music.kept import let_go
from caller.sound.channels import mixed
from caller.sound.score import RATE, Samples

STRETCH_MISSING = (
    "To change the tempo of music, python-stretch is needed: pip install python-stretch (for Linux on ARM that takes a "
    "compiler)."
)
# A song of 3:30 at half speed takes 570 MB at one go, and a quarter of that in pieces.
PIECE_FRAMES = 30 * RATE
# What is stretched with a piece on either side and left out, since at its ends it lacks what is beyond them.
MARGIN_FRAMES = RATE // 4
# How far from where a piece may end a rise is looked for, and in what steps.
NEAR_FRAMES, _STEP = 2 * RATE, RATE * 5 // 1000
# The seam begins so long before the rise, and lasts so long.
_BEFORE_RISE, SEAM_FRAMES = RATE * 25 // 1000, RATE * 15 // 1000


def stretched(samples: Samples, speed: Fraction) -> Samples:
    """At one go. Raises NoMusic without python-stretch."""
    try:
        from python_stretch import Signalsmith
    except ImportError as fault:
        raise NoMusic(STRETCH_MISSING) from fault
    channels = np.array(np.atleast_2d(samples.T), np.float32, order="C")  # the library takes none that is mapped
    way = Signalsmith.Stretch(len(channels))  # seeded: the same each time
    way.preset(len(channels), RATE)
    way.setTimeFactor(float(speed))
    heard = np.asarray(way.process(channels), np.float32)
    return np.ascontiguousarray(heard[0]) if samples.ndim == 1 else heard.T


def stretched_into(out: Samples, samples: Samples, speed: Fraction) -> None:
    """Piece by piece, into what is there: as long as the recording is then. Changes ``out``. Raises NoMusic."""
    pieces_into(out, samples, speed, seams_of(samples))


def pieces_into(out: Samples, samples: Samples, speed: Fraction, seams: Sequence[int]) -> Samples:
    """The pieces between some of the seams. What the first of them has for the seam before it is told, and not written,
    since what comes before may not be there yet: see :func:`meet`. Changes ``out``. Raises NoMusic."""
    opening = samples[:0]
    for first, last in pairwise(seams):
        begins, ends = max(first - MARGIN_FRAMES, 0), min(last + MARGIN_FRAMES, len(samples))
        heard = stretched(samples[begins:ends], speed)
        at = round(begins / speed)
        since, until = round(first / speed), min(round(last / speed) + SEAM_FRAMES, len(out), at + len(heard))
        piece = heard[since - at : until - at]
        if first == seams[0] > 0:
            opening, piece, since = piece[:SEAM_FRAMES].copy(), piece[SEAM_FRAMES:], since + SEAM_FRAMES
        _cross(out[since:until], piece, first > seams[0])
        let_go(samples)
        let_go(out)
    return opening


def meet(out: Samples, opening: Samples, speed: Fraction, seam: int) -> None:
    """Where pieces meet that were written apart. Changes ``out``."""
    since = round(seam / speed)
    _cross(out[since : since + len(opening)], opening, True)


def _cross(out: Samples, piece: Samples, after: bool) -> None:
    """A piece takes the place of what is there; where one is before it, over the time of a seam. Changes ``out``."""
    size = min(SEAM_FRAMES, len(piece)) if after else 0
    turn = (np.arange(size, dtype=np.float32) + np.float32(0.5)) * np.float32(np.pi / 2 / max(size, 1))
    turn = turn if piece.ndim == 1 else turn[:, np.newaxis]
    out[:size] = out[:size] * np.cos(turn) + piece[:size] * np.sin(turn)
    out[size:] = piece[size:]


def seams_of(samples: Samples, first: int = 0, last: int | None = None) -> list[int]:
    """Where the pieces of what there is between two frames of a recording begin and end."""
    last = len(samples) if last is None else last
    count = ceil((last - first) / PIECE_FRAMES)
    meeting = (meeting_near(samples, first + round(n * (last - first) / count)) for n in range(1, count))
    return [first, *meeting, last]


def meeting_near(samples: Samples, frame: int) -> int:
    """Where pieces are to meet: just before the steepest rise no further than ``NEAR_FRAMES`` from a frame, which is no
    nearer than that to either end."""
    around = frame - NEAR_FRAMES
    near = np.array(samples[around : around + 2 * NEAR_FRAMES])
    near = near if near.ndim == 1 else mixed(near, False)
    loud = np.sqrt((near.reshape(-1, _STEP).astype(np.float64) ** 2).mean(axis=1)) + 1e-4
    # How much louder the next two steps are than the two before.
    rise = np.log(loud[2:-1] + loud[3:]) - np.log(loud[:-3] + loud[1:-2])
    return around + (int(rise.argmax()) + 2) * _STEP - _BEFORE_RISE
