"""From what a synthesiser wrote to what is called: mono at the score's rate, trimmed, its beat found, shaped to carry
over noise, even in loudness.

Conventions: samples are float32, mono, shape (n,), in -1..1, at ``caller.sound.score.RATE``; positions in frames.
Samples are rounded to 16 bits at once, so that a phrase is the same to the sample whether it was just rendered or
comes from the shelf. soxr is imported when first needed.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from caller.rig.shelf import Item, Plain
from caller.rig.speech.recording import Recording
from caller.rig.speech.voicing import Unspoken
from caller.sound.beat import beat_of, beat_shifts
from caller.sound.loudness import SPEECH_LUFS, gain_to
from caller.sound.mix import CEILING, CLICK_PEAK, SPEECH_PEAK
from caller.sound.score import RATE, Samples
from caller.sound.shaping import shaped
from caller.sound.trim import trimmed

# Raise it with any change here or in what this rests on that alters the sound: what is on shelves is then made anew.
FORMAT = 5

_FULL = 32_767


@dataclass(frozen=True, eq=False, slots=True)
class Polished:
    """beat: the frame heard as its beat. key: names the samples."""

    samples: Samples = field(repr=False)
    beat: int
    key: str


def polish(recording: Recording, gain_db: float = 0.0, over_noise: bool = True) -> Polished:
    """Ready to be placed. over_noise: made to carry over noise, at the same loudness. Raises Unspoken where there is
    only silence."""
    import soxr

    at_rate = soxr.resample(recording.samples, recording.rate, RATE)
    heard = trimmed(at_rate.astype(np.float32, copy=False))
    if not len(heard):
        raise Unspoken("The synthesiser made only silence of it.")
    beat = beat_of(heard)
    if over_noise:
        heard = shaped(heard)
        # As it is heard now, near the speaker's own: what leads into that, once raised, could be taken for another.
        beat = min(max(beat + beat_shifts((beat,), heard)[0], 0), len(heard) - 1)
    # A voice made louder by hand stops where, over a click, the two would pass the ceiling.
    wished = SPEECH_LUFS + gain_db
    gain = gain_to(heard, wished, SPEECH_PEAK if gain_db <= 0 else CEILING - CLICK_PEAK)
    return _of(_pcm_of(heard * np.float32(gain)), beat)


def packed(polished: Polished) -> tuple[dict[str, Plain], bytes]:
    """As an item for the shelf."""
    return {"beat": polished.beat}, _pcm_of(polished.samples).tobytes()


def unpacked(item: Item) -> Polished | None:
    """From the shelf; None where the item is no phrase."""
    beat = item.header.get("beat")
    if len(item.body) % 2 or not isinstance(beat, int) or not 0 <= beat < len(item.body) // 2:
        return None
    return _of(np.frombuffer(item.body, "<i2"), beat)


def _of(pcm: npt.NDArray[np.int16], beat: int) -> Polished:
    """Of 16-bit samples."""
    samples = pcm.astype(np.float32) / np.float32(_FULL)
    samples.flags.writeable = False
    key = "speech:" + hashlib.sha256(pcm.tobytes()).hexdigest()[:32]
    return Polished(samples, beat, key)


def _pcm_of(samples: Samples) -> npt.NDArray[np.int16]:
    pcm: npt.NDArray[np.int16] = np.rint(samples * np.float32(_FULL)).astype("<i2")
    return pcm
