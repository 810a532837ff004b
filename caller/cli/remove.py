"""``caller remove``: takes a routine of your own out of those on hand; its sheet is kept beside them."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from caller.cli.options import runs
from caller.cli.say import Refused
from caller.cli.sheets import (
    Sheet,
    called,
    loaded_on_hand,
    near_words,
    only_part,
    own_folder,
    several_words,
    titled_in_part,
    vocabulary,
)
from caller.screen.plain_text import plain_title

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
    sheet = _own(asked.name, by_part=not asked.yes)
    _agreed(sheet, asked.yes)
    try:
        kept = moved(sheet.path)
    except OSError as error:
        raise Refused(f"{sheet.path} can't be moved: {error.strerror or error}", 1) from error
    print(f"{sheet.title}: removed; its sheet is kept, and caller add '{kept}' brings it back")
    return 0


def _own(name: str, by_part: bool) -> Sheet:
    """The one routine of one's own of that title or file. by_part: part of its title will do, since it is asked then.
    Raises Refused where it is none, or several."""
    folder = own_folder().resolve()
    on_hand = list(loaded_on_hand(vocabulary()))
    own = [sheet for sheet in on_hand if sheet.path.resolve().parent == folder]
    found = called(name, own)
    if by_part and not called(name, on_hand) and (title := only_part(name, [sheet.title for sheet in own])):
        found = titled_in_part(name, own)[title.lower()]
    if len(found) == 1:
        return found[0]
    if found:
        raise Refused(several_words(name, found), 1)
    if called(name, on_hand):
        raise Refused(f"{plain_title(name)!r} ships with the caller: only routines of your own can be removed", 1)
    hint = near_words(name, [one for sheet in own for one in sheet.names]) or "'caller list' shows the routines on hand"
    raise Refused(f"no routine of your own is called {plain_title(name)!r}; {hint}")


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


def moved(path: Path) -> Path:
    """A sheet moved into the folder beside it, under a name that is free. Raises OSError."""
    folder = path.parent / KEPT_IN
    folder.mkdir(exist_ok=True)
    names = (path.name if n == 1 else f"{path.stem}-{n}{path.suffix}" for n in range(1, _MOST_NAMES))
    kept = next(folder / name for name in names if not (folder / name).exists())
    path.rename(kept)
    return kept
