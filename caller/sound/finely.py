"""Beats, found to a hundredth of a second, told to some milliseconds.

Conventions: samples float32, mono, at ``RATE``; times in seconds from the recording's beginning; curves as in
:mod:`caller.sound.onsets`.

Each beat is drawn to what begins next to it, as far as the beats around it agree: the times whose second differences
and distances from what was heard are least together (Whittaker, "On a new method of graduation", 1923). Then the sound
at all beats is laid over one another, and all are moved by how much later or sooner its energy begins to rise: where it
does so half as steeply as it comes to. A drum rises at once, a plucked string over some 20 ms, within which it is heard
(Vos & Rasch, Perception & Psychophysics 29, 1981; from memory).
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from caller.sound.onsets import FPS, Curve
from caller.sound.score import RATE, Samples

# How far what is heard may be from a beat, frames.
_NEAR = 5
# How stiff the beats are against what is heard beside them: players are some 10 ms off their beat, which itself changes
# by some 3 ms from one to the next.
_STIFF = 12.0
# Up to so many frames the lengths of beats differ of themselves; where by more, they are held the less.
_STEADY_FRAMES = 3.0
_TIMES = 3  # each time with less weight on what lies far off
_FAR_SECONDS = 0.012
_FINE = RATE // 1000
_PIECE = 10 * RATE
_REACH_MS, _EDGE_MS = 40, 8
_STEEP, _SMOOTH_MS = 0.5, 11
# By so much sooner what rises at once seems to begin, once it is smoothed.
_SOONER_MS = 3.0


def finely(samples: Samples, curve: Curve, frames: Curve) -> Curve:
    """Beats in seconds. frames: where they are, in frames of the curve."""
    if len(frames) < 4:
        return np.asarray(frames / FPS)
    heard, weight = _heard(curve, frames)
    # Where the tempo of before is taken up after a slowing, what comes before holds nothing of what comes after.
    bends = np.maximum(np.abs(np.diff(frames, 2)) / _STEADY_FRAMES, 1)
    stiff = _STIFF / bends**4
    times = _stiff(heard, weight, stiff)
    for _ in range(_TIMES):
        times = _stiff(heard, weight / (1 + ((heard - times) / _FAR_SECONDS) ** 2), stiff)
    return np.asarray(times + _rise_by(samples, times))


def _heard(curve: Curve, frames: Curve) -> tuple[Curve, Curve]:
    """Where near each beat most begins, in seconds between frames, and how much."""
    padded = np.pad(curve, _NEAR + 1)
    near = np.arange(-_NEAR - 1, _NEAR + 2) + frames.astype(int)[:, np.newaxis] + _NEAR + 1
    around = padded[np.clip(near, 0, len(padded) - 1)]
    rows, top = np.arange(len(frames)), 1 + around[:, 1:-1].argmax(axis=1)
    left, middle, right = (around[rows, top + by] for by in (-1, 0, 1))
    bend = left - 2 * middle + right
    between = np.where(bend < 0, 0.5 * (left - right) / np.minimum(bend, -1e-9), 0.0)
    return (frames + top - _NEAR - 1 + np.clip(between, -0.5, 0.5)) / FPS, np.clip(middle, 0.02, 3.0)


def _stiff(heard: Curve, weight: Curve, stiff: Curve) -> Curve:
    """The times of least bends, each as stiff as told: by elimination along the five diagonals that aren't 0, since
    there may be thousands of beats."""
    count = len(heard)
    middle, beside, beyond = weight.copy(), np.zeros(count), np.zeros(count)
    for by, share in enumerate((1.0, -2.0, 1.0)):
        middle[by : count - 2 + by] += stiff * share**2
    beside[:-2] += -2 * stiff
    beside[1:-1] += -2 * stiff
    beyond[:-2] = stiff
    return _solved(middle.tolist(), beside.tolist(), beyond.tolist(), (weight * heard).tolist())


def _solved(middle: list[float], beside: list[float], beyond: list[float], known: list[float]) -> Curve:
    """Of a symmetric matrix that is told by its diagonal and the next two, as L D L'."""
    count = len(middle)
    share, next_share = [0.0] * count, [0.0] * count
    for n in range(count):
        for back in (1, 2):
            if n >= back:
                by = share[n - 1] if back == 1 else next_share[n - 2]
                middle[n] -= by**2 * middle[n - back]
                known[n] -= by * known[n - back]
        if n:
            beside[n] -= next_share[n - 1] * share[n - 1] * middle[n - 1]
        share[n], next_share[n] = beside[n] / middle[n], beyond[n] / middle[n]
    found = [0.0] * (count + 2)
    for n in range(count - 1, -1, -1):
        found[n] = known[n] / middle[n] - share[n] * found[n + 1] - next_share[n] * found[n + 2]
    return np.array(found[:count])


def _rise_by(samples: Samples, times: Curve) -> float:
    """How many seconds later than the beats the energy begins to rise, all laid over one another."""
    energy = np.concatenate([*_edge_energy(samples), np.zeros(0)])
    reach = _REACH_MS + _EDGE_MS
    places = np.round(times * 1000).astype(int)
    places = places[(places > reach) & (places < len(energy) - reach)]
    if not len(places):
        return 0.0
    loud = np.log(np.sqrt(energy[places[:, np.newaxis] + np.arange(-reach, reach)]) + 1e-4)
    shape = np.hanning(_SMOOTH_MS)
    rise = np.diff(np.convolve(loud.mean(axis=0), shape / shape.sum(), "same"))[_EDGE_MS:-_EDGE_MS]
    top = int(np.argmax(rise))
    begins = top + 1 - int(np.argmax(np.append(rise[top::-1], -np.inf) <= _STEEP * rise[top]))
    return float((begins + 0.5 + _EDGE_MS - reach + _SOONER_MS) / 1000)


def _edge_energy(samples: Samples) -> Iterator[Curve]:
    """Of each millisecond, piece by piece: a whole recording is not copied."""
    for first in range(0, len(samples) // _FINE * _FINE, _PIECE):
        piece = samples[first : min(first + _PIECE, len(samples) // _FINE * _FINE)]
        before = samples[first - 1] if first else np.float32(0)
        edged = np.diff(piece, prepend=before) + np.float32(0.1) * piece
        yield (edged.reshape(-1, _FINE).astype(np.float64) ** 2).mean(axis=1)
