"""MIDI ports: which there are, and one to listen to.

Conventions: a port is known by its stable name, without the numbers that ALSA puts behind it. The library is imported
inside functions only: it may be missing, and it prints on the process's stderr when there is no sequencer, so fd 2
points nowhere while it is asked. A JACK server that is started anew needs this program started anew.
"""

from __future__ import annotations

import os
import re
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from itertools import count, islice
from typing import Any, Protocol

from caller.rig.pedal.arrivals import Arrivals

_KEYS = "Space or Page Down works instead"
MISSING = f"none: MIDI support is missing (pip install supriya-midi); {_KEYS}"
NO_ALSA = f"none: MIDI needs the ALSA library (sudo apt install alsa-utils); {_KEYS}"
NO_SYSTEM = f"none: no MIDI here; {_KEYS}"
NONE_FOUND = "none found: plug one in, or use Space or Page Down"

MOST_AT_ONCE = 4096  # a flood that goes on must not hold up the screen
FIRST_REAL_TIME = 0xF8

Message = tuple[bytes, float]  # a whole message, and when it came


class MidiMissing(Exception):
    """One sentence: why no port can be had. for_good: it will stay so while the program runs."""

    def __init__(self, sentence: str, for_good: bool = False) -> None:
        super().__init__(sentence)
        self.for_good = for_good


class Port(Protocol):
    """One input that is listened to. Neither raises."""

    def pending(self, now: float) -> tuple[Message, ...]:
        """The whole messages that came since it was last asked, in order. Call it often (a hundred times a second):
        what comes between two calls is timed by the system that handed it over, but no better than that."""
        ...

    def close(self) -> None: ...


class Ports(Protocol):
    """The MIDI inputs of this machine."""

    def names(self) -> list[str]:
        """Stable names, in the system's order."""
        ...

    def open(self, name: str) -> Port:
        """Raises OSError where it can't be opened (held elsewhere, gone)."""
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


class MidoPorts:
    """The ports that mido finds through ``caller.rig.midi``. Raises MidiMissing where there is no library or no MIDI.

    One client is kept for asking names, since making one each time leaks on some systems.
    """

    def __init__(self) -> None:
        self._known: dict[str, str] = {}
        with quiet_stderr():
            try:
                from caller.rig import midi

                self._asking = midi.opened_input(os.environ.get(midi.API_VARIABLE))
            except ImportError as fault:
                raise MidiMissing(NO_ALSA if "libasound" in str(fault) else MISSING, for_good=True) from fault
            except midi.UnknownApi as fault:
                raise MidiMissing(f"none: {fault}", for_good=True) from fault
            except OSError as fault:
                raise MidiMissing(NO_SYSTEM) from fault

    def names(self) -> list[str]:
        self._known = told_apart(self._full_names(), self._known)
        return list(self._known.values())

    def open(self, name: str) -> Port:
        from mido import Backend

        from caller.rig.midi import backend_name

        self.names()
        full = next((full for full, known in self._known.items() if known == name), None)
        if full is None:
            raise OSError(f"{name} is gone")
        with quiet_stderr():
            try:
                return MidoPort(Backend(backend_name()).open_input(full), time.perf_counter())
            except OSError as fault:
                raise OSError(f"{name} can't be opened; another program may hold it") from fault

    def close(self) -> None:
        self._asking.delete()

    def _full_names(self) -> list[str]:
        from caller.rig.midi import port_names

        with quiet_stderr(), suppress(OSError):
            return port_names(self._asking)
        return []


class MidoPort:
    """An input of mido's, from ``now`` on. Clock and sensing, which some pedals send all the time, are left out."""

    def __init__(self, port: Any, now: float) -> None:
        self._port = port
        self._arrivals = Arrivals(now)

    def pending(self, now: float) -> tuple[Message, ...]:
        came: list[Any] = []
        with suppress(OSError):  # a port that is gone has nothing more; its name goes too, which is what is looked at
            came.extend(islice(self._port.iter_pending(), MOST_AT_ONCE))
        sent = [bytes(message.bytes()) for message in came]
        times = self._arrivals.times([message.time for message in came], now)
        return tuple((one, when) for one, when in zip(sent, times, strict=True) if one[0] < FIRST_REAL_TIME)

    def close(self) -> None:
        """Some systems refuse once it is unplugged: it is gone then all the same."""
        with quiet_stderr(), suppress(OSError):
            self._port.close()


@dataclass(frozen=True, slots=True)
class PedalReport:
    """ports: stable names. says: one sentence on how it is, with what to do where there is none."""

    ports: tuple[str, ...]
    says: str


def pedal_report(make: Callable[[], Ports] = MidoPorts) -> PedalReport:
    """Asks once; never raises."""
    try:
        ports = make()
    except MidiMissing as missing:
        return PedalReport((), str(missing))
    names = tuple(ports.names())
    ports.close()
    return PedalReport(names, f"found {', '.join(names)}" if names else NONE_FOUND)
