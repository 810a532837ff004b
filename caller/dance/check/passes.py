"""One pass through each part as it stands: feet, stated facings and weights, options, and the net turn.

Stated facings hold for wall 1; an option is held against what it replaces there.
"""

from __future__ import annotations

from collections.abc import Iterator

from caller.dance.unroll import start_body
from caller.routine import check as look
from caller.routine.facing import EIGHTHS, Facing
from caller.routine.findings import Finding, Place
from caller.routine.parts import Routine, Section
from caller.routine.walk import Walk, can_move, moving_foot, walk_steps


def passes(routine: Routine) -> Iterator[Finding]:
    """What stands wrong inside the sections, and ``walls``."""
    ends: list[Walk] = []
    for part in dict.fromkeys(s.part for s in routine.sections):
        sections = [s for s in routine.sections if s.part == part]
        walk = Walk.from_body(start_body(routine))
        if part and not _starts_free(sections, walk):
            walk.weight = None  # which foot a later part starts on is the order's business
        for section in sections:
            yield from _section(section, walk)
        ends.append(walk)
    if not routine.order:
        yield from _net_turn(routine, ends[0])


def _starts_free(sections: list[Section], walk: Walk) -> bool:
    steps = (s for section in sections for s in section.passage.steps)
    first = next((s for s in steps if moving_foot(s.movement) is not None), None)
    return first is None or can_move(first.movement, walk.weight)


def _section(section: Section, walk: Walk) -> Iterator[Finding]:
    before: list[Walk] | None = [] if section.options else None
    walk_steps(walk, section.passage.steps, section.passage.claims, before=before)
    yield from walk.findings
    walk.findings.clear()
    if before is not None:
        yield from look.options(section, [*before, walk.copy()])


def _net_turn(routine: Routine, walk: Walk) -> Iterator[Finding]:
    said = routine.header.walls
    if said is None or walk.facing is None:
        return
    follows = walls_of(walk.facing)
    if said == follows or (walk.believed is not None and said == walls_of(walk.believed)):
        return
    if follows is None:
        turned = walk.facing.eighths % EIGHTHS
        message = (
            f"a pass turns {turned} eighths in all, so walls are not square to the room; "
            "look for an eighth too many or too few"
        )
    else:
        makes = f"makes {follows} wall{'s' if follows > 1 else ''}"
        danced = f"a pass ends facing {walk.facing}, which {makes}"
        message = f"Walls says {said}, but {danced}; change Walls, or the turn that is wrong"
    yield Finding(routine.header.places.get("walls", Place(1)), "walls", message)


def walls_of(facing: Facing) -> int | None:
    """How many walls a net turn to this facing makes: 8 / gcd(8, eighths turned), None where they are not square."""
    turned = facing.eighths
    return None if turned % 2 else {0: 1, 4: 2}.get(turned, 4)
