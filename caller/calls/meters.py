"""What depends on a meter where it is called: one row for each meter that a sheet may have.

Conventions: counts are those that are clicked. Common practice among teachers, no published source.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from caller.routine.layout.fact_patterns import METERS
from caller.routine.meter import Meter


@dataclass(frozen=True, slots=True)
class MeterRules:
    """round_of: the number after which a count-in starts from one again, two bars for most. from_one: whether its
    numbers begin at one, as in threes, or in the last half of the round. ahead_counts: within which a step's call
    begins. sheet_to: the number after which a section's counts start from one again, as sheets have them."""

    round_of: int
    from_one: bool = False
    ahead_counts: Fraction = Fraction(21, 10)
    sheet_to: int = 8


# "About two" counts ahead; in threes a bar.
_ROWS = {
    "4/4": MeterRules(8),
    "2/4": MeterRules(8),
    "3/4": MeterRules(6, from_one=True, ahead_counts=Fraction(31, 10), sheet_to=12),
    "6/8": MeterRules(6, from_one=True, sheet_to=6),
}
if _ROWS.keys() != METERS.keys():
    raise LookupError(f"each meter that is read needs a row here, and no other: {sorted(_ROWS.keys() ^ METERS.keys())}")


def counting(meter: Meter) -> MeterRules:
    """Raises KeyError for a meter that no sheet can have."""
    return _ROWS[str(meter)]
