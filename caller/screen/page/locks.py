"""Locks on an open file, kept until it is closed, on systems with and without POSIX's.

Conventions: file descriptors. Nothing waits.
"""

from __future__ import annotations

import os
import sys

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
