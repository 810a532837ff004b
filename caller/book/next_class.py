"""What comes the next time that a class meets: what goes on, and what is due again by then. Pure.

Conventions: as in :mod:`caller.book.known`. A class meets once a week; one that has not met for longer meets now.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from caller.book.known import Known

_A_WEEK = timedelta(days=7)
# What falls due in the course of that evening is due there.
_THAT_EVENING = timedelta(hours=12)


@dataclass(frozen=True, slots=True)
class NextClass:
    """half: what was left half taught, the last first; due: what is to be danced again, the longest overdue first."""

    half: tuple[Known, ...] = ()
    due: tuple[Known, ...] = ()


def next_class(found: Sequence[Known], now: datetime) -> NextClass:
    """found: what one class knows."""
    last = max((one.last for one in found), default=now)
    until = max(last + _A_WEEK, now) + _THAT_EVENING
    half = (one for one in found if not one.can_run)
    due = (one for one in found if one.can_run and one.due <= until)
    return NextClass(
        tuple(sorted(half, key=lambda one: one.last, reverse=True)),
        tuple(sorted(due, key=lambda one: (one.due, one.routine))),
    )
