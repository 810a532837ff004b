"""Sound devices: which there are, which to try first, and what to say where there is none.

Conventions: sounddevice is imported inside functions only, since importing it starts PortAudio, which takes a while
and may print on the process's stderr. The caller's own process never does: it asks a short-lived child.
"""

from __future__ import annotations

import ctypes
import ctypes.util
import json
import sys
from collections.abc import Sequence
from dataclasses import asdict, dataclass

from caller.children.once import TooLong, run
from caller.children.starting import python
from caller.outside import documents

CHANNELS = 2
LISTING_SECONDS = 10.0

PORTAUDIO_MISSING = "Sound needs the PortAudio library: sudo apt install libportaudio2"
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
    """portaudio: its version text, or "" where it is missing. best: the device that is tried first, or "". sentence:
    what is missing and what to do, or "" where all is well."""

    portaudio: str
    devices: tuple[Device, ...]
    best: str
    sentence: str


def portaudio_missing() -> str:
    """What to install before anything can sound, or "". Quick: loads the library, doesn't start it."""
    if not sys.platform.startswith("linux"):
        return ""  # the wheels for other systems bring their own
    try:
        ctypes.CDLL("libportaudio.so.2")
    except OSError:
        return "" if ctypes.util.find_library("portaudio") else PORTAUDIO_MISSING
    return ""


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
    missing = portaudio_missing()
    if missing:
        return SoundReport("", (), "", missing)
    try:
        listing = run(python("caller.rig.devices"), LISTING_SECONDS)
    except TooLong:
        return SoundReport("", (), "", "The sound system doesn't answer: restart the sound server, or the machine.")
    return _report(listing.last)


def print_listing() -> None:
    """The listing as one line of JSON, last on stdout (libraries may print before it)."""
    try:
        import sounddevice as sd

        content = {"version": sd.get_portaudio_version()[1], "devices": [asdict(device) for device in listed()]}
    except (ImportError, OSError) as error:
        content = {"error": str(error)}
    print("\n" + json.dumps(content))


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
    if listing.error:
        return SoundReport("", (), "", f"Sound can't be started ({listing.error}).")
    best = candidates(listing.devices, "", sys.platform)
    return SoundReport(listing.version, listing.devices, best[0].name if best else "", "" if best else NO_DEVICE)


if __name__ == "__main__":
    print_listing()
