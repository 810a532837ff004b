"""What the sheet states of its own lengths and of where its events face, held against what is danced."""

from __future__ import annotations

from collections.abc import Iterator

from caller.dance.unroll import unroll
from caller.dance.walls import Wall
from caller.routine.facing import Facing
from caller.routine.findings import Finding
from caller.routine.parts import Cut, Routine

_MOST_WALLS = 40


def lengths(routine: Routine) -> Iterator[Finding]:
    """``counts-total``: a part or a section is said to have another length than its steps."""
    for told in routine.told:
        own = [s for s in routine.sections if s.part == told.part and told.section in (0, s.number)]
        danced = sum(s.passage.counts for s in own)
        if own and danced != told.counts:
            name = f"section {told.section}" if told.section else f"part {told.part}"
            message = f"{name} is said to have {told.counts} counts, and its steps take {danced}; mend one or the other"
            yield Finding(told.place, "counts-total", message)


def facings(routine: Routine) -> Iterator[Finding]:
    """``facing``: an event is said to be danced where the dance does not face there."""
    cuts = [(kind, cut) for kind, cut in _cuts(routine) if cut.facing is not None and 0 < cut.wall <= _MOST_WALLS]
    if not cuts:
        return
    walls = {wall.number: wall for wall in unroll(routine, max(cut.wall for _, cut in cuts)).walls}
    for kind, cut in cuts:
        wall = walls.get(cut.wall)
        if (
            wall is None
            or any(other.changed and other.wall <= cut.wall for _, other in _cuts(routine))
            or cut.facing is None
            or any(
                d.step.movement.action == "unread" for w in walls.values() if w.number <= cut.wall for d in w.movements
            )
        ):
            continue
        danced = _faced(wall, cut)
        if cut.facing not in danced:
            at = danced[0]
            message = f"this {kind} is said to face {cut.facing}, but on wall {cut.wall} the dance faces {at} there"
            yield Finding(cut.place, "facing", message)


def _cuts(routine: Routine) -> Iterator[tuple[str, Cut]]:
    for kind, events in (("tag", routine.tags), ("restart", routine.restarts)):
        for event in events:
            for cut in event.cuts:
                yield kind, cut
    if routine.ending is not None:
        yield "ending", routine.ending.cut


def _faced(wall: Wall, cut: Cut) -> list[Facing]:
    """Where the event faces; then what may be meant as well: where its wall begins, and where it ends."""
    before = [d for d in wall.movements if cut.after is None or d.at - wall.at < cut.after]
    at = before[-1].after.facing if before else wall.starts
    if cut.sure and cut.after is not None:
        return [at]
    put_in = [_before(wall, event.after) for event in wall.events if event.kind in ("tag", "ending")]
    return [wall.ends if cut.after is None else at, at, wall.starts, wall.ends, *put_in]


def _before(wall: Wall, after: int) -> Facing:
    danced = [d for d in wall.movements if d.at - wall.at < after]
    return danced[-1].after.facing if danced else wall.starts
