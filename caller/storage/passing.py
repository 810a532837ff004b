"""What is there only while it is used: passing folders and files, and what a killed program left of them.

Conventions: each is locked for as long as its maker lives (the system lets go however that ends), so that what can be
locked by somebody else is left over. Looking for it is the first thing that the next one does. Where folders can't be
locked (Windows), one that is older than a day is left over.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from functools import cache
from pathlib import Path
from types import TracebackType

from caller.storage.locks import locked

STALE_SECONDS = 86_400.0
FOLDERS_LOCK = sys.platform != "win32"
_TRIES = 5


class PassingFolder:
    """A folder of its maker's own, within ``parent`` (None: the system's for such), until it is closed."""

    def __init__(self, prefix: str, parent: Path | None = None) -> None:
        """Raises OSError."""
        where = Path(tempfile.gettempdir()) if parent is None else parent
        _tidy_once(where, prefix)
        self.path, self._lock = _made(lambda: Path(tempfile.mkdtemp(prefix=prefix, dir=where)))

    def close(self) -> None:
        shutil.rmtree(self.path, ignore_errors=True)
        _let_go(self._lock)

    def __enter__(self) -> Path:
        return self.path

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, at: TracebackType | None) -> None:
        self.close()


class PassingFile:
    """A file of its maker's own, empty at first, until it is closed."""

    def __init__(self, prefix: str, parent: Path | None = None) -> None:
        """Raises OSError."""
        where = Path(tempfile.gettempdir()) if parent is None else parent
        _tidy_once(where, prefix)
        self.path, self._lock = _made(lambda: _empty_file(prefix, where))

    def close(self) -> None:
        _let_go(self._lock)
        with contextlib.suppress(OSError):
            self.path.unlink()


@cache
def _tidy_once(parent: Path, prefix: str) -> None:
    """A folder may hold thousands of files, and many be written into it."""
    tidy(parent, prefix)


def tidy(parent: Path, prefix: str) -> None:
    """Takes away what was left over under that prefix."""
    with contextlib.suppress(OSError):
        for path in list(parent.glob(f"{prefix}*")):
            _take_away(path)


def _made(make: Callable[[], Path]) -> tuple[Path, int | None]:
    """Made and locked. Between the two somebody who tidies may have taken it away: then another."""
    for _ in range(_TRIES):
        path = make()
        lock = _locked(path)
        if path.exists():
            return path, lock
        _let_go(lock)
    raise OSError(f"no passing place can be kept beside {path}")


def _empty_file(prefix: str, where: Path) -> Path:
    descriptor, name = tempfile.mkstemp(prefix=prefix, dir=where)
    os.close(descriptor)
    return Path(name)


def _take_away(path: Path) -> None:
    with contextlib.suppress(OSError):
        if path.is_symlink() or (hasattr(os, "getuid") and path.stat().st_uid != os.getuid()):
            return
        lock = _locked(path)
        if lock is None and (FOLDERS_LOCK or path.is_file() or time.time() - path.stat().st_mtime < STALE_SECONDS):
            return
        try:
            if path.is_dir():
                shutil.rmtree(path, ignore_errors=True)
            else:
                path.unlink()
        finally:
            _let_go(lock)


def _locked(path: Path) -> int | None:
    """A descriptor that holds its lock; None where somebody else does, or there are no locks."""
    try:
        descriptor = os.open(path, os.O_RDONLY)
    except OSError:
        return None
    if locked(descriptor):
        return descriptor
    os.close(descriptor)
    return None


def _let_go(descriptor: int | None) -> None:
    if descriptor is not None:
        with contextlib.suppress(OSError):
            os.close(descriptor)
