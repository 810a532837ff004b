"""Takes for tests: a dance, a tempo, a voice of known lengths."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from caller.calls.plan import CallKind, CallPlan, Cue, Fading, Manner
from caller.calls.score import make_take
from caller.calls.take import Take
from caller.calls.wording import LAST_WALL
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


def as_asked(plan: CallPlan, cues: Sequence[Cue]) -> list[Cue]:
    """The cues that are said."""
    return in_place([call.cue for call in plan.calls if call.follows is None], cues)


def in_place(found: Sequence[Cue], cues: Sequence[Cue]) -> list[Cue]:
    """That a wall is the last is told within it where there was no room at its start: then its announcement was asked
    for; where a restart begins it, that has its own call."""
    start = next((cue for cue in cues if cue.kind is CallKind.WALL and LAST_WALL in cue.wordings[0]), None)
    asked = [start if cue.wordings == (LAST_WALL,) and cue not in cues else cue for cue in found]
    return [cue for cue in asked if cue is not None]
