"""One routine under one title, one class under one name, in whatever case they are written. Pure.

Conventions: a book keeps titles as they came; they are joined where it is told what a class knows.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TypeVar

from caller.book.entries import Mark, Note, Pages, Taught

_Entry = TypeVar("_Entry", Taught, Note, Mark)


def same_name(one: str, other: str) -> bool:
    """Whether two titles, or two names of classes, are the same but for case and spacing."""
    return folded(one) == folded(other)


def folded(name: str) -> str:
    return " ".join(name.split()).casefold()


def spellings(pages: Pages) -> dict[str, str]:
    """The title of each routine in the book, by its folded one: as it was last danced, which is as its sheet had it;
    where it never was, as it was last marked, else noted."""
    entries: list[Taught | Note | Mark] = []
    for group in (pages.notes, pages.marks, pages.taught):
        entries += sorted(group, key=lambda one: one.at)
    return {folded(entry.routine): entry.routine for entry in entries if entry.routine}


def class_called(classes: Iterable[str], name: str) -> str | None:
    """The class of that name, in any case and spacing, as it is written there; None where there is none."""
    return next((one for one in classes if same_name(one, name)), None)


def classes_joined(pages: Pages, classes: Iterable[str]) -> Pages:
    """With the classes as a book has them, and one name for each that it has not."""
    names: dict[str, str] = {}
    for name in (*classes, *pages.classes):
        names.setdefault(folded(name), name)

    def named(entries: Iterable[_Entry]) -> tuple[_Entry, ...]:
        return tuple(replace(one, class_name=names.get(folded(one.class_name), one.class_name)) for one in entries)

    own = tuple(dict.fromkeys(names[folded(name)] for name in pages.classes))
    return Pages(own, named(pages.taught), named(pages.notes), named(pages.marks))


def joined(pages: Pages) -> Pages:
    """With one title for each routine; nothing else is changed."""
    titles = spellings(pages)

    def named(entries: Iterable[_Entry]) -> tuple[_Entry, ...]:
        return tuple(replace(one, routine=titles.get(folded(one.routine), one.routine)) for one in entries)

    return replace(pages, taught=named(pages.taught), notes=named(pages.notes), marks=named(pages.marks))
