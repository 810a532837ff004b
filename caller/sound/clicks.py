"""The count track's sounds, made here: the bar's first count, the other counts, what falls between, and a warning tone.

Conventions: mono float32 at RATE, at most 60 ms (the tone 180 ms), every edge a raised cosine, nothing above 9 kHz. The
accents differ by pitch and by timbre, so that they are told apart on a small loudspeaker and by ears that miss the highs.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from caller.sound.score import RATE, Clip, Samples

Partials = tuple[tuple[float, float], ...]  # (hertz, share)


@dataclass(frozen=True, slots=True)
class Strike:
    """A struck sound: partials that die away in ``decay_ms``, and a breath of noise at the stroke."""

    partials: Partials
    decay_ms: float
    noise: float
    length_ms: float
    peak: float


ACCENT, COUNT, BETWEEN = "accent", "count", "between"

# Each kind of count track: how it sounds on the bar's first count, on the others, and between counts.
KINDS: dict[str, dict[str, Strike]] = {
    "wood": {
        ACCENT: Strike(((1760, 1.0), (2830, 0.55), (4400, 0.25)), 14, 0.25, 60, 0.5),
        COUNT: Strike(((1175, 1.0), (1990, 0.35)), 11, 0.12, 50, 0.36),
        BETWEEN: Strike(((880, 1.0),), 8, 0.05, 40, 0.18),
    },
    "metal": {
        ACCENT: Strike(((2093, 1.0), (3520, 0.8), (5274, 0.5), (6645, 0.3)), 20, 0.1, 60, 0.45),
        COUNT: Strike(((1568, 1.0), (2637, 0.6)), 15, 0.05, 60, 0.32),
        BETWEEN: Strike(((1319, 1.0), (2217, 0.3)), 10, 0.02, 45, 0.16),
    },
    "soft": {
        ACCENT: Strike(((660, 1.0), (1320, 0.4)), 24, 0.0, 60, 0.5),
        COUNT: Strike(((440, 1.0), (880, 0.15)), 20, 0.0, 60, 0.4),
        BETWEEN: Strike(((330, 1.0),), 14, 0.0, 50, 0.2),
    },
}
_EDGE_MS = 1.0
_SEED = 1812  # the noise is the same in every run: equal scores sound equal


@cache
def click(kind: str, accent: bool = False, between: bool = False, rate: int = RATE) -> Clip:
    """The click of a kind of count track: on the bar's first count (accent), on another, or between counts.

    Raises KeyError, naming the kinds, for one that is not there; ValueError for a rate other than RATE.
    """
    if kind not in KINDS:
        raise KeyError(f"count tracks are {', '.join(KINDS)}, not {kind!r}")
    if rate != RATE:
        raise ValueError(f"clicks are made at {RATE} frames a second, not {rate}")
    place = ACCENT if accent else BETWEEN if between else COUNT
    return Clip(f"click {kind} {place}", _struck(KINDS[kind][place]))


@cache
def tone() -> Clip:
    """The warning tone that stands for a call where there is no voice: two rising notes."""
    notes = [_struck(Strike(((hertz, 1.0), (2 * hertz, 0.2)), 60, 0.0, 90, 0.4)) for hertz in (784.0, 1047.0)]
    return Clip("tone", np.concatenate(notes))


def _struck(strike: Strike) -> Samples:
    length = round(strike.length_ms * RATE / 1000)
    seconds = np.arange(length) / RATE
    body: npt.NDArray[np.float64] = sum(share * np.sin(2 * np.pi * hertz * seconds) for hertz, share in strike.partials)  # type: ignore[assignment]
    body = body * np.exp(-seconds * 1000 / strike.decay_ms)
    if strike.noise:
        noise = np.random.default_rng(_SEED).standard_normal(length)
        smooth = np.convolve(noise, np.hanning(9) / np.hanning(9).sum(), mode="same")  # little above 9 kHz
        body = body + strike.noise * smooth * np.exp(-seconds * 1000 / 3)
    shaped = edged(body.astype(np.float64), round(_EDGE_MS * RATE / 1000))
    struck: Samples = (shaped * (strike.peak / np.abs(shaped).max())).astype(np.float32)
    return struck


def edged(samples: np.ndarray[tuple[int], np.dtype[np.float64]], frames: int) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """With raised-cosine edges of so many frames: it begins and ends in silence."""
    frames = min(frames, len(samples) // 2)
    if frames == 0:
        return samples
    rise = 0.5 - 0.5 * np.cos(np.pi * np.arange(frames) / frames)
    shaped = samples.copy()
    shaped[:frames] *= rise
    shaped[-frames:] *= rise[::-1]
    return shaped
