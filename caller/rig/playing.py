"""A short score played through to its end, for whoever has nothing else to do meanwhile.

Conventions: limits in seconds.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from caller.sound.score import Score
from caller.sound.speaker import Speaker

START_SECONDS = 10.0
_LEAD_SECONDS = 0.1
_LOOK_SECONDS = 0.02


def play_through(
    speaker: Speaker,
    score: Score,
    now: Callable[[], float] = time.perf_counter,
    wait: Callable[[float], None] = time.sleep,
) -> str:
    """Play a score, and wait until it has been heard. Returns "", or one sentence on why it wasn't."""
    until = now() + START_SECONDS
    while (heard := speaker.heard()).fault or not heard.device:
        if now() >= until:
            return heard.fault or "The sound doesn't start: see `caller doctor`."
        wait(_LOOK_SECONDS)
    over = speaker.splice(score, 0, speaker.earliest(_LEAD_SECONDS)) + score.frames
    until = now() + START_SECONDS + score.frames / score.rate
    while (heard := speaker.heard()).heard < over:
        if heard.fault or now() >= until:
            return heard.fault or "The sound stands still: see `caller doctor`."
        wait(_LOOK_SECONDS)
    return ""
