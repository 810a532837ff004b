"""A microphone driven by hand: it hears what it is given, then quiet for ever."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from caller.rig.recorder import BLOCK, RecorderLost
from caller.sound.score import RATE, Samples

ROOM = 1e-4  # the quiet room's noise, as a factor of full scale


def room(seconds: float, level: float = ROOM, seed: int = 0) -> Samples:
    noise = np.random.default_rng(seed).normal(0, level, round(seconds * RATE))
    return noise.astype(np.float32)


def blocks_of(sound: Samples) -> Iterator[Samples]:
    """The sound in whole blocks, then the room."""
    whole = np.pad(sound, (0, -len(sound) % BLOCK))
    yield from whole.reshape(-1, BLOCK)
    number = 0
    while True:
        number += 1
        yield room(BLOCK / RATE, seed=number)


class HandRecorder:
    """hears: what comes each time it is listened to, in turn; None = nothing comes any more. listened: how often."""

    def __init__(self, *hears: Samples | None) -> None:
        self.device = "by hand"
        self.listened = 0
        self.closed = False
        self._hears: Sequence[Samples | None] = hears

    def blocks(self) -> Iterator[Samples]:
        heard = self._hears[self.listened]
        self.listened += 1
        if heard is None:
            raise RecorderLost("Nothing comes from the microphone by hand any more.")
        return blocks_of(heard)

    def close(self) -> None:
        self.closed = True
