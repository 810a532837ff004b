"""When messages came that are only looked at now and then.

Conventions: seconds of ``time.perf_counter``. The system times the gap between two messages of a port; where on our
clock they lie is bounded by the looks: what is met now came since the look before.
"""

from __future__ import annotations

from collections.abc import Sequence


class Arrivals:
    """Of one port. now: when it was opened."""

    def __init__(self, now: float) -> None:
        self._looked = now
        self._last: float | None = None

    def times(self, gaps: Sequence[float], now: float) -> list[float]:
        """When each of the messages came that a look at ``now`` found. gaps: seconds from the message before each (of
        the very first: unused). Never before the look before, never after this one, never out of order."""
        times: list[float] = []
        for number, gap in enumerate(gaps):
            latest = now - sum(gaps[number + 1 :])  # so that those that follow find room
            came = latest if self._last is None else min(self._last + gap, latest)
            floor = self._looked if self._last is None else max(self._looked, self._last)
            self._last = min(max(came, floor), now)
            times.append(self._last)
        self._looked = now
        return times
