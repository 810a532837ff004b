"""How far a class is nudged slower or faster, stages that are slow apart from those at full speed. Pure.

Conventions: a nudge scales all stages of the kind that it was given in: whoever finds a comfortable slow speed has said
nothing of how fast the dance itself goes, and its song has a tempo. Shares of the full tempo; tempo in counts a minute.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from caller.teaching.stage import Stage

# What is slowed down lasts, so it goes by less than the 6 % at which a change is noticed (Drake & Botte, 1993).
STEP = Fraction(1, 25)
SLOWEST, FASTEST = Fraction(1, 4), Fraction(3, 2)


@dataclass(frozen=True, slots=True)
class Nudged:
    """What stages are slowed down to, or quickened: slow ones, and those at full speed."""

    slow: Fraction = Fraction(1)
    full: Fraction = Fraction(1)

    def of(self, stage: Stage) -> Fraction:
        """stage: as the programme has it, whatever speed it has come to."""
        return self.full if _at_full_speed(stage) else self.slow

    def speed_at_first(self, stage: Stage, tempo: Fraction) -> Fraction:
        """The speed that a stage begins at, before it is nudged; tempo: the full one. What is slow is never quicker
        than full speed, however far either was nudged."""
        speed = stage.speed_at(tempo * self.of(stage))
        return speed if _at_full_speed(stage) else min(speed, self.full / self.slow)

    def slower(self, stage: Stage, speed: Fraction) -> Nudged:
        """By a step, from that speed of the stage; never under what can be danced."""
        now = self.of(stage)
        return self._with(stage, max(now - STEP, min(now, SLOWEST / speed)))

    def faster(self, stage: Stage, speed: Fraction) -> Nudged:
        now = self.of(stage)
        return self._with(stage, max(now, min(now + STEP, FASTEST / speed)))

    def _with(self, stage: Stage, nudge: Fraction) -> Nudged:
        return replace(self, full=nudge) if _at_full_speed(stage) else replace(self, slow=nudge)


NOT_NUDGED = Nudged()


def _at_full_speed(stage: Stage) -> bool:
    return stage.speed >= 1
