"""Which foot is free, as far as a class can tell from what is called."""

from __future__ import annotations

from caller.calls.group import Group

# Movements after which the weight may be on either foot, whatever they are called; what is no movement of the feet.
_EITHER_WEIGHT = frozenset(("stomp", "stamp", "bump", "swivel", "heel bounce", "knee pop", "hip roll", "jump"))
_NO_MOVES = frozenset(("hold", "clap", "snap", "slap"))


def leaves_open(group: Group) -> bool:
    """Whether nobody can tell from its call which foot is free after it."""
    last = next((one.movement for one in reversed(group.placed) if one.movement.action not in _NO_MOVES), None)
    return bool(group.own) or (last is not None and last.action in _EITHER_WEIGHT)


def is_free(group: Group) -> bool:
    """Whether its first movement is of a foot that can move."""
    first = group.wall.movements[group.first]
    foot = first.step.movement.foot
    return foot is None or first.before.weight.frees(foot)
