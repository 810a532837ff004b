"""``caller book``: what each class was taught, and what is due."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from caller.cli import amounts
from caller.cli.book_next import next_lines
from caller.cli.book_open import known_class, open_book, tell_unread
from caller.cli.book_options import (
    BookEraseOptions,
    BookExportOptions,
    BookImportOptions,
    BookListOptions,
    BookMarkOptions,
    BookNoteOptions,
    BookWhereOptions,
)
from caller.cli.book_upkeep import erase, export, take_in, where
from caller.cli.book_words import mark, note
from caller.cli.options import runs
from caller.cli.say import Refused, number, print_json

if TYPE_CHECKING:
    from caller.book.entries import Pages
    from caller.book.known import Known

CLASS = amounts.words(200, "class")  # as caller.book.rows has it


def add(commands: Any) -> None:
    words = commands.add_parser(
        "book",
        help="the class book: what each class was taught, and what is due",
        description="The class book. It lies in one file on this machine ('caller book where') and is sent nowhere. A "
        "dance is whole once all its walls were danced at nine tenths of its tempo at least; one that is left before "
        "its end is kept wall by wall, and puts off what is due by a week at most. What nobody was there for does not "
        "count, nor does a stage that was jumped to, until those before it were danced.",
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
    from caller.book.known import known

    with open_book() as book:
        pages = book.pages()
        tell_unread(book)
    name = None if asked.name is None else known_class(pages, asked.name)
    _tell(found := known(pages, name), pages, asked, name)
    return _tell_next(found, asked)


def _due(asked: BookListOptions) -> int:
    from caller.book.known import due, known

    with open_book() as book:
        pages = book.pages()
    name = None if asked.name is None else known_class(pages, asked.name)
    _tell(due(pages, datetime.now(UTC), name), pages, asked, name, nothing="nothing is due today")
    return _tell_next(known(pages, name), asked)


def _tell_next(found: tuple[Known, ...], asked: BookListOptions) -> int:
    for line in () if asked.json else next_lines(found):
        print(line)
    return 0


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
    title = "a routine on hand, or one that the book has"
    one.add_argument("routine", type=amounts.words(200, "title"), metavar="TITLE", help=title)
    one.add_argument("mark", choices=("learnt", "shaky", "not-done"), help="how well the class can do it")
    one.add_argument("--new-class", action="store_true", help="begin a class that the book has not")


def _add_export(one: argparse.ArgumentParser) -> None:
    one.add_argument("file", metavar="FILE", help=".csv or .json")
    one.add_argument("--over", action="store_true", help="write over a file that is there")


def _add_import(one: argparse.ArgumentParser) -> None:
    one.add_argument("file", metavar="FILE", help=".csv or .json, as 'caller book export' writes it")
    one.add_argument("--only-tell", action="store_true", help="say what would be added, and add nothing")


def _add_erase(one: argparse.ArgumentParser) -> None:
    one.add_argument("name", type=CLASS, metavar="CLASS", nargs="?")
    title = amounts.words(200, "title")
    one.add_argument("--routine", type=title, metavar="TITLE", help="one routine out of the class's pages")
    one.add_argument("--all", action="store_true", help="the whole book")
    one.add_argument("--yes", action="store_true", help="without asking")


_ASKS: dict[str, tuple[type, Callable[[Any], int], str, Callable[[argparse.ArgumentParser], None]]] = {
    "list": (BookListOptions, _list, "what each class knows, how far and how fast", _add_list),
    "due": (BookListOptions, _due, "what is due for revision", _add_list),
    "note": (BookNoteOptions, note, "a note on a class, or on a routine with it", _add_note),
    "mark": (BookMarkOptions, mark, "a routine learnt, shaky or not done: what is due follows that", _add_mark),
    "export": (BookExportOptions, export, "the whole book as CSV or JSON", _add_export),
    "import": (BookImportOptions, take_in, "take in an exported book; what is there already stays once", _add_import),
    "where": (BookWhereOptions, where, "where the book lies, and how to erase it", lambda one: None),
    "erase": (BookEraseOptions, erase, "erase a class, one routine of it, or the whole book", _add_erase),
}


# -- saying


def _tell(found: tuple[Known, ...], pages: Pages, asked: BookListOptions, name: str | None, nothing: str = "") -> None:
    if asked.json:
        print_json([_document(one) for one in found])
        return
    if not found and (nothing or not pages.notes):
        print(nothing or "the book is empty; 'caller book note CLASS WORDS' begins it")
    for one in found:
        print(_line(one))
        for words in one.notes:
            print(f"    note: {words}")
    for kept in pages.notes:
        if not nothing and not kept.routine and name in (None, kept.class_name):
            print(f"{kept.class_name}: note of {kept.at.astimezone():%d %b %Y}: {kept.words}")


def _line(one: Known) -> str:
    got = (
        f"stage {one.furthest} of {one.stages}, {one.part}" if one.furthest else f"none of {one.stages} stages in turn"
    )
    far = got if one.stages else one.part
    top = f", up to {round(float(one.top_tempo), 1):g} a minute" if one.top_tempo else ""
    full = f" (full: {float(one.full):g})" if one.full and one.top_tempo else ""
    days = ", ".join(_days(one.lessons - one.runs, "lesson", not one.runs) + _days(one.runs, "run"))
    dates = f"last {one.last.astimezone():%d %b %Y}, due {one.due.astimezone():%d %b %Y}"
    mark = f", {one.mark}" if one.mark else ""
    told = ", ".join(part for part in (far, f"{top}{full}".removeprefix(", ")) if part) or "never danced"
    return f"{one.class_name}: {one.routine}{mark}: {told}; {days}, {dates}"


def _days(days: int, kind: str, none_too: bool = False) -> list[str]:
    """ "1 lesson", "2 runs"; none where there were none, unless that is to be said."""
    return [f"{days} {kind}{'' if days == 1 else 's'}"] if days or none_too else []


def _document(one: Known) -> dict[str, object]:
    from caller.book.entries import moment_text

    return {
        "class": one.class_name,
        "routine": one.routine,
        "lessons": one.lessons,
        "runs": one.runs,
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
