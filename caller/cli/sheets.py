"""Finding sheets: a path, or the title or file name of a routine on hand."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

import platformdirs

from caller.cli.say import Refused, findings_lines
from caller.dance.check import check, has_errors
from caller.intake.apart import read_apart
from caller.intake.found import MOST_FILE_BYTES, Found, Unreadable
from caller.intake.kinds import Kind
from caller.routine.findings import Finding, Place
from caller.routine.notation.read import SheetRead, read_sheet
from caller.routine.parts import Header, Routine
from caller.routine.vocabulary import Vocabulary, VocabularyError, read_vocabulary, shipped, shipped_text

FOLDER_VARIABLE = "CALLER_ROUTINES"  # the user's own folder, if not the usual one


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet read and checked. found: what its file holds; None where that can't be read."""

    path: Path
    read: SheetRead
    findings: tuple[Finding, ...]
    found: Found | None = None

    @property
    def ok(self) -> bool:
        return not has_errors(self.findings)

    @property
    def is_text(self) -> bool:
        """Whether its file is plain text, which may be written anew."""
        return self.found is not None and self.found.kind == Kind.TEXT.value

    @property
    def title(self) -> str:
        return self.read.routine.header.title or self.path.stem


def shipped_folder(name: str) -> Path:
    """A folder that ships with the caller: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    installed = package / "shipped" / name
    return installed if installed.is_dir() else package.parent / name


def own_folder() -> Path:
    return Path(os.environ.get(FOLDER_VARIABLE) or platformdirs.user_data_path("caller") / "routines")


def config_folder() -> Path:
    return platformdirs.user_config_path("caller")


def on_hand() -> Iterator[Path]:
    """Files of the routines on hand: shipped ones, then the user's own."""
    for folder in (shipped_folder("routines"), own_folder()):
        if folder.is_dir():
            yield from sorted(p for p in folder.iterdir() if p.suffix.lower() == ".txt" and p.is_file())


def vocabulary() -> Vocabulary:
    """The shipped vocabulary with the user's own words, if there are any. Raises Refused for a file with errors."""
    own = config_folder() / "vocabulary.toml"
    if not own.is_file():
        return shipped()
    try:
        return read_vocabulary([shipped_text(), own.read_text(encoding="utf-8")])
    except (VocabularyError, OSError, UnicodeDecodeError) as error:
        raise Refused(f"the vocabulary of your own, {own}: {error}; mend it or move it away", 1) from error


def load(path: Path, words: Vocabulary | None = None) -> Sheet:
    """Reads and checks one file of any kind. Raises Refused where it can't be opened."""
    return of_bytes(path, bytes_of(path), words)


def bytes_of(path: Path) -> bytes:
    """A file's bytes, as many as are ever read. Raises Refused where it can't be opened."""
    try:
        with path.open("rb") as file:
            return file.read(MOST_FILE_BYTES + 1)
    except OSError as error:
        raise Refused(f"can't open {path}: {error.strerror or error}") from error


def of_bytes(path: Path, raw: bytes, words: Vocabulary | None = None) -> Sheet:
    """path: what the sheet is called by. What can't be read is a finding."""
    try:
        found = read_apart(raw)
    except Unreadable as fault:
        read = SheetRead(Routine(Header()), (Finding(Place(1), "unreadable", str(fault)),))
        return Sheet(path, read, read.findings)
    return of_found(path, found, words)


def of_found(path: Path, found: Found, words: Vocabulary | None = None) -> Sheet:
    read = read_sheet(found.text, words or vocabulary())
    assumed = tuple(Finding(Place(1), "guess", one) for one in found.told)
    return Sheet(path, read, (*assumed, *check(read)), found)


def find(asked: str, words: Vocabulary | None = None) -> Sheet:
    """The sheet that ``asked`` names. Raises Refused, with the nearest titles, where there is none."""
    path = Path(asked).expanduser()
    if path.exists():
        return load(path, words)
    by_name: dict[str, Path] = {}
    for file in on_hand():
        by_name.setdefault(file.stem.lower(), file)
        by_name.setdefault(load(file, words).title.lower(), file)
    wanted = asked.strip().lower()
    if wanted in by_name:
        return load(by_name[wanted], words)
    near = get_close_matches(wanted, by_name, n=3, cutoff=0.5)
    hint = f"; near it: {', '.join(repr(n) for n in near)}" if near else "; 'caller list' shows the routines on hand"
    raise Refused(f"there is no file and no routine called {asked!r}{hint}")


def danceable(asked: str) -> Sheet:
    """A sheet that can be danced. Raises Refused (status 1), with the errors, for one that can't."""
    sheet = find(asked)
    if not sheet.ok:
        errors = tuple(findings_lines(str(sheet.path), sheet.findings, sheet.read.text))
        raise Refused(f"{sheet.title!r} can't be danced as it stands: mend the errors above first", 1, errors)
    return sheet
