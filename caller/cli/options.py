"""A command's options as a value of their own type, read once where the command begins.

Conventions: a field for each word of the command, by the name that argparse keeps it under. A type that several
commands share may have fields with a default, which hold where a command has no such word. No other module knows
argparse's own value.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import fields
from typing import Any, TypeVar

_OWN = {"command", "action", "ask", "run"}  # argparse's way to the command
Options = TypeVar("Options")


def runs(words: argparse.ArgumentParser, kind: type[Options], run: Callable[[Options], int]) -> None:
    """Has ``run`` run the command that these words are of, given its options."""
    words.set_defaults(run=lambda asked: run(read(kind, asked)))


def read(kind: type[Options], asked: argparse.Namespace) -> Options:
    """Raises TypeError where a word of the command has no field, or a field without a default no word."""
    named: Any = kind
    known = {field.name for field in fields(named)}
    given = {name: value for name, value in vars(asked).items() if name not in _OWN}
    if forgotten := given.keys() - known:
        raise TypeError(f"{kind.__name__} has no field for {', '.join(sorted(forgotten))}")
    return kind(**given)
