"""Sound devices: which there are, which to try first, and what to say where there is none.

Two libraries play: PortAudio (sounddevice), and on Linux, where that is not installed or doesn't know the sound server,
the server's own (libpulse, which PipeWire speaks too), through pasimple. CALLER_SOUND_LIBRARY in the environment
("portaudio", "pulse") allows one of them only.

Conventions: sounddevice is imported inside functions only, since importing it starts PortAudio, which takes a while
and may print on the process's stderr. The caller's own process never does: it asks a short-lived child.
"""

from __future__ import annotations

import ctypes
import ctypes.util
import json
import os
import sys
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from caller.children.once import TooLong, run
from caller.children.starting import python
from caller.outside import documents
from caller.sound.score import RATE

CHANNELS = 2
LISTING_SECONDS = 10.0

LIBRARY_VARIABLE = "CALLER_SOUND_LIBRARY"
PORTAUDIO, PULSE = "portaudio", "pulse"
PULSE_HOST = "PulseAudio"

PORTAUDIO_MISSING = "Recording needs the PortAudio library: sudo apt install libportaudio2"
SOUND_MISSING = (
    "Sound needs a sound server (PulseAudio or PipeWire) or the PortAudio library: sudo apt install libportaudio2"
)
NO_DEVICE = "No sound device is found: plug one in, or start the sound server; sound then comes by itself."

# Names to try first, in this order, for each platform; elsewhere the system's default comes first.
PREFERRED = {"linux": ("pipewire", "pulse", "default")}
# Where several host APIs list one device, this one is taken first (it resamples by itself).
PREFERRED_HOST = {"win32": "Windows WASAPI"}


@dataclass(frozen=True, slots=True)
class Device:
    """One way out. number: PortAudio's, good only until devices change; name and host last."""

    number: int
    name: str
    host: str
    channels: int
    default: bool


@dataclass(frozen=True, slots=True)
class SoundReport:
    """library: what plays on the best device, with its version, or "". best: the device that is tried first, or "".
    sentence: what is missing and what to do, or "" where all is well."""

    library: str
    devices: tuple[Device, ...]
    best: str
    sentence: str


def portaudio_missing() -> str:
    """What to install before anything can be recorded, or "". Quick: loads the library, doesn't start it."""
    if not _allowed(PORTAUDIO):
        return f"{LIBRARY_VARIABLE} leaves PortAudio out."
    if not sys.platform.startswith("linux"):
        return ""  # the wheels for other systems bring their own
    return "" if _loads("libportaudio.so.2") or ctypes.util.find_library("portaudio") else PORTAUDIO_MISSING


def pulse_there() -> bool:
    """Whether the sound server's own library is there; whether a server answers is another matter."""
    return sys.platform.startswith("linux") and _allowed(PULSE) and _loads("libpulse-simple.so.0")


def sound_missing() -> str:
    """What to install before anything can sound, or "". Quick."""
    return SOUND_MISSING if portaudio_missing() and not pulse_there() else ""


def _allowed(library: str) -> bool:
    return os.environ.get(LIBRARY_VARIABLE, library) == library


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def with_server(devices: Sequence[Device]) -> tuple[Device, ...]:
    """These, and the sound server by way of its own library, last, where PortAudio doesn't list it and it is there."""
    if not pulse_there() or any(device.name in ("pipewire", "pulse") for device in devices):
        return tuple(devices)
    number = 1 + max((device.number for device in devices), default=-1)
    return (*devices, Device(number, "pulse", PULSE_HOST, CHANNELS, default=False))


def listed() -> tuple[Device, ...]:
    """Devices that play two channels, as PortAudio sees them now. In a child process only. Raises OSError without
    PortAudio."""
    import sounddevice as sd

    hosts = sd.query_hostapis()
    default = sd.default.device[1]
    return tuple(
        Device(number, row["name"], hosts[row["hostapi"]]["name"], row["max_output_channels"], number == default)
        for number, row in enumerate(sd.query_devices())
        if row["max_output_channels"] >= CHANNELS
    )


def candidates(devices: Sequence[Device], wish: str, platform: str) -> tuple[Device, ...]:
    """Devices to try, best first. wish: "" (best), a number, a name or a part of one. None fits: ()."""
    if wish.isdecimal():
        return tuple(device for device in devices if device.number == int(wish))
    host = PREFERRED_HOST.get(platform, "")
    ranked = sorted(devices, key=lambda device: device.host != host)
    if wish:
        asked = wish.casefold()
        fits = [device for device in ranked if asked in device.name.casefold()]
        return tuple(sorted(fits, key=lambda device: device.name.casefold() != asked))
    names = PREFERRED.get(platform, ())
    places = {name: place for place, name in enumerate(names)}
    return tuple(sorted(ranked, key=lambda device: (places.get(device.name, len(names)), not device.default)))


def wish_unmet(devices: Sequence[Device], wish: str) -> str:
    """Why no device fits, in one sentence."""
    if not devices or not wish:
        return NO_DEVICE
    names = ", ".join(dict.fromkeys(device.name for device in devices))
    return f'No sound device is called "{wish}"; there are: {names}.'


def sound_report() -> SoundReport:
    """How sound is on this machine. Takes up to ten seconds where a device hangs."""
    if missing := sound_missing():
        return SoundReport("", (), "", missing)
    try:
        listing = run(python("caller.rig.devices"), LISTING_SECONDS)
    except TooLong:
        return SoundReport("", (), "", "The sound system doesn't answer: restart the sound server, or the machine.")
    return _report(listing.last)


def print_listing() -> None:
    """The listing as one line of JSON, last on stdout (libraries may print before it)."""
    content: dict[str, Any] = {"version": "", "devices": []}
    try:
        if not portaudio_missing():
            import sounddevice as sd

            content = {"version": sd.get_portaudio_version()[1], "devices": [asdict(device) for device in listed()]}
    except (ImportError, OSError) as error:
        content["error"] = str(error)
    known = tuple(Device(**row) for row in content["devices"])
    server = with_server(known)[len(known) :]
    if server and server_answers():
        content["devices"] += [asdict(device) for device in server]
    print("\n" + json.dumps(content))


def server_answers() -> bool:
    """Whether the sound server takes a stream. In a child process only: it may hang."""
    from caller.rig.stream.player import SoundLost
    from caller.rig.stream.pulse import PulseSink

    try:
        PulseSink(RATE, 0.1).close()
    except SoundLost:
        return False
    return True


@dataclass(frozen=True, slots=True)
class _Listing:
    """What the child prints."""

    version: str = ""
    devices: tuple[Device, ...] = ()
    error: str = ""


def _report(printed: bytes) -> SoundReport:
    try:
        listing = documents.json(printed, _Listing) if printed else _Listing(error="nothing was listed")
    except documents.Unreadable as fault:
        listing = _Listing(error=str(fault))
    best = next(iter(candidates(listing.devices, "", sys.platform)), None)
    if best is None:
        return SoundReport("", (), "", f"Sound can't be started ({listing.error})." if listing.error else NO_DEVICE)
    library = "the sound server's own library" if best.host == PULSE_HOST else listing.version
    return SoundReport(library, listing.devices, best.name, "")


if __name__ == "__main__":
    print_listing()
