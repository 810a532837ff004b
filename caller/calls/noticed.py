"""The call at the place of a tag, restart, change or ending: the notice of it with what is danced there first. Pure.

Conventions: what a wording loses is in per cent of its worth, as in :mod:`caller.calls.weigh`. Where notice and step
don't both fit, a restart keeps its notice, for the class knows how a wall begins; of anything else it keeps the step,
which nobody has danced yet, if the notice ahead has told of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from caller.calls.announce import NOW_AHEAD, begun_by_restart, event_cue
from caller.calls.plan import UNTOLD, CallKind, Cue, Part
from caller.dance.walls import Dance, Wall, WallEvent

# What the notice or the step alone loses.
_ALONE_LOST = UNTOLD
# What it loses where no pause parts the two, and by leaving out which wall a restart begins.
_UNPAUSED_LOST, _WALL_LOST = 35, 8


def noticed(
    dance: Dance, start: Fraction, count_in: int, cue: Cue, here: Sequence[tuple[Wall, WallEvent, bool]]
) -> Cue:
    """ "restart, right shuffle": a step's cue with what stands at its place. start, count_in: of the stretch, in
    counts. here: the events with their walls, each with whether it has been announced ahead."""
    own = [event_cue(dance, wall, event, must=not warned and cue.at > start) for wall, event, warned in here]
    said = ", and ".join(dict.fromkeys(one.wordings[0] for one in own))
    must = any(one.must for one in own)
    forms = list(zip(cue.wordings, cue.lost, strict=True))
    begun = begun_by_restart(dance, cue.at) if own[-1].kind is CallKind.RESTART else ""
    full = [(f"{said}, {begun}, {words}", lost) for words, lost in forms] if begun else []
    full += [(f"{said}, {words}", lost + (_WALL_LOST if begun else 0)) for words, lost in forms]
    # "tag side": without the breath, where the notice is one word; that is worse than being hurried.
    full += [(f"{said} {words}", lost + _UNPAUSED_LOST) for words, lost in forms if " " not in said]
    in_parts = [
        ((Part(f"{said}{pause} {parts[0].words}", parts[0].after), *parts[1:]), lost + less)
        for parts, lost in cue.in_parts
        for pause, less in ((",", 0), ("", _UNPAUSED_LOST))
        if pause or " " not in said
    ]
    if all(one.kind is CallKind.RESTART for one in own):
        full.append((said, _ALONE_LOST))
    elif not must:
        full += [(words, lost + _ALONE_LOST) for words, lost in forms]
    return replace(
        cue,
        kind=own[-1].kind,
        wordings=tuple(words for words, _ in full),
        lost=tuple(lost for _, lost in full),
        in_parts=tuple(in_parts),
        must=must,
        ahead_counts=min(NOW_AHEAD, max(cue.at - start, Fraction(1))) if count_in else NOW_AHEAD,
    )
