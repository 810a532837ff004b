"""What is danced to, for whoever goes on with the beat elsewhere: lights, players."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from caller.clock.timeline import Timeline


@dataclass(frozen=True, slots=True)
class HeardTimeline:
    """What is heard: a timeline whose frame 0 is heard at ``zero_seconds``; ``start`` the first count danced, ``end``
    the one after the last; ``take``: numbers the starts, so that going elsewhere is told from another tempo."""

    timeline: Timeline
    zero_seconds: float
    start: Fraction
    end: Fraction
    take: int
