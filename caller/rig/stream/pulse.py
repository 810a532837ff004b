"""The sink that is a sound server, by way of its own library: Linux without PortAudio. In the player's process only.

PulseAudio's library speaks to PipeWire too. pasimple is a binding of its simple interface, of Python alone. Measured
beside SoundCard and miniaudio (see DEVELOPERS.md).

Conventions: as in ``caller.rig.stream.sink``.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

from caller.rig.devices import CHANNELS
from caller.rig.stream.player import BLOCK, SoundLost
from caller.sound.score import Samples

FRAME_BYTES = 4 * CHANNELS
# More than what is asked for: a server that is told a latency keeps part of it back, PortAudio adds to it as much.
MORE_SECONDS = 0.03
FEWEST_BLOCKS = 6  # in the server, however much of what is asked for its device takes
GLANCE_SECONDS = 0.001
NEARLY_NOTHING = BLOCK // 10


class PulseSink:
    """The server's default device, or what PULSE_SINK in the environment names. Raises SoundLost where none answers."""

    device = "pulse"

    def __init__(self, rate: int, latency_seconds: float) -> None:
        import pasimple

        self._rate = rate
        self._error: type[Exception] = pasimple.PaSimpleError
        wanted = round((latency_seconds + MORE_SECONDS) * rate)
        try:
            self._stream: Any = pasimple.PaSimple(
                pasimple.PA_STREAM_PLAYBACK,
                pasimple.PA_SAMPLE_FLOAT32LE,
                CHANNELS,
                rate,
                app_name="caller",
                tlength=wanted * FRAME_BYTES,
                prebuf=BLOCK * FRAME_BYTES,
                minreq=BLOCK * FRAME_BYTES,
            )
            self.lead_frames: int = self._held()  # nothing is written yet: what the device itself takes
        except (self._error, AttributeError) as error:
            raise SoundLost(f"The sound server doesn't answer ({error}): start it, or log out and in again.") from error
        self.latency_frames = max(wanted, self.lead_frames + FEWEST_BLOCKS * BLOCK)
        self._begun = False

    def wait_for_room(self, frames: int, look: Callable[[], bool]) -> None:
        while (over := self.queued() + frames - self.latency_frames) > 0:
            ends = time.perf_counter() + over / self._rate
            while (left := ends - time.perf_counter()) > 0:
                if look():
                    return
                time.sleep(min(left, GLANCE_SECONDS))

    def write(self, block: Samples) -> bool:
        dry = self._begun and self.queued() <= self.lead_frames + NEARLY_NOTHING
        self._begun = True
        try:
            self._stream.write(block.tobytes())
        except self._error as error:
            raise self._lost(error) from error
        return dry

    def queued(self) -> int:
        try:
            return self._held()
        except self._error as error:
            raise self._lost(error) from error

    def drop(self) -> None:
        try:
            self._stream.flush()
        except self._error as error:
            raise self._lost(error) from error
        self._begun = False

    def close(self) -> None:
        self._stream.close()

    def _held(self) -> int:
        microseconds: int = self._stream.get_latency()
        return microseconds * self._rate // 1_000_000

    def _lost(self, error: Exception) -> SoundLost:
        return SoundLost(f"The sound server is lost ({error}); it is tried again each second.")
