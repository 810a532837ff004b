"""What a voice is heard over: pink noise, the talk of a class in a hall, and music; made here, the same in each run.

Conventions: float32, mono, ``SECONDS`` long, at ``RATE``; of any loudness. No sound of anybody's is used: the talk is
thirty synthetic voices saying sentences of ours, the music is made of sines and noise.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
import numpy.typing as npt

from caller.rig.speech.synthesiser import Request, WorkerSynthesiser
from caller.sound.loudness import loudness
from caller.sound.score import RATE, Samples
from caller.sound.trim import trimmed

SECONDS = 40
TALKERS = 30
# A hall's reverberation, and how far its energy exceeds that of the direct sound.
RT60_SECONDS, REVERBERANT_SHARE = 0.8, 1.0
TALK = (
    "we went down to the shop on the corner and it was shut so we had to walk all the way back again",
    "my sister has a new garden and she grows beans and onions and some very large potatoes there",
    "did you see the rain last night it came in under the door and the whole kitchen was wet",
    "the bus was late this morning and then it did not stop so I waited for another half an hour",
    "he said that he would bring the cake but nobody knows whether he has remembered to bake it",
    "there is a meeting on thursday about the car park and I think that everybody should come along",
)
TEMPO, CHORDS, SCALE = 120, ((0, 4, 7), (9, 12, 16), (5, 9, 12), (7, 11, 14)), (0, 2, 4, 5, 7, 9, 11, 12)

Wave = npt.NDArray[np.float64]


@cache
def pink() -> Samples:
    """Equal power in each octave."""
    frames = SECONDS * RATE
    spectrum = np.fft.rfft(np.random.default_rng(1).standard_normal(frames))
    spectrum[1:] /= np.sqrt(np.arange(1, len(spectrum)))
    spectrum[0] = 0
    return np.fft.irfft(spectrum, frames).astype(np.float32)


@cache
def babble() -> Samples:
    """Thirty people talking at once, men and women at different paces and pitches, equally loud, in a hall."""
    rng = np.random.default_rng(7)
    together = np.zeros(SECONDS * RATE, np.float32)
    with WorkerSynthesiser() as synthesiser:
        for number in range(TALKERS):
            variant = f"m{1 + number // 2 % 7}" if number % 2 == 0 else f"f{1 + number // 2 % 4}"
            line = _talker(synthesiser, f"gmw/en-us+{variant}", rng)
            together += line * np.float32(10 ** (-loudness(line) / 20))
    return _in_a_hall(together)


def _talker(synthesiser: WorkerSynthesiser, voice: str, rng: np.random.Generator) -> Samples:
    import soxr

    first, wanted = int(rng.integers(3 * RATE)), SECONDS * RATE
    pieces: list[Samples] = []
    sentence = int(rng.integers(len(TALK)))
    while sum(map(len, pieces)) < first + wanted:
        rate, pitch = int(rng.integers(150, 200)), int(rng.integers(30, 70))
        said, _ = synthesiser.render(Request(TALK[sentence % len(TALK)], voice, rate, pitch))
        pause = np.zeros(int(rng.integers(RATE // 10, RATE)), np.float32)
        pieces += [trimmed(soxr.resample(said.samples, said.rate, RATE).astype(np.float32)), pause]
        sentence += 1
    return np.concatenate(pieces)[first : first + wanted]


def _in_a_hall(sound: Samples) -> Samples:
    """With noise that dies away by 60 dB in ``RT60_SECONDS`` as the hall's response."""
    seconds = np.arange(RATE) / RATE
    response = np.random.default_rng(11).standard_normal(RATE) * 10 ** (-3 * seconds / RT60_SECONDS)
    response *= np.sqrt(REVERBERANT_SHARE / (response**2).sum())
    response[0] += 1
    size = 1 << (len(sound) + RATE).bit_length()
    heard = np.fft.irfft(np.fft.rfft(sound, size) * np.fft.rfft(response, size), size)
    return heard[: len(sound)].astype(np.float32)


@cache
def music() -> Samples:
    """Drums, bass, chords and a sung-like tune in four, at 120: each bar another chord of four."""
    rng = np.random.default_rng(3)
    out = np.zeros((SECONDS + 2) * RATE)
    beat = 60 / TEMPO

    def add(at_seconds: float, sound: Wave, level: float) -> None:
        at = round(at_seconds * RATE)
        out[at : at + len(sound)] += level * sound

    for bar in range(round(SECONDS / beat / 4)):
        start, chord = bar * 4 * beat, CHORDS[bar % len(CHORDS)]
        for at, level in ((0, 1.0), (2, 1.0), (2.5, 0.7)):
            add(start + at * beat, _kick(), level)
        for half in range(8):
            add(start + half * beat / 2, _hat(rng), 0.35 if half % 2 else 0.5)
            for note in chord:
                add(start + half * beat / 2, _tone(220 * 2 ** (note / 12), beat * 0.45, _saw, 0.003, 0.25), 0.08)
        for at in range(4):
            if at % 2:
                add(start + at * beat, _snare(rng), 0.5)
            add(start + at * beat, _tone(55 * 2 ** (chord[0] / 12), beat * 0.9, _round, 0.01, 0.4), 0.5)
            late = beat / 2 if rng.random() < 0.3 else 0
            pitch = 330 * 2 ** (SCALE[int(rng.integers(len(SCALE)))] / 12)
            add(start + at * beat + late, _tone(pitch, beat * 0.9, _sung, 0.03, 2.0, vibrato=0.01), 0.1)
    return out[: SECONDS * RATE].astype(np.float32)


def _struck(seconds: float, dying_seconds: float) -> tuple[Wave, Wave]:
    time = np.arange(round(seconds * RATE)) / RATE
    return time, np.minimum(time / 0.002, 1) * np.exp(-time / dying_seconds)


def _kick() -> Wave:
    time, level = _struck(0.3, 0.08)
    return level * np.sin(2 * np.pi * (50 * time + 1.8 * (1 - np.exp(-time / 0.03))))


def _snare(rng: np.random.Generator) -> Wave:
    time, level = _struck(0.25, 0.06)
    return level * (0.6 * rng.standard_normal(len(time)) + 0.5 * np.sin(2 * np.pi * 190 * time))


def _hat(rng: np.random.Generator) -> Wave:
    time, level = _struck(0.08, 0.02)
    return 0.4 * level * np.diff(rng.standard_normal(len(time) + 2), n=2)


def _saw(number: int, hertz: float) -> float:
    return 1 / number


def _round(number: int, hertz: float) -> float:
    return 1 / number**1.5 if number < 12 else 0.0


def _sung(number: int, hertz: float) -> float:
    """With the formants of an open vowel."""
    formants = ((6, 700, 150), (4, 1200, 200), (3, 2600, 300))
    return (1 + sum(gain * np.exp(-(((hertz - at) / width) ** 2)) for gain, at, width in formants)) / number


def _tone(
    hertz: float, seconds: float, partial: Callable[[int, float], float], rise: float, dying: float, vibrato: float = 0
) -> Wave:
    time = np.arange(round(seconds * RATE)) / RATE
    level = np.minimum(time / rise, 1) * np.exp(-time / dying) * np.minimum((seconds - time) / 0.02, 1)
    phase = 2 * np.pi * hertz * time + vibrato * hertz / 5.5 * np.sin(2 * np.pi * 5.5 * time)
    numbers = range(1, min(40, int(15_000 / hertz)))
    return level * sum(partial(number, number * hertz) * np.sin(number * phase) for number in numbers)


MASKERS: dict[str, Callable[[], Samples]] = {"pink": pink, "babble": babble, "music": music}
