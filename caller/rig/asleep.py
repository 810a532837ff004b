"""A clock that goes on while the machine sleeps, so that a sleep is known when it is over."""

from __future__ import annotations

import time

_CLOCK = next((getattr(time, name) for name in ("CLOCK_BOOTTIME", "CLOCK_MONOTONIC") if hasattr(time, name)), None)


def seconds_through_sleep() -> float:
    """Seconds since some moment, those asleep among them; never back.

    ``time.perf_counter`` stands still meanwhile on Linux (clock_gettime(2): CLOCK_MONOTONIC "does not count time that
    the system is suspended", CLOCK_BOOTTIME does) and on macOS, whose CLOCK_MONOTONIC goes on (its clock_gettime(3)).
    On Windows it goes on itself.
    """
    return time.perf_counter() if _CLOCK is None else time.clock_gettime(_CLOCK)
