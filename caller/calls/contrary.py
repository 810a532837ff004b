"""Turns the other way than the last: whoever has just turned left turns left again unless told otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from caller.calls.group import Group

# So long a turn is still in everybody's legs.
_NEAR_COUNTS = 8


def contraries(groups: Sequence[Group]) -> Iterator[bool]:
    """Of groups in their order, whether each turns the other way than was turned shortly before, or both ways."""
    last: tuple[Fraction, bool] | None = None
    for group in groups:
        turns = [(group.at + one.offset, one.movement.turn.eighths > 0) for one in group.placed if one.movement.turn]
        near = [last] if last and turns and turns[0][0] - last[0] < _NEAR_COUNTS else []
        yield any(before != after for (_, before), (_, after) in pairwise([*near, *turns]))
        last = turns[-1] if turns else last
