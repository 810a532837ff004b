"""The class book as its commands open it, and what they say of how much it holds."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from caller.cli.say import Refused, warn

if TYPE_CHECKING:
    from caller.book.entries import Pages
    from caller.book.store import Book


@contextmanager
def open_book() -> Iterator[Book]:
    from caller.book.store import Book, book_path

    with Book(book_path()) as book:
        yield book


def known_class(pages: Pages, name: str | None) -> None:
    """Raises Refused for a class that the book has not."""
    if name is not None and name not in pages.classes:
        there = ", ".join(repr(known) for known in pages.classes) or "none yet"
        raise Refused(f"there is no class {name!r} in the book; there are: {there}", 1)


def tell_unread(book: Book) -> None:
    if book.unread:
        warn(f"left out, since it can't be read: {counted(book.unread, 'entry', 'entries')} of the book")


def entries_of(pages: Pages) -> int:
    return len(pages.taught) + len(pages.notes) + len(pages.marks)


def counted(number: int, one: str, more: str) -> str:
    return f"{number} {one if number == 1 else more}"
