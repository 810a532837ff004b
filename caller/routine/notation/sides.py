"""Left and right told apart: the foot that moves, the foot gone past, the way of a turn, the way of travel.

What stands around the word decides: the first of :data:`_ROLES` that fits, else it is the foot that moves.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from caller.routine.notation.lexeme import Lexeme, LexemeKind
from caller.routine.notation.spec import Spec
from caller.routine.step import Foot

_PAST = ("over", "behind", "beside", "front")
# Directions that tell the foot gone past by their own words; "behind L" alone names the foot that moves.
_PASTABLE = ("next to", "in front of", "across in front of", "alongside", "in back of")

_TO_A_SIDE = frozenset(("touch", "point", "heel", "step", "kick"))
_SWUNG = frozenset(("sway", "bump"))
_TO_ITS_SIDE = _SWUNG | {
    "rock",
    "stomp",
    "lunge",
    "press",
    "stamp",
    "stomp up",
    "slide",
    "drag",
    "skate",
    "hitch",
    "flick",
    "lift",
}


class Around(NamedTuple):
    """One word for a foot, and what stands around it."""

    spec: Spec
    foot: Foot
    before: Lexeme | None
    following: Lexeme | None
    after_to: bool
    after_turn_word: bool
    pending_turn: bool

    def follows(self, kind: LexemeKind, *values: object) -> bool:
        after = self.following
        return after is not None and after.kind is kind and (not values or after.value in values)

    @property
    def after_direction(self) -> bool:
        return bool(self.spec.wheres) and self.before is not None and self.before.kind is LexemeKind.WHERE


def tell(around: Around) -> bool:
    """Puts the foot where it belongs in its specification. Whether it was the way of a turn."""
    for fits, role in _ROLES:
        if fits(around):
            role(around)
            return role is _way
    _mover(around)
    return False


def _way(around: Around) -> None:
    around.spec.way = around.foot


def _travel(around: Around) -> None:
    around.spec.travel = around.foot


def _past(around: Around) -> None:
    around.spec.past = around.foot


def _mover(around: Around) -> None:
    around.spec.feet.append(around.foot)


def _past_after_to(around: Around) -> None:
    """ "drag L to R" """
    spec = around.spec
    spec.past = around.foot
    if spec.verb is not None and not spec.wheres and spec.verb.where == "":
        spec.wheres.append("beside")


def _travel_after_to(around: Around) -> None:
    """ "vine to left", "step R to right"; but "recover weight to L" """
    spec = around.spec
    if spec.verb is not None and spec.verb.name == "recover" and not spec.feet:
        _mover(around)
        return
    spec.travel = around.foot
    side_next = around.follows(LexemeKind.WHERE, "side", "diagonal")
    if not side_next and not spec.wheres and not (spec.figure and spec.figure.by_direction):
        spec.wheres.append("side")


def _turned_way(around: Around) -> bool:
    spec = around.spec
    turning = spec.verb is not None and spec.verb.turns
    return (
        (around.pending_turn and spec.way is None)
        or (around.after_turn_word and spec.way is None and not around.follows(LexemeKind.FEET))
        or (around.follows(LexemeKind.TURN) and turning)
    )


def _to_other_foot(around: Around) -> bool:
    feet = around.spec.feet
    footless = around.spec.verb is not None and around.spec.verb.footless
    other = bool(feet) and feet[-1] is not around.foot and not footless
    return around.after_to and other and not around.follows(LexemeKind.WHERE, "side", "diagonal")


def _diagonal(around: Around) -> bool:
    """ "step R forward to left diagonal": once the foot is named, what stands by the diagonal is the way there."""
    spec = around.spec
    return bool(spec.feet) and (around.follows(LexemeKind.WHERE, "diagonal") or "diagonal" in spec.wheres)


def _gone_past(around: Around) -> bool:
    if not around.after_direction or around.spec.wheres[-1] not in _PAST or around.before is None:
        return False
    return bool(around.spec.feet) or around.spec.third or around.before.text in _PASTABLE


def _side_again(around: Around) -> bool:
    """ "step R side right" """
    spec = around.spec
    return around.after_direction and bool(spec.feet) and not spec.listing and spec.figure is None


def _same_side(around: Around) -> bool:
    """ "R toe R", "L rock left": the second is where it goes."""
    spec, before = around.spec, around.before
    named = spec.feet == [around.foot] and not spec.listing and spec.figure is None
    if not named or spec.verb is None or (spec.wheres and spec.wheres != ["side"]):
        return False
    listed = before is not None and before.kind is LexemeKind.FEET and spec.verb.name not in _SWUNG
    close = before is not None and (before.kind is LexemeKind.VERB or listed)
    return spec.verb.name in _TO_A_SIDE or (close and spec.verb.name in _TO_ITS_SIDE)


def _crossed(around: Around) -> bool:
    """ "R cross L": what stands behind the verb is the foot gone past."""
    spec, before = around.spec, around.before
    if spec.verb is None or before is None or before.kind is not LexemeKind.VERB or spec.listing:
        return False
    return spec.feet == [around.foot.other] and spec.verb.where in _PAST and spec.verb.bears == "foot"


def _travel_side(around: Around) -> None:
    spec = around.spec
    spec.travel = around.foot
    if spec.verb is not None and spec.verb.name not in _SWUNG and not spec.wheres:
        spec.wheres.append("side")


_ROLES: tuple[tuple[Callable[[Around], bool], Callable[[Around], None]], ...] = (
    (_turned_way, _way),
    (_to_other_foot, _past_after_to),
    (lambda around: around.after_to, _travel_after_to),
    (_diagonal, _travel),
    (_gone_past, _past),
    (_side_again, _travel),
    (_same_side, _travel_side),
    (_crossed, _past),
)
