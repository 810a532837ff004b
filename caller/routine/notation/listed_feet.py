"""Feet that stand in a list behind the steps they dance ("walk, walk (R, L)"), for
:mod:`caller.routine.notation.dialect`. Common practice of the trade, no published source."""

from __future__ import annotations

import re
from collections.abc import Callable

from caller.routine.notation.phrases import FOOT

_PARTED = re.compile(r"\s*,\s*")
_FOOT = re.compile(rf"\b{FOOT}\b", re.IGNORECASE)


def _to_each(found: re.Match[str]) -> str:
    """Each step with its foot; with fewer feet than steps, each foot leads the same steps over again."""
    steps, feet = _PARTED.split(found["steps"].strip()), _FOOT.findall(found["feet"])
    if _FOOT.search(found["steps"]) or len(steps) % len(feet):
        return found[0]
    each = len(steps) // len(feet)
    if each > 1 and [step.lower() for step in steps] != [step.lower() for step in steps[:each]] * len(feet):
        return found[0]
    led = [f"{feet[n // each]} {step}" if n % each == 0 else step for n, step in enumerate(steps)]
    return found["lead"] + ", ".join(led) + found["rest"]


ROWS: tuple[tuple[str, Callable[[re.Match[str]], str]], ...] = (
    (
        rf"^(?P<lead>\s*(?:[(\[]\d{{1,2}}:\d\d[)\]]\s*)?)(?P<steps>[A-Za-z][^(),]*(?:,\s*[^(),]+)+?)(?:[,\s]\s*\(|,\s*(?={FOOT}\b[^()]*$))(?P<feet>{FOOT}(?:[\s,/&-]+{FOOT})+)\)?(?P<rest>\s*(?:[(\[][^()\[\]]*[)\]]|\s\d{{1,2}}:\d\d)?\s*)$",
        _to_each,
    ),
)
