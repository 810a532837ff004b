"""What beats of a recording are to each other: which of them is count 1, the first of a bar and of a phrase, from which
the intro is counted.

Conventions: beats in frames of the curves of :mod:`caller.sound.onsets`, fractions allowed; places among the beats are
indices. meter: beats a bar.

Chords change with the bar, and what plays changes with the phrase: so the notes of a bar are most unlike those of the
bar before it where a bar begins, whatever is struck when. A dance begins so many counts after count 1 as its sheet says
as the intro, where as a rule something new begins (a voice, the drums).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from caller.sound.onsets import Curve, Onsets

BARS_A_PHRASE = 2
# Count 1 is looked for among so many beats from the first that is heard.
_AMONG = 33
# What a beat later costs, in spreads of what speaks for a place; and what the newness after the intro counts.
_LATER, _NEW, _NEW_MOST = 0.05, 0.7, 1.0
# Which beat a bar begins on is asked of so many from there on: a slowing further on may lose a beat. How much the notes
# of whole bars speak for it, beside those of beats and low drums, in spreads: of 214 songs of tests.bench.fresh_songs
# and scored_songs 2 are then a beat or two off, without them 8.
_BARS_ASKED, _BARS_SPEAK = 96, 2.0
# A beginning that is played freely: how sure its beats are on the whole, at most; what that comes to below it, beat by
# beat (some 12 beats of which nothing is sure); how far sure beats may stand before it; of the whole, no more than this
# share; and how much sooner than it is sure again a steady beat may begin.
_FREE_BELOW, _FREE_LEAST, _FREE_BEFORE, _FREE_SHARE, _SURE_LATE = 0.35, 4.0, -1.5, 0.5, 3
_HEARD = 0.25  # of the median level of beats
# What comes again may be so far beside where it is awaited, and is looked for a bar further; so much of it at least.
_BESIDE_BARS, _LOOKED_BARS, _LEAST_BARS = 2, 3, 3


def first_count(onsets: Onsets, beats: Curve, sure: Curve, meter: int, intro: int | None = None) -> int:
    """The index of the beat that is count 1. sure: of each beat, 0 to 1."""
    if len(beats) < 4 * meter:
        return 0
    bars, new = bar_strength(onsets, beats, meter), newness(onsets, beats, meter)
    start = _steady_from(sure, first_heard(onsets, beats))
    asked = slice(start, start + _BARS_ASKED)
    bar = start + _best_phase(bars[asked], meter)
    phrase = bar + meter * _best_phase((new + 0.5 * bars)[bar : asked.stop : meter], BARS_A_PHRASE)
    places = np.arange(start, min(start + _AMONG, len(beats)))
    places = places[(places - bar) % meter == 0]
    if not len(places):
        return start
    worth = -_LATER * (places - start) + 0.5 * ((places - phrase) % (BARS_A_PHRASE * meter) == 0)
    if intro:
        ahead = places + intro
        worth = worth + _NEW * np.clip(new[np.minimum(ahead, len(new) - 1)], -_NEW_MOST, _NEW_MOST)
    return int(places[int(np.argmax(worth))])


def _steady_from(sure: Curve, start: int) -> int:
    """The first beat after what is played freely at the beginning; where nothing is, start. What is too soft to be
    heard as the beginning is played freely or isn't, like what follows it."""
    lacking = np.cumsum(_FREE_BELOW - sure[: int(_FREE_SHARE * len(sure))])
    if not len(lacking) or lacking.max() < _FREE_LEAST or lacking[: int(lacking.argmax())].min() < _FREE_BEFORE:
        return start
    return max(int(lacking.argmax()) + 1 - _SURE_LATE, start)


def bar_strength(onsets: Onsets, beats: Curve, meter: int) -> Curve:
    """How much speaks for each beat to be the first of a bar: chords that change, low drums and basses."""
    notes = by_beat(onsets.notes, beats)
    change = np.concatenate([[0.0], apart(notes[1:], notes[:-1])])
    struck = _spread(change) + 0.5 * _spread(near(onsets.low, beats))
    return np.asarray(struck + _BARS_SPEAK * bars_turn(onsets, beats, meter))


def bars_turn(onsets: Onsets, beats: Curve, size: int) -> Curve:
    """How far the notes of so many beats from each on are from those of as many before it, in spreads; 0 where there
    are not so many."""
    notes = by_beat(onsets.notes, beats)
    notes = notes / np.maximum(np.linalg.norm(notes, axis=1, keepdims=True), 1e-9)
    summed = np.concatenate([np.zeros((1, notes.shape[1])), np.cumsum(notes, axis=0)])
    differ = np.zeros(len(beats))
    if len(beats) > 2 * size:
        sums = summed[size:] - summed[:-size]
        differ[size : len(beats) - size + 1] = _spread(apart(sums[size:], sums[:-size]))
    return differ


def first_heard(onsets: Onsets, beats: Curve) -> int:
    """The first beat that is as loud as beats are, and is gone on from."""
    loud = by_beat(onsets.level[:, np.newaxis], beats)[:, 0]
    strong = (loud > _HEARD * np.median(loud)) & (near(onsets.full, beats) > 0)
    steady = np.convolve(strong[::-1], np.ones(4), "full")[: len(beats)][::-1] >= 3
    return int(np.argmax(strong & steady))


def newness(onsets: Onsets, beats: Curve, meter: int) -> Curve:
    """How far the two bars after each beat are from the two before, in notes and loudness, in spreads: much where a
    phrase begins."""
    loud = np.log(by_beat(onsets.level[:, np.newaxis], beats) + 1e-4)
    notes = by_beat(onsets.notes, beats)
    size = 2 * meter
    told = np.concatenate([notes / max(float(np.linalg.norm(notes, axis=1).mean()), 1e-9), 0.5 * loud], axis=1)
    summed = np.concatenate([np.zeros((1, told.shape[1])), np.cumsum(told, axis=0)])
    here = np.arange(len(beats))
    ends, starts = np.minimum(here + size, len(beats)), np.maximum(here - size, 0)
    after = (summed[ends] - summed[here]) / np.maximum(ends - here, 1)[:, np.newaxis]
    before = (summed[here] - summed[starts]) / np.maximum(here - starts, 1)[:, np.newaxis]
    return _spread(np.linalg.norm(after - before, axis=1))


def beside(onsets: Onsets, beats: Curve, starts: Sequence[int], meter: int) -> list[tuple[int, float, float]]:
    """Of each start but the first, places among the beats: by how many beats beside it what was heard from an earlier
    start on comes again most alike, how alike that is (the mean cosine of the notes of beats, less those of the whole),
    and how alike it is at the start itself. Two bars beside at most; (0, 0, 0) where nothing is, or little is left."""
    notes = by_beat(onsets.notes, beats)
    notes = notes / np.maximum(np.linalg.norm(notes, axis=1, keepdims=True), 1e-9)
    notes = notes - notes.mean(axis=0)
    notes /= np.maximum(np.linalg.norm(notes, axis=1, keepdims=True), 1e-9)

    def alike(one: int, other: int, most: int) -> float:
        size = min(most, len(notes) - max(one, other))
        if size < _LEAST_BARS * meter or min(one, other) < 0:
            return -1.0
        return float((notes[one : one + size] * notes[other : other + size]).sum(axis=1).mean())

    found = []
    for n, start in enumerate(starts[1:], start=1):
        most = min(later - sooner for sooner, later in pairwise(starts[: n + 1]))
        ways = range(-_LOOKED_BARS * meter, _LOOKED_BARS * meter + 1)
        best = {by: max(alike(before, start + by, most) for before in starts[:n]) for by in ways}
        by = max(ways, key=lambda way: (best[way], -abs(way)))
        # One that grows more and more alike the further off it is only lies nearer to itself.
        peaked = best[by] > 0 and abs(by) <= _BESIDE_BARS * meter
        found.append((by, best[by], best[0]) if peaked else (0, 0.0, 0.0))
    return found


def _best_phase(strength: Curve, period: int) -> int:
    return int(np.argmax([strength[phase::period].mean() for phase in range(period)])) if len(strength) > period else 0


def by_beat(curve: Curve, beats: Curve) -> Curve:
    """The mean of each beat, up to the next; (beats, columns)."""
    edges = np.clip(np.round(np.append(beats, 2 * beats[-1] - beats[-2])).astype(int), 0, len(curve))
    summed = np.concatenate([np.zeros((1, curve.shape[1])), np.cumsum(curve, axis=0)])
    return np.asarray((summed[edges[1:]] - summed[edges[:-1]]) / np.maximum(np.diff(edges), 1)[:, np.newaxis])


def apart(one: Curve, other: Curve) -> Curve:
    sizes = np.linalg.norm(one, axis=1) * np.linalg.norm(other, axis=1)
    return np.asarray(1 - (one * other).sum(axis=1) / np.maximum(sizes, 1e-9))


def near(curve: Curve, beats: Curve, reach: int = 4) -> Curve:
    places: npt.NDArray[np.int64] = np.round(beats).astype(np.int64)[:, np.newaxis] + np.arange(-reach, reach + 1)
    return np.asarray(curve[np.clip(places, 0, len(curve) - 1)].max(axis=1))


def _spread(values: Curve) -> Curve:
    return np.asarray((values - values.mean()) / max(float(values.std()), 1e-9))
