"""``caller doctor``: what works on this machine, and what to do about the rest."""

from __future__ import annotations

import platform
import re
from dataclasses import asdict, dataclass
from importlib.metadata import PackageNotFoundError, requires, version
from typing import Any

from caller.cli.options import runs
from caller.cli.say import print_json
from caller.cli.sheets import config_folder, on_hand, own_folder, shipped_folder


@dataclass(frozen=True, kw_only=True)
class DoctorOptions:
    json: bool


def add(commands: Any) -> None:
    words = commands.add_parser(
        "doctor",
        help="show what works on this machine, and what to do about the rest",
        description="Shows what works on this machine, and what to do about the rest.",
    )
    words.add_argument("--json", action="store_true", help="print one JSON document")
    runs(words, DoctorOptions, run)


def run(asked: DoctorOptions) -> int:
    found = survey()
    if asked.json:
        print_json(found)
        return 0
    sound, speech, pedal, files = found["sound"], found["speech"], found["pedal"], found["files"]
    print(_line("sound", sound["ok"], sound["says"]))
    print(_line("speech", speech["ok"], speech["says"]))
    print(_line("pedal", pedal["ok"], pedal["says"]))
    print(f"voices:   {', '.join(speech['voices']) or 'none'}")
    print(f"routines: {files['routines']} on hand; your own go into {files['own_routines']}")
    print(f"settings: {files['settings']}    speech kept in: {files['cache']}")
    versions = found["versions"]
    print(f"python {versions['python']} on {versions['system']}")
    print("packages: " + ", ".join(f"{name} {version}" for name, version in versions["packages"].items()))
    for advice in found["advice"]:
        print(f"to do: {advice}")
    return 0


def survey() -> dict[str, Any]:
    """Everything asked once; nothing raises, and what is missing comes with what to do."""
    sound, speech, pedal = _sound(), _speech(), _pedal()
    return {
        "sound": sound,
        "speech": speech,
        "pedal": pedal,
        "files": _files(),
        "versions": {
            "caller": _version("caller"),
            "python": platform.python_version(),
            "system": platform.platform(),
            "packages": _packages(),
        },
        "advice": [*(part["says"] for part in (sound, speech, pedal) if not part["ok"]), *speech["complaints"]],
    }


def _sound() -> dict[str, Any]:
    from caller.rig.devices import sound_report

    report = sound_report()
    return {
        "ok": not report.sentence,
        "says": report.sentence or f"plays on {report.best} ({report.library})",
        **asdict(report),
    }


def _speech() -> dict[str, Any]:
    from caller.rig.speech.survey import silent_voices, survey_speech

    found = survey_speech()
    complaints = [str(c) for file in found.files for c in file.complaints]
    if not found.fault:
        complaints += [
            f"the voice {name} asks for {id}, which is not here" for name, id in silent_voices(found).items()
        ]
    says = found.fault or f"{found.engine}, {found.version or found.installed}"
    return {
        "ok": not found.fault,
        "says": says,
        "voices": [f.voice.name for f in found.files if f.voice],
        "complaints": complaints,
    }


def _pedal() -> dict[str, Any]:
    from caller.rig.pedal import pedal_report

    report = pedal_report()
    return {"ok": bool(report.ports), "says": report.says.removeprefix("none: "), "ports": list(report.ports)}


def _files() -> dict[str, Any]:
    from caller.rig.speech.lexicon import cache_folder

    return {
        "routines": len(list(on_hand())),
        "shipped_routines": str(shipped_folder("routines")),
        "own_routines": str(own_folder()),
        "settings": str(config_folder()),
        "cache": str(cache_folder()),
    }


def _packages() -> dict[str, str]:
    """What the caller is installed with, each with its version; what is for other systems only where it is here."""
    try:
        wanted = requires("caller") or []
    except PackageNotFoundError:
        return {}
    found: dict[str, str] = {}
    for requirement in wanted:
        what, _, where = requirement.partition(";")
        name = re.split(r"[\s<>=!~\[(]", what.strip(), maxsplit=1)[0]
        if "extra" not in where and not (where and _version(name) == "missing"):
            found[name] = _version(name)
    return found


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "missing"


def _line(name: str, ok: bool, says: str) -> str:
    return f"{name + ':':9} {'works' if ok else 'MISSING'}: {says}"
