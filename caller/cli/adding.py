"""What ``caller add`` asks about a sheet, and how it keeps one.

Conventions: a sheet is changed by changing its text and reading that again, so that what is saved is what was shown. An
author's line that is typed another way stays above it as a comment. Nothing is ever overwritten.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from caller.cli.listing import walls_in
from caller.cli.say import Refused
from caller.cli.sheets import Sheet, of_found
from caller.routine.findings import Finding, Severity
from caller.routine.layout.blocks import Role
from caller.routine.layout.lines import plain_line
from caller.routine.notation.read import read_sheet
from caller.routine.notation.write import write_sheet
from caller.routine.vocabulary import Vocabulary
from caller.storage.whole import write_text

# A question in words, to an answer; "" lets it be.
Ask = Callable[[str], str]
NOTE = "note"
_MOST_LINES_ASKED = 20
_MOST_TRIES = 3  # at one line
_ASKED_ROLES = (Role.STEPS, Role.UNREAD, Role.EVENT, Role.OPTION, Role.HEADING)
_MOST_LAID = 1_000  # lines; a sheet has some fifty
_MOST_NAMES = 1_000
_MOST_NAME = 60
_RESERVED = re.compile(r"^(?:con|prn|aux|nul|com\d|lpt\d)$")  # as names of files on Windows


@dataclass(frozen=True, slots=True)
class Fact:
    """Something that the header may say. key: as it is written there."""

    key: str
    question: str
    fits: Callable[[str], bool]
    wanted: str


def _between(low: int, high: int) -> Callable[[str], bool]:
    return lambda answer: answer.isdecimal() and len(answer) < 5 and low <= int(answer) <= high


TITLE = Fact("Title", "What is it called?", lambda answer: bool(answer.strip()), "a title")
WALLS = Fact("Walls", "How many walls has it?", _between(1, 8), "a whole number from 1 to 8")
TEMPO = Fact("Tempo", "At which tempo, in counts (beats) a minute?", _between(30, 300), "a whole number from 30 to 300")


def open_facts(sheet: Sheet) -> list[Fact]:
    """What the sheet doesn't say of itself, and nothing else tells."""
    header = sheet.read.routine.header
    facts = [] if header.title else [TITLE]
    if walls_in(sheet) is None:
        facts.append(WALLS)
    return facts if header.tempo is not None else [*facts, TEMPO]


def settle(sheet: Sheet, ask: Ask, words: Vocabulary) -> Sheet:
    """The sheet with what was answered: in its header, and lines typed another way."""
    for fact in open_facts(sheet):
        question = f"{fact.question} (Enter leaves it open) "
        answer = ask(question).strip()
        while answer and not fact.fits(answer):
            answer = ask(f"{fact.wanted.capitalize()} is needed. {question}").strip()
        if answer:
            sheet = with_fact(sheet, fact.key, answer, words)
    return _settled_lines(sheet, ask, words)


def _settled_lines(sheet: Sheet, ask: Ask, words: Vocabulary) -> Sheet:
    tries: Counter[tuple[str, int]] = Counter()
    for _ in range(_MOST_LINES_ASKED * _MOST_TRIES):
        lines = sheet.read.text.split("\n")
        asked = next((f for f in _asked(sheet) if not tries[lines[f.place.line - 1], f.place.line]), None)
        if asked is None or len(tries) > _MOST_LINES_ASKED:
            break
        at = asked.place.line
        tries[lines[at - 1], at] += 1
        right = "if that is right" if asked.severity is Severity.GUESS else "keeps it"
        how = f"Enter {right}, '{NOTE}' makes it a note, or type the line as it is meant: "
        shown = plain_line(lines[at - 1]).strip()
        answer = ask(f"\nLine {at}: {shown}\n  {plain_line(asked.message)}\n  {how}").strip()
        if answer.casefold() == NOTE:
            sheet = as_note(sheet, at, words)
        elif answer:
            sheet = with_line(sheet, at, answer, words)
    return sheet


def _asked(sheet: Sheet) -> Iterator[Finding]:
    """What a line is not sure of, or can't be read in it; one finding a line."""
    seen: set[int] = set()
    for finding in sheet.findings:
        line = finding.place.line
        told = finding.code in ("unreadable", "unread", "guess") and sheet.read.roles.get(line) in _ASKED_ROLES
        if told and line not in seen:
            seen.add(line)
            yield finding


def with_fact(sheet: Sheet, key: str, value: str, words: Vocabulary) -> Sheet:
    """A line of the header more, below the title where there is one."""
    lines = sheet.read.text.split("\n")
    title = next((line for line, role in sorted(sheet.read.roles.items()) if role is Role.TITLE), 0)
    lines.insert(0 if key == TITLE.key else title, f"{key}: {value}")
    return with_text(sheet, "\n".join(lines), words)


def as_note(sheet: Sheet, line: int, words: Vocabulary) -> Sheet:
    """One line told to be no more than a note."""
    lines = sheet.read.text.split("\n")
    lines[line - 1] = f"Note: {lines[line - 1].strip()}"
    return with_text(sheet, "\n".join(lines), words)


def with_line(sheet: Sheet, line: int, words_of_it: str, words: Vocabulary) -> Sheet:
    """One line typed another way. The author's own stays above it, as a sentence, so that it is read as no other."""
    lines = sheet.read.text.split("\n")
    author = lines[line - 1].strip()
    lines[line - 1 : line] = (
        [words_of_it] if line > 1 and lines[line - 2].startswith(_AUTHORS) else [f'{_AUTHORS}"{author}".', words_of_it]
    )
    return with_text(sheet, "\n".join(lines), words)


_AUTHORS = "# As its author has it: "


def with_text(sheet: Sheet, text: str, words: Vocabulary) -> Sheet:
    """The sheet with another text, read again."""
    assert sheet.found is not None
    return of_found(sheet.path, replace(sheet.found, text=text), words)


def named(sheet: Sheet, stem: str, words: Vocabulary) -> Sheet:
    """With a title: its own, else one from the name of its file."""
    if sheet.read.routine.header.title:
        return sheet
    title = " ".join(re.sub(r"[_\-.]+", " ", stem).split()).title()
    return with_fact(sheet, TITLE.key, title or "Untitled", words)


def text_to_keep(sheet: Sheet, words: Vocabulary) -> tuple[str, bool]:
    """The standard layout where that keeps every word and is the same dance, else the author's own text; whether it is
    the former."""
    own = "\n".join(line.rstrip() for line in sheet.read.text.split("\n")).strip("\n") + "\n"
    if not sheet.ok:
        return own, False
    try:
        laid = write_sheet(sheet.read, words)
    except ValueError:  # a part of it could not be read
        return own, False
    if not _keeps_words(own, laid) or read_sheet(laid, words).routine != sheet.read.routine:
        return own, False
    return laid, True


def _keeps_words(own: str, laid: str) -> bool:
    """Whether each line's words stand in one line of the other, in the same order."""
    wanted, there = _words_by_line(own), _words_by_line(laid)
    if len(wanted) > _MOST_LAID:
        return False
    return all(any(_in_order(words, others) for others in there) for words in wanted)


def _words_by_line(text: str) -> list[list[str]]:
    return [words for line in text.split("\n") if (words := re.findall(r"[^\W_]+", line.casefold()))]


def _in_order(words: Sequence[str], others: Sequence[str]) -> bool:
    rest = iter(others)
    return all(word in rest for word in words)


def file_stem(title: str) -> str:
    """A title as the name of a file on any system: "slate-yard"."""
    plain = unicodedata.normalize("NFKD", title.casefold()).encode("ascii", "ignore").decode()
    stem = re.sub(r"[^a-z0-9]+", "-", re.sub(r"['\u2019]", "", plain)).strip("-")[:_MOST_NAME].rstrip("-")
    return f"{stem}-sheet" if _RESERVED.match(stem) else stem or "sheet"


def is_kept_in(text: str, path: Path) -> bool:
    """Whether a file has the very same words."""
    return path.is_file() and path.read_bytes().split() == text.encode().split()


def keep(text: str, title: str, folder: Path) -> tuple[Path, bool]:
    """Writes a sheet into a folder under a name that is free; whether it is new there, since the very same words are
    not kept twice. Raises Refused."""
    stem = file_stem(title)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for number in range(1, _MOST_NAMES):
            path = folder / (f"{stem}.txt" if number == 1 else f"{stem}-{number}.txt")
            try:
                write_text(path, text, replace=False)
            except FileExistsError:
                if is_kept_in(text, path):
                    return path, False
                continue
            return path, True
    except OSError as error:
        raise Refused(
            f"the sheet can't be kept in {folder}: {error.strerror or error}; '--to' names another folder", 1
        ) from error
    raise Refused(f"{folder} has {_MOST_NAMES} sheets called {stem}; '--to' names another folder", 1)
