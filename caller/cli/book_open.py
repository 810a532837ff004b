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


def pages_there() -> Pages:
    """Of the book as it lies; none of one that is not there yet, and none is begun by asking."""
    from caller.book.entries import Pages
    from caller.book.store import book_path

    if not book_path().exists():
        return Pages()
    with open_book() as book:
        return book.pages()


def known_class(pages: Pages, name: str) -> str:
    """The class of that name, as the book has it. Raises Refused for a class that the book has not."""
    from caller.book.spelling import class_called

    if (found := class_called(pages.classes, name)) is None:
        raise Refused(near_class(pages, name), 1)
    return found


def near_class(pages: Pages, name: str) -> str:
    """That the book has no class of that name, and which are near, or there."""
    from caller.cli.sheets import near_words

    there = ", ".join(repr(known) for known in pages.classes) or "none yet"
    near = near_words(name, pages.classes)
    return f"there is no class {name!r} in the book; {near or f'there are: {there}'}"


def tell_unread(book: Book) -> None:
    if book.unread:
        warn(f"left out, since it can't be read: {counted(book.unread, 'entry', 'entries')} of the book")


def entries_of(pages: Pages) -> int:
    return len(pages.taught) + len(pages.notes) + len(pages.marks)


def counted(number: int, one: str, more: str) -> str:
    return f"{number} {one if number == 1 else more}"
