"""From a class to a page in another process: the newest facts in one small file of the user's own.

Conventions: one class writes, any number of pages read; a text stands behind its number, length and checksum, so that
one caught half written is read again at the next look. The writer holds a lock on the file for as long as it lives, by
which readers know that there is a class. Nothing here waits.
"""

from __future__ import annotations

import os
import stat
import struct
import zlib
from pathlib import Path
from typing import TYPE_CHECKING

from caller.screen.page.facts import NO_CLASS, text_of
from caller.storage.locks import locked
from caller.storage.whole import own_folder

if TYPE_CHECKING:
    from caller.screen.board import Board

_HEAD = struct.Struct("<QII")
# Windows would write another line end, POSIX follow a link; a pipe would be waited on.
_OURS = getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
MOST_BYTES = 256 * 1024
LOOKS_A_CHECK = 20


def spool_path() -> Path:
    """Where it is, its folder made. Raises OSError where it can't be."""
    import platformdirs

    return own_folder(platformdirs.user_cache_path("caller")) / "now-showing"


class Spool:
    """The writing side. Where another class writes already, or no file can be kept, nothing is written, and the class
    goes on all the same."""

    def __init__(self, path: Path) -> None:
        self._file = _opened(path)
        self._number = 0  # 0 = the file is not ours yet

    def publish(self, board: Board) -> None:
        text = text_of(board).encode()
        if self._file is None or len(text) > MOST_BYTES or not self._ours():
            return
        self._number += 1
        try:
            os.lseek(self._file, 0, os.SEEK_SET)
            os.write(self._file, _HEAD.pack(self._number, len(text), zlib.crc32(text)) + text)
        except OSError:  # a full disk is no reason to stop a class
            self.close()

    def close(self) -> None:
        """The class is over: pages say so."""
        if self._file is not None:
            os.close(self._file)
            self._file = None

    def _ours(self) -> bool:
        """Tried at each text until it is: a reader that looks in may hold the file for a moment."""
        if not self._number and self._file is not None and locked(self._file):
            self._number = _number_in(self._file) + 1
        return bool(self._number)


class Follower:
    """The reading side."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._number = -1
        self._looks = 0
        self._runs = False

    def newer(self) -> str | None:
        """What shows now, if it has changed since last asked."""
        try:
            with self._path.open("rb") as file:
                head = file.read(_HEAD.size)
                if len(head) < _HEAD.size:
                    return None
                number, length, checksum = _HEAD.unpack(head)
                text = file.read(length) if number != self._number and length <= MOST_BYTES else b""
        except OSError:
            return None
        if number == self._number or zlib.crc32(text) != checksum:
            return None
        self._number = number
        return text.decode()

    def class_runs(self) -> bool:
        """Whether there is a class that writes. Where there is none, what it wrote last is forgotten."""
        file = _opened(self._path, make=False)
        if file is None:
            return False
        runs = not locked(file, shared=True)
        os.close(file)
        if not runs:
            self._number = -1
        return runs

    def look(self) -> str | None:
        """What a page is to show from now on: a class's newest facts, or that there is no class; None = as before.
        Whether there is one is looked at now and then only."""
        if self._looks % LOOKS_A_CHECK == 0 or not self._runs:
            self._runs = self.class_runs()
        self._looks += 1
        return self.newer() if self._runs else NO_CLASS


def _opened(path: Path, make: bool = True) -> int | None:
    """None where there is no such file, or it is none of ours: a link would have another file written over."""
    try:
        file = os.open(path, os.O_RDWR | _OURS | (os.O_CREAT if make else 0), 0o600)
    except OSError:
        return None
    if stat.S_ISREG(os.fstat(file).st_mode):
        return file
    os.close(file)
    return None


def _number_in(file: int) -> int:
    os.lseek(file, 0, os.SEEK_SET)
    head = os.read(file, _HEAD.size)
    return int(_HEAD.unpack(head)[0]) if len(head) == _HEAD.size else 0
