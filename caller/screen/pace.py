"""How often much of the screen may change: no more than three times in any second.

WCAG 2.3.1 allows three flashes a second; a change of words is at most half a flash, so this is the stricter reading.
The count and the bar are small and follow every beat.
"""

from __future__ import annotations

from collections import deque

CHANGES_A_SECOND = 3


class Pace:
    """Seconds are anybody's, as long as they don't run back."""

    def __init__(self) -> None:
        self._changed: deque[float] = deque(maxlen=CHANGES_A_SECOND)

    def allows(self, now_seconds: float) -> bool:
        """Whether it may change now."""
        return len(self._changed) < CHANGES_A_SECOND or now_seconds - self._changed[0] > 1.0

    def changed(self, now_seconds: float) -> None:
        self._changed.append(now_seconds)
