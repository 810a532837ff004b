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
    """round_of: the number after which teachers start from one again, two bars for most. from_one: whether the
    count-in's numbers begin at one, as in threes, or in the last half of the round. ahead_counts: within which a step's
    call begins."""

    round_of: int
    from_one: bool = False
    ahead_counts: Fraction = Fraction(21, 10)


# "About two" counts ahead; in threes a bar.
_ROWS = {
    "4/4": MeterRules(8),
    "2/4": MeterRules(8),
    "3/4": MeterRules(6, from_one=True, ahead_counts=Fraction(31, 10)),
    "6/8": MeterRules(6, from_one=True),
}
if _ROWS.keys() != METERS.keys():
    raise LookupError(f"each meter that is read needs a row here, and no other: {sorted(_ROWS.keys() ^ METERS.keys())}")


def counting(meter: Meter) -> MeterRules:
    """Raises KeyError for a meter that no sheet can have."""
    return _ROWS[str(meter)]
