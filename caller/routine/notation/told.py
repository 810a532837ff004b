"""What a line tells once feet are settled: its movements, the figures it names, the weight after them."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from caller.routine.facing import NO_TURN, Turn
from caller.routine.figures import Figure
from caller.routine.notation.spec import Spec, Trouble
from caller.routine.notation.stated import Stated
from caller.routine.step import Foot, Movement, Weight

UNREAD = Movement("unread")


@dataclass(frozen=True, slots=True)
class Named:
    """A figure told by name: the movements first to last are its."""

    first: int
    last: int
    figure: Figure
    way: str
    lead: Foot
    turn: Turn


@dataclass(slots=True)
class Told:
    """What a line tells so far. stated: (index of the movement it stands after, what, column). guesses: what was
    taken for granted, with columns. way: which way turns go that don't say it."""

    movements: list[Movement] = field(default_factory=list)
    columns: list[int] = field(default_factory=list)
    named: list[Named] = field(default_factory=list)
    stated: list[tuple[int, Stated, int]] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)
    guesses: list[tuple[int, str]] = field(default_factory=list)
    weight: Weight | None = None
    before: Movement | None = None  # the first of them
    way: Foot | None = None

    def last(self) -> Movement | None:
        return self.movements[-1] if self.movements else self.before

    def trouble(self, spec: Spec, message: str) -> None:
        self.troubles.append(Trouble(spec.column, message))

    def which_foot(self, spec: Spec, name: str) -> None:
        """Both feet are free: nobody can say which."""
        self.trouble(spec, f"which foot? Both are free before this {name}; say R or L")


def unread_marks(spec: Spec, turn: Turn = NO_TURN) -> list[Movement]:
    """As many marks as movements are asked for."""
    marks = [UNREAD] * (len(spec.figure.each) if spec.figure is not None else 1)
    return [replace(UNREAD, turn=turn), *marks[1:]]
