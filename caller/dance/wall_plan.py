"""What is danced in one wall: stretches of passages with their steps, and the events that lie among them.

Conventions: positions are counts since the wall began.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from caller.routine.findings import Place
from caller.routine.passages import Passage, Phrase, Step


@dataclass(frozen=True, slots=True)
class PlacedStep:
    """A step in its wall, and the phrase of the sheet that it belongs to. source: its passage's, told by identity."""

    at: Fraction
    step: Step
    phrase: Phrase
    source: int


@dataclass(frozen=True, slots=True)
class PlacedStretch:
    """kind: "section", "tag" or "ending"; heading: where a fault of its joining is told. passage: whose steps these
    are, but for those that a change has put there."""

    kind: str
    section: int
    name: str
    at: int
    counts: int
    steps: tuple[PlacedStep, ...]
    heading: Place
    passage: Passage


@dataclass(frozen=True, slots=True)
class Occurrence:
    """An event in a wall: kind, counts into the wall, its own length, its name, where it is written."""

    kind: str
    after: int
    counts: int
    name: str
    heading: Place


@dataclass(frozen=True, slots=True)
class WallPlan:
    """cut_by: the restart that cuts it. plain: danced as the sheet stands; such walls share their pieces."""

    number: int
    part: str
    pieces: tuple[PlacedStretch, ...]
    events: tuple[Occurrence, ...] = ()
    cut_by: Place | None = None
    last: bool = False
    plain: bool = False

    @property
    def counts(self) -> int:
        return sum(piece.counts for piece in self.pieces)
