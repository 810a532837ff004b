"""A named figure's movements: which of its ways it is danced, and which foot leads it."""

from __future__ import annotations

from caller.routine.facing import Turn
from caller.routine.figures import Figure
from caller.routine.notation.spec import Spec
from caller.routine.notation.told import Told, unread_marks
from caller.routine.step import Foot, Movement, Weight

Group = tuple[Figure, str, Foot, Turn]  # figure, way, lead, turn


def figure_movements(
    spec: Spec, where: str, turn: Turn, told: Told, again: bool
) -> tuple[list[Movement], Group | None]:
    """What the figure asked for comes to; the group is None where it is not danced whole. again: it is not the first
    time, and so led by whichever foot is free."""
    figure = spec.figure
    assert figure is not None
    way = _way(figure, where)
    if way is None:
        ways = ", ".join(w for w in figure.ways if w) or "only one way"
        told.trouble(spec, f"a {figure.name} does not go {where!r} (it goes {ways})")
        return unread_marks(spec), None
    lead = _lead(spec, figure, told, again)
    if lead is None:
        if told.weight is Weight.BOTH:
            told.which_foot(spec, figure.name)
        return unread_marks(spec, turn), None
    movements = list(figure.movements(way, lead, turn, where.endswith("diagonal")))
    if len(spec.feet) > 1 and not again and not _listed(spec.feet, movements):
        said = "".join(foot.value for foot in spec.feet)
        told.trouble(spec, f"a {lead.word} {figure.name} is not danced {said}")
    return movements, (figure, way, lead, turn) if figure.counts else None  # not what is cut short


def _way(figure: Figure, where: str) -> str | None:
    """Which of the figure's ways this direction is, None where it has no such way."""
    straight = where.removesuffix("diagonal").strip()
    if straight in figure.ways:
        return straight
    if straight == "place":
        return figure.plain_way
    if len(figure.ways) == 1 and straight:
        long = len(figure.each) >= 4 and straight in {move.where for move in figure.ways[figure.plain_way]}
        if long or straight in figure.name.split():
            return figure.plain_way
    own = figure.ways[figure.plain_way][0].where.removesuffix(" diagonal")  # "coaster step back"
    plain = straight in ("", own) or (straight == "side" and figure.by_direction)
    return figure.plain_way if plain or where == "forward diagonal" else None


def _lead(spec: Spec, figure: Figure, told: Told, again: bool) -> Foot | None:
    if again:
        return told.weight.free_foot if told.weight else None
    if spec.feet:
        return spec.feet[0]
    if spec.travel is not None and (figure.by_direction or "side" in spec.wheres):
        return spec.travel
    return told.weight.free_foot if told.weight else None


def _listed(feet: list[Foot], movements: list[Movement]) -> bool:
    """Whether these are the feet of the movements, or of each that is not the one before, or the lead and then all."""
    moved = [m.foot for m in movements if m.foot is not None]
    changing = [foot for n, foot in enumerate(moved) if n == 0 or foot is not moved[n - 1]]
    return feet in (moved[: len(feet)], changing[: len(feet)], [feet[0], *moved])
