"""What is asked of the class book, one type for each ask."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class BookListOptions:
    """name: of one class only. Of 'list' and 'due', and where nothing is asked."""

    name: str | None = None
    json: bool = False


@dataclass(frozen=True, kw_only=True)
class BookNoteOptions:
    """routine: the title that it is about, None for the class."""

    name: str
    words: str
    routine: str | None


@dataclass(frozen=True, kw_only=True)
class BookMarkOptions:
    """new_class: the book may begin a class of that name."""

    name: str
    routine: str
    mark: str
    new_class: bool


@dataclass(frozen=True, kw_only=True)
class BookExportOptions:
    file: str
    over: bool


@dataclass(frozen=True, kw_only=True)
class BookImportOptions:
    file: str
    only_tell: bool


@dataclass(frozen=True, kw_only=True)
class BookWhereOptions:
    """Nothing is said with it."""


@dataclass(frozen=True, kw_only=True)
class BookEraseOptions:
    """name: one class, None for the whole book (all). routine: of the class, None for all that is kept of it."""

    name: str | None
    routine: str | None
    all: bool
    yes: bool
