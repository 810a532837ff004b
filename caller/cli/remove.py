"""``caller remove``: takes a routine of your own out of those on hand; its sheet is kept beside them."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from caller.cli.files import typed_path
from caller.cli.options import runs
from caller.cli.say import Refused
from caller.cli.sheets import Sheet, loaded_on_hand, own_folder, vocabulary
from caller.screen.plain_text import LONGEST_TITLE, cut, plain_title

# Beside the routines on hand, of which a folder is none.
KEPT_IN = "removed"
_MOST_NAMES = 1_000


@dataclass(frozen=True, kw_only=True)
class RemoveOptions:
    name: str
    yes: bool


def add(commands: Any) -> None:
    words = commands.add_parser(
        "remove",
        help="take a routine of your own out of those on hand; its sheet is kept beside them",
        description="Takes a routine of your own out of those on hand. Its sheet is moved into a folder beside them, "
        "from where 'caller add' brings it back; the class book keeps what was taught of it.",
    )
    words.add_argument("name", metavar="NAME", help="its title, or its file's name where several are called so")
    words.add_argument("--yes", action="store_true", help="without asking")
    runs(words, RemoveOptions, run)


def run(asked: RemoveOptions) -> int:
    sheet = _own(asked.name)
    _agreed(sheet, asked.yes)
    try:
        kept = _moved(sheet.path)
    except OSError as error:
        raise Refused(f"{sheet.path} can't be moved: {error.strerror or error}", 1) from error
    print(f"{sheet.title}: removed; its sheet is kept, and caller add '{kept}' brings it back")
    return 0


def _own(name: str) -> Sheet:
    """The one routine of one's own of that title or file. Raises Refused where it is none, or several."""
    folder, wanted = own_folder().resolve(), name.strip().lower()
    on_hand = list(loaded_on_hand(vocabulary()))
    own = [sheet for sheet in on_hand if sheet.path.resolve().parent == folder]
    by_file = [
        one for one in own if wanted == one.path.name.lower() or typed_path(name).resolve() == one.path.resolve()
    ]
    found = by_file or [one for one in own if wanted in (one.title.lower(), one.path.stem.lower())]
    if len(found) == 1:
        return found[0]
    if found:
        raise Refused(
            f"{len(found)} routines are called {plain_title(name)!r}: name one by its file, {_files_words(found)}", 1
        )
    if any(wanted in (one.title.lower(), one.path.stem.lower()) for one in on_hand):
        raise Refused(f"{plain_title(name)!r} ships with the caller: only routines of your own can be removed", 1)
    near = get_close_matches(cut(wanted, LONGEST_TITLE), [one.title.lower() for one in own], n=3, cutoff=0.5)
    hint = f"near it: {', '.join(map(repr, near))}" if near else "'caller list' shows the routines on hand"
    raise Refused(f"no routine of your own is called {plain_title(name)!r}; {hint}")


def _files_words(sheets: Sequence[Sheet]) -> str:
    """ "pewter.txt of 29 November 22:41 or pewter-2.txt of 29 November 22:55"."""
    told = []
    for sheet in sheets:
        at = datetime.fromtimestamp(sheet.path.stat().st_mtime)
        told.append(f"{sheet.path.name} of {at.day} {at:%B %H:%M}")
    return " or ".join(told)


def _agreed(sheet: Sheet, already: bool) -> None:
    """Asks first, unless that was said. Raises Refused where it is not agreed to."""
    told = f"This takes {sheet.title} ({sheet.path}) out of the routines on hand; its sheet is kept beside them."
    if already:
        print(told)
        return
    if not sys.stdin.isatty():
        raise Refused(f"{told[:-1]}: say --yes to do it", 1)
    print(f"{told} Remove it? Type yes:", end=" ", flush=True)
    if sys.stdin.readline().strip().lower() not in ("y", "yes"):
        raise Refused("nothing was removed", 1)


def _moved(path: Path) -> Path:
    """Moved into the folder beside it, under a name that is free. Raises OSError."""
    folder = path.parent / KEPT_IN
    folder.mkdir(exist_ok=True)
    names = (path.name if n == 1 else f"{path.stem}-{n}{path.suffix}" for n in range(1, _MOST_NAMES))
    kept = next(folder / name for name in names if not (folder / name).exists())
    path.rename(kept)
    return kept
