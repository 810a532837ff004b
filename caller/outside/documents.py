"""Files from outside, read within bounds: TOML and JSON of any content give a document or one sentence, soon.

Conventions: what a person writes is TOML and read by the standard library; what a machine wrote is JSON and is held to
the type that is asked for (msgspec). Whatever is wrong raises :class:`Unreadable`: also brackets inside brackets
without end, figures of thousands of digits, names of a hundred thousand parts. msgspec is imported when first needed.
"""

from __future__ import annotations

import os
import re
import stat
import tomllib
from pathlib import Path
from typing import Any, TypeVar

MOST_BYTES = 1_000_000
# A name in parts, "a.b.c", takes time by the square of its parts; ours have three.
_MOST_PARTS = 200
_PART = r"""(?:[A-Za-z0-9_-]++|"[^"\n]*+"|'[^'\n]*+')"""
_LONG_NAME = re.compile(rf"(?<![A-Za-z0-9_-]){_PART}(?:[ \t]*+\.[ \t]*+{_PART}){{{_MOST_PARTS}}}")
_MOST_TOLD = 200

Wanted = TypeVar("Wanted")


class Unreadable(ValueError):
    """A document that can't be read: one phrase on why."""


def read_head(file: Path, most: int) -> bytes:
    """A file's first bytes, one more than ``most`` where it has more. Raises OSError, also for what is no plain file: a
    pipe would be waited on for ever."""
    # O_NONBLOCK: to open a pipe that nobody writes to would wait before its kind can be asked.
    descriptor = os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with open(descriptor, "rb") as opened:
        if not stat.S_ISREG(os.fstat(descriptor).st_mode):
            raise OSError(0, "it is no plain file", str(file))
        return opened.read(most + 1)


def read_bytes(file: Path, most: int = MOST_BYTES) -> bytes:
    """A file's content. Raises OSError, and Unreadable for one that is far too long."""
    raw = read_head(file, most)
    if len(raw) > most:
        raise Unreadable(f"it has more than {most:,} bytes")
    return raw


def read_text(file: Path, most: int = MOST_BYTES) -> str:
    """The same as text. Raises OSError, Unreadable."""
    try:
        return read_bytes(file, most).decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise Unreadable("it is no UTF-8 text") from fault


def toml(text: str) -> dict[str, Any]:
    """A TOML text's document. Raises Unreadable."""
    if _LONG_NAME.search(text):
        raise Unreadable("it is no TOML that can be read: a name has far too many parts")
    try:
        return tomllib.loads(text)
    except RecursionError as fault:
        raise Unreadable("it is no TOML that can be read: brackets stand too deep inside brackets") from fault
    except ValueError as fault:  # tomllib's own, and an int's of too many digits
        raise Unreadable(f"it is no TOML: {_cut(str(fault))}") from fault


def json(raw: bytes | str, wanted: type[Wanted]) -> Wanted:
    """A JSON document of the type ``wanted``, held to it strictly. Raises Unreadable."""
    import msgspec

    try:
        return msgspec.json.decode(raw, type=wanted)
    except RecursionError as fault:
        raise Unreadable("it is no JSON that can be read: brackets stand too deep inside brackets") from fault
    except (msgspec.MsgspecError, ValueError) as fault:
        raise Unreadable(_cut(str(fault))) from fault


def _cut(sentence: str) -> str:
    plain = " ".join(sentence.split())
    return plain if len(plain) <= _MOST_TOLD else f"{plain[:_MOST_TOLD]}…"
