"""Which notices are on the screen: each for a while, however short a view carried it."""

from __future__ import annotations

from caller.screen.words import new_notices

SHOWN_SECONDS = 12.0
MOST = 2


class NoticeBoard:
    """The last notices, oldest first, at most ``MOST`` at a time. Seconds must not run back."""

    def __init__(self) -> None:
        self._seen: tuple[str, ...] = ()
        self._up: tuple[tuple[str, float], ...] = ()

    def shown(self, notices: tuple[str, ...], now_seconds: float) -> tuple[str, ...]:
        """What to show, given the notices of the newest view."""
        fresh = new_notices(self._seen, notices)
        self._seen = notices
        up = (*self._up, *((notice, now_seconds) for notice in fresh))
        self._up = tuple(row for row in up if now_seconds - row[1] < SHOWN_SECONDS)[-MOST:]
        return tuple(notice for notice, _ in self._up)
