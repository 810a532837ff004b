"""The beats of a recording, followed where its tempo wavers.

Conventions: curves as in :mod:`caller.sound.onsets`; beats in frames of such a curve (a hundred a second); tempo in
beats a minute.

How: the tempo that the whole recording speaks for, near to what is told of it, is found first (autocorrelation). Then,
of all chains of beats there can be around that tempo, the one is taken on which most begins and in which each beat
lasts about as long as the one before it. It is found exactly, by dynamic programming over (place of a beat, how long
the one before it lasted): Ellis, "Beat tracking by dynamic programming", J. New Music Research 36 (2007), with the
state that lets a tempo wander (Krebs, Böck & Widmer, ISMIR 2015).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from caller.sound.onsets import FPS, Curve

SLOWEST, QUICKEST = 55.0, 210.0
# With no word on it, what is near to this is taken, before its half and its double.
LIKELY, LIKELY_OCTAVES = 112.0, 0.75
# How far the recording's tempo may be from the one that is told, in octaves: between its half and its double, nearer.
TOLD_OCTAVES, TOLD_REACH = 0.2, 0.42
# How far beats may wander from the tempo of the whole: how much quicker they may come, and how much slower, since
# players slow down by a third before a phrase's end and never hurry so.
REACH, REACH_SLOW = 1.22, 1.45
# What begins half-way since the beat before counts this share: so a chain doesn't drift over to the places between its
# beats for the passages in which more begins there. Which of the two is the beat is asked of the whole.
BETWEEN_SHARE = 0.7
# What a beat costs that lasts longer or shorter than the one before, for a share of e; and than the whole's tempo.
# The same where time is kept.
CHANGE_COST, AWAY_COST, MOST_AWAY = 1000.0, 150.0, 0.5
STEADY_CHANGE_COST, STEADY_MOST_AWAY = 2500.0, 1.5
# After a slowing the tempo of before is taken up at once: what a change to within so much of the whole's costs at most.
BACK_COST, BACK_WITHIN = 4.0, 0.03
_SMOOTH = np.exp(-0.5 * (np.arange(-4, 5) / 1.5) ** 2)

Beats = npt.NDArray[np.int64]


def smooth(curve: Curve) -> Curve:
    return np.convolve(curve, _SMOOTH / _SMOOTH.sum(), "same")


def tempo_of(curve: Curve, told: float | None = None) -> float:
    """The tempo that the whole speaks for. told: looked for around it only."""
    size = 2 << len(curve).bit_length()
    spectrum = np.fft.rfft(smooth(curve), size)
    like = np.fft.irfft(np.abs(spectrum) ** 2, size)
    like = like[: len(curve) // 2] / max(like[0], 1e-9)
    low, high = (SLOWEST, QUICKEST) if told is None else (told * 2**-TOLD_REACH, told * 2**TOLD_REACH)
    tempos = np.exp(np.arange(np.log(low), np.log(high), 0.002))
    lags = 60 * FPS / tempos
    weight = np.zeros(len(tempos))
    for beats, share in ((1, 1.0), (2, 1.0), (3, 0.5), (4, 1.0), (8, 0.5)):
        weight += share * np.interp(lags * beats, np.arange(len(like)), like, right=0.0)
    middle, octaves = (LIKELY, LIKELY_OCTAVES) if told is None else (told, TOLD_OCTAVES)
    weight = np.maximum(weight, 0) * np.exp(-0.5 * (np.log2(tempos / middle) / octaves) ** 2)
    return float(tempos[int(np.argmax(weight))])


def beats_of(curve: Curve, tempo: float, slowing: bool = True) -> Beats:
    """The chain of beats, around a tempo, on which most begins. slowing: it may slow down for a while, else it wanders
    no more than players do who keep time."""
    period = 60 * FPS / tempo
    lengths = np.arange(int(period / REACH), int(period * (REACH_SLOW if slowing else REACH)) + 2)
    curve = smooth(curve)
    # A frame more or less is how lengths between whole frames are told.
    changes = np.maximum(np.abs(lengths[:, np.newaxis] - lengths[np.newaxis, :]) - 1, 0) / period
    cost = (CHANGE_COST if slowing else STEADY_CHANGE_COST) * changes**2
    if slowing:
        back = np.abs(lengths - period) <= BACK_WITHIN * period + 1
        cost[back] = np.minimum(cost[back], BACK_COST)
    away = np.minimum(AWAY_COST * np.log(lengths / period) ** 2, MOST_AWAY if slowing else STEADY_MOST_AWAY)
    count, most, least = len(curve), int(lengths[-1]), int(lengths[0])
    # Of chains with a beat at t, the last of lengths[k]: what they are worth; at [most + t, k] what the best of those
    # is worth that a beat of lengths[k] follows, and which it is.
    best, came = np.empty((count, len(lengths))), np.empty((count, len(lengths)), np.int16)
    followed, which = np.zeros((count + most, len(lengths))), np.zeros((count + most, len(lengths)), np.int16)
    padded, rows = np.pad(curve, (most, 0)), np.arange(len(lengths))
    halves = most - (lengths + 1) // 2
    # No beat is shorter than the least: so many frames need nothing of one another, and are worked out at once.
    for first in range(0, count, least):
        at = np.arange(first, min(first + least, count))[:, np.newaxis]
        before = followed[most + at - lengths, rows]
        begun = before > 0
        came[at, rows] = np.where(begun, which[most + at - lengths, rows], -1)
        worth = np.where(begun, before, 0.0) + curve[at] + BETWEEN_SHARE * padded[at + halves] - away
        best[at, rows] = worth
        after = worth[:, np.newaxis, :] - cost
        last = after.argmax(axis=2)
        which[most + at, rows] = last
        followed[most + at, rows] = np.take_along_axis(after, last[:, :, np.newaxis], axis=2)[:, :, 0]
    return _back(best, came, lengths)


def _back(best: Curve, came: npt.NDArray[np.int16], lengths: npt.NDArray[np.int64]) -> Beats:
    at, k = (int(one) for one in np.unravel_index(int(np.argmax(best)), best.shape))
    found = [at]
    while True:
        before = int(came[at, k])
        at -= int(lengths[k])
        if before < 0 or at < 0:
            break
        found.append(at)
        k = before
    return np.array(found[::-1], np.int64)
