"""What a teacher says into the class book: how well a class can do a routine, and notes; of which class and routine."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from caller.cli.book_open import class_meant, open_book, pages_there
from caller.cli.book_options import BookMarkOptions, BookNoteOptions
from caller.cli.files import typed_path
from caller.cli.say import Refused
from caller.screen.plain_text import plain_title

if TYPE_CHECKING:
    from caller.book.entries import Pages


def note(asked: BookNoteOptions) -> int:
    from caller.book.entries import Note
    from caller.book.spelling import class_called

    pages = pages_there()
    name = class_called(pages.classes, asked.name)
    routine = "" if asked.routine is None else routine_meant(asked.routine, pages)
    entry = Note(name or asked.name, _now(), routine, asked.words)
    with open_book() as book:
        book.add(entry)
    others = ", ".join(map(repr, pages.classes))
    begun = f", a class that the book did not have; it has {others}" if others and name is None else ""
    print(f"noted for {entry.class_name}{begun}")
    return 0


def mark(asked: BookMarkOptions) -> int:
    from caller.book.entries import STANDINGS, Mark

    name, pages = class_meant(asked.name, asked.new_class), pages_there()
    standing = next(one for one in STANDINGS if one == asked.mark.replace("-", " "))
    entry = Mark(name, _now(), routine_meant(asked.routine, pages), standing)
    with open_book() as book:
        book.add(entry)
    print(f"{entry.class_name}: {entry.routine}: {entry.mark}")
    return 0


def routine_meant(asked: str, pages: Pages) -> str:
    """The title of the routine that a name means: of a sheet, found as for a dance, as that has it; else of one that
    the book has; else of the one of either that has it for a part of its title. Raises Refused, with what is near."""
    from caller.book.spelling import folded, spellings
    from caller.cli.sheets import called, load, loaded_on_hand, near_words, only_part, vocabulary

    words = vocabulary()
    if os.path.isfile(path := typed_path(asked)):
        return load(path, words).title
    on_hand = list(loaded_on_hand(words))
    if found := called(asked, on_hand):  # several of one title are one routine in the book
        return found[-1].title
    kept = spellings(pages)
    if (title := kept.get(folded(asked))) is not None:
        return title
    if title := only_part(asked, [*(sheet.title for sheet in on_hand), *kept.values()]):
        return title
    near = near_words(asked, [*(name for sheet in on_hand for name in sheet.names), *kept.values()])
    hint = near or "'caller list' shows the routines on hand"
    raise Refused(f"there is no routine called {plain_title(asked)!r}, on hand or in the book; {hint}", 1)


def _now() -> datetime:
    return datetime.now(UTC).replace(microsecond=0)
