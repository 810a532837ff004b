"""A take: one go at a stretch of the dance, complete. Frame 0 is the first click of its count-in, or the music's lead
before that."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from caller.calls.group import Group
from caller.calls.plan import CallPlan, CountIn, Fading
from caller.clock.timeline import Timeline
from caller.dance.walls import Dance
from caller.sound.score import Score


@dataclass(frozen=True, slots=True)
class Take:
    """start, end: absolute counts danced, end excluded. count_in: counts clicked before ``start``. count_track: the
    sound of the clicks, by name. lead: counts before the count-in, for music and for what is said
    before its numbers. how: the count-in ends. groups: what is called together in it, as it is shown."""

    dance: Dance
    start: Fraction
    end: Fraction
    count_in: int
    timeline: Timeline
    plan: CallPlan
    score: Score
    count_track: str = "wood"
    fading: Fading = Fading.USUAL
    lead: Fraction = Fraction(0)
    how: CountIn = CountIn.LEVEL
    groups: tuple[Group, ...] = field(default=(), repr=False, compare=False)

    @property
    def end_frame(self) -> int:
        """The frame on which ``end`` falls: where what comes next would begin (the score may ring on beyond it)."""
        return self.timeline.frame_of(self.end)
