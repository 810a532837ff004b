"""A dance as long as a song: the run at the end of a lesson, and the runs of an evening. Pure.

Conventions: tempo in counts a minute.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from caller.clock.timeline import SECONDS_A_MINUTE
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.parts import Routine

# A song lasts 3 to 3.5 minutes: common practice.
SONG_SECONDS = 195


def song_of(routine: Routine, tempo: Fraction) -> Dance:
    """The dance with the walls whose length comes nearest to a song's; never fewer than the sheet's own, so that each
    tag and restart comes. As the sheet says, where it has an ending or an order of parts."""
    dance = unroll(routine)
    if dance.ended or routine.order:
        return dance
    counts = SONG_SECONDS * tempo / SECONDS_A_MINUTE
    # The sheet's last wall is one that nothing comes into, and so is each after it.
    more = ceil(max(counts - dance.counts, Fraction(0)) / max(dance.walls[-1].counts, 1))
    longest = unroll(routine, len(dance.walls) + more)
    walls = longest.walls[len(dance.walls) - 1 :]
    return unroll(routine, min(walls, key=lambda wall: abs(wall.end - counts)).number)
