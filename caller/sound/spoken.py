"""Whether a recording without a clear beat is speech: nothing in it is held, and there is nothing between its phrases.

Conventions: samples float32, mono, shape (n,), at ``RATE``. In music notes and chords stay for a while, so that a
spectrum is like the one before it (0.5 to 0.8 on songs with a tune); in speech the voice glides and changes its vowels
(0.13 to 0.27 of four voices at three rates). What is struck alone is as little like itself, and is told apart by its
beat: see ``caller.sound.pulse``.
"""

from __future__ import annotations

import numpy as np

from caller.sound.onsets import Curve
from caller.sound.score import RATE, Samples

# Less alike, a spectrum and the one before are of nothing that is held.
LEAST_HELD = 0.35
# Speech pauses for more of its time than this: for breath, and before each stop. Noise and dense music don't.
LEAST_PAUSES, PAUSE_SHARE = 0.1, 0.03
_FRAMES, _HOP = 8_192, RATE * 15 // 100
# What is compared, Hz: vowels and what is played alike; below it is hum, above it breath.
_LOWEST, _HIGHEST = 200, 4_000
# Of so much at a time, so that an hour needs no more memory than a song.
_AT_ONCE = 256


def spoken(samples: Samples, level: Curve) -> bool:
    """level: how loud it is, all along, on a linear scale."""
    quiet = PAUSE_SHARE * float(np.percentile(level, 95)) if len(level) else 0.0
    return bool((level < quiet).mean() > LEAST_PAUSES) and held(samples) < LEAST_HELD


def held(samples: Samples) -> float:
    """How alike a spectrum is to the one 150 ms before, by the middle: -1 to 1; 1 of what is too short to tell."""
    if len(samples) < _FRAMES + _HOP:
        return 1.0
    views = np.lib.stride_tricks.sliding_window_view(samples, _FRAMES)[::_HOP]
    window = np.hanning(_FRAMES).astype(np.float32)
    bins = slice(_LOWEST * _FRAMES // RATE, _HIGHEST * _FRAMES // RATE)
    found = []
    for first in range(0, len(views) - 1, _AT_ONCE):
        spectra = np.log(np.abs(np.fft.rfft(views[first : first + _AT_ONCE + 1] * window)[:, bins]) + 1e-3)
        spectra -= spectra.mean(axis=1, keepdims=True)
        sizes = np.sqrt((spectra**2).sum(axis=1)) + 1e-9
        found.append((spectra[1:] * spectra[:-1]).sum(axis=1) / (sizes[1:] * sizes[:-1]))
    return float(np.median(np.concatenate(found)))
