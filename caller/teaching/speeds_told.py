"""What a speed, a share of the full tempo, is called by the voice. Pure."""

from __future__ import annotations

from fractions import Fraction

from caller.calls.wording import spoken_number
from caller.teaching.dosage import HALF, THREE_QUARTERS

_NAMED = {HALF: "half speed", THREE_QUARTERS: "three-quarter speed", Fraction(1): "full speed"}


def percent(share: Fraction) -> str:
    """ "half speed", "three-quarter speed", "full speed", else in per cent."""
    return _NAMED.get(share, f"{spoken_number(round(100 * share))} per cent of full speed")


def quicker(share: Fraction) -> str:
    """A rung of the ladder in a teacher's words: what lies between is "a bit quicker"."""
    return _NAMED.get(share, "a bit quicker")


def slowly(share: Fraction) -> str:
    """ "half speed", else that it is slow."""
    return _NAMED[HALF] if share == HALF else "slowly"


def pace(share: Fraction) -> str:
    """ "half speed"; what lies between is "slowly", or "a bit quicker" than the dance."""
    return _NAMED.get(share, "slowly" if share < 1 else "a bit quicker")
