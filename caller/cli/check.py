"""``caller check``: can these sheets be danced, and if not, where and why."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from caller.cli.leaving import told_where
from caller.cli.listing import walls_in
from caller.cli.options import runs
from caller.cli.say import Refused, finding_document, findings_lines, number, print_findings, print_json, warn
from caller.cli.sheets import Sheet, find, load, of_bytes, vocabulary
from caller.intake.found import MOST_FILE_BYTES
from caller.outside import documents

if TYPE_CHECKING:
    from pathlib import Path

    from caller.routine.parts import Cut, Routine
    from caller.routine.vocabulary import Vocabulary
    from caller.screen.sheet_rows import Checked


@dataclass(frozen=True, kw_only=True)
class CheckOptions:
    sheets: Sequence[str]
    lines: bool
    json: bool
    watch: bool


def add(commands: Any) -> None:
    words = commands.add_parser(
        "check",
        help="check sheets: every fault, with its line",
        description="Lists every fault, guess and warning, with line and column.",
    )
    words.add_argument("sheets", nargs="+", metavar="SHEET")
    words.add_argument("--lines", action="store_true", help="also show what each line was taken for")
    words.add_argument("--json", action="store_true", help="print one JSON document")
    words.add_argument(
        "--watch", action="store_true", help="show one sheet on a page, and check it again whenever it is saved"
    )
    runs(words, CheckOptions, run)


def watch(asked: CheckOptions) -> int:
    """One sheet with its findings, until the page is left; the status is that of its last state."""
    if len(asked.sheets) != 1 or asked.json or not sys.stdout.isatty():
        raise Refused("--watch shows one SHEET on a terminal, and no JSON")
    from caller.screen.findings import show_findings

    words = vocabulary()
    path = find(asked.sheets[0], words).path

    def checked(path: Path) -> Checked:
        """Raises OSError, which the page tells: the file may have become something else since."""
        return for_page(of_bytes(path, documents.read_head(path, MOST_FILE_BYTES), words), words)

    with told_where():
        show_findings(path, checked)
    return 0 if load(path, words).ok else 1


def for_page(sheet: Sheet, words: Vocabulary) -> Checked:
    """A sheet as the page shows it, beside what was understood of it."""
    from caller.screen.sheet_rows import Checked
    from caller.screen.understood import understood

    left_out = sheet.found.left_out if sheet.found is not None else ()
    told = tuple(f"left out: {line}" for line in left_out)
    return Checked(sheet.read.text, sheet.findings, understood(sheet.read, words), told)


def run(asked: CheckOptions) -> int:
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
        print_json([{"sheet": str(sheet.path), **document(sheet)} for sheet in sheets])
    else:
        for sheet in sheets:
            if asked.lines and sheet.found is not None:
                print(*plain_lines(sheet, words), sep="\n")
            else:
                print_findings(str(sheet.path), sheet.findings, sheet.read.text)
            print(verdict(sheet))
    return status or (0 if all(sheet.ok for sheet in sheets) else 1)


def plain_lines(sheet: Sheet, words: Vocabulary) -> Iterator[str]:
    """Each line with what it was taken for, then what was left out of the file, and what was found."""
    from caller.routine.layout.lines import plain_line
    from caller.screen.understood import understood

    assert sheet.found is not None
    yield f"{sheet.path.name}: {sheet.found.kind}"
    taken_for = understood(sheet.read, words)
    for at, line in enumerate(sheet.read.text.split("\n"), 1):
        if line.strip():
            yield f"{at:>3}  {plain_line(line)}"
            yield f"     = {plain_line(taken_for.get(at, 'note'))}"
    for line in sheet.found.left_out:
        yield f"left out: {plain_line(line)}"
    yield from findings_lines(str(sheet.path), sheet.findings, sheet.read.text)


def document(sheet: Sheet) -> dict[str, object]:
    """What is known of a sheet, for JSON."""
    routine = sheet.routine
    header = routine.header
    return {
        "title": sheet.title,
        "ok": sheet.ok,
        "counts": header.counts or routine.counts,
        "walls": walls_in(sheet),
        "meter": str(header.meter),
        "tempo": number(header.tempo),
        "intro": header.intro,
        "starts": header.starts.value if header.starts is not None else None,
        "level": header.level or None,
        "events": sorted(_events(routine), key=lambda event: event["line"]),
        "lines": [{"line": line, "role": role.value} for line, role in sorted(sheet.read.roles.items())],
        "findings": [finding_document(f) for f in sheet.findings],
    }


def _events(routine: Routine) -> Iterator[dict[str, Any]]:
    """One for each wall that an event falls on. after: counts into the wall, null at its end; counts: of the steps that
    are put in, null where none are."""

    def event(kind: str, cut: Cut | None, counts: int | None, line: int) -> dict[str, Any]:
        wall, after = (cut.wall, cut.after) if cut is not None else (None, None)
        return {"kind": kind, "wall": wall, "after": after, "counts": counts, "line": line}

    for tag in routine.tags:
        for cut in tag.cuts or (None,):
            yield event("tag", cut, tag.passage.counts, tag.place.line)
    for restart in routine.restarts:
        yield from (event("restart", cut, None, restart.place.line) for cut in restart.cuts)
    for change in routine.changes:
        counts = sum(one.last - one.first + 1 for one in change.replacements)
        for wall in change.walls:
            yield {"kind": "change", "wall": wall, "after": None, "counts": counts, "line": change.place.line}
    if routine.ending is not None:
        yield event("ending", routine.ending.cut, routine.ending.passage.counts, routine.ending.place.line)


def verdict(sheet: Sheet) -> str:
    tally = Counter(f.severity.value for f in sheet.findings)
    plural = {"error": "errors", "guess": "guesses", "warning": "warnings", "advice": "pieces of advice"}
    found = ", ".join(f"{n} {kind if n == 1 else plural[kind]}" for kind, n in sorted(tally.items())) or "nothing found"
    told = "can be danced" if sheet.ok else "can't be danced as it stands"
    return f"{sheet.title}: {told} ({found})"
