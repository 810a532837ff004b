"""Finding sheets: a path, or the title or file name of a routine on hand."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from difflib import get_close_matches
from pathlib import Path

import platformdirs

from caller.cli.files import typed_path
from caller.cli.say import Refused, findings_lines, warn
from caller.dance.check import check, has_errors
from caller.intake.apart import read_apart
from caller.intake.found import MOST_FILE_BYTES, SheetText, UnreadableFile
from caller.intake.kinds import FileKind
from caller.outside import documents
from caller.routine.findings import Finding, Place
from caller.routine.notation.read import SheetRead, read_sheet
from caller.routine.parts import Header, Routine
from caller.routine.vocabulary import Vocabulary, VocabularyError, read_vocabulary, shipped, shipped_text
from caller.screen.plain_text import LONGEST_TITLE, cut, plain_title

FOLDER_VARIABLE = "CALLER_ROUTINES"  # the user's own folder, if not the usual one


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet read and checked. read: as it is written. found: what its file holds; None where that can't be read."""

    path: Path
    read: SheetRead
    findings: tuple[Finding, ...]
    found: SheetText | None = None

    @property
    def ok(self) -> bool:
        return not has_errors(self.findings)

    @property
    def is_text(self) -> bool:
        """Whether its file is plain text, which may be written anew."""
        return self.found is not None and self.found.kind == FileKind.TEXT.value

    @property
    def routine(self) -> Routine:
        """As it is danced and shown: with a title that can be; where the sheet has none, its file's name."""
        return replace(self.read.routine, header=replace(self.read.routine.header, title=self.title))

    @property
    def names(self) -> tuple[str, ...]:
        """What it may be called by, in small letters."""
        return tuple(name.lower() for name in (self.path.stem, self.title, self.read.routine.header.title) if name)

    @property
    def title(self) -> str:
        return plain_title(self.read.routine.header.title) or plain_title(self.path.stem) or "untitled"


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
        yield from texts_in(folder)


def texts_in(folder: Path) -> list[Path]:
    """Files of sheets in a folder, in order of name; none where it isn't there."""
    if not folder.is_dir():
        return []
    return sorted(p for p in folder.iterdir() if p.suffix.lower() == ".txt" and p.is_file())


# So many letters of a title are enough to mean it by.
LEAST_PART = 3


def own_vocabulary_file() -> Path:
    return config_folder() / "vocabulary.toml"


def vocabulary() -> Vocabulary:
    """The shipped vocabulary with the user's own words, if there are any. Raises Refused for a file with errors."""
    own = own_vocabulary_file()
    if not own.is_file():
        return shipped()
    try:
        text = documents.read_text(own)
        documents.toml(text)
        return read_vocabulary([shipped_text(), text])
    except (VocabularyError, OSError, documents.Unreadable) as error:
        raise Refused(f"the vocabulary of your own, {own}: {error}; mend it or move it away", 1) from error


def load(path: Path, words: Vocabulary | None = None) -> Sheet:
    """Reads and checks one file of any kind. Raises Refused where it can't be opened."""
    return of_bytes(path, bytes_of(path), words)


def bytes_of(path: Path) -> bytes:
    """A file's bytes, as many as are ever read. Raises Refused where it can't be opened."""
    try:
        return documents.read_head(path, MOST_FILE_BYTES)
    except OSError as error:
        raise Refused(f"can't open {path}: {error.strerror or error}") from error


def loaded_on_hand(words: Vocabulary) -> Iterator[Sheet]:
    """The routines on hand; one that can't be opened is told and left out."""
    for path in on_hand():
        try:
            yield load(path, words)
        except Refused as refused:
            warn(str(refused))


def of_bytes(path: Path, raw: bytes, words: Vocabulary | None = None) -> Sheet:
    """path: what the sheet is called by. What can't be read is a finding."""
    try:
        found = read_apart(raw)
    except UnreadableFile as fault:
        read = SheetRead(Routine(Header()), (Finding(Place(1), "unreadable", str(fault)),))
        return Sheet(path, read, read.findings)
    return of_found(path, found, words)


def of_found(path: Path, found: SheetText, words: Vocabulary | None = None) -> Sheet:
    read = read_sheet(found.text, words or vocabulary())
    assumed = tuple(Finding(Place(1), "guess", one) for one in found.told)
    return Sheet(path, read, (*assumed, *check(read)), found)


def find(asked: str, words: Vocabulary | None = None) -> Sheet:
    """The sheet that ``asked`` names. Raises Refused, with the nearest titles, where there is none, and with their
    files, where there are several."""
    path = typed_path(asked)
    if os.path.exists(path):
        return load(path, words)
    on_hand = list(loaded_on_hand(words or vocabulary()))
    found = called(asked, on_hand)
    if found:
        return only(asked, found)
    if title := only_part(asked, [sheet.title for sheet in on_hand]):
        return only(asked, titled_in_part(asked, on_hand)[title.lower()])
    near = near_words(asked, [name for sheet in on_hand for name in sheet.names])
    hint = near or "'caller list' shows the routines on hand"
    raise Refused(f"there is no file and no routine called {plain_title(asked)!r}; {hint}")


def called(asked: str, sheets: Iterable[Sheet]) -> list[Sheet]:
    """Those of some sheets that a name means, in any case: by their file, else by title or the file's name without its
    ending."""
    wanted, path, there = asked.strip().lower(), typed_path(asked).resolve(), list(sheets)
    by_file = [one for one in there if wanted == one.path.name.lower() or path == one.path.resolve()]
    return by_file or [one for one in there if wanted and wanted in one.names]


def titled_in_part(asked: str, sheets: Iterable[Sheet]) -> dict[str, list[Sheet]]:
    """By their titles, those whose title has what was typed at the beginning of a word; none where that is hardly
    anything."""
    found = dict[str, list[Sheet]]()
    for sheet in sheets:
        if _is_part(asked, sheet.title):
            found.setdefault(sheet.title.lower(), []).append(sheet)
    return found


def only_part(asked: str, titles: Iterable[str]) -> str:
    """The one of some titles, in any case, that has what was typed at the beginning of a word; "" where none has.
    Raises Refused, with those that have, where there are several."""
    part = {title.lower(): title for title in titles if _is_part(asked, title)}
    if len(part) > 1:
        told = ", ".join(map(repr, part.values()))
        raise Refused(f"{plain_title(asked)!r} is part of several titles: {told}; type more of one")
    return next(iter(part.values()), "")


def _is_part(asked: str, title: str) -> bool:
    wanted = asked.strip().lower()
    return len(wanted) >= LEAST_PART and f" {wanted}" in f" {title.lower()}"


def only(asked: str, found: Sequence[Sheet]) -> Sheet:
    """The one of the sheets that a name means; where all are the same dance, the last. Raises Refused where they are
    not, with their files."""
    if any(one.read.routine != found[0].read.routine for one in found):
        raise Refused(f"{several_words(asked, found)}; 'caller remove FILE' takes one of your own out", 1)
    return found[-1]


def several_words(asked: str, found: Sequence[Sheet]) -> str:
    """That several sheets are called so, and by which files to name one."""
    return f"{len(found)} routines are called {plain_title(asked)!r}: name one by its file, {files_words(found)}"


def files_words(sheets: Sequence[Sheet], between: str = "or") -> str:
    """What tells sheets apart: "pewter.txt of 29 November 22:41 or pewter-2.txt of 29 November 22:55"."""
    names = Counter(sheet.path.name.lower() for sheet in sheets)
    told = []
    for sheet in sheets:
        at = datetime.fromtimestamp(sheet.path.stat().st_mtime)
        file = sheet.path.name if names[sheet.path.name.lower()] == 1 else sheet.path
        told.append(f"{file} of {at.day} {at:%B %H:%M}")
    return f" {between} ".join(filter(None, (", ".join(told[:-1]), told[-1])))


def near_words(asked: str, names: Iterable[str]) -> str:
    """ "near it: 'lantern row'", as the names are written; "" where nothing is."""
    there: dict[str, str] = {}
    for name in names:
        there.setdefault(name.lower(), name)
    near = get_close_matches(cut(asked.strip().lower(), LONGEST_TITLE), there, n=3, cutoff=0.5)
    return f"near it: {', '.join(repr(there[name]) for name in near)}" if near else ""


def danceable(asked: str, as_it_stands: bool = False) -> Sheet:
    """A sheet that can be danced. Raises Refused (status 1), with the errors, for one that can't, unless that is asked
    for; without any step there is nothing to go on with."""
    sheet = find(asked)
    if not sheet.ok and not (as_it_stands and any(section.passage.steps for section in sheet.routine.sections)):
        errors = tuple(findings_lines(str(sheet.path), sheet.findings, sheet.read.text))
        mend = "mend the errors above first, or ask for it all the same with --as-it-stands"
        raise Refused(f"{sheet.title!r} can't be danced as it stands: {mend}", 1, errors)
    return sheet
