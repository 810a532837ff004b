"""A click with a hard onset, and where it is found again in a capture."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from caller.sound.score import RATE, Samples

LEVEL = 0.1
APART = RATE // 10


def click() -> Samples:
    """20 ms, dying away; its first frame is its loudest."""
    frames = np.arange(RATE // 50)
    return (0.5 * np.cos(frames * 0.2) * np.exp(-frames / 200)).astype(np.float32)


def onsets(captured: Samples) -> npt.NDArray[np.int64]:
    """Frames where a click begins: louder than LEVEL after a tenth of a second of less."""
    loud = np.flatnonzero(np.abs(captured[:, 0]) > LEVEL)
    return loud[np.diff(loud, prepend=-APART) >= APART]


def off_the_beat_ms(found: npt.NDArray[np.int64], tempo: float) -> npt.NDArray[np.float64]:
    """How far each interval between onsets is from whole beats, in ms, without sign."""
    beat = 60 * RATE / tempo
    intervals = np.diff(found)
    return np.abs(intervals - np.maximum(1, np.round(intervals / beat)) * beat) / RATE * 1000
