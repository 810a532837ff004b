"""What the check says: findings with a place, a severity, a stable code and a sentence a teacher can act on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Severity(Enum):
    ERROR = "error"
    GUESS = "guess"  # assumed, with what it was taken for
    WARNING = "warning"
    ADVICE = "advice"


# The stable codes, each with its severity.
CODES: dict[str, Severity] = {
    **dict.fromkeys(
        (
            "unreadable",
            "counts-gap",
            "counts-overlap",
            "counts-order",
            "counts-mismatch",
            "counts-total",
            "foot-weighted",
            "facing",
            "weight",
            "walls",
            "wrong-foot",
            "option",
            "event-place",
            "order",
            "heading",
            "contradiction",
        ),
        Severity.ERROR,
    ),
    "guess": Severity.GUESS,
    # Nobody knows what is danced there: called as it stands, and not checked.
    "unread": Severity.WARNING,
    "header": Severity.WARNING,
    "no-option": Severity.ADVICE,
    "caution": Severity.ADVICE,
}


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where in the sheet: line and column, both from 1. Line 0 = nowhere in particular."""

    line: int
    column: int = 1


NOWHERE = Place(0)


@dataclass(frozen=True, slots=True)
class Finding:
    place: Place
    code: str
    message: str

    @property
    def severity(self) -> Severity:
        return CODES[self.code]
