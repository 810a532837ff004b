"""A steady click on a loudspeaker, and when each click is heard: what a device's offset is set by.

Conventions: see ``caller.sound.speaker``; offsets are milliseconds, how much later than told a device is heard. All is
called from one thread, and nothing waits.
"""

from __future__ import annotations

from collections.abc import Callable

from caller.sound.clicks import ACCENT, count_track
from caller.sound.score import Score
from caller.sound.speaker import Heard, Speaker

# Slow, so that an offset can't be taken for another click's: clicks are further apart than offsets reach.
CLICK_SECONDS = 1.0
CLICKS = 600


class SteadyClick:
    """now: seconds of the speaker's clock. clicks: in one score, which is followed by another. They begin once a device
    plays, and go on."""

    def __init__(self, speaker: Speaker, now: Callable[[], float], clicks: int = CLICKS) -> None:
        self._clicks = clicks
        self._speaker = speaker
        self._now = now
        self._apart = round(CLICK_SECONDS * speaker.rate)
        self._heard: Heard = speaker.heard()
        self._began: int | None = None  # the stream frame of a click
        self._next: int | None = None  # that of the next score

    @property
    def device(self) -> str:
        """The one that plays, "" while none does."""
        return "" if self._heard.fault else self._heard.device

    @property
    def fault(self) -> str:
        """One sentence on why there is no sound, "" while there is."""
        return self._heard.fault

    def look(self) -> None:
        """How far the sound has come; starts the clicks, and sees to it that they go on."""
        self._heard = self._speaker.heard()
        if self._next is None and self.device:
            self._began = self._next = self._speaker.earliest()
        while self._next is not None and self._next - self._heard.written < 2 * self._apart:
            beats = ((n * self._apart, ACCENT) for n in range(self._clicks))
            score = Score(count_track(beats), self._clicks * self._apart, self._speaker.rate)
            self._speaker.splice(score, 0, self._next)
            self._next += score.frames

    def since_click(self, offset_ms: float) -> float | None:
        """Seconds since a click was heard, on a device with that offset; None where there is none to hear."""
        if self._began is None or self.fault:
            return None
        frame = self._heard.frame_at(self._now(), self._speaker.rate, offset_ms) - self._began
        return frame % self._apart / self._speaker.rate if frame >= 0 else None
