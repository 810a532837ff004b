"""What is half said when a new score takes over, for the new score to finish.

Conventions: frames on the old score's axis, unless shifted.
"""

from __future__ import annotations

from dataclasses import replace

from caller.sound.score import Placement, Score


def carried_over(old: Score, at_frame: int, shift: int = 0) -> tuple[Placement, ...]:
    """The placements that began before ``at_frame`` and still sound there, in order of frame.

    shift: frames from the old score's axis to the new one's. A new score that holds these and begins nothing else
    before ``at_frame`` is crossed over to without a trace: what was sounding goes on, sample for sample.
    """
    begun = (placement for placement in old.sounding(at_frame, at_frame + 1) if placement.frame < at_frame)
    return tuple(replace(placement, frame=placement.frame + shift) for placement in begun)
