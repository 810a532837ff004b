"""MIDI ports: which there are, and one to listen to.

Conventions: a port is known by its stable name, without the numbers that ALSA puts behind it. rtmidi is imported inside
functions only: it may be missing, and its library prints on the process's stderr when there is no sequencer, so fd 2
points nowhere while it is asked.

CALLER_MIDI_API in the environment chooses among the ways to the system's MIDI that the library has ("LINUX_ALSA",
"UNIX_JACK", ...); without it the library chooses. A JACK server that is started anew needs this program started anew.
"""

from __future__ import annotations

import os
import re
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from itertools import count
from typing import Any, Protocol

API_VARIABLE = "CALLER_MIDI_API"

_KEYS = "Space and Page Down do the same"
MISSING = f"none: MIDI support is missing (pip install python-rtmidi); {_KEYS}"
NO_SYSTEM = f"none: this machine has no MIDI; {_KEYS}"
NONE_FOUND = "none found: plug one in, or use Space or Page Down"

# What mido raises, and rtmidi, all but its own RtMidiError, for which it must have been imported.
FAULTS: tuple[type[Exception], ...] = (OSError, SystemError, RuntimeError, ValueError, MemoryError)
FIRST_REAL_TIME = 0xF8

Message = tuple[bytes, float]  # a whole message, and time.perf_counter() when it came


class MidiMissing(Exception):
    """One sentence: why no port can be had. for_good: it will stay so while the program runs."""

    def __init__(self, sentence: str, for_good: bool = False) -> None:
        super().__init__(sentence)
        self.for_good = for_good


class Ports(Protocol):
    """The MIDI inputs of this machine."""

    def names(self) -> list[str]:
        """Stable names, in the system's order."""
        ...

    def open(self, name: str, inbox: deque[Message]) -> Callable[[], None]:
        """Listens to a port; whole messages go into ``inbox`` from a thread of the library's. Returns how to stop,
        which raises nothing. Raises OSError where it can't be opened (held elsewhere, gone)."""
        ...

    def close(self) -> None: ...


@contextmanager
def quiet_stderr() -> Iterator[None]:
    """What C libraries print on fd 2 meanwhile goes nowhere. Without effect where there is no fd 2."""
    try:
        kept = os.dup(2)
    except OSError:
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
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


def told_apart(fulls: Iterable[str], before: Mapping[str, str]) -> dict[str, str]:
    """Each full name with its stable one, in the same order. Of ports that have the same, the second is "NAME (2)", by
    when they came: before says what is known of those that were there already, and they keep it. Where a system gives
    two ports the very same full name, they count as one: neither could be opened by it for sure."""
    there = list(dict.fromkeys(full for full in fulls if not full.startswith("Midi Through")))
    known = {full: before[full] for full in there if full in before}
    for full in there:
        if full not in known:
            name = stable(full)
            numbered = (name if n == 1 else f"{name} ({n})" for n in count(1))
            known[full] = next(one for one in numbered if one not in known.values())
    return {full: known[full] for full in there}


class RtPorts:
    """The ports that mido finds through python-rtmidi. Raises MidiMissing where there is no library or no MIDI.

    One input is kept for asking names, since making one each time leaks on some systems.
    """

    def __init__(self) -> None:
        self._mido, rtmidi = _libraries()
        self._known: dict[str, str] = {}
        self._faults = (*FAULTS, rtmidi.RtMidiError)
        api = _api(rtmidi)
        with quiet_stderr():
            try:
                self._asking = rtmidi.MidiIn(api, name="caller")
            except self._faults as fault:
                raise MidiMissing(NO_SYSTEM) from fault

    def names(self) -> list[str]:
        self._known = told_apart(self._full_names(), self._known)
        return list(self._known.values())

    def open(self, name: str, inbox: deque[Message]) -> Callable[[], None]:
        """mido opens it and hands over whole messages, running status already undone by the system."""
        self.names()
        full = next((full for full, known in self._known.items() if known == name), None)
        with quiet_stderr():
            try:
                if full is None:
                    raise OSError(f"{name} is gone")
                port = self._mido.Backend(_backend()).open_input(full, callback=_into(inbox))
            except self._faults as fault:
                raise OSError(f"{name} can't be opened; another program may hold it") from fault
        return lambda: let_go(port, self._faults)

    def close(self) -> None:
        self._asking.delete()

    def _full_names(self) -> list[str]:
        with quiet_stderr():
            try:
                return list(self._asking.get_ports())
            except self._faults:
                return []


def _libraries() -> tuple[Any, Any]:
    try:
        import mido
        import rtmidi
    except ImportError as fault:
        raise MidiMissing(MISSING, for_good=True) from fault
    return mido, rtmidi


def _api(rtmidi: Any) -> int:
    """The number of the way that the environment asks for; 0 where it asks for none."""
    asked = os.environ.get(API_VARIABLE, "")
    if not asked:
        return 0
    ways = {name[4:]: getattr(rtmidi, name) for name in dir(rtmidi) if name.startswith("API_")}
    there = {name: number for name, number in ways.items() if number in rtmidi.get_compiled_api()}
    if asked not in there:
        raise MidiMissing(f"none: {API_VARIABLE} is {asked!r}, but may be {' or '.join(sorted(there))}", for_good=True)
    return int(there[asked])


def _backend() -> str:
    api = os.environ.get(API_VARIABLE, "")
    return f"mido.backends.rtmidi/{api}" if api else "mido.backends.rtmidi"


def _into(inbox: deque[Message]) -> Callable[[Any], None]:
    """Called from the library's thread: it only appends, which never waits. Clock and sensing, which some pedals send
    all the time, are left out."""

    def take(message: Any) -> None:
        came = time.perf_counter()
        sent = bytes(message.bytes())
        if sent[0] < FIRST_REAL_TIME:
            inbox.append((sent, came))

    return take


class Closable(Protocol):
    def close(self) -> None: ...


def let_go(port: Closable, faults: tuple[type[Exception], ...] = FAULTS) -> None:
    """Closes a port, which some systems refuse once it is unplugged: it is gone then all the same."""
    with quiet_stderr(), suppress(*faults):
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
