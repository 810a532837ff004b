"""What the next class of each is made of, as the class book tells it: a line for each class that is taught."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from itertools import groupby
from typing import TYPE_CHECKING

from caller.cli.keeping import AT_HOME

if TYPE_CHECKING:
    from caller.book.known import Known
    from caller.book.next_class import NextClass


def next_lines(found: Iterable[Known]) -> Iterator[str]:
    """found: what classes know, class by class. Not for whoever practises alone, who meets at no hour."""
    from caller.book.next_class import next_class
    from caller.book.spelling import same_name

    for name, of_class in groupby(found, key=lambda one: one.class_name):
        if not same_name(name, AT_HOME):
            yield f"{name}, next class: {_words(next_class(tuple(of_class), datetime.now(UTC)))}"


def _words(comes: NextClass) -> str:
    half, due = ", ".join(map(_half_words, comes.half)), ", ".join(map(_due_words, comes.due))
    parts = (f"half taught: {half}" if half else "", f"due again: {due}" if due else "")
    return "; ".join(filter(None, parts)) or "nothing is due, there is room for a new dance"


def _half_words(one: Known) -> str:
    got = f"to stage {one.furthest} of {one.stages}, {one.part}" if one.furthest else one.part
    return _in_brackets(one.routine, one.mark, got)


def _due_words(one: Known) -> str:
    return _in_brackets(one.routine, one.mark)


def _in_brackets(routine: str, *words: str) -> str:
    told = ", ".join(filter(None, words))
    return f"{routine} ({told})" if told else routine
