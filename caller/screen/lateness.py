"""How late a loudspeaker is heard, being set: the offset in hand, and whether the mark is lit.

Conventions: offsets in milliseconds; what clicks is handed in, and says itself when a click is heard.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

FINE_MS, COARSE_MS = 5.0, 25.0
# The mark is lit so long after each click. Clicks come once a second: WCAG 2.3.1 allows three flashes.
LIT_SECONDS = 0.25


class Clicking(Protocol):
    """A steady click on a loudspeaker. device: the one that plays, or "". fault: why there is no sound, or ""."""

    @property
    def device(self) -> str: ...

    @property
    def fault(self) -> str: ...

    def look(self) -> None: ...

    def since_click(self, offset_ms: float) -> float | None: ...


@dataclass(frozen=True, slots=True)
class Offset:
    """As set for one device."""

    device: str
    ms: float


class Lateness:
    """offset_of: what is kept for a device. least, most: how far it reaches. ahead_seconds: how long what is shown now
    takes to be seen."""

    def __init__(
        self,
        clicking: Clicking,
        offset_of: Callable[[str], float],
        least: float,
        most: float,
        ahead_seconds: float = 0.0,
    ) -> None:
        self.ms = 0.0
        self._clicking = clicking
        self._offset_of = offset_of
        self._least, self._most = least, most
        self._ahead_ms = 1000 * ahead_seconds
        self._device = ""

    def look(self) -> None:
        """Follows the sound; another device has an offset of its own."""
        self._clicking.look()
        if self._clicking.device not in ("", self._device):
            self._device = self._clicking.device
            self.ms = self._offset_of(self._device)

    def set(self, ms: float) -> None:
        """As near as it reaches."""
        self.ms = min(max(ms, self._least), self._most)

    def reaches(self, ms: float) -> bool:
        return self._least <= ms <= self._most

    @property
    def reach_words(self) -> str:
        return f"A number from {self._least:g} to {self._most:g}."

    @property
    def lit(self) -> bool:
        since = self._clicking.since_click(self.ms - self._ahead_ms)
        return since is not None and since < LIT_SECONDS

    @property
    def offset(self) -> Offset | None:
        """None while no device plays."""
        return Offset(self._device, self.ms) if self._clicking.device else None

    @property
    def sound(self) -> str:
        """The device that plays, or why none does."""
        return self._clicking.device or self._clicking.fault


def ms_words(ms: float) -> str:
    """ "+120 ms", "-5 ms", "0 ms"."""
    return f"{ms:+.0f} ms" if round(ms) else "0 ms"
