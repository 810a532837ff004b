"""Whether the machine has slept, or the whole program stood still, between two looks at the sound.

Conventions: seconds of two clocks: ``now`` is ``time.perf_counter``'s, which on some systems stands still while the
machine sleeps; ``through_sleep`` is one that goes on. A lost loudspeaker is no sleep: the class sees it told, and
dances on by the clock. Nor is a screen that was held up while the sound went on.
"""

from __future__ import annotations

from dataclasses import dataclass

from caller.sound.speaker import Heard

# Shorter, and the dance goes on where the clock has got to: a class bridges that, and no gap of a loaded machine is
# taken for a sleep.
LONG_SECONDS = 3.0
# How much of a gap may be missing from the sound for it to count as having gone on.
_UNEVEN_SECONDS = 1.0


@dataclass(frozen=True, slots=True)
class Moment:
    """How far the sound had come, and what both clocks said."""

    heard: Heard
    now: float
    through_sleep: float

    def stood_still(self, later: Moment, rate: int) -> float:
        """For how many seconds all stood still between this and a later moment; 0 where that was not long."""
        awake, through = later.now - self.now, later.through_sleep - self.through_sleep
        if through - awake > LONG_SECONDS:
            return through
        if awake > LONG_SECONDS and not self._went_on(later, awake, rate):
            return awake
        return 0.0

    def _went_on(self, later: Moment, awake: float, rate: int) -> bool:
        played = (later.heard.heard - self.heard.heard) / rate
        return not later.heard.fault and played > awake - _UNEVEN_SECONDS


def slept_words(seconds: float) -> str:
    """One sentence on a sleep."""
    minutes = round(seconds / 60)
    long = f"{round(seconds)} seconds" if seconds < 90 else f"{minutes} minutes"
    return f"The machine slept for {long}: paused where it was."
