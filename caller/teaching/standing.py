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
    return stage.kind is StageKind.DRILL and not stage.goes_back


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
    ends = stage_ends(dance, stage)
    return facing_at(dance, stage.start), ends.facing if ends else wall_at(dance, stage.end - 1).starts


def stage_ends(dance: Dance, stage: Stage) -> Body | None:
    """How the class stands after a go's last count; None where nothing is danced."""
    return _after(dance, stage.end) if stage.danced else None


def _after(dance: Dance, end: Fraction) -> Body | None:
    """How the class stands once it has danced up to a count; None where that is not known."""
    wall = wall_at(dance, end - 1)
    danced = [m for m in wall.movements if own_place(wall, m.at, m.section) < end]
    return danced[-1].after if danced else None


def changes_weight(dance: Dance, start: Fraction, end: Fraction) -> bool:
    """Whether who has danced from a count up to another stands on the foot with which that begins again."""
    ends, foot = _after(dance, end), free_foot_at(dance, start)
    free = ends.weight.free_foot if ends else None
    return None not in (foot, free) and free is not foot


def stand_words(dance: Dance, start: Fraction, brief: bool = False) -> str:
    """Where to face and which foot is free: "facing nine o'clock, left foot free."; brief: "left foot."."""
    foot = free_foot_at(dance, start)
    if brief and foot is not None:
        return f"{foot.word} foot."
    return _facing_words("facing", facing_at(dance, start), foot)


def again_words(before: Dance, dance: Dance, stage: Stage, stands: Facing | None = None) -> str:
    """What is said before another go of a stage: whole where everybody has to turn back, or faces another way than the
    last time, else the foot alone. before, dance: as the last go was danced, and as the next one will be. stands: the
    way they face, None = as after a go."""
    facings = starts_and_ends(before, stage)
    if facings is None:
        return ""
    stood = facings[1] if stands is None else stands
    changes = stands is None and changes_weight(dance, stage.start, stage.end)
    return go_words(dance, stage.start, stood, facings[0], changes)


def go_words(dance: Dance, start: Fraction, stands: Facing, before: Facing | None = None, changes: bool = False) -> str:
    """What is said before counts are danced once more by those who stand so: "back to nine o'clock, left foot free.",
    "again, left foot.". before: the way they faced there the last time, None = as now. changes: they stand on the foot
    that they need, which is said."""
    faces, foot = facing_at(dance, start), free_foot_at(dance, start)
    if stands != faces:
        return _facing_words("back to", faces, foot, changes)
    if before in (None, faces):
        return _once_more(foot, changes)
    return _facing_words("now facing", faces, foot, changes)


def every_go_again(dance: Dance) -> set[str]:
    """All that :func:`go_words` may say wherever in a dance a teacher goes back to."""
    counts = [wall.at + count for wall in dance.walls for count in range(wall.counts)]
    places = {(facing_at(dance, count), free_foot_at(dance, count)) for count in counts}
    return {_once_more(foot) for _, foot in places} | {_facing_words("back to", *place) for place in places}


def _facing_words(how: str, facing: Facing, foot: Foot | None, changes: bool = False) -> str:
    weight = ", change weight" if changes else ""
    return f"{how} {spoken_facing(facing)}{weight}{f', {foot.word} foot free' if foot else ''}."


def _once_more(foot: Foot | None, changes: bool = False) -> str:
    weight = ", change weight" if changes else ""
    return f"again{weight}, {foot.word} foot." if foot else "again."


def turn_after(dance: Dance, stage: Stage, turn: Turn) -> Turn:
    """How far everybody is turned in the next go of a stage, who is so now. dance: as it was danced, so turned."""
    facings = starts_and_ends(dance, stage)
    return turn + (facings[1] - facings[0]) if goes_on(stage) and facings is not None else turn


def turn_before(dance: Dance, stage: Stage, turn: Turn) -> Turn:
    """How far everybody was turned in the go before, who is so now."""
    return turn + -(turn_after(dance, stage, turn) + -turn)


def turns_back(words: str) -> bool:
    """Whether that is said before another go to turn everybody back, which takes them a bar."""
    return words.startswith("back to ")


def every_way_again(dance: Dance, stage: Stage) -> set[str]:
    """All that :func:`again_words` may say of a stage."""
    if not stage.danced:
        return set()
    ways = [turned(dance, Turn(eighths)) for eighths in (range(EIGHTHS) if goes_on(stage) else (0,))]
    found: set[str] = set()
    for changes in {False, changes_weight(dance, stage.start, stage.end)}:
        before = facing_at(dance, stage.start)
        for way in ways:
            found.add(go_words(way, stage.start, facing_at(way, stage.start), before, changes))
        found |= {go_words(dance, stage.start, facing, before, changes) for facing in map(Facing, range(EIGHTHS))}
    return found


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
