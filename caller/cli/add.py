"""``caller add``: sheets as they are found into the routines on hand."""

from __future__ import annotations

import shutil
import sys
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caller.cli.add_instead import Alike, instead_words, take_place
from caller.cli.adding import keep, named, settle, text_to_keep, with_text
from caller.cli.check import document, for_page, plain_lines, verdict
from caller.cli.files import typed_path
from caller.cli.options import runs
from caller.cli.say import Refused, print_json
from caller.cli.sheets import Sheet, bytes_of, of_bytes, own_folder, vocabulary
from caller.intake.found import MOST_FILE_BYTES

if TYPE_CHECKING:
    from caller.routine.vocabulary import Vocabulary

STDIN = "-"
_WIDEST = 120


@dataclass(frozen=True, kw_only=True)
class AddOptions:
    files: Sequence[str]
    to: Path | None
    instead: bool
    yes: bool
    plain: bool
    json: bool


@dataclass(frozen=True, slots=True)
class Added:
    """sheet: as it was kept; path: where, None where it was not. beside: files of one's own that have the same title;
    instead_of: where those are kept whose place it took."""

    sheet: Sheet
    path: Path | None
    beside: tuple[Path, ...] = ()
    instead_of: tuple[Path, ...] = ()


def add(commands: Any) -> None:
    words = commands.add_parser(
        "add",
        help="add a sheet as you found it (PDF, Word, web page, text) to your routines",
        description="Reads a step sheet from a PDF, Word, OpenDocument or RTF document, a web page, a mail or text in "
        "any encoding, shows what each line was taken for, asks what it leaves open, and saves it with its author's "
        "words. Nothing is overwritten: what it takes the place of is kept as 'caller remove' keeps it.",
    )
    words.add_argument("files", nargs="+", metavar="FILE", help="a file, or - for what is typed or piped in")
    words.add_argument("--to", metavar="FOLDER", type=Path, help="a folder other than your own routines")
    words.add_argument(
        "--instead",
        action="store_true",
        help="in the place of your own routines of the same title, whose sheets are kept beside them",
    )
    words.add_argument("--yes", action="store_true", help="save without showing a page or asking")
    words.add_argument(
        "--plain", action="store_true", help="print lines instead of showing a page, as for a screen reader"
    )
    words.add_argument("--json", action="store_true", help="print one JSON document, and ask nothing")
    runs(words, AddOptions, run)


def run(asked: AddOptions) -> int:
    words = vocabulary()
    folder = typed_path(asked.to) if asked.to is not None else own_folder()
    documents: list[dict[str, object]] = []
    status = 0
    for name in asked.files:
        try:
            added = _add(name, folder, asked, words)
        except Refused as refused:
            print(*refused.told, f"caller: {refused}", sep="\n", file=sys.stderr)
            status = max(status, refused.status)
            continue
        documents.append(_document(name, added))
        status = max(status, 0 if added.sheet.ok and added.path is not None else 1)
    if asked.json:
        print_json(documents)
    return status


def _document(name: str, added: Added) -> dict[str, object]:
    found = added.sheet.found
    return {
        "sheet": str(added.path) if added.path is not None else None,
        "from": name,
        **document(added.sheet),
        "left_out": list(found.left_out) if found is not None else [],
        "same_title": list(map(str, added.beside)),
        "instead_of": list(map(str, added.instead_of)),
    }


def _add(name: str, folder: Path, asked: AddOptions, words: Vocabulary) -> Added:
    sheet = _sheet(name, folder, words)
    told = sys.stdout.isatty() and sys.stdin.isatty() and not (asked.yes or asked.json)
    if told and not asked.plain:
        if not _shown(sheet, words):
            print(f"{sheet.path.name}: not saved")
            return Added(sheet, None)
    elif not asked.json:
        print(*plain_lines(sheet, words), sep="\n")
    if told:
        sheet = settle(sheet, _ask, words)
    sheet = named(sheet, "" if name == STDIN else sheet.path.stem, words)
    text, laid = text_to_keep(sheet, words)
    sheet = with_text(sheet, text, words)
    alike = Alike.to(text, sheet.title, folder, words)
    instead = asked.instead or (told and alike.wanted_instead(_ask))
    path, new = keep(text, sheet.title, folder)
    how = "in the standard layout" if laid else "in its author's own lines"
    kept: list[Path] = []
    if instead and alike.own:
        path, kept = take_place(path, alike.own)
    beside = instead_words(path, kept) if kept else alike.words(path)
    saved = f"saved as {path}, {how}" if new else f"{path} is this very sheet: nothing to save"
    said = [verdict(sheet), saved, *filter(None, [beside])]
    if not asked.json:
        print(*said, sep="\n")
    return Added(sheet, path, () if kept else tuple(one.path for one in alike.own), tuple(kept))


def _sheet(name: str, folder: Path, words: Vocabulary) -> Sheet:
    """Read, but not yet kept. Raises Refused for what is no sheet."""
    if name == STDIN:
        path, raw = Path("stdin"), sys.stdin.buffer.read(MOST_FILE_BYTES + 1)
    elif "://" in name:
        raise Refused(f"{name} is an address, and nothing is fetched from there: save the page as a file, and add that")
    else:
        path = typed_path(name)
        raw = bytes_of(path)
    if path.suffix.lower() == ".txt" and path.parent.resolve() == folder.resolve():
        raise Refused(f"{path} is among these routines already; 'caller check' shows what is in it", 1)
    sheet = of_bytes(path, raw, words)
    if sheet.found is None:
        raise Refused(f"{name}: {sheet.findings[0].message}", 1)
    if not sheet.read.routine.sections:
        raise Refused(f"{name}: no steps are found in it, such as '1-2  Walk R, L', so nothing is saved", 1)
    return sheet


def _shown(sheet: Sheet, words: Vocabulary) -> bool:
    """On a page, until it is left; whether the sheet is to be saved."""
    from caller.screen.findings import show_findings

    assert sheet.found is not None
    page = for_page(sheet, words)
    title = f"{sheet.path.name} ({sheet.found.kind})"
    return show_findings(sheet.path, lambda _: page, asks="goes on to save it", name=title)


def _ask(question: str) -> str:
    """The end of what is typed lets everything else be."""
    *told, last = question.split("\n")
    width = min(shutil.get_terminal_size().columns, _WIDEST)
    for line in told:
        print(textwrap.fill(line, width, subsequent_indent="    "))
    try:
        return input(last)
    except EOFError:
        print()
        return ""
