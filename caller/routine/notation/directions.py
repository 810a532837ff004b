"""Directions: which words go together, and what one direction they say."""

from __future__ import annotations

_TOGETHER = frozenset(
    (
        ("diagonal", "forward"),
        ("diagonal", "back"),
        ("forward", "diagonal"),
        ("back", "diagonal"),
        ("out", "side"),
        ("side", "out"),
        ("out", "diagonal"),
        ("side", "diagonal"),
        ("diagonal", "side"),
        ("forward", "in"),
        ("back", "in"),
        ("in", "forward"),
        ("in", "back"),
        ("forward", "out"),
        ("back", "out"),
        ("in", "place"),
        ("in", "beside"),
        ("back", "beside"),  # where it came from
    )
)
_PAIR = 2
_COMBINED = {
    frozenset(("diagonal",)): "forward diagonal",
    frozenset(("forward", "diagonal")): "forward diagonal",
    frozenset(("back", "diagonal")): "back diagonal",
    frozenset(("side", "diagonal")): "forward diagonal",
    frozenset(("forward", "over")): "over",
    frozenset(("back", "behind")): "behind",
    frozenset(("back", "over")): "over",
    frozenset(("side", "out")): "side",
    frozenset(("forward", "out")): "forward diagonal",
    frozenset(("back", "out")): "back diagonal",
    frozenset(("forward", "diagonal", "out")): "forward diagonal",
    frozenset(("beside", "place")): "beside",
    frozenset(("back", "beside")): "beside",
    frozenset(("in", "beside")): "beside",
    frozenset(("in", "place")): "place",
    frozenset(("forward", "in")): "forward",
    frozenset(("back", "in")): "back",
    frozenset(("side", "in")): "side",
    frozenset(("side", "over")): "over",
    frozenset(("side", "behind")): "behind",
    frozenset(("over", "behind")): "behind",
    frozenset(("behind", "diagonal")): "behind",
    frozenset(("over", "diagonal")): "over",
    frozenset(("side", "beside")): "beside",
    frozenset(("forward", "place")): "forward",
    frozenset(("back", "place")): "back",
    frozenset(("side", "place")): "side",
    frozenset(("beside", "out")): "out",
    frozenset(("forward", "front")): "forward",
    frozenset(("over", "front")): "over",
    frozenset(("diagonal", "out")): "forward diagonal",
}


def goes_with(first: str, second: str) -> bool:
    """Whether two directions in a row may be one ("diagonal", "forward")."""
    return first == second or (first, second) in _TOGETHER


def combined(wheres: list[str]) -> str | None:
    """One direction from the words used ("diagonal", "forward" is "forward diagonal"); None where they contradict."""
    if len(wheres) == 1 and wheres[0] != "diagonal":
        return wheres[0]
    words = frozenset(wheres)
    if len(words) > _PAIR:
        words -= {"in"}  # "in the left diagonal forward"
    elif words == {"in", "diagonal"}:  # "back to place on the diagonal"
        return "in"
    return _COMBINED.get(words, None if len(set(wheres)) > 1 else wheres[0] if wheres else "")
