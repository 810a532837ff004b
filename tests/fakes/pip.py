"""pip without a network: answers by script, and what it was asked."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from subprocess import CompletedProcess
from typing import Any


def row(name: str, version: str, **metadata: Any) -> dict[str, Any]:
    return {"metadata": {"name": name, "version": version, **metadata}}


@dataclass
class ScriptedPip:
    """plan: rows of its report, as pip's own "installation report" has them. fails: its last words, or an exception.
    installs: done when it is asked to install in earnest. asked: the arguments of every call."""

    plan: list[dict[str, Any]] = field(default_factory=list)
    fails: str | Exception = ""
    installs: Callable[[], None] = lambda: None
    asked: list[list[str]] = field(default_factory=list)

    def __call__(self, arguments: Sequence[str], limit: float) -> CompletedProcess[str]:
        self.asked.append(list(arguments))
        if isinstance(self.fails, Exception):
            raise self.fails
        if self.fails:
            return CompletedProcess(list(arguments), 1, "", self.fails)
        if "--dry-run" in arguments:
            return CompletedProcess(list(arguments), 0, json.dumps({"version": "1", "install": self.plan}), "")
        self.installs()
        return CompletedProcess(list(arguments), 0, "", "")
