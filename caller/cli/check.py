"""``caller check``: can these sheets be danced, and if not, where and why."""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from pathlib import Path
from typing import Any

from caller.cli.leaving import told_where
from caller.cli.listing import walls_in
from caller.cli.say import Refused, finding_document, print_findings, print_json, warn
from caller.cli.sheets import Sheet, find, load, vocabulary
from caller.routine.findings import Finding


def add(commands: Any) -> None:
    words = commands.add_parser(
        "check", help="every fault of a sheet, with its line", description="Every finding, with line and column."
    )
    words.add_argument("sheets", nargs="+", metavar="SHEET")
    words.add_argument("--json", action="store_true", help="one JSON document")
    words.add_argument("--watch", action="store_true", help="one sheet on a page, checked again whenever it is saved")
    words.set_defaults(run=run)


def watch(asked: argparse.Namespace) -> int:
    """One sheet with its findings, until the page is left; the status is that of its last state."""
    if len(asked.sheets) != 1 or asked.json or not sys.stdout.isatty():
        raise Refused("--watch shows one SHEET on a terminal, and no JSON")
    from caller.screen.findings import show_findings

    words = vocabulary()
    path = find(asked.sheets[0], words).path

    def again(path: Path) -> tuple[str, tuple[Finding, ...]]:
        sheet = load(path, words)
        return sheet.read.text, sheet.findings

    with told_where():
        show_findings(path, again)
    return 0 if load(path, words).ok else 1


def run(asked: argparse.Namespace) -> int:
    if asked.watch:
        return watch(asked)
    words = vocabulary()
    sheets: list[Sheet] = []
    status = 0
    for name in asked.sheets:
        try:
            sheets.append(find(name, words))
        except Refused as refused:
            warn(str(refused))
            status = refused.status
    if asked.json:
        print_json([_document(sheet) for sheet in sheets])
    else:
        for sheet in sheets:
            print_findings(str(sheet.path), sheet.findings, sheet.read.text)
            print(_verdict(sheet))
    return status or (0 if all(sheet.ok for sheet in sheets) else 1)


def _document(sheet: Sheet) -> dict[str, object]:
    routine = sheet.routine
    return {
        "sheet": str(sheet.path),
        "title": sheet.title,
        "ok": sheet.ok,
        "counts": routine.header.counts or routine.counts,
        "walls": walls_in(sheet),
        "findings": [finding_document(f) for f in sheet.findings],
    }


def _verdict(sheet: Sheet) -> str:
    tally = Counter(f.severity.value for f in sheet.findings)
    plural = {"error": "errors", "warning": "warnings", "advice": "pieces of advice"}
    found = ", ".join(f"{n} {kind if n == 1 else plural[kind]}" for kind, n in sorted(tally.items())) or "nothing found"
    verdict = "can be danced" if sheet.ok else "can't be danced as it stands"
    return f"{sheet.title}: {verdict} ({found})"
