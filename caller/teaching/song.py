"""A dance as long as a song: the run at the end of a lesson, the runs of an evening, and to a recording. Pure.

Conventions: tempo in counts a minute.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from caller.clock.timeline import SECONDS_A_MINUTE
from caller.dance.unroll import unroll
from caller.dance.walls import Dance, Wall
from caller.routine.parts import Routine

# A song lasts 3 to 3.5 minutes: common practice.
SONG_SECONDS = 195


def song_of(routine: Routine, tempo: Fraction) -> Dance:
    """The dance with the walls whose length comes nearest to a song's; never fewer than the sheet's own, so that each
    tag and restart comes. As the sheet says, where it has an ending or an order of parts."""
    counts = SONG_SECONDS * tempo / SECONDS_A_MINUTE
    walls = _from_its_own_on(routine, counts)
    return unroll(routine, min(walls, key=lambda wall: abs(wall.end - counts)).number) if walls else unroll(routine)


def filling(routine: Routine, counts: Fraction) -> Dance:
    """The dance with as many whole walls as there is room for in a recording of so many counts from its first step on;
    else as :func:`song_of` has it."""
    fit = [wall for wall in _from_its_own_on(routine, counts) if wall.end <= counts]
    return unroll(routine, fit[-1].number if fit else None)


def _from_its_own_on(routine: Routine, counts: Fraction) -> tuple[Wall, ...]:
    """The sheet's own last wall, and those after it until there are so many counts; none where the sheet says how the
    dance ends."""
    dance = unroll(routine)
    if dance.ended or routine.order:
        return ()
    # The sheet's last wall is one that nothing comes into, and so is each after it.
    more = ceil(max(counts - dance.counts, Fraction(0)) / max(dance.walls[-1].counts, 1))
    return unroll(routine, len(dance.walls) + more).walls[len(dance.walls) - 1 :]
