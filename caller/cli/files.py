"""Files that a command reads and writes, by the names that were typed: nothing is written over what is read,
nor over anything else unless that was asked for."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterable
from pathlib import Path

from caller.cli.say import Refused


def add_over_word(words: argparse.ArgumentParser) -> None:
    words.add_argument(
        "--over",
        action="store_true",
        help="overwrite a file that the caller didn't make, or that was changed since",
    )


def typed_path(name: str | Path) -> Path:
    """The path of a name as typed; "~nobody" is a name like any other."""
    try:
        return Path(name).expanduser()
    except RuntimeError:
        return Path(name)


def output(name: str, inputs: Iterable[Path | str | None]) -> Path:
    """The file to write, by the name that was typed. Raises Refused for one of those that the command reads."""
    path = typed_path(name)
    for one in inputs:
        if one is not None and is_same(path, typed_path(one)):
            raise Refused(f"{path} is what this is made from: name another file to write", 1)
    return path


def is_same(path: Path, other: Path) -> bool:
    """Whether both are one file, by whatever names and links."""
    try:
        return os.path.samefile(path, other)
    except OSError:  # one of them isn't there
        return path.resolve() == other.resolve()
