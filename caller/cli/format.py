"""``caller format``: the sheet in the standard layout."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from caller.cli.options import runs
from caller.cli.say import Refused, print_findings
from caller.cli.sheets import find, vocabulary
from caller.routine.findings import Severity
from caller.routine.notation.write import write_sheet
from caller.storage.whole import write_text


@dataclass(frozen=True, kw_only=True)
class FormatOptions:
    sheet: str
    write: bool


def add(commands: Any) -> None:
    words = commands.add_parser(
        "format",
        help="lay a sheet out in the standard way",
        description="Prints the sheet in the standard layout. Only --write changes the file.",
    )
    words.add_argument("sheet", metavar="SHEET")
    words.add_argument("--write", action="store_true", help="write it back to its file, whole or not at all")
    runs(words, FormatOptions, run)


def run(asked: FormatOptions) -> int:
    words = vocabulary()
    sheet = find(asked.sheet, words)
    if asked.write and sheet.found is not None and not sheet.is_text:
        raise Refused(f"{sheet.path} is {sheet.found.kind} and is left as it is; 'caller add' makes a sheet of it", 1)
    if not sheet.ok:
        print_findings(str(sheet.path), sheet.findings, sheet.read.text, to_stderr=True)
        raise Refused(f"{sheet.title!r} is left as it is: only a sheet that passes the check is written anew", 1)
    assumed = [finding for finding in sheet.findings if finding.severity is Severity.GUESS]
    print_findings(str(sheet.path), assumed, sheet.read.text, to_stderr=True)
    try:
        text = write_sheet(sheet.read, words)
    except ValueError as fault:
        raise Refused(f"{sheet.title!r} is left as it is: {fault}", 1) from fault
    if not asked.write:
        print(text, end="")
        return 0
    try:
        if text.encode() != sheet.path.read_bytes():
            write_text(sheet.path, text)
    except OSError as error:
        raise Refused(f"{sheet.path} can't be written: {error.strerror or error}; it is as it was", 1) from error
    print(f"{sheet.path}: written in the standard layout")
    return 0
