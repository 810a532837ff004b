"""Turns told over the steps that make them, for :mod:`caller.routine.notation.dialect`.

"Full turn left travelling left: L, R, L", "two 1/2 turns back: R, L".
Common practice of the trade; no published source.
"""

from __future__ import annotations

import re

from caller.routine.notation.phrases import EACH, GROUPS, SIDE, PlainWords

# How a turn is shared over its steps, in eighths: by their number and the whole turn. Common practice.
_ROLLED = {(3, 8): (2, 4, 2), (3, 10): (2, 4, 4), (2, 8): (4, 4)}


def _rolled(found: re.Match[str]) -> str:
    """ "Full turn left travelling left: L, R, L": a quarter, a half, a quarter."""
    feet = re.findall(r"\b(?:right|left|[RL])\b", found["feet"], re.IGNORECASE)
    shares = _ROLLED.get((len(feet), 8 if found["turn"].lower() == "full" else 10))
    if shares is None or (len(feet) > 2 and feet[0][0].lower() == feet[1][0].lower()):
        return found[0]
    if feet[0][0].lower() == found["side"][0].lower() and len(feet) == 3 and sum(shares) == 8:
        return f"rolling turn {found['side']} {', '.join(feet)}"
    return ", ".join(f"{foot} turning {EACH[share]} {found['side']}" for foot, share in zip(feet, shares, strict=True))


ROWS: tuple[tuple[str, PlainWords], ...] = (
    # "full turn left travelling left: L, R, L", "1 1/4 turn right stepping R, L, R"
    (
        rf"(?<!triple\s)\b(?:an?\s+)?(?:rolling\s+|travell?ing\s+)?(?P<turn>1\s?1/4|1\u00bc|one\s+and\s+a\s+quarter|full)\s+(?:turn\s+(?:to\s+(?:the\s+)?)?)?(?P<side>{SIDE})(?:\s+turn)?(?:\s+(?:moving|travell?ing|going)(?:\s+(?:to\s+(?:the\s+)?)?(?:right|left|forwards?|fwd|back(?:wards?)?))?)?(?:\s+(?:over|in)\s+(?:three|3|two|2)\s+(?:steps|counts))?\s*[:,(]?\s*(?:stepping\s+|step\s+)?(?P<feet>{SIDE}\b(?:\s*[,-]?\s*{SIDE}\b){{1,2}})(?=\s*(?:[.,;)&(\[]|$|and\b|then\b))\)?",
        _rolled,
    ),
    # "two half turns left travelling back: R, L"
    (
        rf"\b(?:two|2)\s+(?P<turn>half|1/2|\u00bd|quarter|1/4|\u00bc)\s+turns\s+(?:to\s+(?:the\s+)?)?(?P<side>{SIDE})(?:\s+(?:moving|travell?ing|going)\s+(?:forwards?|fwd|back(?:wards?)?))?\s*[:,(]?\s*(?:stepping\s+|step\s+)(?P<one>{SIDE})\s*[,-]?\s*(?P<two>{SIDE})\b\)?",
        r"\g<one> turning \g<turn> \g<side>, \g<two> turning \g<turn> \g<side>",
    ),
    (
        rf"\b(?:two|2)\s+(?P<turn>half|1/2|\u00bd|quarter|1/4|\u00bc)\s+turns\s+(?:to\s+(?:the\s+)?)?(?P<side>{SIDE})(?:\s+(?:moving|travell?ing|going)\s+(?:forwards?|fwd|back(?:wards?)?))?\s*[:(]\s*(?P<one>{SIDE})\s*[,-]?\s*(?P<two>{SIDE})\b\)?",
        r"\g<one> turning \g<turn> \g<side>, \g<two> turning \g<turn> \g<side>",
    ),
    # "shuffle travelling forward: R, L, R"
    (rf"\b({GROUPS})\s+(?:moving|travell?ing|going)\s+(?=(?:forwards?|fwd|back(?:wards?)?|{SIDE})\b)", r"\1 "),
)
