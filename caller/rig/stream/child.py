"""Children of our own program: what a spawned interpreter needs to find this package."""

from __future__ import annotations

import os
from pathlib import Path

import caller


def child_environment() -> dict[str, str]:
    """This process's environment, with the folder that this package was imported from first on the path: before the
    folder that the program was started in, which may hold another of the same name."""
    home = str(Path(caller.__file__).resolve().parent.parent)
    paths = [home, *filter(None, [os.environ.get("PYTHONPATH", "")])]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(paths), "PYTHONSAFEPATH": "1"}
