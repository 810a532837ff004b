"""Lexemes: the kinds of words that a description is made of.

Conventions: columns count from 1 in the sheet's line; text is lower case, several words joined by one space.
"""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple


class LexemeKind(StrEnum):
    VERB = "verb"
    FIGURE = "figure"
    WHERE = "where"
    FEET = "feet"
    TURN = "turn"  # a fraction of a turn, in eighths
    TURN_WAY = "turn way"  # clockwise, anticlockwise
    NUMBER = "number"
    TIMES = "times"
    SEPARATOR = "separator"
    DASH = "dash"
    TO = "to"
    WITH = "with"
    CLAIM = "claim"
    WEIGHT = "weight"  # moves the weight
    NO_WEIGHT = "no weight"
    LIST = "list"  # feet of a figure's steps, in brackets
    ON = "on"  # the foot that is turned on
    LASTS = "lasts"  # over so many counts
    NOTE = "note"
    NOISE = "noise"
    UNKNOWN = "unknown"


class Lexeme(NamedTuple):
    kind: LexemeKind
    value: object
    text: str
    column: int

    @property
    def goes_on(self) -> bool:
        """Told as going on beside another movement ("dragging", "sweeping")."""
        return self.text.split(" ")[0].endswith("ing")
