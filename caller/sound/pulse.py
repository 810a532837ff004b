"""Where the beats of a recording are, how sure that is, and which of them is count 1.

Conventions: samples are float32, mono, shape (n,), at ``RATE``; tempo in beats a minute; times in seconds from the
recording's beginning. The tempo may waver; from the first beat on to the last each follows the one before.

Where much begins on beats, and the bass and the chords speak for the same places, it is sure; where they speak for
others, or nothing does, it is not (as several trackers that agree tell a sound reading: Holzapfel, Davies et al.,
IEEE Trans. Audio, Speech and Language Processing 20, 2012).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil

import numpy as np
import numpy.typing as npt

from caller.sound.beats import beats_of, smooth, tempo_of
from caller.sound.channels import SILENT_DB, sounding
from caller.sound.finely import finely
from caller.sound.halfway import on_beat
from caller.sound.onsets import FPS, Curve, Onsets, onsets_of
from caller.sound.phrase import first_count
from caller.sound.score import RATE, Samples
from caller.sound.spoken import spoken

# What the bass and changes of chords count beside all that begins, when beats are chosen.
LOW_WEIGHT, CHANGES_WEIGHT = 0.1, 0.3
# Where no more than this speaks for beats against the places between them, they may be half a beat off. Of 480 songs
# that caller.sound.halfway has learnt from six are, five of them with less; so have 21 that are not.
DOUBTFUL = 1.3
# How strongly things begin on beats, in spreads: a tracker finds the first in noise; clear music has the second.
NONE_CLEAR, ALL_CLEAR = 1.4, 2.1
# How sure beats can be that neither the bass nor the chords speak for; each of the two adds the half of the rest.
ALONE = 0.4
# Two trackers mean the same beat where they are no further apart (a share of the beat).
SAME_SHARE = 0.15
# Beats so sure, all in all, are of music, whatever it sounds like: of speech they come to 0.05 to 0.5.
SURELY_MUSIC = 0.5
# Of so many beats around each it is told how sure it is.
SURE_BEATS = 8
# So near to even beats a recording was made to a click, and is told as even.
EVEN_MS = 12.0
# Most such music is made to a whole number of counts a minute: so near to one, it is taken for that.
WHOLE_WITHIN = 0.02
_NEAR_SECONDS = 2.0
# A song that begins on its first beat is heard a little after the place that is found for that.
BEFORE_SECONDS = 0.04
# Shorter there is nothing to be told of a beat.
_LEAST_FRAMES = 4 * RATE


@dataclass(frozen=True, slots=True)
class Pulse:
    """beats: seconds, shape (n,). first: which of them is count 1. sure: of each, 0 to 1. tempo: of the whole.
    wavers_ms: how far beats are off even ones. clear: how clear any beat is in the whole, 0 to 1. on_beat: how much
    speaks against its being half a beat off. speech: whether it is that alone."""

    beats: Curve
    first: int
    sure: Curve
    tempo: float
    wavers_ms: float
    clear: float
    on_beat: float
    speech: bool = False

    @property
    def even(self) -> bool:
        return self.wavers_ms <= EVEN_MS

    @property
    def surely(self) -> float:
        """How sure the whole is."""
        return float(self.sure.mean()) if len(self.sure) else 0.0


def pulse_of(
    samples: Samples,
    near_tempo: float | None = None,
    near_first: float | None = None,
    meter: int = 4,
    intro: int | None = None,
) -> Pulse:
    """near_tempo: roughly how fast it is danced to, which tells half from double. near_first: roughly where count 1 is.
    meter, intro: of the dance, by which count 1 is proposed where it isn't told."""
    first, last = sounding(samples)
    last = max(last, min(first + _LEAST_FRAMES, len(samples)))
    first = max(min(first, last - _LEAST_FRAMES), 0)
    aside = first / RATE
    pulse = _pulse(samples[first:last], near_tempo, None if near_first is None else near_first - aside, meter, intro)
    return replace(pulse, beats=np.maximum(pulse.beats + aside, 0.0))


def _pulse(
    samples: Samples, near_tempo: float | None, near_first: float | None, meter: int, intro: int | None
) -> Pulse:
    """Of what there is between the silence before and after it."""
    onsets = onsets_of(samples)
    tempo = tempo_of(onsets.full, near_tempo)
    frames = _whole(beats_of(_mixed(onsets), tempo).astype(float), len(onsets.full))
    speaks = on_beat(onsets, frames, meter)
    if speaks < 0:
        frames, speaks = _whole((frames[1:] + frames[:-1]) / 2, len(onsets.full)), -speaks
    strong = _strong(onsets, frames)
    sure = _sure(onsets, frames, tempo, _clear(_around(strong)))
    beats = finely(samples, smooth(onsets.full), frames)
    kept = beats >= -BEFORE_SECONDS
    beats, sure = beats[kept], sure[kept]
    first = (
        first_count(onsets, frames[kept], sure, meter, intro)
        if near_first is None
        else int(np.argmin(np.abs(beats - near_first)))
    )
    exact, wavers = _evenness(beats)
    if wavers <= EVEN_MS and len(beats) > 2:
        beats = _even_beats(beats, exact)
    heard = _heard(onsets.level, frames)
    clear = float(_clear(strong[heard].mean(keepdims=True))[0]) if heard.any() else 0.0
    found = Pulse(beats, first, sure, exact, wavers, clear, speaks)
    # Words come at no even beats, but for counts that are spoken as a machine does.
    unsteady = not found.even and found.surely < SURELY_MUSIC
    return replace(found, speech=True, clear=0.0) if unsteady and spoken(samples, onsets.level) else found


def _heard(level: Curve, frames: Curve) -> npt.NDArray[np.bool_]:
    """The beats that have any sound within some seconds: a minute's silence in a recording is no music without a
    beat."""
    size = round(_NEAR_SECONDS * FPS)
    loud = np.concatenate([[0.0], np.cumsum(level > level.max(initial=0) * 10 ** (-SILENT_DB / 20))])
    places = np.clip(np.round(frames).astype(int), 0, len(level))
    return np.asarray(loud[np.minimum(places + size, len(level))] > loud[np.maximum(places - size, 0)])


def _mixed(onsets: Onsets) -> Curve:
    mixed = onsets.full + LOW_WEIGHT * onsets.low + CHANGES_WEIGHT * onsets.changes
    return np.asarray(mixed / max(float(mixed.std()), 1e-9))


def _whole(frames: Curve, count: int) -> Curve:
    """Beats from the recording's beginning to its end: those before and after what was found lie as those next to
    them do."""
    if len(frames) < 2:
        return frames
    ahead, after = (float(np.median(np.diff(part))) for part in (frames[:9], frames[-9:]))
    before = frames[0] - ahead * np.arange(int((frames[0] + BEFORE_SECONDS * FPS) / ahead), 0, -1)
    beyond = frames[-1] + after * np.arange(1, ceil((count - frames[-1]) / after))
    return np.concatenate([before, frames, beyond])


def _strong(onsets: Onsets, frames: Curve) -> Curve:
    """How strongly things begin on each beat, or half-way to the next, whichever it is in the whole, in spreads."""
    if len(frames) < 2:
        return np.zeros(1)
    curve = smooth(onsets.full)
    spread = max(float(curve.std()), 1e-9)
    both = []
    for places in (frames, frames + np.diff(frames, append=2 * frames[-1] - frames[-2]) / 2):
        near = np.round(places).astype(int)[:, np.newaxis] + np.arange(-2, 3)
        both.append(np.minimum(curve[np.clip(near, 0, len(curve) - 1)].max(axis=1) / spread, 4.0))
    return max(both, key=lambda strong: float(strong.mean()))


def _clear(strong: Curve) -> Curve:
    """0 as in noise, 1 as in clear music."""
    return np.asarray(np.clip((strong - NONE_CLEAR) / (ALL_CLEAR - NONE_CLEAR), 0, 1))


def _sure(onsets: Onsets, frames: Curve, tempo: float, clear: Curve) -> Curve:
    """How clear the beat is around each, and whether the bass and the chords, tracked by themselves, have it there.
    Less where beats would be elsewhere if time were kept, as where somebody plays freely."""
    if len(frames) < 2:
        return np.zeros(len(frames))
    period = 60 * FPS / tempo
    low, changes, kept = (
        beats_of(curve, tempo, slowing=False).astype(float) for curve in (onsets.low, onsets.changes, _mixed(onsets))
    )
    there = (_agree(low, frames, period) + _agree(changes, frames, period)) / 2
    steady = max((_agree(kept, places, period) for places in (frames, frames + period / 2)), key=np.sum)
    return np.asarray(clear * (ALONE + (1 - ALONE) * _around(there)) * _around(steady))


def _around(values: Curve) -> Curve:
    """The mean of the beats around each."""
    size = min(SURE_BEATS, len(values))
    ends = np.pad(values, (size // 2, size - 1 - size // 2), mode="edge")
    return np.asarray(np.convolve(ends, np.ones(size) / size, "valid"))


def _agree(other: Curve, frames: Curve, period: float) -> Curve:
    if not len(other):
        return np.zeros(len(frames))
    after = np.clip(np.searchsorted(other, frames), 1, max(len(other) - 1, 1))
    nearest = np.minimum(np.abs(other[after - 1] - frames), np.abs(other[np.minimum(after, len(other) - 1)] - frames))
    return np.asarray(nearest <= SAME_SHARE * period, np.float64)


def _evenness(beats: Curve) -> tuple[float, float]:
    """The tempo of even beats next to these, and how far these are off them at most, in ms."""
    if len(beats) < 3:
        return 60.0, 0.0
    counts = np.arange(len(beats))
    period, start = np.polyfit(counts, beats, 1)
    tempo = 60 / period
    whole = round(tempo)
    if abs(tempo - whole) <= WHOLE_WITHIN:
        tempo, period = float(whole), 60 / whole
        start = float(np.median(beats - period * counts))
    return float(tempo), float(1000 * np.percentile(np.abs(beats - start - period * counts), 98))


def _even_beats(beats: Curve, tempo: float) -> Curve:
    counts = np.arange(len(beats))
    return np.asarray(np.median(beats - counts * 60 / tempo) + counts * 60 / tempo)
