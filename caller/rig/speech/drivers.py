"""The synthesisers themselves, the usual one through pyttsx3: known to the worker's process alone, and to its main
thread alone.

Conventions: one utterance for each ``save_to_file`` and ``runAndWait`` (two saves and one run would write only the
last); what comes out is checked by whoever asked, since the synthesisers report no failure to write.

On Linux the espeakng-loader wheel carries the library and its voices, so no system package is needed. Rate, pitch and
voice are set on the library itself and waited for: set through pyttsx3's queue, half of the phrases came at the rate
of the one before, and an unknown voice went unnoticed.
"""

from __future__ import annotations

import contextlib
import ctypes
import importlib
import os
import time
from collections.abc import Callable
from dataclasses import asdict
from importlib.metadata import version as package_version
from pathlib import Path
from typing import Any

from caller.rig.speech.sources import SOURCES, USUAL, missing
from caller.rig.speech.voicing import Driver, VoiceFound, Voiceless, VoiceMissing

# espeak-ng 1.52 keeps its data path in 160 bytes and ends the whole program where it does not fit.
_LONGEST_DATA_PATH = 120
_LIBRARY = "libespeak-ng.so.1"
# The system's own voices may finish their file a little after they say so.
_SETTLE_STEP_SECONDS = 0.02
_SETTLE_STEPS = 100


def open_driver(folder: Path, source: str = USUAL) -> Driver:
    """The synthesiser of a source. folder: where a short name for its voices may be put. Raises Voiceless."""
    lacks = missing(source)
    if lacks:
        raise Voiceless(lacks)
    try:
        opened: Driver = driver_class(source)(folder)
        return opened
    except ImportError as fault:
        raise Voiceless(f"A voice of {source} needs the package {fault.name}: pip install {fault.name}") from fault
    except Exception as fault:  # the libraries raise whatever they like here; all of it means the same
        remedy = f"pip install --force-reinstall {SOURCES[source].install}" if source in SOURCES else "reinstall it"
        raise Voiceless(f"The speech synthesiser {source} does not start ({_first_line(fault)}): {remedy}") from fault


def driver_class(source: str) -> type[Any]:
    """The class that speaks a source, made with that folder. Nothing of the source is imported by that."""
    module, name = SOURCES[source].driver.split(":")
    found: type[Any] = getattr(importlib.import_module(f"caller.rig.speech.{module}"), name)
    return found


class EspeakDriver:
    """espeak-ng, from the wheel where it is installed, else the system's."""

    def __init__(self, folder: Path) -> None:
        _make_espeak_findable(folder)
        import pyttsx3
        from pyttsx3.drivers import _espeak

        self._speech = pyttsx3.init("espeak")
        self._library: Any = _espeak
        _espeak.dll.espeak_Info.restype = ctypes.c_char_p
        self.version = f"espeak-ng {_espeak.dll.espeak_Info(None).decode()}, pyttsx3 {package_version('pyttsx3')}"

    def voices(self) -> tuple[VoiceFound, ...]:
        return _voices_of(self._speech)

    def save(self, text: str, voice: str, rate: int, pitch: int, file: Path) -> None:
        if voice:
            self._set_voice(voice)
        self._library.SetParameter(self._library.RATE, rate, 0)
        self._library.SetParameter(self._library.PITCH, pitch, 0)
        self._library.Synchronize()
        self._speech.save_to_file(text, str(file))
        self._speech.runAndWait()
        self._library.Synchronize()

    def _set_voice(self, voice: str) -> None:
        """Raises VoiceMissing. The id is asked back: an unknown variant ("+f9") would be left out in silence."""
        refused = self._library.SetVoiceByName(voice.encode())
        self._library.Synchronize()
        now = self._library.GetCurrentVoice().contents.identifier.decode().lower()
        if refused or voice.lower() not in (now, now.split("/")[-1]):
            raise VoiceMissing(voice)


class SystemDriver:
    """The voices that come with macOS (as AIFF) or Windows. They know no pitch."""

    def __init__(self, folder: Path) -> None:
        import pyttsx3

        self._speech = pyttsx3.init()
        self._own = self._speech.getProperty("voice")
        self._voices = _voices_of(self._speech)
        self.version = f"{self._speech}, pyttsx3 {package_version('pyttsx3')}"

    def voices(self) -> tuple[VoiceFound, ...]:
        return self._voices

    def save(self, text: str, voice: str, rate: int, pitch: int, file: Path) -> None:
        self._speech.setProperty("voice", choose_voice(voice, self._voices, self._own))
        self._speech.setProperty("rate", rate)
        self._speech.save_to_file(text, str(file))
        self._speech.runAndWait()
        _settle(file)


def choose_voice(wanted: str, voices: tuple[VoiceFound, ...], own: str) -> str:
    """The id of the voice wanted: by id, by language (the system's own first, where it speaks it), by a part of its
    name; the system's own for "". Raises VoiceMissing."""
    if not wanted:
        return own
    own_first = sorted(voices, key=lambda voice: voice.id != own)
    fits: tuple[Callable[[VoiceFound], bool], ...] = (
        lambda voice: voice.id == wanted,
        lambda voice: any(_speaks(tag, wanted) for tag in voice.languages),
        lambda voice: wanted.casefold() in voice.name.casefold(),
    )
    found = next((voice.id for fit in fits for voice in own_first if fit(voice)), None)
    if found is None:
        raise VoiceMissing(wanted)
    return found


def found_as_table(voice: VoiceFound) -> dict[str, Any]:
    return asdict(voice)


def _speaks(tag: str, wanted: str) -> bool:
    """Whether a language tag ("en_US") is the one wanted ("en") or a kind of it."""
    tag, wanted = tag.replace("_", "-").casefold(), wanted.replace("_", "-").casefold()
    return tag == wanted or tag.startswith(f"{wanted}-")


def _voices_of(speech: Any) -> tuple[VoiceFound, ...]:
    return tuple(
        VoiceFound(str(voice.id), str(voice.name), tuple(str(tag) for tag in voice.languages or ()))
        for voice in speech.getProperty("voices")
    )


def _make_espeak_findable(folder: Path) -> None:
    """Load the wheel's library under the name pyttsx3 looks for. Without the wheel: the system's, if there is one."""
    try:
        import espeakng_loader
    except ImportError:
        return
    carried = Path(espeakng_loader.get_library_path()).parent
    os.environ["ESPEAK_DATA_PATH"] = str(short_path(carried, folder))
    ctypes.CDLL(str(carried / _LIBRARY), mode=ctypes.RTLD_GLOBAL)


def short_path(path: Path, folder: Path) -> Path:
    """The path, or a link to it from ``folder`` where espeak would cut it off."""
    if len(os.fsencode(path)) <= _LONGEST_DATA_PATH:
        return path
    link = folder / "espeak"
    with contextlib.suppress(FileExistsError):
        link.symlink_to(path, target_is_directory=True)
    return link


def _settle(file: Path) -> None:
    """Wait until the file has grown to its end, 2 s at most."""
    before = -1
    for _ in range(_SETTLE_STEPS):
        now = file.stat().st_size if file.exists() else 0
        if now and now == before:
            return
        before = now
        time.sleep(_SETTLE_STEP_SECONDS)


def _first_line(fault: Exception) -> str:
    return (str(fault) or type(fault).__name__).splitlines()[0]
