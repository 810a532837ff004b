"""Locks on an open file, kept until it is closed, on systems with and without POSIX's.

Conventions: file descriptors; seconds. ``locked`` doesn't wait, ``alone`` does.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

# Windows knows no lock that several may share: whoever only looks locks one byte of those that the owner locks all of,
# so that two who look hardly ever meet. Far behind the text, since a locked byte can't be read there.
_FIRST_BYTE, _BYTES = 1 << 30, 64


def locked(file: int, shared: bool = False) -> bool:
    """Locks the file until it is closed, if nobody else has. shared: with others that look in."""
    try:
        if sys.platform == "win32":
            import msvcrt

            first, number = (_FIRST_BYTE + os.getpid() % _BYTES, 1) if shared else (_FIRST_BYTE, _BYTES)
            os.lseek(file, first, os.SEEK_SET)
            msvcrt.locking(file, msvcrt.LK_NBLCK, number)
        else:
            import fcntl

            fcntl.flock(file, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


WAITS_SECONDS, LOOK_SECONDS = 5.0, 0.01


@contextmanager
def alone(file: Path, waits_seconds: float = WAITS_SECONDS) -> Iterator[None]:
    """While no other of our programs reads a file of ours, changes it and writes it back: of two that do at once, none
    undoes the other's change. What is locked is the file's folder, or, where that can't be, a file beside it. Whoever
    waits for longer goes on all the same, since a change that is lost is worse than one that may be."""
    try:
        if sys.platform == "win32":
            held = os.open(file.with_name(f"{file.name}.lock"), os.O_RDWR | os.O_CREAT)
        else:
            held = os.open(file.parent, os.O_RDONLY)
    except OSError:  # there is nothing yet to be undone, or nothing can be written: that is told when it is tried
        yield
        return
    try:
        for _ in range(round(waits_seconds / LOOK_SECONDS)):
            if locked(held):
                break
            time.sleep(LOOK_SECONDS)
        yield
    finally:
        os.close(held)
