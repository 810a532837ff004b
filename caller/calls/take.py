"""A take: one go at a stretch of the dance, complete. Frame 0 is the first click of its count-in, or the music's lead
before that."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from caller.calls.plan import CallPlan, CountIn, Fading
from caller.clock.timeline import Timeline
from caller.dance.walls import Dance
from caller.sound.score import Score


@dataclass(frozen=True, slots=True)
class Take:
    """start, end: absolute counts danced, end excluded. count_in: counts clicked before ``start``. lead: counts before
    the count-in, for music and for what is said before its numbers. how: the count-in ends."""

    dance: Dance
    start: Fraction
    end: Fraction
    count_in: int
    timeline: Timeline
    plan: CallPlan
    score: Score
    fading: Fading = Fading.USUAL
    lead: Fraction = Fraction(0)
    how: CountIn = CountIn.LEVEL

    @property
    def end_frame(self) -> int:
        """The frame on which ``end`` falls: where what comes next would begin (the score may ring on beyond it)."""
        return self.timeline.frame_of(self.end)
