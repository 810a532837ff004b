"""The class book as its commands open it, and what they say of how much it holds."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING

from caller.cli.keeping import AT_HOME
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


def class_meant(name: str, new: bool) -> str:
    """The class of that name, as the book has it. One that it has not is begun where that is asked for, and where it is
    the first, and that is told. Raises Refused, with what is near, for one that it has not beside others; BookFault."""
    from caller.book.spelling import class_called, same_name

    pages = pages_there()
    if (found := class_called(pages.classes, name)) is not None or same_name(name, AT_HOME):
        return found or name
    taught = tuple(one for one in pages.classes if not same_name(one, AT_HOME))
    if taught and not new:
        raise Refused(f"{near_class(replace(pages, classes=taught), name)}; --new-class begins one", 1)
    warn(f"{begins_words(name, taught)}: it is a new one")
    return name


def class_in_book(name: str, new: bool) -> str:
    """The same for a class that goes on without a book: where that can't be read, which is told, the class as it is
    named. Raises Refused."""
    from caller.book.store import BookFault

    try:
        return class_meant(name, new)
    except BookFault as fault:
        warn(str(fault))
        return name


def begins_words(name: str, others: tuple[str, ...]) -> str:
    """That the book has no class of that name yet, and which are near, or there."""
    from caller.cli.sheets import near_words

    near = near_words(name, others) or f"it has {', '.join(map(repr, others))}" if others else "nor any other"
    return f"the book has no class {name!r} yet ({near})"


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
