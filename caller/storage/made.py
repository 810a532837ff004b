"""Which files this program made, so that it writes over no other: by their fingerprints.

Conventions: a fingerprint is the SHA-256 of a whole file, one a line in a file of this user's own. It says nothing of
the file's name or content, holds for any kind of file, and no longer fits once somebody has changed the file: what was
edited, cut or retagged since is somebody's work, and not ours to replace.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Callable
from pathlib import Path

from caller.storage.whole import own_folder, write_bytes, write_whole

FILE_NAME = "made-files"
# So many of the newest are kept: twice as many are written before the file is gone through.
MOST_KEPT = 5_000
_LINE_BYTES = 65


class NotOurs(Exception):
    """A file is there that this program didn't make, or that was changed since: one sentence."""


def made_file() -> Path:
    import platformdirs

    return platformdirs.user_data_path("caller") / FILE_NAME


def is_made(path: Path, kept: Path | None = None) -> bool:
    """Whether it is as this program wrote it. False where that can't be told."""
    try:
        return fingerprint(path) in (kept or made_file()).read_bytes().split()
    except OSError:
        return False


def note_made(path: Path, kept: Path | None = None) -> None:
    """That it was just written. Without effect where nothing can be kept: it then counts as somebody else's."""
    kept = kept or made_file()
    with contextlib.suppress(OSError):
        own_folder(kept.parent)
        line = fingerprint(path) + b"\n"
        descriptor = os.open(kept, os.O_CREAT | os.O_APPEND | os.O_WRONLY, 0o600)
        try:
            os.write(descriptor, line)  # at one go, so that two programs don't write into each other's lines
            length = os.fstat(descriptor).st_size
        finally:
            os.close(descriptor)
        if length > 2 * MOST_KEPT * _LINE_BYTES:
            newest = dict.fromkeys(reversed(kept.read_bytes().split()[-MOST_KEPT:]))
            write_bytes(kept, b"".join(line + b"\n" for line in reversed(newest)), private=True)


def fingerprint(path: Path) -> bytes:
    """Raises OSError."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest().encode()


def why_kept(path: Path, kept: Path | None = None) -> str:
    """Why a file that is there is not to be written over, in one phrase; "" where none is there, or it is ours."""
    if not os.path.lexists(path):
        return ""
    if path.exists() and not path.is_file():
        return "it is no plain file"
    return "" if is_made(path, kept) else "it is there already, and not as this program made it"


def write_made(path: Path, write: Callable[[Path], object], *, over: bool = False) -> None:
    """A file of a user's, written whole, unless another is there; over: also then. Raises NotOurs, and OSError where it
    can't be written."""
    there = os.path.lexists(path)
    if there and (why := why_kept(path)) and not (over and path.is_file()):
        raise NotOurs(f"{path} is left as it is: {why}; --over overwrites it")
    try:
        write_whole(path, write, replace=there)
    except FileExistsError as fault:
        raise NotOurs(f"{path} has come meanwhile and is left as it is; --over overwrites it") from fault
    note_made(path)


def write_made_text(path: Path, text: str, *, over: bool = False) -> None:
    """The same for text, in UTF-8 with plain line ends."""
    write_made_bytes(path, text.encode("utf-8"), over=over)


def write_made_bytes(path: Path, content: bytes, *, over: bool = False) -> None:
    """The same for what is at hand; a file that already holds it is left alone."""
    if path.is_file() and path.stat().st_size == len(content) and path.read_bytes() == content:
        return
    write_made(path, lambda part: part.write_bytes(content), over=over)
