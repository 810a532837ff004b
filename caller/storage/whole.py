"""Files that are whole or not there: the one way in which this program writes any.

Conventions: what is written stands in a passing folder beside its place until it is whole and on the disk (fsync), and
is then moved there at one go; a reader, or a power cut, meets the old file or the new one. Through a link, the file
itself is written. Nothing here asks: whoever calls says whether a file that is there may be replaced.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable
from pathlib import Path

from caller.storage.passing import PassingFolder

_PART = ".caller-part-"
PRIVATE = 0o600
_PRIVATE_FOLDER = 0o700


def write_whole(
    path: Path,
    write: Callable[[Path], object],
    *,
    replace: bool = True,
    private: bool = False,
    durable: bool = True,
) -> None:
    """What ``write`` puts into the file that it is handed, which has the suffix of ``path``.

    replace: a file that is there gives way; else FileExistsError, also for one that came meanwhile. private: for its
    owner alone; otherwise a file that is there keeps its permissions, and a new one has the usual. durable: False for
    what can be made again and is checked when it is read. Raises OSError; what was there is then as it was.
    """
    path = path.resolve()
    with PassingFolder(_PART, path.parent) as folder:
        part = folder / f"whole{path.suffix}"
        write(part)
        if private:
            part.chmod(PRIVATE)
        elif path.exists():
            part.chmod(path.stat().st_mode & 0o7777)
        if durable:
            _sync(part)
        _put(part, path, replace)
    if durable:
        _sync_folder(path.parent)


def write_bytes(
    path: Path, content: bytes, *, replace: bool = True, private: bool = False, durable: bool = True
) -> None:
    """The same for what is at hand. Raises OSError."""
    write_whole(path, lambda part: part.write_bytes(content), replace=replace, private=private, durable=durable)


def write_text(path: Path, text: str, *, replace: bool = True, private: bool = False) -> None:
    """The same for text, as it stands, in UTF-8. Raises OSError."""
    write_bytes(path, text.encode("utf-8"), replace=replace, private=private)


def own_folder(folder: Path) -> Path:
    """A folder of this user's own: made, with those above it, for its owner alone, where it isn't there. Raises
    OSError."""
    if not folder.is_dir():
        own_folder(folder.parent)
        folder.mkdir(mode=_PRIVATE_FOLDER, exist_ok=True)
    return folder


def set_aside(file: Path) -> Path:
    """A damaged file, or what else may not be lost, under another name, which is returned. Raises OSError."""
    aside = next(
        path
        for number in range(1, 1_000_000)
        if not (path := file.with_name(f"{file.stem}.damaged-{number}{file.suffix}")).exists()
    )
    os.replace(file, aside)
    return aside


def _put(part: Path, path: Path, replace: bool) -> None:
    if replace:
        os.replace(part, path)
        return
    try:
        os.link(part, path)  # fails where anything is there; a move would not
    except FileExistsError:
        raise
    except (OSError, NotImplementedError, AttributeError):  # a drive that knows no links, as many sticks are
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
        os.replace(part, path)


def _sync(file: Path) -> None:
    descriptor = os.open(file, os.O_RDWR)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _sync_folder(folder: Path) -> None:
    """So that the move itself outlives a power cut. Not every system can; the content is on the disk by then."""
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
