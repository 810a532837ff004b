"""A step change and the restart behind it, told in one sentence or under one heading: on the same walls, one place."""

from __future__ import annotations

import re

from caller.routine.layout.blocks import EventBlock
from caller.routine.layout.mention import CHANGE, RESTART, Mention

_WITH_CHANGE = re.compile(r"\b(?:with|and|\+|&)\s+(?:an?\s+)?(?:step\s+change|change\s+of\s+steps?)\W*$", re.IGNORECASE)


def heads(restart: EventBlock, change: EventBlock) -> bool:
    """ "RESTART WITH STEP CHANGE", and on the line below it what changes on which wall."""
    own = restart.mention.kind == RESTART and not (restart.mention.told or restart.mention.placed)
    below = change.mention.told and change.heading.number == restart.heading.number + 1
    return own and below and _WITH_CHANGE.search(restart.heading.text) is not None


def share_walls(before: Mention, after: Mention) -> None:
    """A change and a restart of one sentence are on the same walls."""
    if after.told and not before.told:
        before.walls, before.every = after.walls, after.every
    elif before.told and not after.told:
        after.walls, after.every = before.walls, before.every
        if not after.placed and before.after is not None:
            after.after = before.after


def share_place(change: EventBlock, restart: Mention) -> None:
    """The place of a restart is that of the change before it in its sentence."""
    if change.mention.kind != CHANGE:
        return
    if change.replaced and restart.after is not None:
        change.mention.after = max(restart.after, change.mention.after or 0)
    change.mention.here = change.mention.here or restart.here
    if change.replaced and change.mention.placed and not (restart.placed or restart.ends):
        restart.ends = restart.after_change = True  # "Restart with a step change: dance to count 14, then ... (7-8)"
