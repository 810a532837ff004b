"""Syllables made to measure: what is in them, and when, is known."""

from __future__ import annotations

import numpy as np

from caller.sound.score import RATE, Samples


def syllable(onset_seconds: float, hiss: float = 0.3, level: float = 0.5, vowel_seconds: float = 0.2) -> Samples:
    """A hissing consonant (noise above 4 kHz), then from ``onset_seconds`` on a vowel.

    The vowel is a buzz of 120 Hz with formants at 600 and 1100 Hz; it comes up within 30 ms and dies away.
    """
    spectrum = np.fft.rfft(np.random.default_rng(4).standard_normal(RATE))
    spectrum[:4_000] = 0
    hissed = np.fft.irfft(spectrum, RATE)[: round(onset_seconds * RATE)] * hiss * level
    seconds = np.arange(round(vowel_seconds * RATE)) / RATE
    vowel = np.zeros(len(seconds))
    for harmonic in range(1, 20):
        hertz = 120 * harmonic
        share = 1 / (1 + ((hertz - 600) / 150) ** 2) + 0.6 / (1 + ((hertz - 1_100) / 150) ** 2)
        vowel += share * np.sin(2 * np.pi * hertz * seconds)
    shape = np.minimum(seconds / 0.03, 1) * np.exp(-seconds / 0.1)
    return np.concatenate([hissed, level * vowel / np.abs(vowel).max() * shape]).astype(np.float32)


def silence(seconds: float) -> Samples:
    return np.zeros(round(seconds * RATE), np.float32)
