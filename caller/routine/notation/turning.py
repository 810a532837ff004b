"""Turns that the feet decide: which way a pivot or an unwind goes, and which way it can't."""

from __future__ import annotations

from caller.routine.step import Foot, Movement

_STEPPED = frozenset(("step", "walk", "run", "rock", "press", "stomp"))
_QUARTER = 2  # eighths


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
        unwinding = unwound_to(before.foot, before.where)
        if way is not unwinding:
            crossed = "across" if before.where == "over" else "behind"
            return f"with the {before.foot.word} foot {crossed} the feet unwind to the {unwinding.word}"
    return ""


def _pivots_from(before: Movement, movement: Movement) -> bool:
    """Whether it is a pivot of a quarter or more from a foot stepped forward onto the other."""
    steps = goes_forward(before) and bool(before.where) and before.foot is not None
    onto_other = before.foot is not None and movement.foot is before.foot.other
    return movement.action == "pivot" and steps and onto_other and abs(movement.turn.eighths) >= _QUARTER


def unwound_to(foot: Foot, where: str) -> Foot:
    """The way in which crossed feet unwind: away from a foot in front, to one behind."""
    return foot.other if where == "over" else foot
