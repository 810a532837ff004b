"""The sink that is a sound device, through PortAudio. In the player's process only.

Conventions: blocks are float32, two channels; blocking writes, since a position that is counted in frames written
survives an underrun and a callback's doesn't.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from typing import Any

from caller.rig.devices import (
    CHANNELS,
    PULSE_HOST,
    SOUND_MISSING,
    Device,
    candidates,
    listed,
    portaudio_missing,
    sound_missing,
    wish_unmet,
    with_server,
)
from caller.rig.stream.player import BLOCK, Sink, SoundLost
from caller.rig.stream.pulse import PulseSink
from caller.sound.score import Samples

LONGEST_QUEUE_SECONDS = 1.0
GLANCE_SECONDS = 0.001  # a tenth of a block


class PortSink:
    """An open device. Raises SoundLost where it won't open."""

    def __init__(self, device: Device, rate: int, latency_seconds: float) -> None:
        import sounddevice as sd

        self.device = device.name
        self._error: type[Exception] = sd.PortAudioError
        extra = sd.WasapiSettings(auto_convert=True) if device.host == "Windows WASAPI" else None
        try:
            self._stream: Any = sd.OutputStream(
                samplerate=rate,
                blocksize=BLOCK,
                device=device.number,
                channels=CHANNELS,
                dtype="float32",
                latency=latency_seconds,
                extra_settings=extra,
            )
            self._stream.start()
        except (sd.PortAudioError, ValueError) as error:
            raise SoundLost(
                f"The sound device {device.name} won't open ({_reason(error)}): see that nothing else holds it."
            ) from error
        told = min(max(self._stream.latency, 0.0), LONGEST_QUEUE_SECONDS)
        room = int(self._stream.write_available)  # all there is: nothing is queued yet
        self.latency_frames: int = max(room, round(told * rate))
        self.lead_frames = self.latency_frames - room

    def wait_for_room(self, frames: int, look: Callable[[], bool]) -> None:
        try:
            while self._stream.write_available < frames and not look():
                time.sleep(GLANCE_SECONDS)
        except self._error as error:
            raise self._lost(error) from error

    def write(self, block: Samples) -> bool:
        try:
            return bool(self._stream.write(block))
        except self._error as error:
            raise self._lost(error) from error

    def queued(self) -> int:
        try:
            room = int(self._stream.write_available)
        except self._error as error:
            raise self._lost(error) from error
        return max(0, self.latency_frames - room)

    def drop(self) -> None:
        try:
            self._stream.abort()
            self._stream.start()
        except self._error as error:
            raise self._lost(error) from error

    def close(self) -> None:
        self._stream.close(ignore_errors=True)

    def _lost(self, error: Exception) -> SoundLost:
        return SoundLost(f"The sound device {self.device} is lost ({_reason(error)}); it is tried again each second.")


def sink_opener(wish: str, rate: int, latency_seconds: float) -> Callable[[], Sink]:
    """What opens the best device there is at the moment, each time anew: PortAudio lists devices once only, when it
    starts, so it is ended and started again before each try but the first."""
    started = False

    def open_sink() -> Sink:
        nonlocal started
        devices: tuple[Device, ...] = ()
        try:
            if not portaudio_missing():
                import sounddevice as sd

                if started:
                    sd._terminate()
                    sd._initialize()
                started = True
                devices = listed()
        except ImportError as error:
            if sound_missing():
                raise SoundLost(f"Sound needs the Python package sounddevice ({error}).") from error
        except OSError as error:
            if sound_missing():
                raise SoundLost(SOUND_MISSING) from error
        return _first_open(with_server(devices), wish, rate, latency_seconds)

    return open_sink


def _first_open(devices: tuple[Device, ...], wish: str, rate: int, latency_seconds: float) -> Sink:
    reason = SoundLost(sound_missing() or wish_unmet(devices, wish))
    for device in candidates(devices, wish, sys.platform):
        try:
            if device.host == PULSE_HOST:
                return PulseSink(rate, latency_seconds)
            return PortSink(device, rate, latency_seconds)
        except SoundLost as failed:
            reason = failed
    raise reason


def _reason(error: Exception) -> str:
    """The words of an error, on one line."""
    text = error.args[0] if error.args else error
    return " ".join(str(text).split())
