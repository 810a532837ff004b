"""A sheet that is added under a title that a routine of one's own has already: beside it, or in its place.

Conventions: what is taken the place of is kept as 'caller remove' keeps it, and nothing is written over.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from caller.cli.adding import file_stem, is_kept_in
from caller.cli.remove import KEPT_IN, moved
from caller.cli.say import Refused
from caller.cli.sheets import Sheet, files_words, load, shipped_folder, texts_in
from caller.routine.vocabulary import Vocabulary

# What is typed to let a sheet take the place of another.
INSTEAD = "instead"


@dataclass(frozen=True, slots=True)
class Alike:
    """Routines that have the title of a sheet that is added. own: in the folder that it is added to, with other words;
    shipped: with the caller."""

    title: str
    own: tuple[Sheet, ...]
    shipped: bool

    @classmethod
    def to(cls, text: str, title: str, folder: Path, words: Vocabulary) -> Alike:
        own = tuple(sheet for sheet in _called(title, folder, words) if not is_kept_in(text, sheet.path))
        return cls(title, own, bool(_called(title, shipped_folder("routines"), words)))

    def wanted_instead(self, ask: Callable[[str], str]) -> bool:
        """Whether the sheet is to take their place; any other answer keeps them."""
        if not self.own:
            return False
        told = f"You have {_routines(self.own)} called {self.title!r} already: {files_words(self.own, 'and')}."
        does = f"'{INSTEAD}' lets this sheet take {_its(self.own)} place; the old {_sheets(self.own)} kept in {KEPT_IN}"
        return (
            ask(f"\n{told}\n{does}.\nEnter keeps {'both' if len(self.own) == 1 else 'all of them'}: ")
            .strip()
            .casefold()
            == INSTEAD
        )

    def words(self, path: Path) -> str:
        """That there are others, beside the sheet that was saved, and what to do; "" where there are none."""
        if self.own:
            files = files_words(self.own, "and")
            told = f"{len(self.own) + 1} routines are called {self.title!r} now, this one and {files}"
            return f"{told}: 'caller add FILE --{INSTEAD}' lets a sheet take {_its(self.own)} place."
        if self.shipped:
            return f"A routine that ships is called {self.title!r} too: name yours by its file, {path}."
        return ""


def take_place(path: Path, others: Sequence[Sheet]) -> tuple[Path, list[Path]]:
    """Lets a sheet that was saved take the place of others of its title: where it is then, and where they are kept.
    Raises Refused."""
    try:
        kept = [moved(sheet.path) for sheet in others]
        usual = path.with_name(f"{file_stem(others[0].title)}.txt")
        return (path if usual.exists() else path.rename(usual)), kept
    except OSError as error:
        raise Refused(f"{path} is saved, but can't take the place of another: {error.strerror or error}", 1) from error


def instead_words(path: Path, kept: Sequence[Path]) -> str:
    files = " and ".join(map(str, kept))
    return f"{path.name} is in the place of the old {'one' if len(kept) == 1 else 'ones'}, kept as {files}"


def _called(title: str, folder: Path, words: Vocabulary) -> tuple[Sheet, ...]:
    sheets = (load(path, words) for path in texts_in(folder))
    return tuple(sheet for sheet in sheets if sheet.title.lower() == title.lower())


def _routines(sheets: Sequence[Sheet]) -> str:
    return "a routine" if len(sheets) == 1 else f"{len(sheets)} routines"


def _its(sheets: Sequence[Sheet]) -> str:
    return "its" if len(sheets) == 1 else "their"


def _sheets(sheets: Sequence[Sheet]) -> str:
    return "sheet is" if len(sheets) == 1 else "sheets are"
