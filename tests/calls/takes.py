"""Takes for tests: a dance, a tempo, a voice of known lengths."""

from __future__ import annotations

from fractions import Fraction

from caller.calls.plan import Fading, Manner
from caller.calls.score import make_take
from caller.calls.take import Take
from caller.dance.walls import Dance
from tests.fakes.lexicon import MeasuredVoice

RATE = 48_000


def take_of(
    dance: Dance,
    tempo: Fraction | int = 110,
    manner: Manner = Manner.AHEAD,
    *,
    start: int = 0,
    end: int | None = None,
    count_in: int = 8,
    voice: MeasuredVoice | None = None,
    fading: Fading = Fading.USUAL,
) -> Take:
    voice = voice or MeasuredVoice()
    return make_take(
        dance,
        start=Fraction(start),
        end=Fraction(dance.counts if end is None else end),
        tempo=Fraction(tempo),
        manner=manner,
        lexicon=voice,
        clips=voice.clip,
        count_in=count_in,
        fading=fading,
    )
