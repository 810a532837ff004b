"""The count track and its sounds, made here: the first count of a bar, the others, what falls between; a warning tone.

Conventions: clips are mono float32 at ``RATE``, 30 to 60 ms (the tone 180 ms). A click's first frame is its onset; its
edges are raised cosines, its partials lie below 7 kHz, so that it is clean on any loudspeaker. The three accents
differ by pitch and by timbre (the accent bright, the count plainer, what falls between a pure tone and soft), with
their lowest partial between 400 and 2100 Hz, so that they are told apart by ears that miss the highs.

Level: at ``CLICK_GAIN`` the fullest count track there is (``QUICKEST_TEMPO``, every other count accented, a click
between all counts) comes to ``COUNT_TRACK_LUFS``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

import numpy as np

from caller.sound.loudness import COUNT_TRACK_LUFS, SPEECH_LUFS, Wide, energy, gain_to, power_of
from caller.sound.score import RATE, Clip, Placement, Samples
from caller.sound.trim import faded

ACCENT, COUNT, BETWEEN = "accent", "count", "between"

# Leaves room to turn the count track up, by a gain of up to 1.
CLICK_GAIN = 0.6
QUICKEST_TEMPO = 260
# How loud each is against a plain count, in LU.
LEVELS_LU = {ACCENT: 3.0, COUNT: 0.0, BETWEEN: -6.0}

_ATTACK_FRAMES = RATE // 1000
_RELEASE_FRAMES = RATE // 100


@dataclass(frozen=True, slots=True)
class Partial:
    """ratio: to the strike's pitch. share: of the sound at its start. decay_ms: until it is down to 1/e."""

    ratio: float
    share: float
    decay_ms: float


@dataclass(frozen=True, slots=True)
class Strike:
    """A struck sound: partials that die away, the higher the sooner."""

    hertz: float
    length_ms: float
    partials: tuple[Partial, ...]


# A wooden bar: 2.76 is its second partial, that of a free one that is the same all along: the second root of
# cos x cosh x = 1 over the first, squared.
STRIKES = {
    ACCENT: Strike(1500, 50, (Partial(1, 1, 12), Partial(2.76, 0.7, 8), Partial(4.2, 0.35, 5))),
    COUNT: Strike(1000, 45, (Partial(1, 1, 11), Partial(2.76, 0.2, 6))),
    BETWEEN: Strike(750, 35, (Partial(1, 1, 9),)),
}


@cache
def click(accent: str = COUNT) -> Clip:
    """The click for one of ACCENT, COUNT, BETWEEN."""
    struck = faded(_struck(STRIKES[accent]).astype(np.float32), _ATTACK_FRAMES, _RELEASE_FRAMES)
    level = np.sqrt(_energy_wanted(accent) / energy(struck)) / CLICK_GAIN
    return _clip(f"click wood {accent}", struck * np.float32(level))


@cache
def tone() -> Clip:
    """Stands for a warning that no voice can say: two notes, rising, as loud as speech."""
    seconds = np.arange(round(0.09 * RATE)) / RATE
    notes = [np.sin(2 * np.pi * hertz * seconds) + 0.3 * np.sin(6 * np.pi * hertz * seconds) for hertz in (784, 1047)]
    sound = np.concatenate([faded(note.astype(np.float32), RATE // 200) for note in notes])
    return _clip("tone", sound * np.float32(gain_to(sound, SPEECH_LUFS)))


def _struck(strike: Strike) -> Wide:
    seconds = np.arange(round(strike.length_ms / 1000 * RATE)) / RATE
    sound = np.zeros(len(seconds))
    for partial in strike.partials:
        wave = np.sin(2 * np.pi * strike.hertz * partial.ratio * seconds)
        sound += partial.share * wave * np.exp(-1000 * seconds / partial.decay_ms)
    return sound


def _energy_wanted(accent: str) -> float:
    """What one click may have for the fullest count track to keep to its loudness."""
    shares = {name: 10 ** (level / 10) for name, level in LEVELS_LU.items()}
    a_count = (shares[ACCENT] + shares[COUNT]) / 2 + shares[BETWEEN]
    return power_of(COUNT_TRACK_LUFS) * 60 / QUICKEST_TEMPO * shares[accent] / a_count


def _clip(key: str, samples: Samples) -> Clip:
    """A clip that nobody can change: the same one is handed to all who ask."""
    samples.flags.writeable = False
    return Clip(key, samples)


def count_track(beats: Iterable[tuple[int, str]], gain: float = CLICK_GAIN) -> tuple[Placement, ...]:
    """A click at each (frame, accent)."""
    return tuple(Placement(frame, click(accent), gain, "count") for frame, accent in beats)


def in_order(*tracks: Iterable[Placement]) -> tuple[Placement, ...]:
    """Tracks as one, in order of frame; on one frame, in the order given."""
    return tuple(sorted((placement for track in tracks for placement in track), key=lambda placement: placement.frame))
