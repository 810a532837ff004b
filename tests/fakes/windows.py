"""What Windows has in place of POSIX's calls, on a system with both: enough to run our way for it.

``msvcrt.locking`` as its documentation has it: a lock on bytes from the file's position on, held by the open file, that
fails at once with OSError where another open file holds one of them.
"""

from __future__ import annotations

import fcntl
import os
import struct
import types

import pytest


def locking(file: int, mode: int, number: int) -> None:
    assert mode == LK_NBLCK
    begins = os.lseek(file, 0, os.SEEK_CUR)
    wish = struct.pack("hhqqhxxxxxx", fcntl.F_WRLCK, os.SEEK_SET, begins, number, 0)
    fcntl.fcntl(file, fcntl.F_OFD_SETLK, wish)


LK_NBLCK = 2


def windows(monkeypatch: pytest.MonkeyPatch) -> None:
    """From now on ``sys.platform`` is Windows', msvcrt is there, and what POSIX alone has is not."""
    msvcrt = types.ModuleType("msvcrt")
    vars(msvcrt).update(locking=locking, LK_NBLCK=LK_NBLCK)
    monkeypatch.setattr("sys.platform", "win32")
    monkeypatch.setitem(__import__("sys").modules, "msvcrt", msvcrt)
    monkeypatch.setitem(__import__("sys").modules, "fcntl", None)
    for name in ("pwrite", "pread", "fork", "nice", "geteuid", "getuid", "sched_getaffinity", "killpg", "fchmod"):
        monkeypatch.delattr(os, name, raising=False)
