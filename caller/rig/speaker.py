"""Loudspeakers: what takes a reel of scores and lets it be heard, and says how far it has come."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from caller.sound.score import Score


@dataclass(frozen=True, slots=True)
class Heard:
    """written: stream frames handed to the device so far; heard: the stream frame at the ear at ``at_seconds``
    (``time.perf_counter``'s clock); underruns so far; fault: one sentence where there is no sound, else ""."""

    written: int
    heard: int
    at_seconds: float
    underruns: int = 0
    fault: str = ""


class Speaker(Protocol):
    """Every method may be called from the session's thread only, and none waits for the device."""

    rate: int

    def splice(self, score: Score | None, score_frame: int = 0, at: int | None = None) -> int:
        """From stream frame ``at`` (None: as soon as it can be heard) play ``score`` from its ``score_frame`` on (None:
        silence), crossing over without a click. Returns the stream frame of the splice."""
        ...

    def heard(self) -> Heard: ...

    def close(self) -> None: ...
