"""Speech made to carry over noise: its spectrum tilted up, its soft parts raised, at no greater loudness.

Conventions: samples are float32, mono, shape ``(n,)``, at ``RATE``; gains in dB. Nothing is shifted in time: both
stages look the same way forward and back, and the length stays. The loudness is set afterwards, by whoever calls.

The method is that of spectral shaping with dynamic range compression (Zorilă, Kandia & Stylianou, Interspeech 2012, pp.
635-638; its abstract, the rest from memory), with gentler slopes and without its sharpening of formants, both chosen by
a recogniser over noise, talk and music (``tests/bench/bench_intelligibility``). Two things differ from it for the sake
of calling:

- Compression lifts what leads into a vowel and pulls its fastest rise of energy forward, often by more than 10 ms: the
  word's beat would come early. Where one would by more than ``BEAT_SECONDS``, or the middle of the first rise by more
  than ``RISE_SECONDS`` (a lifted "s", in "six"), gains are held, wholly or in part, to the least of the next
  milliseconds, which leaves the rise as it was: ``HOLDS``, the least first.
- Below ``FLOOR_DB`` gains fall off again, so that the room in a teacher's own recording is not raised with the voice.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, lru_cache

import numpy as np
import numpy.typing as npt

from caller.sound.beat import beat_shifts, middle_of_rise, syllable_beats
from caller.sound.score import RATE, Samples
from caller.sound.transforms import quick_length
from caller.sound.trim import faded

# Hz and dB: less below the first formant, 2 dB an octave more up to where consonants end.
SPECTRUM = ((50.0, -9.0), (400.0, 0.0), (6_000.0, 8.0), (24_000.0, -16.0))
RATIO = 3.0
FLOOR_DB = -30.0
ENVELOPE_HZ = 15.0
BEAT_SECONDS, RISE_SECONDS = 0.01, 0.006
# Seconds ahead, and the share of it: a hiss before a vowel lasts a tenth of a second.
HOLDS = ((0.06, 0.0), (0.06, 0.25), (0.06, 0.5), (0.06, 0.75), (0.06, 1.0), (0.1, 1.0))
GAIN_HZ = 40.0
_STEP_FRAMES = RATE // 1_000
_EDGE_FRAMES = RATE // 20
_FADE_FRAMES = RATE * 3 // 1_000
_LEAST = 1e-9

Curve = npt.NDArray[np.float64]


def shaped(samples: Samples) -> Samples:
    """The same speech, same length, made to carry. Silence and an empty array stay as they are."""
    if not samples.any():
        return samples
    tilted = _filtered(samples.astype(np.float64), _spectrum)
    free = _gains_db(tilted)
    held = cache(lambda seconds: _filtered(_least_ahead(free, seconds), _of_gains))
    beats, rise = syllable_beats(samples), middle_of_rise(samples)
    for seconds, share in HOLDS:
        gains = free + share * (held(seconds) - free)
        found = faded((tilted * 10 ** (gains / 20)).astype(np.float32), _FADE_FRAMES)
        moved = max(map(abs, beat_shifts(beats, found)), default=0)
        if moved <= BEAT_SECONDS * RATE and abs(middle_of_rise(found) - rise) <= RISE_SECONDS * RATE:
            break
    return found


def _gains_db(tilted: Curve) -> Curve:
    """How much each frame is raised over the loudest."""
    power = np.maximum(_filtered(2 * tilted**2, _of_envelope), 0.0)
    below = 10 * np.log10(np.maximum(power / power.max(), _LEAST))
    raised = -(1 - 1 / RATIO) * np.maximum(below, FLOOR_DB)
    gains: Curve = np.maximum(raised + np.minimum(below - FLOOR_DB, 0.0), 0.0)
    return gains


def _least_ahead(gains: Curve, seconds: float) -> Curve:
    """Each gain the least of those within ``seconds`` from there on, to the nearest millisecond."""
    steps = round(seconds * RATE) // _STEP_FRAMES
    coarse = np.append(gains[::_STEP_FRAMES], np.full(steps + 1, gains[-1]))
    least = np.lib.stride_tricks.sliding_window_view(coarse, steps + 1).min(axis=1)
    held: Curve = np.interp(np.arange(len(gains)), np.arange(len(least)) * _STEP_FRAMES, least)
    return held


def _spectrum(hertz: Curve) -> Curve:
    points, gains = (np.array(column) for column in zip(*SPECTRUM, strict=True))
    response: Curve = 10 ** (np.interp(np.log(np.maximum(hertz, 1.0)), np.log(points), gains) / 20)
    return response


def _of_envelope(hertz: Curve) -> Curve:
    response: Curve = 0.5 ** (hertz / ENVELOPE_HZ) ** 2
    return response


def _of_gains(hertz: Curve) -> Curve:
    response: Curve = 0.5 ** (hertz / GAIN_HZ) ** 2
    return response


@lru_cache(maxsize=16)
def _at_size(response: Callable[[Curve], Curve], size: int) -> Curve:
    """A response at the frequencies of a transform of that size: phrase after phrase has one of few sizes."""
    return response(np.fft.rfftfreq(size, 1 / RATE).astype(np.float64))


def _filtered(curve: Curve, response: Callable[[Curve], Curve]) -> Curve:
    """By a response to frequencies in Hz, without shift in time; what stands at the ends is taken to go on there."""
    padded = np.pad(curve, _EDGE_FRAMES, mode="edge")
    size = quick_length(len(padded) + _EDGE_FRAMES)
    spectrum = np.fft.rfft(padded, size) * _at_size(response, size)
    return np.fft.irfft(spectrum, size)[_EDGE_FRAMES : _EDGE_FRAMES + len(curve)]
