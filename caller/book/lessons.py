"""From a programme, running, or a dance, danced, to an entry of the class book.

Conventions: an entry is made when a go has come to its end, before anything else follows, so that what was taught is
kept as it happens. The instant is handed in.
"""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction

from caller.book.entries import Taught
from caller.dance.walls import Dance
from caller.teaching.running import Running


def taught_now(class_name: str, running: Running, at: datetime) -> Taught | None:
    """The entry for the last go done; None where none is. running: after the outcome "done"."""
    if not running.done:
        return None
    go = running.done[-1]
    programme = running.programme
    is_walkthrough = programme.way == "walkthrough"
    return Taught(
        class_name=class_name,
        at=at.astimezone(UTC).replace(microsecond=0),
        routine=programme.title,
        way=programme.way,
        part=go.stage.name,
        stage=go.index + 1 if is_walkthrough else 0,
        stages=len(programme.stages) if is_walkthrough else 0,
        tempo=programme.tempo * go.speed,
        full=programme.tempo,
    )


def danced_now(class_name: str, dance: Dance, tempo: Fraction, full: Fraction, at: datetime) -> Taught:
    """The entry for a dance danced to its end. tempo: at last; full: the routine's own; counts a minute."""
    walls = len(dance.walls)
    return Taught(
        class_name=class_name,
        at=at.astimezone(UTC).replace(microsecond=0),
        routine=dance.routine.header.title,
        way="dance",
        part=f"{walls} wall{'' if walls == 1 else 's'}",
        tempo=tempo,
        full=full,
    )
