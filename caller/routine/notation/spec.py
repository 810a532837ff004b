"""Specifications: what a description asks for, movement by movement, before feet and counts are settled."""

from __future__ import annotations

from dataclasses import dataclass, field

from caller.routine.figures import Figure, Verb
from caller.routine.notation.stated import Stated
from caller.routine.step import Foot, Weight


@dataclass(slots=True)
class Spec:
    """What one verb or figure asks for.

    verb, figure: one of both is set; other: the verb that the same words may mean. feet: as named, in order; listing:
    they are a list of a figure's steps; past: the foot gone past; on: the foot that is turned on. wheres: plain
    directions, in order; travel: the side travelled to. turn: eighths, unsigned; way: which way round; bare: it has no
    word for it. times: said "x2"; numbered: said before it ("4 sways"). lasts: counts that it is said to last; held: it
    may last as long as its line. beside: told as going on beside the one before; joined: told after "and"; going_on:
    told as "stepping"; third: told of a foot named before ("then steps beside L"); part: its verb is a part of the foot
    ("toes right"). stated: facings and weights that stand after it, with their columns. weight: moved there by words;
    takes: said to take weight; unweighted: said "no weight".
    """

    column: int
    verb: Verb | None = None
    figure: Figure | None = None
    feet: list[Foot] = field(default_factory=list)
    wheres: list[str] = field(default_factory=list)
    turn: int | None = None
    way: Foot | None = None
    travel: Foot | None = None
    times: int = 1
    beside: bool = False
    listing: bool = False
    past: Foot | None = None
    stated: list[tuple[Stated, int]] = field(default_factory=list)
    weight: Weight | None = None
    unweighted: bool = False
    joined: bool = False
    lasts: int | None = None
    held: bool = False
    going_on: bool = False
    other: Verb | None = None
    on: Foot | None = None
    takes: bool = False
    numbered: bool = False
    third: bool = False
    bare: bool = False
    part: bool = False

    @property
    def empty(self) -> bool:
        return not (self.verb or self.figure or self.feet or self.wheres or self.turn or self.way)

    @property
    def only_turns(self) -> bool:
        turning = self.verb is None or self.verb.name == "turn"
        return self.turn is not None and turning and not (self.figure or self.feet or self.wheres)

    @property
    def told(self) -> bool:
        """Whether it says already what is done."""
        return self.verb is not None or self.figure is not None

    def one_foot(self, n: int) -> Spec:
        """ "walk RLR": one specification a foot; what turns or is stated belongs to the last."""
        last = n == len(self.feet) - 1
        return Spec(
            self.column,
            verb=self.verb,
            feet=[self.feet[n]],
            wheres=list(self.wheres),
            turn=self.turn if last else None,
            way=self.way if last else None,
            travel=self.travel,
            stated=self.stated if last else [],
            weight=self.weight if last else None,
            unweighted=self.unweighted and last,
            lasts=self.lasts,
            other=self.other,
        )


@dataclass(frozen=True, slots=True)
class Trouble:
    """Words that can't be read, and why. bare: the message is the word itself, known to nobody. wayless: a turn
    that is not said to go left or right."""

    column: int
    message: str
    code: str = "unreadable"
    bare: bool = False
    wayless: bool = False


@dataclass(slots=True)
class Reading:
    """labelled: how many of the specifications stand before a colon, as a name for what comes after it."""

    specs: list[Spec] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    before: list[tuple[Stated, int]] = field(default_factory=list)  # stated before the first movement
    labelled: int = 0
