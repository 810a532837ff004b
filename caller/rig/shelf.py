"""A shelf: what was costly to make, kept on disk between runs.

Conventions: a key is any text that names the content wholly (equal keys = as good as equal content); an item is a
small header of plain values and a body of bytes. One file an item, written beside its place and moved there at once,
so that two programs may share a shelf: each sees a whole item or none. Every read is checked against the item's own
SHA-256; a damaged item is thrown away and counts as not there. Nothing here raises for want of room, rights or a
folder: the shelf is then without effect, and ``fault`` says so.

A file: 16 bytes that name the format, the SHA-256 of the rest, the header's length in 4 bytes (little-endian), the
header as JSON (with the key under ``""``), the body.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from caller.outside import documents
from caller.storage.whole import own_folder, write_bytes

_MAGIC = b"caller shelf 1\r\n"
_DIGEST_BYTES = 32
_LENGTH_BYTES = 4
_SUFFIX = ".item"
DEFAULT_ROOM_BYTES = 256 * 1024 * 1024

HeaderValue = str | int | float


@dataclass(frozen=True, slots=True)
class ShelfItem:
    header: Mapping[str, HeaderValue]
    body: bytes = field(repr=False)


class Shelf:
    """Items in one folder, made when first needed. room_bytes: what :meth:`tidy` leaves at most.

    fault: "" or one sentence on why nothing is kept; set by the first failure, after which no more is written. Any
    thread may call any method.
    """

    def __init__(self, folder: Path, room_bytes: int = DEFAULT_ROOM_BYTES) -> None:
        self.folder = folder
        self.room_bytes = room_bytes
        self.fault = ""

    def get(self, key: str) -> ShelfItem | None:
        """The item, or None where there is none that is whole."""
        path = self._path(key)
        try:
            written = path.read_bytes()
        except OSError:
            return None
        item = _unpacked(written, key)
        if item is None:
            self.discard(key)
            return None
        with contextlib.suppress(OSError):
            os.utime(path)  # what was used last is thrown away last
        return item

    def put(self, key: str, header: Mapping[str, HeaderValue], body: bytes) -> None:
        """Keep an item, in place of any other under its key."""
        if self.fault:
            return
        try:
            self._write(self._path(key), _packed(key, header, body))
        except OSError as fault:
            reason = fault.strerror or type(fault).__name__
            self.fault = f"Nothing is kept between runs: {self.folder} can't be written ({reason.lower()})."

    def discard(self, key: str) -> None:
        with contextlib.suppress(OSError):
            self._path(key).unlink()

    def tidy(self) -> None:
        """Throw away the items used least lately until the rest fits the room."""
        found = sorted(_met(self.folder), key=lambda met: met.used, reverse=True)
        room = self.room_bytes
        for met in found:
            room -= met.bytes
            if room < 0:
                with contextlib.suppress(OSError):
                    met.path.unlink()

    def _path(self, key: str) -> Path:
        return self.folder / (hashlib.sha256(key.encode("utf-8", "replace")).hexdigest()[:40] + _SUFFIX)

    def _write(self, path: Path, packed: bytes) -> None:
        own_folder(self.folder)
        try:
            write_bytes(path, packed, private=True, durable=False)
        except PermissionError:
            # Windows, while another program has the item open: it is there already, so it is kept.
            if not path.exists():
                raise


@dataclass(frozen=True, slots=True)
class _Met:
    path: Path
    used: float
    bytes: int


def _met(folder: Path) -> list[_Met]:
    """The shelf's own files in a folder; those that vanish meanwhile are left out."""
    found = []
    for path in folder.glob(f"*{_SUFFIX}"):
        with contextlib.suppress(OSError):
            told = path.stat()
            found.append(_Met(path, told.st_mtime, told.st_size))
    return found


def _packed(key: str, header: Mapping[str, HeaderValue], body: bytes) -> bytes:
    told = json.dumps({**header, "": key}).encode()
    rest = len(told).to_bytes(_LENGTH_BYTES, "little") + told + body
    return _MAGIC + hashlib.sha256(rest).digest() + rest


def _unpacked(written: bytes, key: str) -> ShelfItem | None:
    """None where the bytes are no whole item under that key."""
    start = len(_MAGIC) + _DIGEST_BYTES
    rest = written[start:]
    if written[: len(_MAGIC)] != _MAGIC or hashlib.sha256(rest).digest() != written[len(_MAGIC) : start]:
        return None
    length = int.from_bytes(rest[:_LENGTH_BYTES], "little")
    try:
        header = documents.json(rest[_LENGTH_BYTES : _LENGTH_BYTES + length], dict[str, HeaderValue])
    except documents.Unreadable:
        return None
    if header.pop("", None) != key:
        return None
    return ShelfItem(header, rest[_LENGTH_BYTES + length :])
