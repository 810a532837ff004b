"""How long words take to say where no voice tells: 14 letters a second, about as the standard voice has them.

Conventions: seconds are exact at the usual speed; an utterance's frames are at :data:`caller.sound.score.RATE`.
"""

from __future__ import annotations

from fractions import Fraction

from caller.calls.plan import Utterance
from caller.sound.score import RATE

LETTERS_A_SECOND, SENTENCE_SECONDS = 14, Fraction(3, 20)
_BEAT_SECONDS = 0.07


def said_seconds(words: str) -> Fraction:
    return SENTENCE_SECONDS + Fraction(len(words), LETTERS_A_SECOND)


class GuessedLexicon:
    """Lengths without a voice, so that a plan can be looked at."""

    def utterance(self, words: str, speed: float) -> Utterance | None:
        frames = round(float(said_seconds(words)) / speed * RATE)
        return Utterance(words, speed, frames, round(_BEAT_SECONDS / speed * RATE))
