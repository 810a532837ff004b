"""How a dance is counted: its meter, straight or with a swing."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Feel(Enum):
    STRAIGHT = "straight"
    SWING = "swing"


@dataclass(frozen=True, slots=True)
class Meter:
    """Counts in a bar, and the note value that is written below."""

    counts: int = 4
    unit: int = 4

    def __str__(self) -> str:
        return f"{self.counts}/{self.unit}"


FOUR_FOUR = Meter()
