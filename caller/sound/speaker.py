"""What a loudspeaker is to whoever lets something be heard: it takes scores, and says how far it has come.

Conventions: a stream frame counts the frames of one speaker's life, from 0, at ``rate`` a second; it goes on through
pauses, faults and splices. Seconds are ``time.perf_counter``'s, a clock that all processes of one machine share
(Python's library reference calls it system-wide). A class plays through it, and so do the rig's own trials: that is why
it stands below both; the rig has the speakers.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from caller.sound.score import Score


class Health(Enum):
    """How the sound is: being started, heard, or not to be had (positions go on by the clock)."""

    STARTING = "starting"
    SOUNDING = "sounding"
    LOST = "lost"


@dataclass(frozen=True, slots=True)
class Heard:
    """How far the sound has come at one moment.

    written: stream frames given to the device so far; goes back where a hush has it drop what nobody has heard. heard:
    the stream frame at the ear at ``at_seconds``; never goes back. underruns: gaps so far. late: splices that reached
    the player after their frame. hushed_at: the stream frame from which the last :meth:`Speaker.hush` holds, None until
    the player has told. device: the name of the one that plays, "" until one has. fault: one sentence where there is no
    sound (positions go on by the clock meanwhile, once it has begun), else "". starting: it is only that the device is
    being opened.
    """

    written: int
    heard: int
    at_seconds: float
    underruns: int = 0
    late: int = 0
    hushed_at: int | None = None
    device: str = ""
    fault: str = ""
    starting: bool = False

    @property
    def health(self) -> Health:
        return Health.STARTING if self.starting else Health.LOST if self.fault else Health.SOUNDING

    def frame_at(self, now_seconds: float, rate: int, offset_ms: float = 0.0) -> int:
        """The stream frame at the ear at a moment after: the time since goes by, but no further than what was given to
        the device. offset_ms: the extra latency of the device, beyond what it reports."""
        since = round((now_seconds - self.at_seconds) * rate)
        told = min(self.heard + max(since, 0), max(self.written, self.heard))
        return told - round(offset_ms * rate / 1000)


class Speaker(Protocol):
    """Call every method from one thread, the session's; none waits for the device."""

    rate: int

    def earliest(self, after_seconds: float = 0.0) -> int:
        """The first stream frame for which a splice asked ``after_seconds`` from now arrives in time: what is written,
        and a margin. A new score that takes 30 ms to make is made for ``earliest(0.03)``."""
        ...

    def splice(self, score: Score | None, score_frame: int = 0, at: int | None = None) -> int:
        """From stream frame ``at`` (None: ``earliest()``) play ``score`` from its ``score_frame`` on (None: silence),
        crossing over without a click; whatever was asked for from ``at`` on before is dropped.

        Returns the stream frame of the splice. Where it comes late the score is joined late at the place it would have
        reached, so that its timing never shifts, and counts in ``Heard.late``. Raises ValueError for a score at
        another rate.
        """
        ...

    def hush(self) -> None:
        """Silence at once: what the device holds is dropped. Where it stopped: ``Heard.hushed_at``, told within some
        milliseconds. Until then, ask for nothing else."""
        ...

    def heard(self) -> Heard: ...

    def close(self) -> None:
        """End the sound; back within a second. May be called twice; nothing else may be called after it but
        ``heard``."""
        ...
