"""Numbers from outside, as typed, as a file has them, as another program hands them over: one reader, always with a
range.

Conventions: a written number is digits with a sign, a point or a fraction stroke ("96", "97.5", "265/2"), never an
exponent: "1e99999999" would be worked out before it could be compared. What is met is shown cut, since it may be long.
"""

from __future__ import annotations

import re
from fractions import Fraction

# Far longer than any that this program writes itself; a tempo that has crept is a fraction of some forty digits.
LONGEST = 400
_WRITTEN = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+|\d+/\d+)", re.ASCII)
_SHOWN = 40

Bound = int | float | Fraction


class NotInRange(ValueError):
    """What was wanted, and what was met instead, in one phrase."""


def number(met: object, least: Bound, most: Bound, what: str = "a number") -> Fraction:
    """A number of a file, or a written one, from least to most, exact. Raises NotInRange."""
    found = _exact(met)
    if found is None or not least <= found <= most:
        raise NotInRange(f"{what} from {_plain(least)} to {_plain(most)}, not {shown(met)}")
    return found


def whole(met: object, least: int, most: int, what: str = "a whole number") -> int:
    """The same, without a fraction. Raises NotInRange."""
    found = number(met, least, most, what)
    if found.denominator != 1:
        raise NotInRange(f"{what} from {least} to {most}, not {shown(met)}")
    return found.numerator


def shown(met: object) -> str:
    """What was met, for a sentence: cut where it is long. (A figure of thousands of digits can't even be printed.)"""
    if isinstance(met, int) and met.bit_length() > 4 * _SHOWN:
        return "a far longer number"
    if isinstance(met, list | tuple):
        return "a list"
    if isinstance(met, dict):
        return "a table"
    cut = str(met) if isinstance(met, Fraction) else met[: 2 * _SHOWN] if isinstance(met, str) else met
    text = repr(cut)
    return text if len(text) <= _SHOWN else f"{text[:_SHOWN]}…"


def _exact(met: object) -> Fraction | None:
    if isinstance(met, bool):
        return None
    if isinstance(met, int | Fraction):
        return Fraction(met)
    if isinstance(met, float):
        return Fraction(repr(met)) if met == met and abs(met) != float("inf") else None
    if not isinstance(met, str):
        return None
    text = met.strip()
    if len(text) > LONGEST or not _WRITTEN.fullmatch(text):
        return None
    try:
        return Fraction(text)
    except (ValueError, ZeroDivisionError):
        return None


def _plain(bound: Bound) -> str:
    return f"{float(bound):g}"
