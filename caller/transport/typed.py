"""Places typed in the plain mode: a loop of counts, a section. Pure.

Conventions: counts are of the wall, from 1, both ends included; what is none of these is None.
"""

from __future__ import annotations

import re

_LOOP = re.compile(r"loop (\d{1,3})(?: ?- ?| to )(\d{1,3})", re.IGNORECASE)
_SECTION = re.compile(r"section (\d{1,3})", re.IGNORECASE)


def loop_typed(line: str) -> tuple[int, int] | None:
    """ "loop 5 to 12", "loop 5-12"."""
    typed = _LOOP.fullmatch(" ".join(line.split()))
    return (int(typed[1]), int(typed[2])) if typed else None


def section_typed(line: str) -> int | None:
    """ "section 3"."""
    typed = _SECTION.fullmatch(" ".join(line.split()))
    return int(typed[1]) if typed else None
