"""What every synthesiser's driver is, and how it refuses.

Conventions: a driver lives in the worker's process and its main thread alone; one call of ``save`` writes one file.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Protocol


class Voiceless(Exception):
    """No speech on this machine: one sentence, with what to do."""


class Unspoken(Exception):
    """This phrase can't be said so: one sentence."""


class VoiceMissing(Unspoken):
    """No phrase can be said so: the synthesiser has no such voice."""

    def __init__(self, voice: str) -> None:
        super().__init__(f'The synthesiser has no voice "{voice}"; `caller voices --ids` shows those it has.')
        self.voice = voice


@dataclass(frozen=True, slots=True)
class VoiceFound:
    """A voice of a synthesiser. languages: such as ("en-us",)."""

    id: str
    name: str
    languages: tuple[str, ...]


class Driver(Protocol):
    """version: of what speaks. save: blocks until the file is written; raises Unspoken."""

    version: str

    def voices(self) -> tuple[VoiceFound, ...]: ...

    def save(self, text: str, voice: str, rate: int, pitch: int, file: Path) -> None: ...
