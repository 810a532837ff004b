"""What can wait, wished where there is time for it: a notice ahead between two calls, a wall's announcement behind the
last call of the wall before it. Pure."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from caller.calls.announce import WALL_LEAD
from caller.calls.plan import CallKind, Cue

# How far before a step its call is wished.
STEP_LEAD = Fraction(2)
# How far from its usual moment a notice is moved to where there is more time for it.
_MOVED_COUNTS = Fraction(3)


def waiting(cue: Cue, steps: Sequence[Fraction]) -> Cue:
    """The cue, wished where there is time for it. steps: the wished moments of the steps, in order."""
    if cue.kind is CallKind.WALL:
        return _after_the_last_call(cue, steps)
    return _moved(cue, steps) if cue.must and cue.heard_counts > 0 else cue


def _after_the_last_call(cue: Cue, steps: Sequence[Fraction]) -> Cue:
    """A wall's announcement, wished in the middle of the time between the last call of the wall before it and the first
    of its own: said over a wall that goes on, it would be taken for that wall's end."""
    first = bisect_left(steps, cue.at - STEP_LEAD)
    opens = max([cue.at - STEP_LEAD - WALL_LEAD, *steps[max(first - 1, 0) : first]])
    closes = min([cue.at, *steps[first : first + 1]])
    return replace(cue, lead_counts=cue.at - (opens + closes) / 2)


def _moved(cue: Cue, steps: Sequence[Fraction]) -> Cue:
    """A notice, wished in the middle of the longest time between two steps' calls near its own moment, where that is
    longer than the time it would have there."""
    wish = cue.at - cue.lead_counts
    earliest = max(wish - _MOVED_COUNTS, cue.at - cue.ahead_counts)
    latest = min(wish + _MOVED_COUNTS, cue.at - cue.heard_counts - STEP_LEAD)
    near = steps[max(bisect_right(steps, earliest) - 1, 0) : bisect_right(steps, latest) + 1]
    gaps = [(after - before, (before + after) / 2) for before, after in pairwise(near)]
    held = max((after - before for before, after in pairwise(near) if before <= wish <= after), default=Fraction(0))
    open_ = [(length, -abs(middle - wish), middle) for length, middle in gaps if earliest <= middle <= latest]
    longest, _, middle = max(open_, default=(held, 0, wish))
    return replace(cue, lead_counts=cue.at - middle) if longest > held else cue
