"""``caller list``: the routines on hand."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Any

from caller.cli.options import runs
from caller.cli.say import number, print_json, warn
from caller.cli.sheets import Sheet, loaded_on_hand, own_folder, vocabulary
from caller.dance.check import walls_of
from caller.dance.unroll import unroll


@dataclass(frozen=True, kw_only=True)
class ListOptions:
    json: bool


def add(commands: Any) -> None:
    words = commands.add_parser(
        "list",
        help="list the routines on hand: shipped ones and your own",
        description="Lists the routines on hand: shipped ones and your own.",
    )
    words.add_argument("--json", action="store_true", help="print one JSON document")
    runs(words, ListOptions, run)


def walls_in(sheet: Sheet) -> int | None:
    """As the sheet says, else as a pass turns."""
    routine = sheet.routine
    if routine.header.walls is not None or not sheet.ok or not routine.sections:
        return routine.header.walls
    return walls_of(unroll(routine, 1).walls[0].ends)


def document(sheet: Sheet) -> dict[str, object]:
    header = sheet.routine.header
    return {
        "title": sheet.title,
        "path": str(sheet.path),
        "counts": header.counts or sheet.routine.counts,
        "walls": walls_in(sheet),
        "level": header.level,
        "tempo": number(header.tempo),
        "ok": sheet.ok,
    }


def run(asked: ListOptions) -> int:
    words = vocabulary()
    sheets = list(loaded_on_hand(words))
    if asked.json:
        print_json([document(sheet) for sheet in sheets])
        return 0
    if not sheets:
        warn(f"no routines on hand; put step sheets (.txt) into {own_folder()}")
    width = max((len(s.title) for s in sheets), default=0)
    titles = Counter(sheet.title.lower() for sheet in sheets)
    for sheet in sheets:
        facts = document(sheet)
        tempo = f"{facts['tempo']} counts a minute" if facts["tempo"] else "no tempo said"
        verdict = "" if sheet.ok else "   has errors: 'caller check' shows them"
        file = f"   {sheet.path.name}" if titles[sheet.title.lower()] > 1 else ""
        walls = f"{facts['walls'] or '?'} wall{'' if facts['walls'] == 1 else 's'}"
        size = f"{facts['counts']:>3} counts  {walls:<8}"
        print(f"{sheet.title:{width}}  {size}  {facts['level'] or '-':14} {tempo}{file}{verdict}")
    return 0
