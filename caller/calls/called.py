"""What a group of movements is, as far as the forms of its call hang on it."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from caller.calls.chain import PlacedMovement
from caller.calls.losses import (
    SIDE_KNOWN,
    SIDE_UNTOLD,
    UNSIDED,
)
from caller.calls.words import words_of_turn
from caller.routine.facing import Turn
from caller.routine.step import Foot, Movement


class Called(NamedTuple):
    """What forms hang on. ends: movements after the figure. names: of the figure it is, "{foot}" where its foot stands.
    turn: the figure's. foot: of its first movement. call: quoted by the sheet. own: words of the author that nobody
    could read. times: danced so often in a row. like: it is the one before it with the other foot. marked: its foot
    must be heard. thin: the second time or later."""

    placed: tuple[PlacedMovement, ...]
    ends: int
    names: tuple[str, ...]
    turn: Turn
    foot: str
    foot_open: bool
    call: str
    own: str
    times: int
    like: bool
    marked: bool
    thin: bool
    sided: bool = False  # whether the side that it turns to has been told
    length: Fraction = Fraction(0)  # of one time, where there are more
    upbeat: bool = False  # whether it begins between two counts
    first: bool = False  # whether a figure comes the first time, or the first time on that foot
    contrary: bool = False  # whether it turns the other way than was turned shortly before
    swaps: bool = False  # whether it goes to the side with the other foot than the call before it

    @property
    def unsided(self) -> int:
        """What leaving out the side of its turn loses."""
        if self.thin:
            return 0
        if self.contrary:
            return SIDE_UNTOLD
        return UNSIDED if self.sided else SIDE_KNOWN if self.one_way else SIDE_UNTOLD

    @property
    def one_way(self) -> bool:
        """Whether all that turns can turn but that way: a pivot, away from the foot that has stepped; a monterey, to
        the side of the foot that points."""
        if self.names:
            return "monterey" in self.names[-1] and words_of_turn(self.turn).full.endswith(self.foot)
        turning = [n for n, one in enumerate(self.placed) if one.movement.turn]
        return all(n > 0 and _pivots(self.placed[n - 1].movement, self.placed[n].movement) for n in turning)

    @property
    def pivots(self) -> bool:
        """Whether it is a step that a pivot follows, and nothing else."""
        return len(self.placed) == 2 and _pivots(self.placed[0].movement, self.placed[1].movement)

    @property
    def uneven(self) -> bool:
        """Whether whole and half counts stand in it beside each other: "1 2&"."""
        return len({after.offset - before.offset for before, after in pairwise(self.placed)}) > 1


def _pivots(step: Movement, turn: Movement) -> bool:
    """Whether a pivot goes away from the foot that has stepped forward."""
    away = -1 if step.foot is Foot.RIGHT else 1
    forward = step.action == "step" and step.where == "forward" and step.foot is not None
    return forward and turn.action == "pivot" and turn.turn.eighths * away > 0
