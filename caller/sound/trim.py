"""Silence off both ends of a clip."""

from __future__ import annotations

import numpy as np

from caller.sound.clicks import edged
from caller.sound.score import RATE, Samples

THRESHOLD_DB = -46.0  # below the clip's own peak: what is softer is not heard as speech
_KEPT_BEFORE, _KEPT_AFTER = round(0.002 * RATE), round(0.015 * RATE)
_EDGE = round(0.002 * RATE)


def trim(samples: Samples, threshold_db: float = THRESHOLD_DB) -> Samples:
    """From just before the first sound to just after the last, with soft edges of 2 ms; empty for silence."""
    size = np.abs(samples)
    peak = float(size.max()) if size.size else 0.0
    if peak == 0.0:
        return samples[:0]
    heard = np.flatnonzero(size > peak * 10 ** (threshold_db / 20))
    begin = max(0, int(heard[0]) - _KEPT_BEFORE)
    end = min(len(samples), int(heard[-1]) + 1 + _KEPT_AFTER)
    return edged(samples[begin:end].astype(np.float64), _EDGE).astype(np.float32)
