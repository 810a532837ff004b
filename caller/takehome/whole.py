"""Files that are whole or not there."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from pathlib import Path


def write_whole(path: Path, write: Callable[[Path], None]) -> None:
    """What ``write`` puts into a passing file, moved to its place once it is whole; what was there stays until then.

    Raises OSError.
    """
    # A folder of its own rather than a file: mkstemp makes files that only their maker may read.
    with tempfile.TemporaryDirectory(prefix=".writing-", dir=path.parent, ignore_cleanup_errors=True) as folder:
        part = Path(folder, path.name)
        write(part)
        os.replace(part, path)


def write_text(path: Path, text: str) -> None:
    """The same for text, in UTF-8 with plain line ends; a file that already says it is left alone. Raises OSError."""
    whole = text.encode("utf-8")
    if path.is_file() and path.read_bytes() == whole:
        return

    def write(part: Path) -> None:
        part.write_bytes(whole)

    write_whole(path, write)
