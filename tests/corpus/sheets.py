"""The corpus: sound sheets of our own, and sheets with one fault each.

Each half has ``sound/*.txt`` and ``faults.toml``, whose entries put ``put`` in the place of ``find`` in a sound sheet;
the finding ``code`` must then stand at ``line``.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parent
HALVES = ("first", "second")


@dataclass(frozen=True)
class Fault:
    half: str
    sheet: str
    find: str
    put: str
    code: str
    line: int
    why: str

    @property
    def sound(self) -> str:
        return sheet_text(self.half, self.sheet)

    @property
    def faulty(self) -> str:
        assert self.sound.count(self.find) == 1, f"{self.sheet}: {self.find!r} must stand there just once"
        return self.sound.replace(self.find, self.put)


def sheet_text(half: str, name: str) -> str:
    return (FOLDER / half / "sound" / f"{name}.txt").read_bytes().decode("utf-8")


def sound_sheets() -> Iterator[tuple[str, str]]:
    """(half, name) of every sound sheet."""
    for half in HALVES:
        for path in sorted((FOLDER / half / "sound").glob("*.txt")):
            yield half, path.stem


def faults() -> Iterator[Fault]:
    for half in HALVES:
        for entry in tomllib.loads((FOLDER / half / "faults.toml").read_text(encoding="utf-8"))["fault"]:
            yield Fault(half=half, **entry)
