"""A mido backend over RtMidi, as the package supriya-midi carries it: its wheels are there for every Python and system
that this program runs on.

Conventions: ``mido.Backend(backend_name())`` is how the rest of the rig comes to MIDI. An input is polled, it calls
nobody back: the driver's thread puts what arrives into a queue of the library's own and never waits for the
interpreter, so that a busy one loses nothing. ``Message.time`` is the seconds since the message before it on the same
port, by the system's own clock (0 for the first). Whatever goes wrong raises OSError.

CALLER_MIDI_API in the environment chooses among the MIDI systems that the library knows ("LINUX_ALSA", "UNIX_JACK",
...); without it the first that answers is taken.
"""

from __future__ import annotations

import ctypes
import os
import sys
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Any, TypeVar

from mido.messages import Message
from mido.ports import BaseInput, BaseOutput

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from supriya_midi import MidiIn, MidiOut, RtMidiAPI

Client = TypeVar("Client", "MidiIn", "MidiOut")

API_VARIABLE = "CALLER_MIDI_API"
CLIENT = "caller"
LONGEST_QUEUE = 4096  # messages; four seconds of the most that a MIDI cable carries


class UnknownApi(OSError):
    """A MIDI system that this machine's library doesn't know. asked: its name; known: those that there are."""

    def __init__(self, asked: str, known: list[str]) -> None:
        super().__init__(f"{API_VARIABLE} is {asked!r}, but may be {' or '.join(known)}")


def backend_name() -> str:
    """What mido is to be given: this module, with the system that the environment asks for."""
    api = os.environ.get(API_VARIABLE, "")
    return f"{__name__}/{api}" if api else __name__


def api_names() -> list[str]:
    """The MIDI systems that the library knows here. Raises ImportError without the library."""
    _use_own_jack()
    from supriya_midi import RtMidiAPI, get_compiled_apis

    return sorted(api.name for api in get_compiled_apis() if api is not RtMidiAPI.RTMIDI_DUMMY)


def opened_input(api: str | None = None, name: str = CLIENT) -> MidiIn:
    """A client that has no port yet. name: what other programs call it. Raises OSError where no MIDI system answers,
    UnknownApi where ``api`` names none, ImportError without the library."""
    _use_own_jack()
    from supriya_midi import MidiIn

    return _first_that_answers(lambda number: MidiIn(number, name, LONGEST_QUEUE), api)


def opened_output(api: str | None = None, name: str = CLIENT) -> MidiOut:
    """As :func:`opened_input`."""
    _use_own_jack()
    from supriya_midi import MidiOut

    return _first_that_answers(lambda number: MidiOut(number, name), api)


def port_names(client: MidiIn | MidiOut) -> list[str]:
    """Full names, in the system's order. Raises OSError where the system is gone."""
    with as_os_errors():
        return list(client.get_ports())


def get_devices(api: str | None = None, **_: object) -> list[dict[str, Any]]:
    """mido's: every port that another program or device has opened."""
    inputs, outputs = opened_input(api), opened_output(api)
    ins, outs = port_names(inputs), port_names(outputs)
    inputs.delete()
    outputs.delete()
    names = dict.fromkeys([*ins, *outs])
    return [{"name": name, "is_input": name in ins, "is_output": name in outs} for name in names]


@contextmanager
def as_os_errors() -> Iterator[None]:
    """The library raises RuntimeError from its constructors and an exception of its own from the rest."""
    from supriya_midi import RtMidiError

    try:
        yield
    except (RtMidiError, RuntimeError, ValueError, SystemError, NotImplementedError) as fault:
        raise OSError(str(fault)) from fault


class Input(BaseInput):  # type: ignore[misc]
    """mido's input port; see the module's head."""

    def _open(self, virtual: bool = False, api: str | None = None, callback: object = None, **names: str) -> None:
        if callback is not None:
            raise OSError("this backend is polled: it takes no callback")
        self._client = opened_input(api, names.get("client_name", CLIENT))
        try:
            _connect(self._client, self.name, virtual)
            with as_os_errors():
                # Only system exclusives are left out: of other messages left out, the time to the next would be lost.
                self._client.ignore_types(True, False, False)
        except OSError:
            self._client.delete()
            raise

    def _receive(self, block: bool = True) -> None:
        """mido waits for a message, where it is to, by asking again and again."""
        with as_os_errors():
            while (came := self._client.get_message()) is not None:
                content, seconds = came
                try:
                    message = Message.from_bytes(content, time=seconds)
                except ValueError:
                    continue  # nothing that the MIDI standard knows
                self._messages.append(message)
                return

    def _close(self) -> None:
        _let_go(self._client)


class Output(BaseOutput):  # type: ignore[misc]
    """mido's output port."""

    def _open(self, virtual: bool = False, api: str | None = None, **names: str) -> None:
        self._client = opened_output(api, names.get("client_name", CLIENT))
        try:
            _connect(self._client, self.name, virtual)
        except OSError:
            self._client.delete()
            raise

    def _send(self, message: Message) -> None:
        with as_os_errors():
            self._client.send_message(message.bytes())

    def _close(self) -> None:
        _let_go(self._client)


def _let_go(client: MidiIn | MidiOut) -> None:
    try:
        with as_os_errors():
            client.close_port()
    finally:
        client.delete()


def _connect(client: MidiIn | MidiOut, name: str | None, virtual: bool) -> None:
    if virtual:
        with as_os_errors():
            client.open_virtual_port(name or CLIENT)
        return
    names = port_names(client)
    if name is not None and name not in names:
        raise OSError(f"no MIDI port is called {name!r}")
    if not names:
        raise OSError("there is no MIDI port")
    with as_os_errors():
        client.open_port(0 if name is None else names.index(name), CLIENT)


def _first_that_answers(make: Callable[[RtMidiAPI], Client], api: str | None) -> Client:
    """The library's own choice would be the first system that has a port at that moment: a pedal plugged in later, into
    another, would never be seen."""
    from supriya_midi import get_compiled_apis

    known = api_names()
    if api and api not in known:
        raise UnknownApi(api, known)
    reason = OSError("this library knows no MIDI system")
    for number in get_compiled_apis():
        if number.name == api or (not api and number.name in known):
            try:
                with as_os_errors():
                    client = make(number)
                    client.get_port_count()  # JACK's constructor raises nothing without a server
                return client
            except OSError as fault:
                reason = fault
    raise reason


def _use_own_jack() -> None:
    """The wheels for Linux carry a JACK library that speaks to old servers only: the machine's own, where there is one,
    is found before it once it is loaded for all."""
    if sys.platform.startswith("linux") and "supriya_midi" not in sys.modules:
        with suppress(OSError):
            ctypes.CDLL("libjack.so.0", mode=ctypes.RTLD_GLOBAL)
