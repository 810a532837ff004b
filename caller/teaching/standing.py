"""Where everybody stands: facing and free foot before a go and after it, and the sentences that say so.

Conventions: counts since the dance's first step. Sentences as they are spoken. Pure.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from caller.calls.places import own_place, stretch_at, wall_at
from caller.calls.wording import spoken_facing
from caller.dance.walls import Dance, Wall
from caller.routine.facing import EIGHTHS, Facing, Turn
from caller.routine.step import Body, Foot
from caller.teaching.stage import Stage, StageKind


def goes_on(stage: Stage) -> bool:
    """Whether its goes follow from where everybody stands: over and over, it comes round to the front again."""
    return stage.kind is StageKind.DRILL


def facing_at(dance: Dance, count: Fraction) -> Facing:
    """The way the class faces before a count is danced."""
    wall = wall_at(dance, count)
    stretch = stretch_at(wall, count)
    within = [m for m in wall.movements if stretch.at <= own_place(wall, m.at, m.section) < count]
    return within[-1].after.facing if within else stretch.starts


def free_foot_at(dance: Dance, count: Fraction) -> Foot | None:
    """The foot that is free before a count is danced; None where either is, or it isn't known."""
    wall = wall_at(dance, count)
    danced = [m for m in wall.movements if own_place(wall, m.at, m.section) >= count]
    return danced[0].before.weight.free_foot if danced else None


def starts_and_ends(dance: Dance, stage: Stage) -> tuple[Facing, Facing] | None:
    """The facings of a go's first count and after its last; None where nothing is danced."""
    if not stage.danced:
        return None
    wall = wall_at(dance, stage.end - 1)
    danced = [m for m in wall.movements if own_place(wall, m.at, m.section) < stage.end]
    ends = danced[-1].after.facing if danced else wall.starts
    return facing_at(dance, stage.start), ends


def stand_words(dance: Dance, start: Fraction) -> str:
    """Where to face and which foot is free: "facing nine o'clock, left foot free."."""
    foot = free_foot_at(dance, start)
    return f"facing {spoken_facing(facing_at(dance, start))}{f', {foot.word} foot free' if foot else ''}."


def back_words(dance: Dance, stage: Stage, stands: Facing | None = None) -> str:
    """What turns everybody back before another go of a stage: "back to nine o'clock."; "" where they face it. stands:
    the way they do, None = as after a go."""
    facings = starts_and_ends(dance, stage)
    if facings is None or goes_on(stage):
        return ""
    starts, ends = facings
    return f"back to {spoken_facing(starts)}." if (ends if stands is None else stands) != starts else ""


def every_way_back(dance: Dance, stage: Stage) -> set[str]:
    """All that :func:`back_words` may say of a stage."""
    ways = {back_words(dance, stage, facing) for facing in map(Facing, range(EIGHTHS))}
    return ways - {""}


def turned(dance: Dance, turn: Turn) -> Dance:
    """The dance with everybody facing another way from its first count on."""
    return replace(dance, walls=tuple(_turned(wall, turn) for wall in dance.walls)) if turn else dance


def _turned(wall: Wall, turn: Turn) -> Wall:
    def body(stands: Body) -> Body:
        return replace(stands, facing=stands.facing + turn)

    movements = tuple(replace(m, before=body(m.before), after=body(m.after)) for m in wall.movements)
    stretches = tuple(replace(stretch, starts=stretch.starts + turn) for stretch in wall.stretches)
    starts, ends = wall.starts + turn, wall.ends + turn
    return replace(wall, starts=starts, ends=ends, movements=movements, stretches=stretches)
