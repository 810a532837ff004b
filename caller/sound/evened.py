"""A recording whose tempo wavers, evened out: every beat on its even place, the pitch kept.

Conventions: samples float32, shape (n,) or (n, 2), at ``RATE``; times in seconds.

Its own sound is copied as it is for as long as that stays near its place; then a little of it is left out or heard
twice, where it is most like itself (overlap and add of similar waveforms: Verhelst & Roelands, ICASSP 1993). Just
before each beat it is put in its place more narrowly than between two: there it is heard, and the beat covers the seam.
Of music that wavers by some per cent that is a seam or two for each beat.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from caller.sound.channels import looked_at, mixed, opposed
from caller.sound.score import RATE, Samples

# How far from its place sound may be, and how far around a place its like is looked for, frames: between two beats, and
# so long before each that the seam is over when it is struck.
MOST_OFF, SEEK = RATE * 8 // 1000, RATE * 10 // 1000
MOST_OFF_BEAT, SEEK_BEAT = RATE * 2 // 1000, RATE * 4 // 1000
BEFORE_BEAT = RATE * 20 // 1000
# What is compared, and what is faded over, frames.
ALIKE, FADE = RATE * 20 // 1000, RATE * 10 // 1000
STEP = RATE * 5 // 1000
TOLD_EACH = 10 * RATE

Times = npt.NDArray[np.floating]


def evened(samples: Samples, times: Times, even: Times, length: int) -> Samples:
    """``length`` frames in which what was heard at each of ``times`` is heard at the like one of ``even``, both seconds
    and ascending; before the first and after the last it is as it was."""
    out = np.zeros((length, *samples.shape[1:]), np.float32)
    differ = samples.ndim == 2 and opposed(looked_at(samples))
    for _ in evened_into(out, samples, differ, times, even):
        pass
    return out


def evened_into(out: Samples, samples: Samples, differ: bool, times: Times, even: Times) -> Iterator[int]:
    """The same, into what is there, which is silent. differ: how two channels are compared as one; see
    :func:`caller.sound.channels.mixed`. Tells now and then how far it is: nothing before that, but for a moment, is
    looked at or written again."""
    length = len(out)
    places = _places(times * RATE, even * RATE, np.arange(0, length + STEP, STEP))
    at_beats = set(np.round((even * RATE - BEFORE_BEAT) / STEP).astype(int).tolist())
    at, since, told = round(float(places[0])), 0, 0  # the source's frame that is heard on the frame ``since``
    for n, due in enumerate(places[1:], start=1):
        now = n * STEP
        if now >= length:
            break
        most_off, seek = (MOST_OFF_BEAT, SEEK_BEAT) if n in at_beats else (MOST_OFF, SEEK)
        place, near = at + now - since, abs(at + now - since - due) <= most_off
        if near and now - since < TOLD_EACH:
            continue
        if not near:
            place = _alike(samples, differ, place, round(float(due)), seek)
        _copy(samples, at, out[since : min(now + FADE, length)], 0 if since == 0 else FADE, FADE)
        at, since = place, now
        if now - told >= TOLD_EACH:
            told = now
            yield now
    _copy(samples, at, out[since:], 0 if since == 0 else FADE, 0)


def _places(times: Times, even: Times, frames: npt.NDArray[np.int64]) -> Times:
    """Where in the source each frame comes from."""
    before, after = times[0] - even[0], times[-1] - even[-1]
    inside = np.interp(frames, even, times)
    inside = np.where(frames < even[0], frames + before, inside)
    return np.asarray(np.where(frames > even[-1], frames + after, inside))


def _alike(samples: Samples, differ: bool, here: int, due: int, seek: int) -> int:
    """The place no further than ``seek`` from ``due`` that is most like what would be heard next, ``here``."""
    first = due - seek
    if here < 0 or first < 0 or here + ALIKE > len(samples) or due + seek + ALIKE > len(samples):
        return due
    pattern, around = samples[here : here + ALIKE], samples[first : due + seek + ALIKE]
    if samples.ndim == 2:
        pattern, around = mixed(pattern, differ), mixed(around, differ)
    size = 1 << (len(around) + ALIKE).bit_length()
    product = np.fft.irfft(np.fft.rfft(around, size) * np.conj(np.fft.rfft(pattern, size)), size)[: 2 * seek + 1]
    energy = np.concatenate([[0.0], np.cumsum(around.astype(np.float64) ** 2)])
    sizes = np.sqrt(np.maximum(energy[ALIKE:] - energy[:-ALIKE], 0)[: 2 * seek + 1]) + 1e-6
    nearness = 1 - 0.3 * (np.abs(np.arange(-seek, seek + 1)) / seek) ** 2
    return first + int(np.argmax(np.maximum(product / sizes, 0) * nearness))


def _copy(samples: Samples, at: int, out: Samples, fade_in: int, fade_out: int) -> None:
    """Adds the source from ``at`` on to ``out``, with its edges risen and fallen evenly. Changes ``out``."""
    first, last = max(-at, 0), min(len(samples) - at, len(out))
    if first >= last:
        return
    sound = samples[at + first : at + last].astype(np.float32, copy=True)
    gains = np.ones(len(out), np.float32)
    if fade_in:
        gains[:fade_in] = (np.arange(fade_in) + 0.5)[: len(out)] / fade_in
    if fade_out and len(out) > fade_out:
        gains[-fade_out:] *= ((np.arange(fade_out) + 0.5) / fade_out)[::-1].astype(np.float32)
    faded = gains[first:last]
    out[first:last] += sound * (faded if sound.ndim == 1 else faded[:, np.newaxis])
