"""Steps as written, from one place to another, with what is called together and what the sheet states among them.

Conventions: positions are counts as exact fractions since the start of the passage they stand in, the first count at
0 (so written count "3&" is at 5/2; a pick-up "&1" at the head is negative). Places, and how a sheet names things, never
take part in equality, so two spellings of one dance are equal.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from caller.routine.facing import Facing
from caller.routine.findings import NOWHERE, Place
from caller.routine.named_figures import FigureCalled, FigureWords
from caller.routine.step import Movement, Weight


@dataclass(frozen=True, slots=True)
class Step:
    """A movement on its beat part."""

    at: Fraction
    count: str  # as written in short: "3", "3&", "4a"
    movement: Movement
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Phrase:
    """Steps called together: a figure, or what one quoted call covers.

    first, last: indices into the passage's steps, both included.
    name: the figure's full name ("right shuffle forward"), or the movement's plain words.
    wordings: what may be called, fullest first; never empty.
    each: one word for each step, for calling on the count.
    call: the sheet's own quoted words, "" where it has none.
    figures: those of its steps that the sheet names as figures rather than writing them out.
    figure: what all of it is, where it is one.
    """

    first: int
    last: int
    name: str
    wordings: tuple[str, ...]
    each: tuple[str, ...]
    call: str = ""
    figures: tuple[FigureWords, ...] = field(default=(), compare=False)
    figure: FigureCalled | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Claim:
    """A facing or weight that the sheet states after the step of this index (wall 1); -1 = before the first."""

    after: int
    facing: Facing | None = None
    weight: Weight | None = None
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class LineWords:
    """The author's own words for steps first to last (indices, both included), without counts and call."""

    first: int
    last: int
    line: int
    text: str


@dataclass(frozen=True, slots=True)
class Passage:
    """What is danced from one place to another: whole counts, and the steps on them in order.

    note_lines: the sheet's line of each note. words: the author's, line by line.
    """

    counts: int
    steps: tuple[Step, ...] = ()
    phrases: tuple[Phrase, ...] = ()
    claims: tuple[Claim, ...] = ()
    notes: tuple[str, ...] = ()
    note_lines: tuple[int, ...] = field(default=(), compare=False)
    words: tuple[LineWords, ...] = field(default=(), compare=False)
