"""MIDI ports: which there are, and one to listen to.

Conventions: a port is known by its stable name, without the numbers that ALSA puts behind it. rtmidi is imported inside
functions only: it may be missing, and its library prints on the process's stderr when there is no sequencer, which the
screen draws on; so fd 2 points nowhere while it is asked.
"""

from __future__ import annotations

import os
import re
import time
from collections import deque
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Protocol

# "UNIX_JACK", "LINUX_ALSA", ...: which of the library's ways to the system's MIDI is taken, where it has several.
API_VARIABLE = "CALLER_MIDI_API"

MISSING = "none: MIDI support is missing (pip install python-rtmidi); Space and Page Down do the same"
NO_SYSTEM = "none: this machine has no MIDI; Space and Page Down do the same"
NONE_FOUND = "none found: plug one in, or use Space or Page Down"

Message = tuple[bytes, float]  # a whole message, and time.perf_counter() when it came


class MidiMissing(Exception):
    """One sentence: why no port can be had at all."""


class Ports(Protocol):
    """The MIDI inputs of this machine."""

    def names(self) -> list[str]:
        """Stable names, in the system's order."""
        ...

    def open(self, name: str, inbox: deque[Message]) -> Callable[[], None]:
        """Listens to a port; whole messages go into ``inbox`` from a thread of the library's. Returns how to stop.
        Raises OSError where it can't be opened (held elsewhere, gone)."""
        ...

    def close(self) -> None: ...


@contextmanager
def quiet_stderr() -> Iterator[None]:
    """What C libraries print on fd 2 meanwhile goes nowhere."""
    kept, nowhere = os.dup(2), os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 2)
    try:
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)


def stable(name: str) -> str:
    """ "FS-1 MIDI:FS-1 MIDI 1 24:0" is "FS-1 MIDI:FS-1 MIDI 1": ALSA numbers clients anew at each plugging in."""
    return re.sub(r"\s+\d+:\d+$", "", name)


class RtPorts:
    """The ports that mido finds through python-rtmidi. Raises MidiMissing where there is no library or no MIDI.

    One input is kept for asking names, since making one each time leaks on some systems.
    """

    def __init__(self) -> None:
        self._rtmidi = _library()
        self._asking = self._input()

    def names(self) -> list[str]:
        with quiet_stderr():
            try:
                found: list[str] = self._asking.get_ports()
            except (RuntimeError, SystemError, OSError):
                return []
        return [stable(name) for name in found if not _own(name)]

    def open(self, name: str, inbox: deque[Message]) -> Callable[[], None]:
        """mido opens it and hands over whole messages, running status already undone."""
        import mido

        with quiet_stderr():
            try:
                full = next(n for n in self._asking.get_ports() if stable(n) == name)
                port = mido.Backend(_backend()).open_input(full, callback=_into(inbox))
            except (StopIteration, RuntimeError, SystemError, OSError) as fault:
                raise OSError(f"{name} can't be opened; another program may hold it") from fault
        return lambda: _let_go(port)

    def close(self) -> None:
        self._asking.delete()

    def _input(self) -> Any:
        api = getattr(self._rtmidi, f"API_{os.environ.get(API_VARIABLE, 'UNSPECIFIED')}", 0)
        with quiet_stderr():
            try:
                return self._rtmidi.MidiIn(api, name="caller")
            except (RuntimeError, SystemError, OSError) as fault:
                raise MidiMissing(NO_SYSTEM) from fault


def _library() -> Any:
    try:
        import rtmidi
    except ImportError as fault:
        raise MidiMissing(MISSING) from fault
    return rtmidi


def _own(name: str) -> bool:
    """Ports of the system's own that no foot is on."""
    return name.startswith(("Midi Through", "caller"))


def _backend() -> str:
    api = os.environ.get(API_VARIABLE, "")
    return f"mido.backends.rtmidi/{api}" if api else "mido.backends.rtmidi"


def _into(inbox: deque[Message]) -> Callable[[Any], None]:
    """Called from the library's thread: it only appends, which never waits."""

    def take(message: Any) -> None:
        inbox.append((bytes(message.bytes()), time.perf_counter()))

    return take


def _let_go(port: Any) -> None:
    with quiet_stderr():
        port.close()


@dataclass(frozen=True, slots=True)
class PedalReport:
    """ports: stable names. says: one sentence on how it is, with what to do where there is none."""

    ports: tuple[str, ...]
    says: str


def pedal_report(make: Callable[[], Ports] = RtPorts) -> PedalReport:
    """Asks once; never raises."""
    try:
        ports = make()
    except MidiMissing as missing:
        return PedalReport((), str(missing))
    names = tuple(ports.names())
    ports.close()
    return PedalReport(names, f"found {', '.join(names)}" if names else NONE_FOUND)
