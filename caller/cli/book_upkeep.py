"""The class book as a file: taken out, taken in, where it lies, erased."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from caller.cli.book_open import counted, entries_of, known_class, open_book, pages_there, tell_unread
from caller.cli.book_options import BookEraseOptions, BookExportOptions, BookImportOptions, BookWhereOptions
from caller.cli.files import output, typed_path
from caller.cli.say import Refused

if TYPE_CHECKING:
    from caller.book.entries import Mark, Note, Pages, Taught


def export(asked: BookExportOptions) -> int:
    from caller.book.exchange import to_csv, to_json
    from caller.storage.whole import write_text

    write: Callable[[Pages], str] = to_csv if _suffix(asked.file) == ".csv" else to_json
    with open_book() as book:
        text = write(book.pages())
        tell_unread(book)
    path = output(asked.file, (book.path,))
    try:
        write_text(path, text, replace=asked.over, private=True)  # as private as the book
    except FileExistsError as error:
        raise Refused(f"{path} is there already; say --over to write over it", 1) from error
    except OSError as error:
        raise Refused(f"{path} can't be written: {error.strerror or error}", 1) from error
    print(f"{path}: written")
    return 0


def take_in(asked: BookImportOptions) -> int:
    from caller.book.exchange import MOST_BYTES, NotABook, from_csv, from_json
    from caller.outside import documents

    read: Callable[[str], Pages] = from_csv if _suffix(asked.file) == ".csv" else from_json
    path = typed_path(asked.file)
    try:
        wanted = read(documents.read_text(path, MOST_BYTES))
    except OSError as error:
        raise Refused(f"can't open {path}: {error.strerror or error}") from error
    except (NotABook, documents.Unreadable) as error:
        raise Refused(f"{path} is no class book: {error}; nothing was taken from it", 1) from error
    with open_book() as book:
        fresh = book.lacking(wanted)
        print(
            f"Adds to {book.path} what it lacks of {path}: {counted(len(fresh.classes), 'class', 'classes')} and "
            f"{counted(entries_of(fresh), 'entry', 'entries')} of {entries_of(wanted)}. Nothing in the book is changed."
        )
        if asked.only_tell:
            return 0
        book.add_missing(wanted)
    print("added")
    return 0


def where(asked: BookWhereOptions) -> int:
    from caller.book.store import book_path

    path = book_path()
    print(f"{path}{'' if path.exists() else '   (not there yet)'}")
    print("It holds what you typed and what was taught, nothing else, and is sent nowhere.")
    print("'caller book erase CLASS' erases one class, with '--routine TITLE' that routine alone,")
    print("'caller book erase --all' the whole book.")
    return 0


def erase(asked: BookEraseOptions) -> int:
    from caller.book.store import book_path, erase_book
    from caller.cli.evening_place import forget_class

    if bool(asked.name) == asked.all or (asked.all and asked.routine):
        raise Refused("say one CLASS, with --routine for one of its routines, or --all for the whole book")
    if asked.name is None:
        if book_path().exists():
            _agreed(f"the whole class book {book_path()}{_content_words()}", asked.yes)
        print(f"{book_path()}: {'erased' if erase_book(book_path()) else 'there was none'}")
        forget_class(None)
        return 0
    return _erase_of_class(asked.name, asked.routine, asked.yes)


def _erase_of_class(name: str, routine: str | None, already: bool) -> int:
    """A class, or one routine of it."""
    from caller.cli.evening_place import forget_class

    name = known_class(pages := pages_there(), name)
    title = None if routine is None else _routine_of(pages, name, routine)
    entries = counted(sum(title in (None, one) for one in _routines(pages, name)), "entry", "entries")
    what = f"the class {name} with its {entries}" if title is None else f"{title} of the class {name}, {entries}"
    _agreed(what, already)
    with open_book() as book:
        if title is not None:
            book.erase_routine(name, title)
            print(f"{name}: {title}: erased")
            return 0
        book.erase_class(name)
    forget_class(name)
    print(f"{name}: erased, with all that was kept of it")
    return 0


def _routine_of(pages: Pages, name: str, asked: str) -> str:
    """The title of a routine as a class's pages have it. Raises Refused where they have none of it."""
    from caller.book.spelling import same_name
    from caller.cli.sheets import near_words

    there = [title for title in dict.fromkeys(_routines(pages, name)) if title]
    if (found := next((title for title in there if same_name(title, asked)), None)) is None:
        near = near_words(asked, there) or f"there are: {', '.join(map(repr, sorted(there))) or 'none'}"
        raise Refused(f"the class {name} has no routine {asked!r} in the book; {near}", 1)
    return found


def _routines(pages: Pages, name: str) -> list[str]:
    """The titles of all entries of a class, "" of a note on the class, one title for each routine."""
    from caller.book.spelling import joined

    pages = joined(pages)
    kept: tuple[Taught | Note | Mark, ...] = (*pages.taught, *pages.notes, *pages.marks)
    return [one.routine for one in kept if one.class_name == name]


def _content_words() -> str:
    """How much is in the book, where that can be told; a damaged one can be erased too."""
    from caller.book.store import BookFault

    try:
        with open_book() as book:
            pages = book.pages()
    except BookFault:
        return ""
    classes = counted(len(pages.classes), "class", "classes")
    return f" with {classes} and {counted(entries_of(pages), 'entry', 'entries')}"


def _agreed(what: str, already: bool) -> None:
    """Asks before anything is erased, unless that was said. Raises Refused where it is not agreed to."""
    told = f"This erases {what}; it can't be brought back."
    if already:
        print(told)
        return
    if not sys.stdin.isatty():
        raise Refused(f"{told[:-1]}: say --yes to do it", 1)
    print(f"{told} Erase it? Type yes:", end=" ", flush=True)
    if sys.stdin.readline().strip().lower() not in ("y", "yes"):
        raise Refused("nothing was erased", 1)


def _suffix(file: str) -> str:
    suffix = Path(file).suffix.lower()
    if suffix not in (".csv", ".json"):
        raise Refused(f"{file}: the suffix says the kind, .csv or .json")
    return suffix
