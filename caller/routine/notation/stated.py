"""What a sheet states in passing: clock facings, weights, fractions of a turn.

Conventions: a turn is a whole number of eighths, unsigned here; a facing is told by the clock in eighths of it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from caller.routine.facing import CLOCK, EIGHTHS, Facing
from caller.routine.step import Weight

NO_WEIGHT_SAID = "no weight"
_MOST_ROUNDS = 4


@dataclass(frozen=True, slots=True)
class Stated:
    """A facing (None where it is no eighth of the clock) or a weight that the sheet states."""

    facing: Facing | None = None
    weight: Weight | None = None
    text: str = ""


_CLOCK = r"(?P<hour>\d{1,2})(?:[:.](?P<minute>\d\d))?\s*(?:o['\u2019]?\s?clock)?"
_FACING = re.compile(
    r"^(?:you(?:'re| are)? |now |still |ending |end |ends |finish |finishing |to |back |h\.? ?)*"
    r"(?P<faces>fac(?:e|es|ing)\s+)?(?:the\s+|to\s+)*" + _CLOCK + r"(?:\s*wall)?$",
    re.IGNORECASE,
)
_WT = r"(?:weight|wt\.?|weight's)"
_WEIGHT = re.compile(
    rf"^(?:(?:and|with|taking|take|takes|keep|keeping|ending|end|ends|finish|finishing|"
    rf"finishes|leaving|transfer|transferring|shift|"
    rf"shifting|putting|put|changing|change) )*(?:all |the |your |full )*{_WT}:?,? "
    r"(?:now |is |ends |end |ending |stays |stay |remains |should be |finishes |goes |moves |comes |up |still |kept )*"
    r"(?:on |onto |to |over |in |= |at the end |finally )*(?:the |your )?"
    r"(?P<foot>r|l|rf|lf|rt|lt|right|left|both)\.?(?: foot| feet| leg)?$"
    r"|^(?:end|ends|ending|finish|finishes|finishing) (?:on |with )(?:the )?(?P<ends>r|l|rf|lf|right|left)(?: foot)?$",
    re.IGNORECASE,
)
_NO_WEIGHT = re.compile(
    rf"^(?:(?:with )?no {_WT}(?: on it| change| transfer)?|without (?:taking )?(?:the )?{_WT}|weightless|"
    rf"(?:do not|don't|not) (?:take|taking|put|change) (?:the |your )?{_WT}(?: on it)?|unweighted|"
    rf"non ?-?weight(?:ed| bearing)?|touch only)$",
    re.IGNORECASE,
)
_WALLS = {"front": 0, "home": 0, "back": 4}
_WALL = re.compile(
    r"^(?:now |you(?:'re| are)? |end |ending |finish |still )*(?:facing |face |to )?(?:the )?"
    r"(?P<wall>front|back|home)(?: wall)$"
    r"|^(?:now |you(?:'re| are)? |end |ending |finish |still )*fac(?:e|ing) (?:the )?"
    r"(?P<faced>front|back|home)(?: wall)?(?: again)?$",
    re.IGNORECASE,
)
_BETWEEN = re.compile(r"\s*[,;]\s*|\s+and\s+(?=weight|fac)")

_DEGREES = re.compile(r"(\d{2,3})\s?(?:degrees?|\u00b0)")
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}


def facing_of(hour: str, minute: str | None) -> Facing | None:
    """The facing that a clock time names, None where it is no eighth."""
    clock = f"{int(hour)}:{minute or '00'}"
    return Facing(CLOCK.index(clock)) if clock in CLOCK else None


def read_weight(text: str) -> Weight | None:
    """ "weight on the left foot", "taking weight on R"; None for anything else."""
    found = _WEIGHT.match(text)
    return _weight_of(found["foot"] or found["ends"]) if found else None


def says_no_weight(text: str) -> bool:
    return _NO_WEIGHT.match(text) is not None


def read_stated(text: str) -> list[Stated] | None:
    """What stands in brackets, if all of it states facings or weights; None where it is a note."""
    found: list[Stated] = []
    for part in _BETWEEN.split(text.strip().strip(".").strip()):
        facing = _FACING.match(part)
        if facing and (facing["faces"] or facing["minute"] or "clock" in part.lower()):
            found.append(Stated(facing=facing_of(facing["hour"], facing["minute"]), text=part))
        elif (wall := _WALL.match(part)) is not None:
            found.append(Stated(facing=Facing(_WALLS[(wall["wall"] or wall["faced"]).lower()]), text=part))
        elif (weight := read_weight(part)) is not None:
            found.append(Stated(weight=weight, text=part))
        elif says_no_weight(part):
            found.append(Stated(text=NO_WEIGHT_SAID))
        else:
            return None
    return found


def _weight_of(word: str) -> Weight:
    return Weight.BOTH if word.lower() == "both" else Weight(word[0].upper())


def eighths_of(text: str) -> int | None:
    """A written fraction of a turn in eighths: "1 1/4" is 10; None where it is no whole number of eighths."""
    if (degrees := _DEGREES.match(text)) is not None:
        text = f"{degrees[1]}/360"
    for mark, plain in _VULGAR.items():
        text = text.replace(mark, f" {plain}")
    total = Fraction(0)
    for piece in re.sub(r"&|and|st|nd|th", " ", text).split():
        top, _, bottom = piece.partition("/")
        if bottom and int(bottom) == 0:
            return None
        total += Fraction(int(top), int(bottom or 1))
    eighths = total * EIGHTHS
    return int(eighths) if eighths.denominator == 1 and 0 < eighths <= _MOST_ROUNDS * EIGHTHS else None
