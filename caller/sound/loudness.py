"""Loudness and true peak, and the gain that brings a clip to a target.

Conventions: samples at ``RATE`` (48 kHz, for which the standard prints its filters), shape ``(n,)`` or ``(n, 2)``. A
mono clip counts as it is rendered, the same in both channels, which is 3.01 LU more than in one. Loudness in LUFS,
peaks in dB of full scale, gains as factors.

Source: ITU-R BS.1770, Annex 1 (K-weighting, blocks of 400 ms that overlap by three quarters, gates at -70 LUFS and
10 LU below the mean) and Annex 2 (true peak at four times the rate). What is shorter than ``GATED_FROM_SECONDS`` has
too few blocks for a gate to mean anything: there it is the mean over the whole, in which the clip's last frame counts
as much as its first.

Speech stands at least 10 LU over the count track, better 14 (Torcoli et al., JAES 67(12), 2019: people with no trade in
sound want 4 LU more than those with one): see ``SPEECH_LUFS`` and ``COUNT_TRACK_LUFS``.
"""

from __future__ import annotations

from functools import lru_cache
from math import inf, log10

import numpy as np
import numpy.typing as npt

from caller.sound.mix import SPEECH_PEAK
from caller.sound.score import RATE, Samples
from caller.sound.transforms import quick_length

SPEECH_LUFS = -20.0
# The most the count track comes to, at the quickest tempo with a click between all counts; at 120 it is 4 LU less.
COUNT_TRACK_LUFS = -30.0
# Music when nothing is said: EBU R 128's programme loudness. Under a call it is ducked.
MUSIC_LUFS = -23.0

BLOCK_SECONDS = 0.4
STEP_SECONDS = 0.1
GATED_FROM_SECONDS = 1.0
SHORT_TERM_SECONDS = 3.0  # EBU Tech 3341's window for what is loud for a while
# A whole song is weighed in pieces, for the sake of memory: whole steps, and with what rings on at both ends just under
# the size of a quick Fourier transform (2 ** 18).
PIECE_SECONDS = 4.4
ABSOLUTE_GATE_LUFS = -70.0
RELATIVE_GATE_LU = 10.0
OVERSAMPLING = 4

_OFFSET = -0.691
# BS.1770 tables 1 and 2: (b0, b1, b2), (1, a1, a2) at 48 kHz: the head's effect, then the low cut.
_STAGES = (
    ((1.53512485958697, -2.69169618940638, 1.19839281085285), (1.0, -1.69065929318241, 0.73248077421585)),
    ((1.0, -2.0, 1.0), (1.0, -1.99004745483398, 0.99007225036621)),
)
# The low cut's ringing has died away to nothing (below -150 dB) within this.
_RINGING_FRAMES = RATE // 2

Wide = npt.NDArray[np.float64]


def loudness(samples: Samples) -> float:
    """Integrated loudness in LUFS; -inf for silence and for nothing at all."""
    if len(samples) < GATED_FROM_SECONDS * RATE:
        summed = _summed(k_weighted(samples))
        return _lufs(float(summed.mean())) if len(summed) else -inf
    return _gated(_step_powers(samples))


def loudest(samples: Samples) -> float:
    """The loudness of the loudest ``SHORT_TERM_SECONDS`` in LUFS, ungated; of the whole, where that is shorter."""
    if len(samples) < SHORT_TERM_SECONDS * RATE:
        return loudness(samples)
    return _lufs(float(_means(_step_powers(samples), SHORT_TERM_SECONDS).max()))


def programme(samples: Samples) -> tuple[float, float]:
    """:func:`loudness` and :func:`loudest` of a recording, weighed once."""
    weighing = Weighing()
    weighing.add(samples)
    return weighing.programme()


class Weighing:
    """A recording weighed as it comes, block by block, each with as many channels as the one before."""

    def __init__(self) -> None:
        # What isn't weighed yet, with what rings into it before it.
        self._held: Samples | None = None
        self._lead, self._powers = 0, list[Wide]()

    def add(self, block: Samples) -> None:
        self._held = block if self._held is None else np.concatenate([self._held, block])
        piece = round(PIECE_SECONDS * RATE)
        while len(self._held) - self._lead > piece:
            self._weigh(piece)

    def programme(self) -> tuple[float, float]:
        """:func:`loudness` and :func:`loudest` of all that came; nothing may come after."""
        held = np.zeros(0, np.float32) if self._held is None else self._held
        if not self._powers and len(held) < SHORT_TERM_SECONDS * RATE:
            return loudness(held), loudest(held)
        powers = self.step_powers()
        return _gated(powers), _lufs(float(_means(powers, SHORT_TERM_SECONDS).max()))

    def step_powers(self) -> Wide:
        """The mean power of each whole ``STEP_SECONDS`` of all that came."""
        step = round(STEP_SECONDS * RATE)
        if self._held is not None and (left := (len(self._held) - self._lead) // step * step):
            self._weigh(left)
        return np.concatenate(self._powers)

    def _weigh(self, frames: int) -> None:
        """So many of what is held, whole steps."""
        assert self._held is not None
        stop = self._lead + frames
        self._powers.append(_powers(self._held[:stop], self._lead, round(STEP_SECONDS * RATE)))
        kept = max(stop - _RINGING_FRAMES, 0)
        self._held, self._lead = self._held[kept:].copy(), stop - kept


def energy(samples: Samples) -> float:
    """K-weighted power over time, in seconds of full scale, with all that the filters let ring on.

    What a short sound adds to the loudness of what it is repeated in: n a second have a mean power of n energies.
    """
    rung = np.concatenate([samples, np.zeros((_RINGING_FRAMES, *samples.shape[1:]), np.float32)])
    return float(_summed(k_weighted(rung)).sum()) / RATE


def k_weighted(samples: Samples) -> Wide:
    """The samples as the ear weighs them, same shape, by BS.1770's two filters.

    By their frequency response rather than sample by sample: the same to 1e-9, and it needs no loop.
    """
    size = quick_length(len(samples) + _RINGING_FRAMES)
    response = _response(size)
    across = response if samples.ndim == 1 else response[:, np.newaxis]
    spectrum = np.fft.rfft(samples.astype(np.float64), size, axis=0)
    return np.fft.irfft(spectrum * across, size, axis=0)[: len(samples)]


def _powers(samples: Samples, lead: int, step: int) -> Wide:
    """The mean power of each step of the samples as the ear weighs them, after a lead that only rings into them. As
    exact as the samples themselves are, to some millionths: both channels are the two parts of one complex wave, whose
    power is the sum of theirs."""
    size = quick_length(len(samples) + _RINGING_FRAMES)
    heard = _weighed(samples, size) if samples.ndim == 1 else _both_weighed(samples, size)
    steps = heard[lead : len(samples)].reshape((len(samples) - lead) // step, -1)
    powers = np.einsum("sn,sn->s", steps, steps).astype(np.float64) / step
    return np.asarray(powers if samples.ndim == 2 else 2 * powers)


def _weighed(samples: Samples, size: int) -> npt.NDArray[np.floating]:
    spectrum = np.fft.rfft(samples, size)
    return np.asarray(np.fft.irfft(spectrum * _response(size).astype(spectrum.dtype), size))


def _both_weighed(samples: Samples, size: int) -> npt.NDArray[np.floating]:
    pairs = np.ascontiguousarray(samples, np.float32).view(np.complex64)[:, 0]
    wave = np.fft.ifft(np.fft.fft(pairs, size) * _both_ways(size))
    return np.asarray(wave.view(wave.real.dtype).reshape(size, 2))


@lru_cache(maxsize=4)
def _both_ways(size: int) -> npt.NDArray[np.complex64]:
    """:func:`_response` at negative frequencies too."""
    response = _response(size)
    return np.concatenate([response, response[-2:0:-1].conj()]).astype(np.complex64)


@lru_cache(maxsize=4)
def _response(size: int) -> npt.NDArray[np.complex128]:
    """Of both filters, at the frequencies of a transform of that size."""
    turning = np.exp(-2j * np.pi * np.fft.rfftfreq(size))
    response: npt.NDArray[np.complex128] = np.ones_like(turning)
    for above, below in _STAGES:
        response *= np.polyval(above[::-1], turning) / np.polyval(below[::-1], turning)
    return response


def true_peak_db(samples: Samples) -> float:
    """The highest point of the wave between the samples as well as on them, in dB of full scale; -inf for silence."""
    # With silence after it, where else the end of the clip would ring into its beginning.
    size = quick_length(len(samples) + RATE // 50)
    spectrum = np.fft.rfft(samples.astype(np.float64), size, axis=0)
    finer = np.fft.irfft(spectrum, OVERSAMPLING * size, axis=0) * OVERSAMPLING
    peak = float(max(np.abs(finer).max(initial=0.0), np.abs(samples).max(initial=0.0)))
    return 20 * log10(peak) if peak else -inf


def gain_to(samples: Samples, target_lufs: float, peak: float = SPEECH_PEAK) -> float:
    """The factor that brings a clip to a loudness, or as near as its true peak allows.

    peak: as a factor of full scale, not to be passed. Silence stays as it is: 1.0.
    """
    measured = loudness(samples)
    if measured == -inf:
        return 1.0
    wished_db = target_lufs - measured
    allowed_db = 20 * log10(peak) - true_peak_db(samples)
    return float(10 ** (min(wished_db, allowed_db) / 20))


def _summed(weighted: Wide) -> Wide:
    """Channels' powers add up; a mono clip is heard from two."""
    powers = weighted**2
    return powers.sum(axis=1) if powers.ndim == 2 else 2 * powers


def _step_powers(samples: Samples) -> Wide:
    """The mean power of each whole ``STEP_SECONDS``."""
    weighing = Weighing()
    weighing.add(samples)
    return weighing.step_powers()


def _means(step_powers: Wide, seconds: float) -> Wide:
    """Of each window of so many seconds, a step apart."""
    return np.convolve(step_powers, np.ones(round(seconds / STEP_SECONDS)), "valid") * STEP_SECONDS / seconds


def _gated(step_powers: Wide) -> float:
    """step_powers: of a block at least."""
    blocks = _means(step_powers, BLOCK_SECONDS)
    loud = blocks[blocks > power_of(ABSOLUTE_GATE_LUFS)]
    if not len(loud):
        return -inf
    gate = power_of(_lufs(float(loud.mean())) - RELATIVE_GATE_LU)
    return _lufs(float(loud[loud > gate].mean()))


def _lufs(power: float) -> float:
    return _OFFSET + 10 * log10(power) if power > 0 else -inf


def power_of(lufs: float) -> float:
    """The mean K-weighted power, summed over the channels, that a loudness stands for."""
    return float(10 ** ((lufs - _OFFSET) / 10))
