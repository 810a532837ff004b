"""The command that starts a child, and what it is given of our surroundings."""

from __future__ import annotations

import json
import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import caller

_BOOT = Path(__file__).resolve().parent / "boot.py"


def python(
    module: str,
    *words: str,
    memory_bytes: int = 0,
    cpu_seconds: int = 0,
    nice: int = 0,
    ends_with_stdin: bool = False,
) -> tuple[str, ...]:
    """Runs one of this package's modules in this Python; see ``caller.children.boot``."""
    options = {
        "package": str(Path(caller.__file__).resolve()),
        "paths": import_paths(),
        "memory_bytes": memory_bytes,
        "cpu_seconds": cpu_seconds,
        "nice": nice,
        "ends_with_stdin": ends_with_stdin,
    }
    return (sys.executable, "-I", str(_BOOT), json.dumps(options), module, *words)


@contextmanager
def safe_paths() -> Iterator[None]:
    """Interpreters that the standard library starts for us meanwhile don't look into the working folder first. (Where
    to look, it hands on to them itself.)"""
    before = dict(os.environ)
    os.environ.pop("PYTHONPATH", None)
    os.environ["PYTHONSAFEPATH"] = "1"
    try:
        yield
    finally:
        for name in ("PYTHONPATH", "PYTHONSAFEPATH"):
            os.environ.pop(name, None)
            if name in before:
                os.environ[name] = before[name]


def import_paths() -> list[str]:
    """Where this program itself imports from, but for the working folder, under whatever name it is there."""
    here = os.path.realpath(os.curdir)
    return [path for path in sys.path if os.path.isabs(path) and os.path.realpath(path) != here]


def environment() -> dict[str, str]:
    """Ours, without what would steer a child's Python."""
    return {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}


def cores() -> int:
    """How many of the machine's this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def creation_flags() -> int:
    """No console window of its own, on the one system where it would get one."""
    import subprocess

    return int(getattr(subprocess, "CREATE_NO_WINDOW", 0))


def program(name: str) -> str | None:
    """Another program's full path; None where it isn't there. One in the working folder is not meant, unless a full
    path in PATH names that folder."""
    folders = [path for path in os.environ.get("PATH", os.defpath).split(os.pathsep) if os.path.isabs(path)]
    found = shutil.which(name, path=os.pathsep.join(folders))
    return found if found and os.path.isabs(found) else None
