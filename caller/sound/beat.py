"""The moment at which a spoken word is heard as its beat: its perceptual centre.

Conventions: samples mono float32 at RATE, trimmed; results are frames from their start. Two measures: the fastest rise of energy
in the first syllable (Lin & Rathcke, Speech Prosody 2020), which is used, and the filter of Cummins & Port (1998, from
memory: 700-1300 Hz, rectified, 10 Hz low-pass, the middle of the 10-90 % rise), as a second opinion.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from caller.sound.score import RATE, Samples

_Floats = npt.NDArray[np.float64]

_SYLLABLE_SECONDS = 0.35  # a first syllable's energy has peaked by then
_SMOOTHING_SECONDS = 0.010
_SPEECH_BAND = (150.0, 4000.0)  # the vowel's rise, not the hiss of an "s" before it


def find_beat(samples: Samples) -> int:
    """The frame of the fastest rise of energy in the first syllable; 0 for silence."""
    if not np.any(samples):
        return 0
    envelope = np.sqrt(_smoothed(np.square(_band(samples, *_SPEECH_BAND)), _SMOOTHING_SECONDS))
    rise = np.diff(envelope[: _first_peak(envelope) + 1], prepend=0.0)
    return int(np.argmax(rise))


def filtered_centre(samples: Samples) -> int:
    """Cummins & Port's measure; 0 for silence."""
    if not np.any(samples):
        return 0
    envelope = _band(np.abs(_band(samples, 700.0, 1300.0)), 0.0, 10.0)
    peak = _first_peak(envelope)
    top = envelope[peak]
    rising = envelope[: peak + 1]
    low = int(np.flatnonzero(rising >= 0.1 * top)[0])
    high = int(np.flatnonzero(rising >= 0.9 * top)[0])
    return (low + high) // 2


def _first_peak(envelope: _Floats) -> int:
    """Where the first syllable is loudest."""
    return int(np.argmax(envelope[: round(_SYLLABLE_SECONDS * RATE)]))


def _band(samples: npt.NDArray[np.floating], low: float, high: float) -> _Floats:
    """What lies between two frequencies, by a filter with soft edges and no delay."""
    frames = len(samples)
    length = 1 << (frames + RATE // 4 - 1).bit_length()
    hertz = np.fft.rfftfreq(length, 1 / RATE)
    weight = 1 / (1 + (hertz / high) ** 8)
    if low:
        weight *= 1 - 1 / (1 + (hertz / low) ** 8)
    filtered: _Floats = np.fft.irfft(np.fft.rfft(samples.astype(np.float64), length) * weight, length)
    return filtered[:frames]


def _smoothed(samples: _Floats, seconds: float) -> _Floats:
    """Averaged with a bell of so many seconds; never negative."""
    half = round(2 * seconds * RATE)
    bell = np.exp(-0.5 * (np.arange(-half, half + 1) / (seconds * RATE / 2)) ** 2)
    return np.maximum(np.convolve(samples, bell / bell.sum(), mode="full")[half : half + len(samples)], 0.0)
