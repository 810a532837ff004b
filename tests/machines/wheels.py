"""What the program needs, resolved for every Python and system it is said to run on, from wheels alone.

``python -m tests.machines.wheels``: needs `uv` (``pip install uv``), whose resolver, unlike pip's, reads the markers of
packages for the machine that is asked about instead of this one. Nothing is built and nothing installed. Ends with 1
where a package lacks a wheel, and says which.

The platforms are uv's names: glibc 2.28 (Debian 10, RHEL 8 and later), macOS 13, Windows on 64-bit Intel.
"""

from __future__ import annotations

import subprocess
import sys
import tomllib
from concurrent.futures import ThreadPoolExecutor
from itertools import product
from pathlib import Path

PROJECT = Path(__file__).parents[2] / "pyproject.toml"
PLATFORMS = (
    "x86_64-manylinux_2_28",
    "aarch64-manylinux_2_28",
    "aarch64-apple-darwin",
    "x86_64-apple-darwin",
    "x86_64-pc-windows-msvc",
)
PYTHON = "Programming Language :: Python :: 3."


def pythons() -> list[str]:
    """Those that pyproject.toml names in its classifiers."""
    classifiers = tomllib.loads(PROJECT.read_text("utf-8"))["project"]["classifiers"]
    return [name.rsplit(" ", 1)[1] for name in classifiers if name.startswith(PYTHON)]


def lacks(platform: str, python: str) -> str:
    """What can't be had there from wheels, in the resolver's words, or ""."""
    command = (
        *("uv", "pip", "compile", "--quiet", "--no-config", "--only-binary", ":all:"),
        *("--python-platform", platform, "--python-version", python, str(PROJECT)),
    )
    done = subprocess.run(command, capture_output=True, text=True)
    return "" if done.returncode == 0 else done.stderr.strip()


def main() -> int:
    machines = list(product(PLATFORMS, pythons()))
    with ThreadPoolExecutor(2) as pool:
        reasons = list(pool.map(lambda machine: lacks(*machine), machines))
    for (platform, python), reason in zip(machines, reasons, strict=True):
        if reason:
            print(f"Python {python} on {platform}:\n{reason}", file=sys.stderr)
    print(f"wheels: all there on {reasons.count('')} of {len(machines)} machines")
    return int(any(reasons))


if __name__ == "__main__":
    sys.exit(main())
