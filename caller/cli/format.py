"""``caller format``: the sheet in the standard layout."""

from __future__ import annotations

import argparse
import os
import tempfile
from pathlib import Path
from typing import Any

from caller.cli.say import Refused, print_findings
from caller.cli.sheets import find, vocabulary
from caller.routine.notation.write import write_sheet


def add(commands: Any) -> None:
    words = commands.add_parser(
        "format",
        help="the sheet in the standard layout",
        description="Prints the sheet in the standard layout; the file itself stays as it is unless --write is said.",
    )
    words.add_argument("sheet", metavar="SHEET")
    words.add_argument("--write", action="store_true", help="write it back to its file, wholly or not at all")
    words.set_defaults(run=run)


def run(asked: argparse.Namespace) -> int:
    words = vocabulary()
    sheet = find(asked.sheet, words)
    if asked.write and sheet.found is not None and not sheet.is_text:
        raise Refused(f"{sheet.path} is {sheet.found.kind} and is left as it is; 'caller add' makes a sheet of it", 1)
    if not sheet.ok:
        print_findings(str(sheet.path), sheet.findings, sheet.read.text, to_stderr=True)
        raise Refused(f"{sheet.title!r} is left as it is: only a sheet that passes the check is written anew", 1)
    text = write_sheet(sheet.read, words)
    if not asked.write:
        print(text, end="")
        return 0
    if text.encode() != sheet.path.read_bytes():
        replace_file(sheet.path, text)
    print(f"{sheet.path}: written in the standard layout")
    return 0


def replace_file(path: Path, text: str) -> None:
    """The new text in the file's place, wholly or not at all; its permissions are kept. Raises Refused."""
    path = path.resolve()  # through a link, the file itself
    part = None
    try:
        with tempfile.NamedTemporaryFile(
            "w", encoding="utf-8", newline="\n", dir=path.parent, prefix=f".{path.name}.", delete=False
        ) as file:
            part = Path(file.name)
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        part.chmod(path.stat().st_mode)
        part.replace(path)
    except OSError as error:
        if part is not None:
            part.unlink(missing_ok=True)
        raise Refused(f"{path} can't be written: {error.strerror or error}; it is as it was", 1) from error
