"""Songs for tests, of our own making: clicks on known counts, over a bed of tones."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import cache

import numpy as np
import numpy.typing as npt

from caller.calls.music import Song
from caller.sound.loudness import MUSIC_LUFS
from caller.sound.score import RATE, Clip, Samples

CLICK_SECONDS = 0.04


def click() -> Samples:
    """A sound that sets in on its first frame."""
    seconds = np.arange(round(CLICK_SECONDS * RATE)) / RATE
    return (0.6 * np.exp(-seconds * 150) * np.cos(2 * np.pi * 1_200 * seconds)).astype(np.float32)


def clicks_at(frames: Iterable[int], length: int) -> Samples:
    """Silence but for a click on each of those frames."""
    sound, one = np.zeros(length + RATE, np.float32), click()
    for frame in frames:
        sound[frame : frame + len(one)] += one
    return sound[:length]


def click_song(tempo: Fraction | int, seconds: float, first_seconds: Fraction | float = 0.5) -> Samples:
    """A click on every count from count 1 on."""
    length, apart = round(seconds * RATE), Fraction(60 * RATE) / Fraction(tempo)
    first = Fraction(first_seconds) * RATE
    return clicks_at((round(first + n * apart) for n in range(int((length - first) / apart))), length)


def tune(tempo: int, seconds: float, first_seconds: float = 0.5, seed: int = 1) -> Samples:
    """Something like music: chords that change with the bar, a bass on every count and a rattle between, from its
    count 1 on; before it the chord alone."""
    draw = np.random.default_rng(seed)
    length = round(seconds * RATE)
    time = np.arange(length) / RATE
    sound = np.zeros(length)
    bar = ((time - first_seconds) * tempo / 60 // 4).astype(int)
    for note in (1, 1.25, 1.5):
        root = 220 * 2 ** (np.array([0, 5, 7, 0])[bar % 4] / 12)
        sound += 0.05 * np.sin(2 * np.pi * np.cumsum(root * note) / RATE)
    struck, shaken = np.arange(round(0.15 * RATE)) / RATE, round(0.03 * RATE)
    for n in range(int((seconds - first_seconds) * tempo / 30)):
        at = round((first_seconds + n * 30 / tempo) * RATE)
        hit = 0.5 * np.exp(-struck * 25) * np.sin(2 * np.pi * 90 * struck)
        if n % 2:
            hit = 0.12 * draw.uniform(-1, 1, shaken) * np.linspace(1, 0, shaken) ** 2
        stop = min(at + len(hit), length)
        sound[at:stop] += hit[: stop - at]
    return sound.astype(np.float32)


def played(beats: npt.NDArray[np.floating], silent: range = range(0), seed: int = 2) -> Samples:
    """A drum and a bass note on each beat, seconds, and a softer rattle between; nothing on those that are silent."""
    draw = np.random.default_rng(seed)
    sound = np.zeros(round((beats[-1] + 1) * RATE))
    time = np.arange(round(0.15 * RATE)) / RATE
    for n, at in enumerate(beats[:-1]):
        if n in silent:
            continue
        note = 90 * 2 ** ((0, 5, 7, 0)[n // 4 % 4] / 12)
        low = 0.5 * np.exp(-time * 20) * (np.sin(2 * np.pi * note * time) + 0.5 * np.sin(8 * np.pi * note * time))
        rattle = 0.08 * draw.uniform(-1, 1, 1_500) * np.linspace(1, 0, 1_500) ** 2
        for start, hit in ((at, low), ((at + beats[n + 1]) / 2, rattle)):
            frame = round(start * RATE)
            sound[frame : frame + len(hit)] += hit
    return sound.astype(np.float32)


@cache
def version(tempo: Fraction, seconds: Fraction, first_seconds: Fraction) -> Clip:
    return Clip(f"clicks {tempo}", click_song(tempo, float(seconds), first_seconds))


def song_of(
    tempo: Fraction | int,
    tempos: Iterable[Fraction | int],
    seconds: int = 60,
    first_seconds: Fraction = Fraction(1, 2),
) -> Song:
    """A song of clicks, at each of those tempos as if it had been recorded at it; told to be as loud as music is."""
    stretches = {Fraction(other): Fraction(tempo) / other for other in tempos}
    versions = {other: version(other, seconds * by, first_seconds * by) for other, by in stretches.items()}
    return Song(Fraction(tempo), first_seconds, 1.0, MUSIC_LUFS, versions)
