"""Silence cut off both ends of a recording, so that its length is what is heard.

Conventions: samples are float32, mono, shape ``(n,)``; thresholds in dB below the recording's own peak.
"""

from __future__ import annotations

import numpy as np

from caller.sound.score import RATE, Samples

THRESHOLD_DB = -45.0
# Left on before the first and after the last loud sample: a breathy first sound creeps in, a last vowel dies away.
LEAD_SECONDS = 0.005
TAIL_SECONDS = 0.015
# Within what is left on, so that nothing loud is faded.
FADE_SECONDS = 0.003


def trimmed(samples: Samples, threshold_db: float = THRESHOLD_DB, rate: int = RATE) -> Samples:
    """From just before the first sample above the threshold to just after the last, faded in and out.

    Always a new array; shape (0,) where all is silence. Raises ValueError for any other shape than (n,).
    """
    if samples.ndim != 1:
        raise ValueError(f"a mono recording has shape (n,), not {samples.shape}")
    size = np.abs(samples)
    peak = size.max(initial=0.0)
    loud = np.flatnonzero(size > peak * 10 ** (threshold_db / 20))
    if peak == 0 or not len(loud):
        return np.zeros(0, np.float32)
    start = max(int(loud[0]) - round(LEAD_SECONDS * rate), 0)
    stop = int(loud[-1]) + 1 + round(TAIL_SECONDS * rate)
    return faded(samples[start:stop], round(FADE_SECONDS * rate))


def faded(samples: Samples, fade: int, fade_out: int | None = None) -> Samples:
    """A copy with raised-cosine edges of ``fade`` frames (at its end ``fade_out``), shorter where it is shorter."""
    copy = np.array(samples, np.float32)
    fade_in = min(fade, len(copy) // 2)
    fade_out = min(fade if fade_out is None else fade_out, len(copy) // 2)
    copy[:fade_in] *= raised_cosine(fade_in)
    copy[len(copy) - fade_out :] *= raised_cosine(fade_out)[::-1]
    return copy


def raised_cosine(frames: int) -> Samples:
    """A rise from above 0 to below 1, shape (frames,): the ends themselves would be samples lost."""
    return (0.5 - 0.5 * np.cos(np.pi * (np.arange(frames) + 1) / (frames + 1))).astype(np.float32)
