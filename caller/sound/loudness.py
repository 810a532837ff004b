"""Loudness by ITU-R BS.1770: K-weighted, gated where there is enough to gate; true peak by four-fold oversampling.

Conventions: samples float32 at 48 kHz, mono (n,) or (n, channels) with no surround channel; loudness in LUFS, peaks in
dBTP. A mono clip counts as played on both loudspeakers, which is how it is rendered. Silence is -inf.
"""

from __future__ import annotations

from math import inf, log10

import numpy as np
import numpy.typing as npt

from caller.sound.score import RATE, Samples

_Floats = npt.NDArray[np.float64]

# The two filters of BS.1770-4, tables 1 and 2, at 48 kHz: a shelf for the head, and a high pass.
_SHELF = ((1.53512485958697, -2.69169618940638, 1.19839281085285), (1.0, -1.69065929318241, 0.73248077421585))
_HIGH_PASS = ((1.0, -2.0, 1.0), (1.0, -1.99004745483398, 0.99007225036621))
_OFFSET = -0.691
_BLOCK, _HOP = round(0.4 * RATE), round(0.1 * RATE)
_ABSOLUTE_GATE, _RELATIVE_GATE = -70.0, -10.0
_OVERSAMPLING = 4


def loudness(samples: Samples) -> float:
    """Integrated loudness in LUFS; of what is shorter than 400 ms, the K-weighted mean without a gate."""
    channels = _channels(samples)
    if channels.shape[1] == 0:
        return -inf
    power = np.square(_k_weighted(channels)).sum(axis=0)  # both channels weigh 1
    if len(power) < _BLOCK:
        return _lufs(float(power.mean()))
    sums = np.concatenate(([0.0], np.cumsum(power)))
    begins = np.arange(0, len(power) - _BLOCK + 1, _HOP)
    blocks = (sums[begins + _BLOCK] - sums[begins]) / _BLOCK
    loud = blocks[_lufs_all(blocks) > _ABSOLUTE_GATE]
    if not len(loud):
        return -inf
    gate = _lufs(float(loud.mean())) + _RELATIVE_GATE
    return _lufs(float(loud[_lufs_all(loud) > gate].mean()))


def gain_to(samples: Samples, wanted_lufs: float, most_peak_dbtp: float = -1.0) -> float:
    """The factor that brings a clip to a loudness, held down where its true peak would pass ``most_peak_dbtp``; 0 for
    silence."""
    now = loudness(samples)
    if now == -inf:
        return 0.0
    gain_db = min(wanted_lufs - now, most_peak_dbtp - true_peak(samples))
    return float(10 ** (gain_db / 20))


def true_peak(samples: Samples) -> float:
    """The highest peak between and on the samples, in dBTP."""
    channels = _channels(samples)
    frames = channels.shape[1]
    if frames == 0:
        return -inf
    pad = 64  # so that the ends do not wrap round into each other
    padded = np.pad(channels, ((0, 0), (pad, pad)))
    spectrum = np.fft.rfft(padded)
    longer = padded.shape[1] * _OVERSAMPLING
    peak = float(np.abs(np.fft.irfft(spectrum, longer) * _OVERSAMPLING).max())
    return 20 * log10(peak) if peak > 0 else -inf


def _channels(samples: Samples) -> _Floats:
    """(channels, n), a mono clip twice."""
    if samples.ndim == 1:
        return np.stack([samples, samples]).astype(np.float64)
    return samples.T.astype(np.float64)


def _k_weighted(channels: _Floats) -> _Floats:
    """Both filters at once, in the frequency domain; padded until their tail has died away."""
    frames = channels.shape[1]
    length = 1 << (frames + RATE // 2 - 1).bit_length()
    angle = np.exp(-2j * np.pi * np.fft.rfftfreq(length))
    response = _response(_SHELF, angle) * _response(_HIGH_PASS, angle)
    weighted: _Floats = np.fft.irfft(np.fft.rfft(channels, length) * response, length)
    return weighted[:, :frames]


def _response(filter_: tuple[tuple[float, ...], tuple[float, ...]], angle: npt.NDArray[np.complex128]) -> npt.NDArray[np.complex128]:
    above, below = filter_
    response: npt.NDArray[np.complex128] = np.polyval(above[::-1], angle) / np.polyval(below[::-1], angle)
    return response


def _lufs(power: float) -> float:
    return _OFFSET + 10 * log10(power) if power > 0 else -inf


def _lufs_all(power: _Floats) -> _Floats:
    with np.errstate(divide="ignore"):
        lufs: _Floats = _OFFSET + 10 * np.log10(power)
    return lufs
