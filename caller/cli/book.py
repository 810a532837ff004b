"""``caller book``: what each class was taught, and what is due."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caller.cli import amounts
from caller.cli.book_options import (
    BookEraseOptions,
    BookExportOptions,
    BookImportOptions,
    BookListOptions,
    BookMarkOptions,
    BookNoteOptions,
    BookWhereOptions,
)
from caller.cli.files import output, typed_path
from caller.cli.options import runs
from caller.cli.say import Refused, number, print_json, warn

if TYPE_CHECKING:
    from caller.book.entries import Known, Mark, Note, Pages, Taught
    from caller.book.store import Book

CLASS = amounts.words(200, "class")  # as caller.book.rows has it


def add(commands: Any) -> None:
    words = commands.add_parser(
        "book",
        help="the class book: what each class was taught, and what is due",
        description="The class book. It is one file on this machine ('caller book where'), and is sent nowhere.",
    )
    asked = words.add_subparsers(dest="ask", metavar="ASK")
    runs(words, BookListOptions, _caught(_list))
    for name, (kind, do, help_words, adds) in _ASKS.items():
        one = asked.add_parser(name, help=help_words, description=help_words)
        adds(one)
        runs(one, kind, _caught(do))


def _caught(do: Callable[[Any], int]) -> Callable[[Any], int]:
    """The ask, refused where the book, or a file of it, can't be read."""

    def asked_for(asked: Any) -> int:
        from caller.book.exchange import NotABook
        from caller.book.store import BookFault

        try:
            return do(asked)
        except (BookFault, NotABook) as fault:
            raise Refused(str(fault), 1) from fault

    return asked_for


# -- what is asked


def _list(asked: BookListOptions) -> int:
    from caller.book.entries import known

    with _book() as book:
        pages = book.pages()
        _tell_unread(book)
    _known_class(pages, asked.name)
    return _tell(known(pages, asked.name), pages, asked)


def _due(asked: BookListOptions) -> int:
    from caller.book.entries import due

    with _book() as book:
        pages = book.pages()
    _known_class(pages, asked.name)
    return _tell(due(pages, datetime.now(UTC), asked.name), pages, asked, nothing="nothing is due")


def _note(asked: BookNoteOptions) -> int:
    from caller.book.entries import Note

    note = Note(asked.name, _now(), asked.routine or "", asked.words)
    with _book() as book:
        book.add(note)
    print(f"noted for {note.class_name}")
    return 0


def _mark(asked: BookMarkOptions) -> int:
    from caller.book.entries import STANDINGS, Mark

    standing = next(one for one in STANDINGS if one == asked.mark.replace("-", " "))
    mark = Mark(asked.name, _now(), asked.routine, standing)
    with _book() as book:
        book.add(mark)
    print(f"{mark.class_name}: {mark.routine}: {mark.mark}")
    return 0


def _export(asked: BookExportOptions) -> int:
    from caller.book.exchange import to_csv, to_json
    from caller.storage.whole import write_text

    write: Callable[[Pages], str] = to_csv if _suffix(asked.file) == ".csv" else to_json
    with _book() as book:
        text = write(book.pages())
        _tell_unread(book)
    path = output(asked.file, (book.path,))
    try:
        write_text(path, text, replace=asked.over, private=True)  # as private as the book
    except FileExistsError as error:
        raise Refused(f"{path} is there already; say --over to overwrite it", 1) from error
    except OSError as error:
        raise Refused(f"{path} can't be written: {error.strerror or error}", 1) from error
    print(f"{path}: written")
    return 0


def _import(asked: BookImportOptions) -> int:
    from caller.book.entries import missing_from
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
    with _book() as book:
        fresh = missing_from(book.pages(), wanted)
        print(
            f"Adds to {book.path} what it lacks of {path}: {_counted(len(fresh.classes), 'class', 'classes')} and "
            f"{_counted(_entries(fresh), 'entry', 'entries')} of {_entries(wanted)}. Nothing in the book is changed."
        )
        if asked.only_tell:
            return 0
        book.add_missing(wanted)
    print("added")
    return 0


def _where(asked: BookWhereOptions) -> int:
    from caller.book.store import book_path

    path = book_path()
    print(f"{path}{'' if path.exists() else '   (not there yet)'}")
    print("It holds what you typed and what was taught, nothing else, and is sent nowhere.")
    print("'caller book erase CLASS' erases one class, 'caller book erase --all' the whole book.")
    return 0


def _erase(asked: BookEraseOptions) -> int:
    from caller.book.store import book_path, erase_book
    from caller.cli.evening_place import forget_class

    if bool(asked.name) == asked.all:
        raise Refused("say one CLASS, or --all for the whole book")
    if asked.name is None:
        if book_path().exists():
            _agreed(f"the whole class book {book_path()}{_content_words()}", asked.yes)
        print(f"{book_path()}: {'erased' if erase_book(book_path()) else 'there was none'}")
        forget_class(None)
        return 0
    with _book() as book:
        pages = book.pages()
        _known_class(pages, asked.name)
        kept: tuple[Taught | Note | Mark, ...] = (*pages.taught, *pages.notes, *pages.marks)
        entries = sum(one.class_name == asked.name for one in kept)
        _agreed(f"the class {asked.name} with its {_counted(entries, 'entry', 'entries')}", asked.yes)
        book.erase_class(asked.name)
    forget_class(asked.name)
    print(f"{asked.name}: erased, with all that was kept of it")
    return 0


def _content_words() -> str:
    """How much is in the book, where that can be told; a damaged one can be erased too."""
    from caller.book.store import BookFault

    try:
        with _book() as book:
            pages = book.pages()
    except BookFault:
        return ""
    classes = _counted(len(pages.classes), "class", "classes")
    return f" with {classes} and {_counted(_entries(pages), 'entry', 'entries')}"


def _entries(pages: Pages) -> int:
    return len(pages.taught) + len(pages.notes) + len(pages.marks)


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


def _counted(number: int, one: str, more: str) -> str:
    return f"{number} {one if number == 1 else more}"


def _tell_unread(book: Book) -> None:
    if book.unread:
        warn(f"left out, since it can't be read: {_counted(book.unread, 'entry', 'entries')} of the book")


def _add_list(one: argparse.ArgumentParser) -> None:
    one.add_argument("name", type=CLASS, metavar="CLASS", nargs="?", help="one class only")
    one.add_argument("--json", action="store_true", help="one JSON document")


def _add_note(one: argparse.ArgumentParser) -> None:
    one.add_argument("name", type=CLASS, metavar="CLASS")
    one.add_argument("words", type=amounts.words(5_000, "note"), metavar="WORDS")
    title = amounts.words(200, "title")
    one.add_argument("--routine", type=title, metavar="TITLE", help="the routine that it is about")


def _add_mark(one: argparse.ArgumentParser) -> None:
    one.add_argument("name", type=CLASS, metavar="CLASS")
    one.add_argument("routine", type=amounts.words(200, "title"), metavar="TITLE")
    one.add_argument("mark", choices=("learnt", "shaky", "not-done"), help="how well the class can do it")


def _add_export(one: argparse.ArgumentParser) -> None:
    one.add_argument("file", metavar="FILE", help=".csv or .json")
    one.add_argument("--over", action="store_true", help="overwrite a file that is there")


def _add_import(one: argparse.ArgumentParser) -> None:
    one.add_argument("file", metavar="FILE", help=".csv or .json, as 'caller book export' writes it")
    one.add_argument("--only-tell", action="store_true", help="say what would be added, and add nothing")


def _add_erase(one: argparse.ArgumentParser) -> None:
    one.add_argument("name", type=CLASS, metavar="CLASS", nargs="?")
    one.add_argument("--all", action="store_true", help="the whole book")
    one.add_argument("--yes", action="store_true", help="without asking")


_ASKS: dict[str, tuple[type, Callable[[Any], int], str, Callable[[argparse.ArgumentParser], None]]] = {
    "list": (BookListOptions, _list, "what each class knows, how far and how fast", _add_list),
    "due": (BookListOptions, _due, "what is due for revision", _add_list),
    "note": (BookNoteOptions, _note, "a note on a class, or on a routine with it", _add_note),
    "mark": (BookMarkOptions, _mark, "a routine learnt, shaky or not done: what is due follows that", _add_mark),
    "export": (BookExportOptions, _export, "the whole book as CSV or JSON", _add_export),
    "import": (BookImportOptions, _import, "take in an exported book; what is there already stays once", _add_import),
    "where": (BookWhereOptions, _where, "where the book lies, and how to erase it", lambda one: None),
    "erase": (BookEraseOptions, _erase, "erase a class, or the whole book", _add_erase),
}


# -- saying


def _tell(found: tuple[Known, ...], pages: Pages, asked: BookListOptions, nothing: str = "") -> int:
    if asked.json:
        print_json([_document(one) for one in found])
        return 0
    if not found and (nothing or not pages.notes):
        print(nothing or "the book is empty; 'caller book note CLASS WORDS' begins it")
    for one in found:
        print(_line(one))
        for words in one.notes:
            print(f"    note: {words}")
    for note in pages.notes:
        if not nothing and not note.routine and asked.name in (None, note.class_name):
            print(f"{note.class_name}: note of {note.at.astimezone():%d %b %Y}: {note.words}")
    return 0


def _line(one: Known) -> str:
    far = f"stage {one.furthest} of {one.stages}, {one.part}" if one.stages else one.part
    top = f", up to {round(float(one.top_tempo), 1):g} a minute" if one.top_tempo else ""
    full = f" (full: {float(one.full):g})" if one.full and one.top_tempo else ""
    days = "1 lesson" if one.lessons == 1 else f"{one.lessons} lessons"
    dates = f"last {one.last.astimezone():%d %b %Y}, due {one.due.astimezone():%d %b %Y}"
    mark = f", {one.mark}" if one.mark else ""
    told = ", ".join(part for part in (far, f"{top}{full}".removeprefix(", ")) if part) or "never danced"
    return f"{one.class_name}: {one.routine}{mark}: {told}; {days}, {dates}"


def _document(one: Known) -> dict[str, object]:
    from caller.book.entries import moment_text

    return {
        "class": one.class_name,
        "routine": one.routine,
        "lessons": one.lessons,
        "last": moment_text(one.last),
        "stage": one.furthest,
        "stages": one.stages,
        "part": one.part,
        "whole": one.whole,
        "top_tempo": number(one.top_tempo),
        "full_tempo": number(one.full),
        "due": moment_text(one.due),
        "mark": one.mark or None,
        "notes": list(one.notes),
    }


@contextmanager
def _book() -> Iterator[Book]:
    from caller.book.store import Book, book_path

    with Book(book_path()) as book:
        yield book


def _known_class(pages: Pages, name: str | None) -> None:
    if name is not None and name not in pages.classes:
        there = ", ".join(repr(known) for known in pages.classes) or "none yet"
        raise Refused(f"there is no class {name!r} in the book; there are: {there}", 1)


def _suffix(file: str) -> str:
    suffix = Path(file).suffix.lower()
    if suffix not in (".csv", ".json"):
        raise Refused(f"{file}: the suffix says the kind, .csv or .json")
    return suffix


def _now() -> datetime:
    return datetime.now(UTC).replace(microsecond=0)
