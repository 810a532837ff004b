"""Whether beats of a recording are the beat, or the places half-way between them are.

Conventions: curves as in :mod:`caller.sound.onsets`; beats in frames of them, fractions allowed. meter: beats a bar.
Places are beats and the halves between them by turns; a bar has twice its meter of them. Of each cue as much speaks for
the one reading as against the other: over the halves instead of the beats it comes to its negative.

How strong things are between beats tells little: a guitar, a piano or a cymbal may be struck there alone. What tells is
where the bass is, where the notes of bars and beats change, and what leads to what: of two strokes half a beat apart
the second is the accent, and the first its pick-up (Povel & Essens, "Perception of temporal patterns", Music Perception
2, 1985), as in a cha's "4 and 1".
"""

from __future__ import annotations

import numpy as np

from caller.sound.onsets import Curve, Onsets
from caller.sound.phrase import apart, by_beat, near

# What each cue counts, and how much of it at most. By logistic regression over 484 songs of tests.bench (fresh_songs,
# scored_songs, between_songs) and some of tests.fakes, none below 0 and every style counting by the root of its songs;
# with each style left out in turn, what the rest says is wrong of ten songs.
CHORDS, CHORDS_MOST = 24.6, 0.08
BASS, BASS_LEADS = 2.32, 17.5
BARS, BARS_MOST = 2.58, 0.6
CHANGE, CHANGE_MOST = 1.42, 1.5
BASS_TURNS, BODY_TURNS, TURNS_MOST = 1.03, 0.69, 1.5
_MOST = 1.0
_LEAST_BEATS = 8
# Notes before and after a place are those of so many frames, a few away from it.
_NOTES_FRAMES, _BEFORE, _AFTER = 6, 1, 2


def on_beat(onsets: Onsets, beats: Curve, meter: int = 4) -> float:
    """How much more speaks for the beats than for the places half-way between them: above 0 these are the beat."""
    if len(beats) < max(_LEAST_BEATS, 2 * meter):
        return 0.0
    places = _places(beats)
    curves = (onsets.struck[:, 0], onsets.struck[:, 1], onsets.changes)
    bass, body, change = (_bar(near(curve, places), meter) for curve in curves)
    found = BASS * _within(_mean(bass), _MOST) + BASS_LEADS * _leads(bass)
    found += BASS_TURNS * _within(_turns(bass), TURNS_MOST) + BODY_TURNS * _within(_turns(body), TURNS_MOST)
    found += CHANGE * _within(float(change[::2].max() - change[1::2].max()), CHANGE_MOST)
    found += CHORDS * _within(_chords(onsets, places[::2]) - _chords(onsets, places[1::2]), CHORDS_MOST)
    return found + BARS * _within(_bars(_new_notes(onsets, places), meter), BARS_MOST)


def _places(beats: Curve) -> Curve:
    places = np.empty(2 * len(beats) - 2)
    places[::2], places[1::2] = beats[:-1], (beats[1:] + beats[:-1]) / 2
    return places


def _within(value: float, most: float) -> float:
    return float(np.clip(value, -most, most))


def _bar(strength: Curve, meter: int) -> Curve:
    """What is at each place of a bar by the mean."""
    whole = len(strength) // (2 * meter) * 2 * meter
    return np.asarray(strength[:whole].reshape(-1, 2 * meter).mean(axis=0))


def _mean(bar: Curve) -> float:
    return float(bar[::2].mean() - bar[1::2].mean())


def _turns(bar: Curve) -> float:
    """Beats are heavy and light by turns, what fills them up is alike."""
    return float(bar[::2].std() - bar[1::2].std())


def _leads(bar: Curve) -> float:
    """How much leads from halves to beats, against from beats to halves."""
    size = (bar - bar.min()) / max(float(bar.max() - bar.min()), 1e-9)
    leads = size * np.roll(size, -1)
    return float(leads[1::2].mean() - leads[::2].mean())


def _chords(onsets: Onsets, beats: Curve) -> float:
    """How different the notes of beats are from those before, where they are most so: a quarter of them."""
    notes = by_beat(onsets.notes, beats)
    return float(np.sort(apart(notes[1:], notes[:-1]))[-(len(notes) // 4) :].mean())


def _new_notes(onsets: Onsets, places: Curve) -> Curve:
    """How much each of the twelve notes is louder just after each place than just before it."""
    size = _NOTES_FRAMES
    summed = np.concatenate([np.zeros((1, 12)), np.cumsum(onsets.notes, axis=0)])
    at = np.clip(np.round(places).astype(int), size + _BEFORE, len(onsets.notes) - size - _AFTER)
    after, before = summed[at + size + _AFTER] - summed[at + _AFTER], summed[at - _BEFORE] - summed[at - size - _BEFORE]
    return np.asarray(np.maximum(after - before, 0) / size)


def _bars(new: Curve, meter: int) -> float:
    """How different the new notes of a bar are from those of the bar before, where bars begin at the best of the beats,
    against the best of the halves; in spreads."""
    size = 2 * meter
    if len(new) <= 4 * size:
        return 0.0
    told = new / np.maximum(np.linalg.norm(new, axis=1, keepdims=True), 1e-9)
    summed = np.concatenate([np.zeros((1, 12)), np.cumsum(told, axis=0)])
    sums = summed[size:] - summed[:-size]
    differ = apart(sums[size:], sums[:-size])
    bar = _bar(differ, meter) / max(float(differ.std()), 1e-9)
    return float(bar[::2].max() - bar[1::2].max())
