"""A spoken phrase caught from a microphone: when it begins and ends, and whether it will do.

Conventions: blocks and samples are float32, mono, at ``caller.sound.score.RATE``; levels are dB of full scale, RMS,
over blocks of 10 ms. No I/O: blocks come from whoever records.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import islice
from math import log10

import numpy as np

from caller.sound.loudness import SPEECH_LUFS, gain_to
from caller.sound.score import RATE, Samples
from caller.sound.trim import faded

ROOM_SECONDS = 1.0
WAIT_SECONDS = 6.0  # for the first sound
LONGEST_SECONDS = 8.0
OVER_SECONDS = 0.7  # of quiet, and the phrase is over

SPEECH_OVER_ROOM_DB = 10.0
SOFTEST_DB = -50.0
# Speech this little over the room would bring the room along when it is levelled; common practice asks for 20 or more.
LEAST_OVER_ROOM_DB = 20.0
TOO_SOFT_DB = -45.0
# A wave that stands still at its top, there or beyond, has lost it.
CLIPPED_FROM, CLIPPED_RUN = 0.98, 3

_LEAD_BLOCKS, _TAIL_BLOCKS = 4, 10
_FADE_FRAMES = RATE // 200
_BLOCKS_A_SECOND = 100
_FLOOR_DB = -100.0


@dataclass(frozen=True, eq=False, slots=True)
class Caught:
    """A phrase. fault: "" or one sentence on why it won't do. samples: trimmed and levelled; empty where it won't.
    over_room_db: how far the speech stands over the room."""

    fault: str
    samples: Samples = field(repr=False)
    over_room_db: float = 0.0


def level_db(samples: Samples) -> float:
    power = float(np.mean(np.square(samples, dtype=np.float64))) if len(samples) else 0.0
    return max(10 * log10(power), _FLOOR_DB) if power else _FLOOR_DB


def room_level(blocks: Iterator[Samples]) -> float:
    """How loud the room is while nobody speaks, from the next second."""
    return level_db(np.concatenate(list(islice(blocks, round(ROOM_SECONDS * _BLOCKS_A_SECOND)))))


def catch(blocks: Iterator[Samples], room_db: float) -> Caught:
    """The next phrase: from its first sound until it has been quiet for a while; takes only that from ``blocks``."""
    loud_from = max(room_db + SPEECH_OVER_ROOM_DB, SOFTEST_DB)
    heard: list[Samples] = []
    loud: list[int] = []
    for number, block in enumerate(blocks):
        heard.append(block)
        if level_db(block) >= loud_from:
            loud.append(number)
        if _is_over(number, loud):
            break
    return judged(heard, loud, room_db)


def _is_over(number: int, loud: list[int]) -> bool:
    if not loud:
        return number + 1 >= WAIT_SECONDS * _BLOCKS_A_SECOND
    quiet, lasted = number - loud[-1], number - loud[0]
    return quiet >= OVER_SECONDS * _BLOCKS_A_SECOND or lasted >= LONGEST_SECONDS * _BLOCKS_A_SECOND


def judged(heard: list[Samples], loud: list[int], room_db: float) -> Caught:
    """What was heard, cut to the loud blocks and a little round them, if it will do."""
    if not loud:
        return _refused("Nothing was heard: speak a little after the words are shown, or closer to the microphone.")
    spoken = np.concatenate([heard[number] for number in loud])
    cut = np.concatenate(heard[max(loud[0] - _LEAD_BLOCKS, 0) : loud[-1] + 1 + _TAIL_BLOCKS])
    over = level_db(spoken) - room_db
    fault = _fault(loud, spoken, cut, over)
    if fault:
        return _refused(fault, over)
    whole = faded(cut, _FADE_FRAMES)
    return Caught("", whole * np.float32(gain_to(whole, SPEECH_LUFS)), over)


def _fault(loud: list[int], spoken: Samples, cut: Samples, over_room_db: float) -> str:
    if loud[0] == 0:
        return "It began before the recording did: speak a little after the words are shown."
    if loud[-1] - loud[0] >= LONGEST_SECONDS * _BLOCKS_A_SECOND - 1:
        return f"It went on for more than {LONGEST_SECONDS:g} seconds: say the words alone, in a quiet room."
    if is_clipped(cut):
        return "It is clipped: step back from the microphone, or turn its level down."
    if level_db(spoken) < TOO_SOFT_DB:
        return "It is too soft: come closer to the microphone, or turn its level up."
    if over_room_db < LEAST_OVER_ROOM_DB:
        return (
            f"The room is too loud: only {over_room_db:.0f} dB below the words, where {LEAST_OVER_ROOM_DB:.0f} are "
            "wanted; come closer, or find a quieter one."
        )
    return ""


def is_clipped(samples: Samples) -> bool:
    """Whether the wave's top is cut off: samples in a row at one and the same height near full scale."""
    top = float(np.abs(samples).max(initial=0.0))
    if top < CLIPPED_FROM:
        return False
    at_top = np.abs(samples) >= top * 0.999
    runs = np.convolve(at_top, np.ones(CLIPPED_RUN, int), "valid")
    return bool((runs >= CLIPPED_RUN).any())


def _refused(fault: str, over_room_db: float = 0.0) -> Caught:
    return Caught(fault, np.zeros(0, np.float32), over_room_db)
