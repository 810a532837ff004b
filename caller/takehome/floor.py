"""Where the feet travel: each movement as a place on the floor.

Conventions: a step's length is 1; x grows to the right and y to the front as the class faces at 12:00, the dancer's
middle starting at (0, 0). Directions are the dancer's own, as faced once the movement's turn is made. A foot is set
down relative to the other one. How far a step goes is up to the dancer: the table holds what is usual, so a drawing
shows where the feet go, not how far.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import cos, pi, sin

from caller.dance.walls import DancedStep
from caller.routine.facing import EIGHTHS, Facing
from caller.routine.step import Foot, Movement, Weight

# Half the distance between the feet of a dancer who stands.
STANCE = 0.18


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on the floor, in step lengths."""

    x: float
    y: float

    def __add__(self, other: Spot) -> Spot:
        return Spot(self.x + other.x, self.y + other.y)

    def __sub__(self, other: Spot) -> Spot:
        return Spot(self.x - other.x, self.y - other.y)

    def turned(self, eighths: int) -> Spot:
        """About the origin, right positive."""
        angle = 2 * pi * eighths / EIGHTHS
        return Spot(self.x * cos(angle) + self.y * sin(angle), self.y * cos(angle) - self.x * sin(angle))


@dataclass(frozen=True, slots=True)
class Feet:
    left: Spot
    right: Spot

    @classmethod
    def standing(cls, facing: Facing, middle: Spot = Spot(0, 0)) -> Feet:
        half = Spot(STANCE, 0).turned(facing.eighths)
        return cls(middle - half, middle + half)

    def of(self, foot: Foot) -> Spot:
        return self.left if foot is Foot.LEFT else self.right

    def with_foot(self, foot: Foot, spot: Spot) -> Feet:
        return replace(self, left=spot) if foot is Foot.LEFT else replace(self, right=spot)

    @property
    def middle(self) -> Spot:
        return Spot((self.left.x + self.right.x) / 2, (self.left.y + self.right.y) / 2)


@dataclass(frozen=True, slots=True)
class Footfall:
    """A foot that moves: where it comes to be, which way it points, whether it then bears weight. count: as shown.
    lifted: it is in the air there, or only brushes the floor."""

    count: str
    foot: Foot
    spot: Spot
    facing: Facing
    bears: bool
    lifted: bool = False


# Where a foot goes from the other one, told for the right foot: to its own side, and forward.
_GOES: dict[str, Spot] = {
    "forward": Spot(2 * STANCE, 1.0),
    "back": Spot(2 * STANCE, -1.0),
    "side": Spot(1.0, 0.0),
    "beside": Spot(2 * STANCE, 0.0),
    "over": Spot(-0.3, 0.35),
    "behind": Spot(-0.3, -0.35),
    "front": Spot(2 * STANCE, 0.5),
    "diagonal": Spot(0.75, 0.75),
    "forward diagonal": Spot(0.75, 0.75),
    "back diagonal": Spot(0.75, -0.75),
    "out": Spot(0.6, 0.0),
    "in": Spot(2 * STANCE, 0.0),
}
# What is done where the foot stands, wherever it is said to be done.
_IN_PLACE = frozenset({"recover", "drop", "sway", "bump", "push", "hip roll", "pivot", "change", "replace"})
# What lifts a foot, or brushes the floor with it.
_LIFTS = frozenset({"kick", "hitch", "flick", "hook", "scuff", "brush"})
# Where the two feet go together, as a jump does: a step's half.
_TOGETHER = {"forward": Spot(0, 0.5), "back": Spot(0, -0.5)}
_APART = {"out": 0.5, "in": STANCE, "beside": STANCE}


def footfalls(movements: Iterable[DancedStep], feet: Feet | None = None) -> tuple[list[Footfall], Feet]:
    """Each foot that is set down or points somewhere, in order, and how the feet stand at the end.

    feet: how they stand before (None: at the origin, as the first movement faces).
    """
    found: list[Footfall] = []
    for danced in movements:
        feet = feet or Feet.standing(danced.before.facing)
        before, feet = feet, _after(feet, danced)
        movement, facing = danced.step.movement, danced.after.facing
        for foot in _moving(movement, before, feet):
            bears = movement.weight is not None and not movement.weight.frees(foot)
            bears = bears or movement.weight is Weight.BOTH
            lifted = not bears and movement.action in _LIFTS
            found.append(Footfall(danced.step.count, foot, feet.of(foot), facing, bears, lifted))
    return found, feet or Feet.standing(Facing(0))


def _moving(movement: Movement, before: Feet, after: Feet) -> tuple[Foot, ...]:
    if movement.foot is not None:
        return (movement.foot,)
    return tuple(foot for foot in (Foot.RIGHT, Foot.LEFT) if before.of(foot) != after.of(foot))


def _after(feet: Feet, danced: DancedStep) -> Feet:
    movement, facing = danced.step.movement, danced.after.facing
    if movement.foot is None:
        return _both_after(feet, danced)
    if movement.action in _IN_PLACE or movement.where not in _GOES:
        return feet
    goes = _GOES[movement.where]
    own = goes if movement.foot is Foot.RIGHT else Spot(-goes.x, goes.y)
    return feet.with_foot(movement.foot, feet.of(movement.foot.other) + own.turned(facing.eighths))


def _both_after(feet: Feet, danced: DancedStep) -> Feet:
    """Both feet, or none: a turn on the spot takes them round its middle, a jump takes them along."""
    movement, facing = danced.step.movement, danced.after.facing
    middle, eighths = feet.middle, movement.turn.eighths
    left, right = ((spot - middle).turned(eighths) for spot in (feet.left, feet.right))
    if movement.where in _APART:
        right = Spot(_APART[movement.where], 0).turned(facing.eighths)
        left = Spot(0, 0) - right
    middle = middle + _TOGETHER.get(movement.where, Spot(0, 0)).turned(facing.eighths)
    return Feet(middle + left, middle + right)
