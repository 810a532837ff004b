"""Feet, weight and movements.

A :class:`Movement` is one thing done on one beat part. Its ``weight`` is what bears the dancer after it: a foot,
both, or ``None`` where it stays as it was. A foot that bears all the weight is not free.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from caller.routine.facing import NO_TURN, Facing, Turn


class Foot(Enum):
    LEFT = "L"
    RIGHT = "R"

    @property
    def other(self) -> Foot:
        return Foot.RIGHT if self is Foot.LEFT else Foot.LEFT

    @property
    def word(self) -> str:
        return self.name.lower()


class Weight(Enum):
    LEFT = "L"
    RIGHT = "R"
    BOTH = "both"

    @classmethod
    def on(cls, foot: Foot) -> Weight:
        return cls(foot.value)

    def frees(self, foot: Foot) -> bool:
        """Whether ``foot`` may move while the weight is here."""
        return self.value != foot.value

    @property
    def free_foot(self) -> Foot | None:
        """The one foot that can move, or None where both can."""
        return None if self is Weight.BOTH else Foot(self.value).other


@dataclass(frozen=True, slots=True)
class Movement:
    """One movement.

    action: the verb in its plain form ("step", "cross", "touch", "hold").
    foot: the foot that moves, None where none or both do.
    where: relative to the dancer ("forward", "back", "side", "beside", "over", "behind", ...), "" where it needs none.
    turn: turned on it, in eighths.
    weight: what bears the dancer after it; None = as before.
    """

    action: str
    foot: Foot | None = None
    where: str = ""
    turn: Turn = NO_TURN
    weight: Weight | None = None


@dataclass(frozen=True, slots=True)
class Body:
    """How a dancer stands between two movements."""

    facing: Facing
    weight: Weight

    def after(self, movement: Movement) -> Body:
        return Body(self.facing + movement.turn, movement.weight or self.weight)
