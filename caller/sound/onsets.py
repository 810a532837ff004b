"""What begins when in a recording: how strongly sound sets in, in all and in the bass, and which notes there are.

Conventions: samples are float32, mono, shape (n,), at ``RATE``. Curves have ``FPS`` values a second; value n stands for
what begins at n / FPS seconds. Notes are the twelve of the octave, shape (frames, 12).

Sources: spectral flux against the maximum of neighbouring bands two frames before, which vibrato doesn't raise (Böck &
Widmer, "Maximum filter vibrato suppression for onset detection", DAFx 2013).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from caller.sound.score import RATE, Samples

FPS = 100
LOW_HZ = 150.0  # bass drum and the lower octave of a bass
_HOP, _WINDOW = RATE // FPS, 2048
_BANDS_AN_OCTAVE, _LOWEST_HZ, _HIGHEST_HZ = 12, 40.0, 14_000.0
_NOTES_HZ = (120.0, 2000.0)
_NOTES_SECONDS = 0.35
_LAG = 2  # frames between what is compared
_STRUCK_HZ = ((30.0, 130.0), (130.0, 400.0), (6_000.0, 14_000.0))
_STRUCK_LAG = 3
_PIECE_FRAMES = 2_000
# A curve stands out of its own mean over so long, in units of its own spread over so long.
_MEAN_SECONDS, _SPREAD_SECONDS = 1.0, 10.0
_MOST = 6.0

Curve = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Onsets:
    """full, low: how strongly something begins, in all and in the bass; changes: how much the notes after are others
    than those before; struck: how much louder the bass, the body of drums and chords, and cymbals become, as they are
    and not as they are heard, (frames, 3). All of even spread over the recording, with mean 0. notes: (frames, 12).
    level: how loud, a factor."""

    full: Curve
    low: Curve
    changes: Curve
    struck: Curve
    notes: Curve
    level: Curve

    @property
    def seconds(self) -> float:
        return len(self.full) / FPS


def onsets_of(samples: Samples) -> Onsets:
    """Of a recording of a second at least."""
    edges, lows = _edges()
    pitch, audible = _pitches()
    count = len(samples) // _HOP
    window = np.hanning(_WINDOW).astype(np.float32) * np.float32(2 / _WINDOW)
    rises, notes, level = np.empty((count, 2)), np.empty((count, 12)), np.empty(count)
    parts, loud = (
        [slice(*(round(hertz * _WINDOW / RATE) for hertz in ends)) for ends in _STRUCK_HZ],
        np.empty((count, 3)),
    )
    before = np.zeros((_LAG, len(edges) - 1), np.float32)
    for start in range(0, count, _PIECE_FRAMES):
        stop = min(start + _PIECE_FRAMES, count)
        frames = np.lib.stride_tricks.sliding_window_view(_around(samples, start, stop), _WINDOW)[::_HOP]
        sizes = np.abs(np.fft.rfft(frames * window, axis=1)).astype(np.float32)
        bands = np.log1p(1000 * np.add.reduceat(sizes, edges[:-1], axis=1)).astype(np.float32) / np.float32(np.log(10))
        known = np.concatenate([before, bands])
        rise = np.maximum(bands - _widest(known[: len(bands)]), 0)
        rises[start:stop] = np.stack([rise.sum(axis=1), rise[:, :lows].sum(axis=1)], axis=1)
        heard = np.sqrt(sizes[:, audible])
        notes[start:stop] = heard @ pitch
        powers = sizes**2
        level[start:stop] = np.sqrt(powers.sum(axis=1))
        loud[start:stop] = np.sqrt(np.stack([powers[:, part].sum(axis=1) for part in parts], axis=1))
        before = bands[-_LAG:]
    full, low = (_even(curve) for curve in rises.T)
    struck = np.stack([_even(_louder(curve)) for curve in loud.T], axis=1)
    return Onsets(full, low, _even(_changes(notes)), struck, notes, level)


def _around(samples: Samples, start: int, stop: int) -> Samples:
    """What the windows of those frames lie over, with silence before the recording and after it. A piece at a time: a
    whole recording is not copied."""
    first, last = start * _HOP - _WINDOW // 2, (stop - 1) * _HOP + _WINDOW // 2
    inside = samples[max(first, 0) : last]
    return np.pad(inside, (max(-first, 0), max(last - max(first, 0) - len(inside), 0)))


def _louder(curve: Curve) -> Curve:
    later = np.concatenate([curve[:_STRUCK_LAG], curve[:-_STRUCK_LAG]])
    return np.asarray(np.maximum(curve - later, 0))


def _changes(notes: Curve) -> Curve:
    """How far the notes of the next third of a second are from those of the last, where both are heard."""
    size = round(_NOTES_SECONDS * FPS)
    summed = np.concatenate([np.zeros((1, 12)), np.cumsum(notes, axis=0)])
    here = np.arange(len(notes))
    after = summed[np.minimum(here + size, len(notes))] - summed[here]
    before = summed[here] - summed[np.maximum(here - size, 0)]
    loud_after, loud_before = np.linalg.norm(after, axis=1), np.linalg.norm(before, axis=1)
    alike = (after * before).sum(axis=1) / np.maximum(loud_after * loud_before, 1e-9)
    heard = np.minimum(loud_after, loud_before) / max(float(loud_after.mean()), 1e-9)
    return np.asarray(np.sqrt(np.maximum(1 - alike, 0)) * np.sqrt(np.minimum(heard, 1.0)))


def _edges() -> tuple[npt.NDArray[np.int64], int]:
    """Bins at which bands begin, the last one ending; and how many of the bands are the bass's."""
    octaves = np.log2(_HIGHEST_HZ / _LOWEST_HZ)
    hertz = _LOWEST_HZ * 2 ** (np.arange(int(octaves * _BANDS_AN_OCTAVE) + 1) / _BANDS_AN_OCTAVE)
    edges = np.unique(np.round(hertz * _WINDOW / RATE).astype(np.int64))
    return edges, int(np.searchsorted(edges, LOW_HZ * _WINDOW / RATE))


def _pitches() -> tuple[npt.NDArray[np.float32], slice]:
    """Which of the twelve notes each bin of a range belongs to, (bins, 12)."""
    first, last = (round(hertz * _WINDOW / RATE) for hertz in _NOTES_HZ)
    hertz = np.arange(first, last) * RATE / _WINDOW
    note = np.round(12 * np.log2(hertz / 440)).astype(int) % 12
    return np.eye(12, dtype=np.float32)[note], slice(first, last)


def _widest(bands: npt.NDArray[np.float32]) -> npt.NDArray[np.float32]:
    """The largest of each band and its neighbours."""
    wide = np.maximum(bands, 0)
    wide[:, 1:] = np.maximum(wide[:, 1:], bands[:, :-1])
    wide[:, :-1] = np.maximum(wide[:, :-1], bands[:, 1:])
    return wide


def _even(curve: Curve) -> Curve:
    """What stands out of its surroundings, in units of its spread: a soft verse counts as a loud chorus does."""
    own = curve - _mean(curve, _MEAN_SECONDS)
    spread = np.sqrt(_mean(own**2, _SPREAD_SECONDS))
    floor = 0.2 * float(np.sqrt(np.mean(own**2)))
    return np.clip(own / np.maximum(spread, max(floor, 1e-9)), -_MOST, _MOST)


def _mean(curve: Curve, seconds: float) -> Curve:
    size = min(round(seconds * FPS), len(curve)) | 1
    summed = np.cumsum(np.pad(curve, (size // 2 + 1, size // 2), mode="reflect" if len(curve) > size else "edge"))
    return np.asarray((summed[size:] - summed[:-size])[: len(curve)] / size)
