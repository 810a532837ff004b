"""What a live stream plays: scores, each taking over from the one before at a splice.

Conventions: stream frames count from the stream's start; a splice at stream frame ``at`` plays its score from
``score_frame`` on, or silence where there is no score. Before the first splice there is silence. From its frame on, a
splice crosses over from what was before it within ``CROSSING_FRAMES`` (5 ms), the two shares adding up to one: where
old and new sound the same, the crossing changes no sample. Pure, and independent of how the stream is cut into blocks.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from caller.sound.mix import CHANNELS, render
from caller.sound.score import RATE, Samples, Score

CROSSING_FRAMES = 240
_SHARES = (np.arange(CROSSING_FRAMES, dtype=np.float32) / np.float32(CROSSING_FRAMES))[:, np.newaxis]


@dataclass(frozen=True, slots=True)
class Splice:
    """From stream frame ``at`` on, ``score`` from its ``score_frame`` on (None: silence)."""

    at: int
    score: Score | None
    score_frame: int = 0


@dataclass(frozen=True, slots=True)
class Reel:
    """Splices in order of their frames, no two at the same; raises ValueError for any others."""

    splices: tuple[Splice, ...] = ()

    def __post_init__(self) -> None:
        for one, other in pairwise(self.splices):
            if one.at >= other.at:
                raise ValueError(f"splices out of order: one at frame {one.at}, the next at {other.at}")

    def with_splice(self, splice: Splice) -> Reel:
        """The same until the splice's frame; whatever was to come from there on is dropped for it."""
        return Reel((*(old for old in self.splices if old.at < splice.at), splice))

    def forget_before(self, frame: int) -> Reel:
        """A reel that plays the same from ``frame`` on, without what can't be heard there any more."""
        return Reel(self.splices[max(self._settled(frame), 0) :])

    def sounding(self, first: int, last: int) -> tuple[Splice, ...]:
        """What is heard in [first, last), old to new."""
        return tuple(splice for splice in self.splices[max(self._settled(first), 0) :] if splice.at < last)

    def _settled(self, frame: int) -> int:
        """The index of the last splice that has wholly taken over by ``frame``; -1 where none has."""
        return bisect_right(self.splices, frame - CROSSING_FRAMES, key=lambda splice: splice.at) - 1


@dataclass(frozen=True, slots=True)
class Tape:
    """A reel that is over after ``frames``, at ``rate`` a second: what a run in which nobody intervenes sounds like."""

    reel: Reel
    frames: int
    rate: int = RATE

    def block(self, first: int, last: int) -> Samples:
        """Frames [first, last), shape (last - first, 2)."""
        return render_reel(self.reel, first, last)


def render_reel(reel: Reel, first: int, last: int) -> Samples:
    """Stream frames [first, last), shape (last - first, 2). Raises ValueError where last comes before first."""
    if last < first:
        raise ValueError(f"frames {first} to {last}: the last comes before the first")
    splices = reel.sounding(first, last)
    if len(splices) == 1 and splices[0].at + CROSSING_FRAMES <= first:  # nearly always: nothing crosses over
        return _played(splices[0], first, last)
    heard = np.zeros((last - first, CHANNELS), np.float32)
    for place, splice in enumerate(splices):
        start = max(splice.at, first)
        # Beyond the crossing to the next splice nothing of this one is left.
        stop = min(splices[place + 1].at + CROSSING_FRAMES, last) if place + 1 < len(splices) else last
        old = heard[start - first : stop - first]
        old[:] = _crossed(old, _played(splice, start, stop), start - splice.at)
    return heard


def _played(splice: Splice, start: int, stop: int) -> Samples:
    if splice.score is None:
        return np.zeros((stop - start, CHANNELS), np.float32)
    shift = splice.score_frame - splice.at
    return render(splice.score, start + shift, stop + shift)


def _crossed(old: Samples, new: Samples, since: int) -> Samples:
    """New in place of old, ``since`` frames after its splice; changes ``new``."""
    shares = _SHARES[since : since + len(new)]
    crossing = new[: len(shares)]
    # In this form equal samples stay as they are to the last bit; old * (1 - share) + new * share would round.
    crossing[:] = old[: len(shares)] + shares * (crossing - old[: len(shares)])
    return new
