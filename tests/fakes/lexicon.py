"""A voice of known lengths: each group of vowels takes 0.18 s, each phrase 0.12 s more, at speed 1."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import replace

import numpy as np

from caller.calls.plan import Utterance
from caller.sound.score import Clip

SYLLABLE_SECONDS = 0.18
PHRASE_SECONDS = 0.12
BEAT_SECONDS = 0.06
PAUSE_SECONDS = 0.2


class MeasuredVoice:
    """A Lexicon, and the clips to go with it. mute: words that it can't say; stretch: slower (above 1) or faster;
    said: all that it was asked for."""

    def __init__(self, rate: int = 48_000, mute: Collection[str] = (), stretch: float = 1.0) -> None:
        self.rate = rate
        self.mute = frozenset(mute)
        self.stretch = stretch
        self.said: dict[tuple[str, float], Utterance] = {}

    def utterance(self, words: str, speed: float) -> Utterance | None:
        if words in self.mute:
            return None
        return self.said.get((words, speed)) or self._measured(words, speed)

    def _measured(self, words: str, speed: float) -> Utterance:
        seconds = PHRASE_SECONDS + SYLLABLE_SECONDS * len(re.findall(r"[aeiouy]+", words))
        frames = round(seconds * self.stretch / speed * self.rate)
        utterance = Utterance(words, speed, frames, min(round(BEAT_SECONDS / speed * self.rate), frames))
        return self.said.setdefault((words, speed), utterance)

    def clip(self, words: str, speed: float) -> Clip:
        utterance = self.utterance(words, speed)
        assert utterance is not None, f"asked to say {words!r}, which it can't"
        return Clip(f"{words} @ {speed}", np.full(utterance.frames, 0.25, np.float32))


class PausingVoice(MeasuredVoice):
    """Takes so much more for each comma."""

    def utterance(self, words: str, speed: float) -> Utterance | None:
        plain = super().utterance(words, speed)
        if plain is None:
            return None
        pauses = round(PAUSE_SECONDS * words.count(",") / speed * self.rate)
        return replace(plain, frames=plain.frames + pauses)


class Mute:
    """No voice at all."""

    def utterance(self, words: str, speed: float) -> Utterance | None:
        return None
