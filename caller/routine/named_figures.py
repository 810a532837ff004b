"""Figures as a sheet, the vocabulary and a teacher name them."""

from __future__ import annotations

from dataclasses import dataclass

from caller.routine.facing import Turn
from caller.routine.step import Foot


@dataclass(frozen=True, slots=True)
class FigureWords:
    """A figure that the sheet names: its steps (indices, both included) and its words, as the vocabulary writes
    them."""

    first: int
    last: int
    words: str


@dataclass(frozen=True, slots=True)
class FigureCalled:
    """The figure that a phrase is, by the vocabulary's name. turn: beyond the figure's own. named: by the sheet, rather
    than recognised in its movements. said: the sheet's own name for it, where it has another."""

    name: str
    way: str
    lead: Foot
    turn: Turn
    named: bool = False
    said: str = ""


@dataclass(frozen=True, slots=True)
class OwnWords:
    """What a teacher always says for a way of a figure, by the vocabulary's name. like: the figure and the way that
    were meant, where these are the same movements. whole: for that way alone, so that the words say it."""

    figure: str
    way: str
    like: tuple[str, str]
    words: str
    whole: bool = False
