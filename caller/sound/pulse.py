"""Where the counts of a recording are: its tempo, and one count, found in what begins in it.

Conventions: samples are float32, mono, shape (n,), at ``RATE``; tempo in counts a minute; times in seconds from the
recording's beginning. One tempo throughout: what wavers is told by :attr:`Pulse.wavers_ms`.

How: the strength of what begins (spectral flux, each 5 ms) is weighed at each tempo by its Fourier sum at that tempo
and twice and four times it, which over a whole song tells tempos apart by far less than what adds up to a heard drift.
Then all counts are laid over one another, and the steepest rise of the energy there is where the count is heard to
begin, to a millisecond.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from caller.sound.score import RATE, Samples

SLOWEST, QUICKEST = 60.0, 200.0
# Where a tempo is only known by hand, it is looked for so far around (a share of it).
NEAR = 0.04
# Without any word on it, what is near to this is taken, before its half and its double.
LIKELY, LIKELY_OCTAVES = 115.0, 0.7
# Most music is made to a whole number of counts a minute: so near to one, it is taken for that.
WHOLE_WITHIN = 0.012

_HOP, _WINDOW = RATE // 200, 1024
_BASS_BINS = 5  # up to some 200 Hz
_FINE = RATE // 1000
_HARMONICS = (1, 2, 4)
_STRETCHES = 8

Curve = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Pulse:
    """tempo, first_seconds: a count on every beat, the first of them there. strength: 0 (no pulse at all) to 1.
    wavers_ms: how far the beat is off the even counts at most, in stretches of an eighth of the recording."""

    tempo: float
    first_seconds: float
    strength: float
    wavers_ms: float


def pulse_of(samples: Samples, near_tempo: float | None = None, near_first: float | None = None) -> Pulse:
    """near_tempo: looked for around it only. near_first: roughly where count 1 is (None: the first beat that is
    heard)."""
    flux, bass = _flux(samples)
    seconds = (np.arange(len(flux)) * _HOP + _WINDOW / 2) / RATE
    tempo = _tempo(flux, seconds, near_tempo)
    beat = tempo / 60
    turn = _sum(flux, seconds, beat)
    phase = float(-np.angle(turn) / (2 * np.pi * beat))
    if near_first is None:
        # What is loudest may fall between the counts; the bass seldom does.
        on, between = (_strengths(bass, phase + n / (2 * beat), 1 / beat).sum() for n in (0, 1))
        phase += 1 / (2 * beat) if between > on else 0
    else:
        phase += round((near_first - phase) * 2 * beat) / (2 * beat)
    phase %= 1 / beat
    phase += _rise_near(samples, phase, 1 / beat)
    phase %= 1 / beat
    first = _first(flux, seconds, phase, 1 / beat) if near_first is None else near_first
    count = max(round((first - phase) * beat), 0)
    strength = float(abs(turn) / max(float(flux.sum()), np.finfo(float).tiny))
    return Pulse(tempo, float(phase + count / beat), strength, _wavering(flux, seconds, beat))


def _flux(samples: Samples) -> tuple[Curve, Curve]:
    """How much begins around each hop, in all and in the bass; the slow course of it taken off."""
    count = (len(samples) - _WINDOW) // _HOP + 1
    window = np.hanning(_WINDOW).astype(np.float32)
    found, last = [], None
    for start in range(0, count, 4_000):
        stop = min(start + 4_000, count)
        frames = np.lib.stride_tricks.sliding_window_view(samples, _WINDOW)[start * _HOP : (stop - 1) * _HOP + 1 : _HOP]
        loud = np.log1p(100 * np.abs(np.fft.rfft(frames * window, axis=1))).astype(np.float32)
        before = np.vstack([loud[:1] if last is None else last, loud[:-1]])
        rises = np.maximum(loud - before, 0)
        found.append(np.stack([rises.sum(axis=1), rises[:, 1:_BASS_BINS].sum(axis=1)]))
        last = loud[-1:]
    whole, bass = np.concatenate(found, axis=1).astype(np.float64)
    return _steep(whole), _steep(bass)


def _steep(flux: Curve) -> Curve:
    """What stands out of its own mean over a second."""
    return np.asarray(np.maximum(flux - np.convolve(flux, np.ones(201) / 201, "same"), 0))


def _sum(flux: Curve, seconds: Curve, hertz: float) -> complex:
    return complex(np.dot(flux, np.exp(-2j * np.pi * hertz * seconds)))


def _tempo(flux: Curve, seconds: Curve, near: float | None) -> float:
    low, high = (SLOWEST, QUICKEST) if near is None else (near * (1 - NEAR), near * (1 + NEAR))
    size = 8 << len(flux).bit_length()
    spectrum = np.abs(np.fft.rfft(flux, size))
    bins = np.arange(int(low / 60 * size * _HOP / RATE), int(high / 60 * size * _HOP / RATE) + 2)
    weight = sum(spectrum[bins * n] for n in _HARMONICS if (bins[-1] * n) < len(spectrum))
    tempos = bins * 60 * RATE / (_HOP * size)
    if near is None:
        weight = weight * np.exp(-0.5 * (np.log2(tempos / LIKELY) / LIKELY_OCTAVES) ** 2)
    rough = float(tempos[int(np.argmax(weight))])
    step = 60 / (seconds[-1] * 100)
    tries = rough + step * np.arange(-60, 61)
    best = [sum(abs(_sum(flux, seconds, one / 60 * n)) for n in _HARMONICS) for one in tries]
    found = float(tries[int(np.argmax(best))])
    return float(round(found)) if abs(found - round(found)) <= max(WHOLE_WITHIN, step) else found


def _rise_near(samples: Samples, phase: float, period: float) -> float:
    """How much later than ``phase`` the energy rises most steeply, all counts laid over one another."""
    edged = np.diff(samples, prepend=np.float32(0)) + np.float32(0.1) * samples
    energy = (edged[: len(edged) // _FINE * _FINE].reshape(-1, _FINE).astype(np.float64) ** 2).mean(axis=1)
    reach = min(60, int(period * 500) - 1)
    centres = np.arange(phase, len(energy) / 1000 - period, period) * 1000
    places = np.round(centres).astype(int)
    places = places[(places > reach + 8) & (places < len(energy) - reach - 8)]
    folded = np.mean([np.sqrt(energy[at - reach - 8 : at + reach + 8]) for at in places], axis=0)
    smooth = np.convolve(folded, np.ones(3) / 3, "same")
    rise = smooth[4:] - smooth[:-4]
    steepest = int(np.argmax(rise[4:-4])) + 4
    return (steepest + 3 - reach - 8) / 1000


def _first(flux: Curve, seconds: Curve, phase: float, period: float) -> float:
    """The first beat that is as strong as beats are, and is gone on from."""
    beats = np.arange(phase, seconds[-1] - period, period)
    strong = _strengths(flux, phase, period)[: len(beats)]
    there = strong > 0.3 * np.median(strong)
    steady = np.convolve(there[::-1], np.ones(4), "full")[: len(there)][::-1] >= 3
    return float(beats[int(np.argmax(there & steady))])


def _strengths(flux: Curve, phase: float, period: float) -> Curve:
    """Of what begins at each beat, within 30 ms."""
    beats = np.arange(phase % period, len(flux) * _HOP / RATE - period, period)
    near = np.round((beats * RATE - _WINDOW / 2) / _HOP).astype(int)
    return np.array([flux[max(at - 6, 0) : max(at + 7, 1)].max(initial=0.0) for at in near])


def _wavering(flux: Curve, seconds: Curve, hertz: float) -> float:
    turns = [
        _sum(part, times, hertz)
        for part, times in zip(np.array_split(flux, _STRETCHES), np.array_split(seconds, _STRETCHES), strict=True)
    ]
    loud = [turn for turn in turns if abs(turn) > 0.3 * max(map(abs, turns))]
    middle = np.angle(sum(turn / abs(turn) for turn in loud)) if loud else 0.0
    off = [abs(np.angle(turn * np.exp(-1j * middle))) for turn in loud]
    return float(1000 * max(off, default=0.0) / (2 * np.pi * hertz))
