"""The board: how far the player has come, in memory that two processes share, so that reading it never waits.

Conventions: one writer at a time; any number of readers. A reading is written whole with a checksum of itself, so one
that is met half written is known for torn, whatever order the machine's memory lets the bytes appear in; it is read
again, and if need be the last whole one serves.

Beside the reading stands the number of the last hush asked for, which the other side writes: a player sees it before
its next block, without a thread having to wake first on either side.
"""

from __future__ import annotations

import contextlib
import mmap
import os
import struct
import zlib
from dataclasses import dataclass, fields
from pathlib import Path

from caller.storage.passing import PassingFile

TRIES = 4
DEVICE_BYTES, FAULT_BYTES = 120, 400

# written, heard, at_seconds, underruns, late, hush, hushed_at, begun, device, fault; then the checksum of these.
_FIELDS = struct.Struct(f"<qqdqqqq?{DEVICE_BYTES}s{FAULT_BYTES}s")
_SUM = struct.Struct("<I")
_SIZE = _FIELDS.size + _SUM.size
_ASKED = struct.Struct("<q")
_ASKED_AT = -(-_SIZE // _ASKED.size) * _ASKED.size  # where the machine writes it at one go


@dataclass(frozen=True, slots=True)
class BoardReading:
    """begun: whether frame 0 has been played or, without sound, its time has come. hush: the number of the last hush
    obeyed, and ``hushed_at`` its stream frame. The rest as in ``caller.sound.speaker.Heard``; long sentences are
    cut."""

    written: int = 0
    heard: int = 0
    at_seconds: float = 0.0
    underruns: int = 0
    late: int = 0
    hush: int = 0
    hushed_at: int = 0
    begun: bool = False
    device: str = ""
    fault: str = ""

    def heard_by(self, now_seconds: float, rate: int) -> int:
        """The stream frame at the ear by the clock alone."""
        return self.heard + (round((now_seconds - self.at_seconds) * rate) if self.begun else 0)


class SharedBoard:
    """A board on a file's pages. The file is in memory where the system has such a place: pages that a disk is writing
    back may make a writer wait, and the player must not."""

    def __init__(self, path: Path) -> None:
        self.path = path
        with path.open("r+b") as file:
            self._map = mmap.mmap(file.fileno(), _ASKED_AT + _ASKED.size)
        self._last = BoardReading()
        self._made: PassingFile | None = None  # where it is ours

    @classmethod
    def create(cls) -> SharedBoard:
        memory = Path("/dev/shm")
        made = PassingFile("caller-board-", memory if os.access(memory, os.W_OK) else None)
        made.path.write_bytes(_packed(BoardReading()).ljust(_ASKED_AT + _ASKED.size, b"\0"))
        board = cls(made.path)
        board._made = made
        return board

    def write(self, reading: BoardReading) -> None:
        self._last = reading
        self._map[:_SIZE] = _packed(reading)

    def read(self) -> BoardReading:
        """The newest whole reading."""
        for _ in range(TRIES):
            packed = self._map[:_SIZE]
            if _SUM.unpack_from(packed, _FIELDS.size)[0] == zlib.crc32(packed[: _FIELDS.size]):
                self._last = _unpacked(packed)
                break
        return self._last

    def ask_hush(self, number: int) -> None:
        """For whoever hands the player its orders: ``number`` counts the hushes of one speaker, from 1."""
        _ASKED.pack_into(self._map, _ASKED_AT, number)

    def hush_asked(self) -> int:
        """The number of the last hush asked for, 0 before the first."""
        return int(_ASKED.unpack_from(self._map, _ASKED_AT)[0])

    def close(self) -> None:
        self._map.close()

    def discard(self) -> None:
        """Close it and take its file away, if nobody has (where a file in use can't be, the last to close it does)."""
        self.close()
        if self._made is not None:
            self._made.close()
        with contextlib.suppress(OSError):
            self.path.unlink()


def _packed(reading: BoardReading) -> bytes:
    content = _FIELDS.pack(
        reading.written,
        reading.heard,
        reading.at_seconds,
        reading.underruns,
        reading.late,
        reading.hush,
        reading.hushed_at,
        reading.begun,
        _cut(reading.device, DEVICE_BYTES),
        _cut(reading.fault, FAULT_BYTES),
    )
    return content + _SUM.pack(zlib.crc32(content))


def _unpacked(packed: bytes) -> BoardReading:
    *numbers, device, fault = _FIELDS.unpack_from(packed)
    names = (field.name for field in fields(BoardReading))
    return BoardReading(**dict(zip(names, (*numbers, _text(device), _text(fault)), strict=True)))


def _cut(text: str, size: int) -> bytes:
    return text.encode()[:size]


def _text(field: bytes) -> str:
    """What a field says; a character cut in two at its end is left out."""
    return field.rstrip(b"\0").decode(errors="ignore")
