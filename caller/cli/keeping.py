"""What a class did, written into its book as it happens.

Conventions: what is made here is called from the class's own thread with each thing done, and returns a sentence to be
told, "" where all is well. A book that can't be written is told of once, and the class goes on.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from caller.book.entries import Taught
    from caller.dance.walls import Dance
    from caller.teaching.running import Running


# The class that stands for whoever practises alone.
AT_HOME = "at home"


def keeping_goes(class_name: str | None) -> Callable[[Running], str] | None:
    """Keeps each go of a programme; None where there is no class."""
    from caller.book.lessons import taught_now

    if class_name is None:
        return None
    write = _writing()
    return lambda running: write(taught_now(class_name, running, datetime.now(UTC)))


def keeping_dances(class_name: str | None, full_tempo: Fraction) -> Callable[[Dance, Fraction], str] | None:
    """Keeps each time the whole dance was danced, with its tempo; None where there is no class."""
    from caller.book.lessons import danced_now

    if class_name is None:
        return None
    write = _writing()
    return lambda dance, tempo: write(danced_now(class_name, dance, tempo, full_tempo, datetime.now(UTC)))


def last_time(class_name: str, title: str) -> str:
    """A sentence or two on when a class last did a routine, how fast, and how far a walkthrough of it got; "" where the
    book knows of none, or can't be read."""
    from caller.book.entries import known
    from caller.book.store import Book, BookFault, book_path

    try:
        if not book_path().exists():
            return ""
        with Book(book_path()) as book:
            found = [entry for entry in known(book.pages(), class_name) if entry.routine == title]
    except BookFault:
        return ""  # what can't be written either is told then
    if not found or found[0].top_tempo is None or found[0].full is None:
        return ""
    day, top, full = found[0].last.astimezone(), float(found[0].top_tempo), float(found[0].full)
    fast = f"Last time, on {day.day} {day:%B}: up to {top:.4g} counts a minute, of {full:.4g}."
    stage, stages = found[0].furthest, found[0].stages
    on = f" --stage {stage + 1} goes on there." if stage < stages else ""
    return f"{fast} The walkthrough got to stage {stage} of {stages}.{on}" if stage else fast


def _writing() -> Callable[[Taught | None], str]:
    from caller.book.store import Book, BookFault, book_path

    told: list[str] = []

    def write(entry: Taught | None) -> str:
        if entry is None or told:
            return ""
        try:
            with Book(book_path()) as book:
                book.add(entry)
        except BookFault as fault:
            told.append(f"Not kept in the class book: {fault}.")
            return told[0]
        return ""

    return write
