"""What a stream plays: scores joined at splice frames, each crossing over from the one before without a click.

Conventions: stream frames count from the stream's own start; a splice says from which stream frame a score is heard, and from
which of its frames. A crossing takes FADE_FRAMES from the splice on, in equal-sum steps: where both scores hold the same
sound it is not changed by as much as a bit.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from caller.sound.mix import CHANNELS, render
from caller.sound.score import Samples, Score

FADE_FRAMES = 240  # 5 ms at 48 kHz


@dataclass(frozen=True, slots=True)
class Splice:
    """From stream frame ``at`` on, ``score`` (None: silence) from its ``score_frame``."""

    at: int
    score: Score | None
    score_frame: int = 0


@dataclass(frozen=True, slots=True)
class Reel:
    """Splices in order of frame. Before the first there is silence. Raises ValueError out of order."""

    splices: tuple[Splice, ...] = ()

    def __post_init__(self) -> None:
        if any(a.at > b.at for a, b in zip(self.splices, self.splices[1:], strict=False)):
            raise ValueError("splices must be in order of frame")

    def with_splice(self, splice: Splice) -> Reel:
        """The reel with what was to come from ``splice.at`` on replaced."""
        return Reel((*(s for s in self.splices if s.at < splice.at), splice))


def _fade() -> Samples:
    """Weights of the new sound, rising from just above 0 to 1; a raised cosine."""
    steps = (np.arange(FADE_FRAMES) + 1) / FADE_FRAMES
    return (0.5 - 0.5 * np.cos(np.pi * steps)).astype(np.float32)[:, None]


_FADE = _fade()


def render_reel(reel: Reel, first: int, last: int) -> Samples:
    """Stream frames [first, last), shape (last - first, 2); the same however they are cut into blocks.

    Raises ValueError where last < first.
    """
    return _heard(reel.splices, len(reel.splices), first, last)


def _heard(splices: tuple[Splice, ...], count: int, first: int, last: int) -> Samples:
    """What the first ``count`` splices let be heard."""
    if count == 0:
        return _own(None, first, last)
    splice = splices[count - 1]
    if last <= splice.at:
        return _heard(splices, count - 1, first, last)
    faded = splice.at + FADE_FRAMES
    parts = []
    if first < splice.at:
        parts.append(_heard(splices, count - 1, first, splice.at))
    if (begin := max(first, splice.at)) < (end := min(last, faded)):
        old, new = _heard(splices, count - 1, begin, end), _own(splice, begin, end)
        parts.append(old + _FADE[begin - splice.at : end - splice.at] * (new - old))
    if (begin := max(first, faded)) < last:
        parts.append(_own(splice, begin, last))
    return parts[0] if len(parts) == 1 else np.concatenate(parts)


def _own(splice: Splice | None, first: int, last: int) -> Samples:
    if splice is None or splice.score is None:
        if last < first:
            raise ValueError(f"frames must run forward, not from {first} to {last}")
        return np.zeros((last - first, CHANNELS), dtype=np.float32)
    shift = splice.score_frame - splice.at
    return render(splice.score, first + shift, last + shift)
