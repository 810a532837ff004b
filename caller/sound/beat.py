"""Where a spoken phrase is heard as beginning: the perceptual centre of its first syllable.

Conventions: samples are float32, mono, shape ``(n,)``, at ``RATE``; what comes back is a frame from the phrase's start.

A word laid on the beat by its first sample is heard late: what is heard as its moment is about where its vowel sets
in, 10 ms into "eight", 100 ms into "six" (Morton, Marcus & Frankish 1976 on that order). Two measures of it:

- :func:`beat_of`, which the calls go by: the fastest rise of energy, as steady as the vowel onset found by hand (Lin &
  Rathcke, Speech Prosody 2020). Energy is taken where vowels have it and hissing consonants don't.
- :func:`middle_of_rise`: 700 to 1300 Hz, rectified, smoothed below 10 Hz, the middle of the rise from a tenth to nine
  tenths (Cummins & Port 1998; from memory). It differs by some 10 ms and stands against the first as a check.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from caller.sound.score import RATE, Samples
from caller.sound.transforms import quick_length

VOWEL_BAND_HZ = (300.0, 1500.0)
CUMMINS_PORT_BAND_HZ = (700.0, 1300.0)
SMOOTHING_HZ = 10.0
# A rise by less than this share of the phrase's highest crest is a consonant's, or an unstressed lead-in's.
SYLLABLE_SHARE = 0.4
# Silence put round the phrase: a smoothed rise begins before the sound does.
_EDGE_FRAMES = RATE // 10
# Closer together than this no two syllables have their beats.
_NEAR_FRAMES = RATE * 6 // 100

Curve = npt.NDArray[np.float64]


def beat_of(samples: Samples) -> int:
    """The frame of the first syllable's fastest rise of energy; 0 for silence."""
    curve = envelope(samples, VOWEL_BAND_HZ)
    start, crest = _first_rise(curve)
    if start == crest:
        return 0
    fastest = start + int(np.argmax(np.diff(curve[start : crest + 1])))
    return _within(fastest, samples)


def syllable_beats(samples: Samples) -> tuple[int, ...]:
    """The frame of the fastest rise of each syllable that stands out; empty for silence."""
    curve = envelope(samples, VOWEL_BAND_HZ)
    steepness = np.diff(curve)
    return tuple(start + int(np.argmax(steepness[start:crest])) - _EDGE_FRAMES for start, crest in _rises(curve))


def beat_shifts(beats: Sequence[int], treated: Samples) -> tuple[int, ...]:
    """How many frames each syllable's beat has moved by a treatment that leaves length and places: the fastest rise
    near where it was, less where it was. beats: as :func:`syllable_beats` found them before."""
    steepness = np.diff(envelope(treated, VOWEL_BAND_HZ))
    found = []
    for beat in beats:
        first = max(beat + _EDGE_FRAMES - _NEAR_FRAMES, 0)
        found.append(first + int(np.argmax(steepness[first : first + 2 * _NEAR_FRAMES])) - _EDGE_FRAMES - beat)
    return tuple(found)


def middle_of_rise(samples: Samples) -> int:
    """The frame half way between a tenth and nine tenths of the first syllable's rise; 0 for silence."""
    curve = envelope(samples, CUMMINS_PORT_BAND_HZ)
    start, crest = _first_rise(curve)
    risen = (curve[start : crest + 1] - curve[start]) / max(curve[crest] - curve[start], np.finfo(float).tiny)
    tenth, nine_tenths = (int(np.argmax(risen >= share)) for share in (0.1, 0.9))
    return _within(start + (tenth + nine_tenths) // 2, samples)


def envelope(samples: Samples, band_hz: tuple[float, float]) -> Curve:
    """How loud a band is from frame to frame, smoothed; begins and ends ``_EDGE_FRAMES`` outside the samples."""
    padded = np.pad(samples.astype(np.float64), _EDGE_FRAMES)
    size = quick_length(len(padded) + _EDGE_FRAMES)
    rectified = np.abs(np.fft.irfft(np.fft.rfft(padded, size) * _band(size, band_hz), size))
    return np.fft.irfft(np.fft.rfft(rectified) * _smoothing(size), size)[: len(padded)]


# A phrase is measured a dozen times over, and working these out takes as long as the transforms.
@lru_cache(maxsize=16)
def _band(size: int, band_hz: tuple[float, float]) -> Curve:
    """Butterworth's slopes, second order below and fourth above, without shift in time."""
    hertz = _hertz(size)
    low, high = band_hz
    band: Curve = (hertz / low) ** 2 / np.sqrt(1 + (hertz / low) ** 4) / np.sqrt(1 + (hertz / high) ** 8)
    return band


@lru_cache(maxsize=8)
def _smoothing(size: int) -> Curve:
    """Gaussian, half at ``SMOOTHING_HZ``: it never swings over."""
    smoothing: Curve = 0.5 ** (_hertz(size) / SMOOTHING_HZ) ** 2
    return smoothing


def _hertz(size: int) -> Curve:
    return np.fft.rfftfreq(size, 1 / RATE).astype(np.float64)


def _first_rise(curve: Curve) -> tuple[int, int]:
    """Start and crest of the first rise that is a syllable's; the same frame twice where there is none."""
    return next(_rises(curve), (0, 0))


def _rises(curve: Curve) -> Iterator[tuple[int, int]]:
    """Start and crest of each rise that is a syllable's."""
    rising = np.diff(curve) > 0
    turns = np.flatnonzero(np.diff(rising)) + 1
    bounds = [0, *turns.tolist(), len(curve) - 1]
    least = SYLLABLE_SHARE * curve.max(initial=0.0)
    for start, crest in pairwise(bounds):
        if curve[crest] - curve[start] > least:
            yield start, crest


def _within(frame: int, samples: Samples) -> int:
    return min(max(frame - _EDGE_FRAMES, 0), max(len(samples) - 1, 0))
