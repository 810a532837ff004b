"""Turns: how far and which way where the sheet does not say, since the feet decide it; and the way that they can't."""

from __future__ import annotations

from collections.abc import Sequence

from caller.routine.facing import NO_TURN, Turn
from caller.routine.figures import Figure
from caller.routine.notation.spec import Spec, Trouble
from caller.routine.notation.told import Told
from caller.routine.step import Foot, Movement

_STEPPED = frozenset(("step", "walk", "run", "rock", "press", "stomp"))
_QUARTER = 2  # eighths
_TURNED_AWAY = frozenset(("pivot turn", "chase turn", "paddle turn", "two paddles", "four paddles"))
_TURNED_TO = frozenset(
    (
        "sailor step",
        "sailor cross",
        "jazz box",
        "jazz box cross",
        "jazz box touch",
        "short jazz box",
        "vine",
        "chasse",
        "sailor heel",
        "sailor touch",
        "rolling vine",
        "coaster step",
    )
)


def turn_of(spec: Spec, told: Told) -> Turn | None:
    """The turn asked for; None (and a trouble) where it isn't said how far or which way."""
    figure, verb = spec.figure, spec.verb
    if spec.turn is None:
        if figure is not None and figure.needs_turn:
            told.trouble(spec, f"how far does the {figure.name} turn? Say, for one, 'turning 1/4 left'")
            return None
        if verb is not None and verb.turns:
            told.trouble(spec, f"how far does the {verb.name} turn, and which way? Say '{verb.name} 1/4 left'")
            return None
        return NO_TURN
    way = spec.way or (_way_of(spec, figure, told) if figure is not None else None)
    if way is None:
        way = _usual_way(spec, told) or told.way
        if way is None:
            told.troubles.append(Trouble(spec.column, "which way does it turn, left or right?", wayless=True))
            return None
        told.guesses.append((spec.column, f"which way it turns is not said; taken as {way.word}: write '{way.word}'"))
    return Turn(spec.turn if way is Foot.RIGHT else -spec.turn)


def way_told(specs: Sequence[Spec]) -> Foot | None:
    """The one way in which a line's words turn: "a full turn to the right: R forward with a quarter ..." goes on so."""
    ways = {way for spec in specs if (way := spec.way or _rolled(spec)) is not None}
    return ways.pop() if len(ways) == 1 else None


def _rolled(spec: Spec) -> Foot | None:
    rolls = spec.figure is not None and spec.figure.name in _TURNED_TO
    rolls = rolls or (spec.verb is not None and spec.verb.turns) or spec.turn is not None
    return spec.travel if rolls else None


def _way_of(spec: Spec, figure: Figure, told: Told) -> Foot | None:
    """Which way a figure turns where only a foot is named: "paddle left 1/4"; a monterey turns to its foot."""
    if figure.or_verb and spec.feet:
        return spec.feet.pop(0)
    if figure.by_direction and (spec.feet or spec.travel):
        return spec.feet[0] if spec.feet else spec.travel
    if figure.turns_to_lead:
        return spec.feet[0] if spec.feet else told.weight.free_foot if told.weight else None
    return None


def _usual_way(spec: Spec, told: Told) -> Foot | None:
    """The way a turn goes where the dancer can't well go the other: a pivot away from the foot stepped on, a sailor to
    the foot that goes behind."""
    free = told.weight.free_foot if told.weight else None
    if spec.figure is not None:
        lead = spec.feet[0] if spec.feet else free
        if lead is None:
            return None
        name = spec.figure.name.partition(",")[0]  # though it be cut short
        return lead.other if name in _TURNED_AWAY else lead if name in _TURNED_TO else None
    before = told.last()
    if spec.verb is not None and before is not None and before.foot is not None:
        if spec.verb.bears == "swap" and goes_forward(before):
            return before.foot.other
        if spec.verb.name == "unwind" and before.where in ("over", "behind"):
            return _unwound_to(before.foot, before.where)
    return None


def goes_forward(movement: Movement) -> bool:
    return movement.action in _STEPPED and movement.where in ("forward", "forward diagonal", "")


def turned_against(before: Movement | None, movement: Movement) -> str:
    """Why this turn can't be danced after that movement, "" where it can."""
    if before is None or before.foot is None or not movement.turn or before.turn:
        return ""
    way = Foot.RIGHT if movement.turn.eighths > 0 else Foot.LEFT
    if _pivots_from(before, movement) and way is before.foot:
        return (
            f"a pivot on a foot stepped forward turns away from it, "
            f"so after the {way.word} foot it turns {way.other.word}"
        )
    if movement.action == "unwind" and before.where in ("over", "behind"):
        unwinding = _unwound_to(before.foot, before.where)
        if way is not unwinding:
            crossed = "across" if before.where == "over" else "behind"
            return f"with the {before.foot.word} foot {crossed} the feet unwind to the {unwinding.word}"
    return ""


def _pivots_from(before: Movement, movement: Movement) -> bool:
    """Whether it is a pivot of a quarter or more from a foot stepped forward onto the other."""
    steps = goes_forward(before) and bool(before.where) and before.foot is not None
    onto_other = before.foot is not None and movement.foot is before.foot.other
    return movement.action == "pivot" and steps and onto_other and abs(movement.turn.eighths) >= _QUARTER


def _unwound_to(foot: Foot, where: str) -> Foot:
    """The way in which crossed feet unwind: away from a foot in front, to one behind."""
    return foot.other if where == "over" else foot
