"""A routine danced through: facing and weight carried from movement to movement, wall to wall."""

from __future__ import annotations

from fractions import Fraction

from caller.dance.running import plans
from caller.dance.wall_plan import PlacedStep, PlacedStretch, WallPlan
from caller.dance.walls import Dance, DancedPhrase, DancedStep, Stretch, Wall, WallEvent
from caller.routine.facing import FRONT, Facing
from caller.routine.parts import Routine
from caller.routine.passages import Step
from caller.routine.recognise import plain_phrase
from caller.routine.step import Body, Foot, Weight

MOST_WALLS = 200
_LEAST_WALLS = 2


def start_body(routine: Routine) -> Body:
    """How the class stands before the first step: facing the front, the starting foot free."""
    return Body(FRONT, Weight.on((routine.header.starts or Foot.RIGHT).other))


def usual_walls(routine: Routine) -> int:
    """Walls to dance where nobody says how many: to the ending or the end of the order; else each wall once, and on
    past the last event."""
    if routine.order:
        return MOST_WALLS
    if routine.ending is not None:
        return min(routine.ending.cut.wall, MOST_WALLS)
    walls = [routine.header.walls or 4]
    walls += [cut.wall + 1 for tag in routine.tags for cut in tag.cuts]
    walls += [cut.wall + 1 for restart in routine.restarts for cut in restart.cuts]
    walls += [wall + 1 for change in routine.changes for wall in change.walls]
    return min(max(walls), MOST_WALLS)


def unroll(routine: Routine, walls: int | None = None) -> Dance:
    """The dance wall by wall: ``walls`` of them (None: :func:`usual_walls`), or fewer where it ends before.

    Raises ValueError for a routine without a step or fewer than one wall.
    """
    wanted = usual_walls(routine) if walls is None else walls
    if wanted < 1:
        raise ValueError(f"a dance has at least one wall, not {wanted}")
    danced: list[Wall] = []
    body, at = start_body(routine), Fraction(0)
    ended = False
    for plan in plans(routine):
        if len(danced) >= min(wanted, MOST_WALLS):
            break
        wall, body = _dance_wall(plan, body, at)
        danced.append(wall)
        at = wall.end
        ended = plan.last
    if not danced:
        raise ValueError("there is nothing to dance in this sheet")
    return Dance(routine, tuple(danced), ended)


def is_whole(dance: Dance) -> bool:
    """Whether it has as many walls as its sheet asks for, all facings and each tag, restart and change; once through
    alone is never the whole dance, but where its sheet ends there; nor are its first sections."""
    return dance.routine.only is None and _all_walls(dance)


def _all_walls(dance: Dance) -> bool:
    return dance.ended or len(dance.walls) >= max(len(unroll(dance.routine).walls), _LEAST_WALLS)


def _dance_wall(plan: WallPlan, body: Body, at: Fraction) -> tuple[Wall, Body]:
    starts = body.facing
    movements: list[DancedStep] = []
    stretches: list[Stretch] = []
    placed: list[tuple[PlacedStep, PlacedStretch]] = [(p, piece) for piece in plan.pieces for p in piece.steps]
    facings = _facings(plan, starts)
    for piece, facing in zip(plan.pieces, facings, strict=True):
        name = piece.name if piece.kind == "section" else f"{piece.kind} {piece.name}".strip()
        stretches.append(Stretch(at + piece.at, piece.counts, piece.section, name, facing))
    for one, piece in placed:
        after = body.after(one.step.movement)
        movements.append(DancedStep(at + one.at, one.step, body, after, piece.section))
        body = after
    wall = Wall(
        plan.number,
        plan.part,
        at,
        plan.counts,
        starts,
        body.facing,
        tuple(movements),
        tuple(_phrases(placed, at)),
        tuple(stretches),
        tuple(WallEvent(e.kind, e.after, e.counts, e.name) for e in plan.events),
    )
    return wall, body


def _facings(plan: WallPlan, facing: Facing) -> list[Facing]:
    """Where each piece starts to face."""
    found = []
    for piece in plan.pieces:
        found.append(facing)
        for one in piece.steps:
            facing = facing + one.step.movement.turn
    return found


def _phrases(placed: list[tuple[PlacedStep, PlacedStretch]], at: Fraction) -> list[DancedPhrase]:
    """Phrases as danced: whole ones as the sheet has them, what a cut or change leaves of one by its own movements."""
    phrases: list[DancedPhrase] = []
    first = 0
    while first < len(placed):
        one, piece = placed[first]
        last = first
        while (
            last + 1 < len(placed)
            and placed[last + 1][0].phrase is one.phrase
            and placed[last + 1][0].source == one.source
        ):
            last += 1
        phrase = one.phrase
        if last - first != phrase.last - phrase.first:
            steps: list[Step] = [p.step for p, _ in placed[first : last + 1]]
            phrase = plain_phrase(0, len(steps) - 1, steps)
        words = (phrase.name, phrase.wordings, phrase.each)
        phrases.append(DancedPhrase(at + one.at, first, last, *words, piece.section, phrase.call, phrase.figure))
        first = last + 1
    return phrases
