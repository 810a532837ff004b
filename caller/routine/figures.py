"""Verbs and figures: what a vocabulary holds, told for the right foot and mirrored for the left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from caller.routine.facing import NO_TURN, Turn
from caller.routine.step import Foot, Movement, Weight

Offsets = tuple[Fraction, ...]  # each beat's distance from the figure's first
BEARS = ("foot", "none", "both", "swap", "open", "stays on")


@dataclass(frozen=True, slots=True, eq=False)
class Verb:
    """One movement's word. See the head of vocabulary.toml for the fields."""

    name: str
    reads: str
    bears: str
    where: str = ""
    free: bool = True
    footless: bool = False
    lasting: bool = False
    folds: bool = False
    turns: bool = False
    needs_where: bool = False

    def movement(self, foot: Foot | None, where: str = "", turn: Turn = NO_TURN) -> Movement:
        """The movement of this verb with ``foot`` (None for the footless). A step over or behind is a cross."""
        where = where or self.where
        action = "cross" if self.reads == "step" and where in ("over", "behind") else self.reads
        return Movement(action, foot, where, turn, self._weight(foot))

    def _weight(self, foot: Foot | None) -> Weight | None:
        if self.bears in ("both", "open"):
            return Weight.on(foot) if foot else Weight.BOTH
        if self.bears in ("foot", "swap", "stays on"):
            return Weight.on(foot) if foot else None
        return None


@dataclass(frozen=True, slots=True)
class Move:
    """One movement of a figure, told from the leading foot: leading = it moves, None = footless."""

    verb: Verb
    leading: bool | None
    where: str
    turn: int

    def told(self, lead: Foot, turn: int) -> Movement:
        foot = None if self.leading is None else lead if self.leading else lead.other
        mine = self.turn if lead is Foot.RIGHT else -self.turn
        return self.verb.movement(foot, self.where, Turn(mine + turn))


@dataclass(frozen=True, slots=True, eq=False)
class Figure:
    """A named group of movements. See the head of vocabulary.toml for the fields. Two are the same only where they are
    one: it is a key of tables made from it."""

    name: str
    phrase: str
    ways: Mapping[str, tuple[Move, ...]]
    counts: tuple[Offsets, ...]
    turns: tuple[int, ...]
    each: tuple[str, ...]
    by_direction: bool = False
    asks: str = ""
    needs_turn: bool = False
    recognise: bool = True
    turns_to_lead: bool = False  # unless the sheet says which way
    or_verb: str = ""  # what the same words mean where only one movement fits
    variant_of: str = ""  # the figure of which this is another length
    sure: bool = False  # whether that length is as usual as the first
    own_each: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # the teacher's own, by way

    @property
    def plain_way(self) -> str:
        return next(iter(self.ways))

    @lru_cache(maxsize=4096)  # noqa: B019 - figures live as long as their vocabulary
    def movements(self, way: str, lead: Foot, turn: Turn = NO_TURN, diagonal: bool = False) -> tuple[Movement, ...]:
        """The figure's movements; ``turn`` is shared by its turning movements, the first taking what is odd."""
        moves = self.ways[way]
        shares = self._shares(turn.eighths, len(moves))
        told = tuple(move.told(lead, share) for move, share in zip(moves, shares, strict=True))
        return tuple(_diagonal(m) for m in told) if diagonal else told

    def _shares(self, eighths: int, length: int) -> list[int]:
        shares = [0] * length
        places = [t - 1 for t in self.turns if t <= length] or [0]
        quarters, odd = divmod(abs(eighths), 2)
        if not odd and quarters <= len(places):  # nobody turns a quarter in two eighths
            told = [2] * quarters + [0] * (len(places) - quarters)
        else:
            each, odd = divmod(abs(eighths), len(places))
            told = [each + (1 if n < odd else 0) for n in range(len(places))]
        for place, share in zip(places, told, strict=True):
            shares[place] = share if eighths > 0 else -share
        return shares


def _diagonal(m: Movement) -> Movement:
    where = f"{m.where} diagonal" if m.where in ("forward", "back") else m.where
    return Movement(m.action, m.foot, where, m.turn, m.weight)
