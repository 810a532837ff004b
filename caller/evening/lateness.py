"""How late an evening is, and what might be taken out of it. Nothing is taken out here: the teacher decides. Pure.

Conventions: minutes as in :mod:`caller.evening.plan`.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import trunc

from caller.evening.plan import Item, Kind, long_words

# What is taken out first, where there is a choice: common practice.
_LEAST_FIRST = (Kind.REQUEST, Kind.RUN, Kind.DRILL, Kind.RECAP, Kind.BREAK, Kind.LESSON)


def over_by(now: Fraction, left: Fraction, later: Sequence[Item], closes: int) -> int:
    """By how many whole minutes the evening goes beyond the hall's closing time, as it stands; less than 0 is in hand.
    left: of the item under way; later: what comes after it. A plan of exactly its minutes is in time for as long as the
    clock shows the minute that it was to start in."""
    return trunc(now + left + sum(item.minutes for item in later) - closes)


def proposal(later: Sequence[Item], over: int) -> int | None:
    """Which of the items to come to take out: of the kind that is missed least, the shortest that is enough; where none
    is, the longest. None where the evening is in time, or all is to be kept."""
    if over <= 0:
        return None
    for kind in _LEAST_FIRST:
        may = [n for n, item in enumerate(later) if item.kind is kind and not item.keep]
        if may:
            # The last of several as long, so that what was planned first is danced.
            enough = [n for n in may if later[n].minutes >= over]
            return (
                min(enough, key=lambda n: (later[n].minutes, -n))
                if enough
                else max(may, key=lambda n: (later[n].minutes, n))
            )
    return None


def late_words(over: int, proposed: Item | None) -> str:
    """ "11 minutes over: X takes out request (5 min)", X being the key; "" in time."""
    if over <= 0:
        return ""
    told = f"{long_words(over)} over"
    return f"{told}: X takes out {proposed.name} ({proposed.minutes} min)" if proposed is not None else told
