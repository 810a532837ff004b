"""MIDI clock out: pulses sent when they are heard, from a thread of its own.

Conventions: seconds are ``time.perf_counter``'s. The session's thread only hands over frozen values, which replace one
another whole; nobody waits and nothing is locked. The thread waits for each pulse and sends it.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from typing import Protocol

from caller.clock.pulses import (
    PULSES_A_COUNT,
    STOP,
    frame_of_pulse,
    pulse_from,
    sent_with,
    sets_off,
)
from caller.clock.timeline import HeardTimeline

# Longest wait before what is followed is looked at anew.
GLANCE_SECONDS = 0.004
# The reported position jitters by a block between polls: a small difference is followed slowly.
SLIGHT_SECONDS, SHARE = 0.04, 0.1


class Out(Protocol):
    """A MIDI output. Neither raises: a port that is gone takes what it is sent."""

    def send(self, message: bytes) -> None: ...

    def close(self) -> None: ...


class Pulses:
    """Which messages are due: pure but for what it remembers of what was sent."""

    def __init__(self) -> None:
        self._beat: HeardTimeline | None = None
        self._pulse = 0
        self._running = False

    def follow(self, beat: HeardTimeline | None, now: float) -> tuple[bytes, ...]:
        """From now on; returns what has to be sent at once: a stop, where the dance was left or begins elsewhere."""
        same = beat is not None and self._beat is not None and beat.take == self._beat.take
        if not same and beat is not None:
            self._pulse = pulse_from(beat.timeline, round((now - beat.zero_seconds) * beat.timeline.rate))
        self._beat = beat
        stopped = self._running and not same
        self._running = self._running and not stopped
        return (STOP,) if stopped else ()

    @property
    def due_seconds(self) -> float:
        """When the next pulse is due; infinite where there is none."""
        if self._beat is None or self._pulse >= self._beat.end * PULSES_A_COUNT:
            return float("inf")
        frame = frame_of_pulse(self._beat.timeline, self._pulse)
        return self._beat.zero_seconds + frame / self._beat.timeline.rate

    def next(self) -> tuple[bytes, ...]:
        """The next pulse's messages, and on to the one after it."""
        if self._beat is None:
            return ()
        first = int(self._beat.start * PULSES_A_COUNT)
        messages = sent_with(self._pulse, first, self._running)
        self._running = self._running or sets_off(self._pulse, first, self._running)
        self._pulse += 1
        return messages


class ClockOut:
    """Threads: ``follow`` and ``close`` from the session's; the rest is the sending thread's."""

    def __init__(self, out: Out) -> None:
        self._out = out
        self._beat: HeardTimeline | None = None
        self._closing = threading.Event()
        self._thread = threading.Thread(target=self._send, name="MIDI clock", daemon=True)
        self._thread.start()

    def follow(self, beat: HeardTimeline | None) -> None:
        """What is heard now; None: nothing is danced. Doesn't wait."""
        self._beat = steadied(self._beat, beat)

    def close(self) -> None:
        """Stops whoever follows; back within a tenth of a second."""
        self._closing.set()
        self._thread.join(0.1)

    def _send(self) -> None:
        pulses, beat = Pulses(), None
        while not self._closing.is_set():
            if self._beat is not beat:
                beat = self._beat
                self._out_all(pulses.follow(beat, time.perf_counter()))
            ahead = pulses.due_seconds - time.perf_counter()
            if ahead <= 0:
                self._out_all(pulses.next())
            else:
                self._closing.wait(min(ahead, GLANCE_SECONDS))
        self._out_all(pulses.follow(None, time.perf_counter()))
        self._out.close()

    def _out_all(self, messages: tuple[bytes, ...]) -> None:
        for message in messages:
            self._out.send(message)


def steadied(before: HeardTimeline | None, after: HeardTimeline | None) -> HeardTimeline | None:
    """What to follow, given what was: the same take a little off is drawn near; anything else at once."""
    if before is None or after is None or before.take != after.take:
        return after
    off = after.zero_seconds - before.zero_seconds
    return after if abs(off) > SLIGHT_SECONDS else replace(after, zero_seconds=before.zero_seconds + SHARE * off)


class MidiOut:
    """A MIDI port to send to. Raises OSError where there is none that fits or it can't be opened."""

    def __init__(self, wish: str) -> None:
        from caller.rig.pedal.port import quiet_stderr

        with quiet_stderr():
            try:
                from mido import Backend

                from caller.rig.midi import backend_name

                backend = Backend(backend_name())
                name = next((name for name in backend.get_output_names() if wish.casefold() in name.casefold()), None)
                if name is None:
                    raise OSError(f"no MIDI output is called {wish!r}")
                self._port = backend.open_output(name)
            except (ImportError, OSError) as fault:
                raise OSError(f"MIDI clock can't be sent: {fault}") from fault

    def send(self, message: bytes) -> None:
        from mido import Message

        with suppress(OSError):  # gone: it is heard of no more
            self._port.send(Message.from_bytes(message))

    def close(self) -> None:
        with suppress(OSError):
            self._port.close()


def open_clock(wish: str, make: Callable[[str], Out] = MidiOut) -> ClockOut:
    """Raises OSError with one sentence."""
    return ClockOut(make(wish))
