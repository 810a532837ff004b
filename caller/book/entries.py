"""Entries of the class book: pure values.

Conventions: ``at`` is UTC, to the second, as "2026-03-31T18:45:00Z"; tempo is counts a minute, exact. Entries are only
ever added; of what was danced while nobody answered, all that may be added is that somebody did, and a dance that is
under way has one entry, which tells of more walls as they are danced. How far a routine got
is told by the stages of its walkthrough: ``stage`` of ``stages``, from 1; a drill or a dance outside of a walkthrough
has no place among them (0 of 0).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from fractions import Fraction
from typing import Literal, TypeVar, get_args

# What was done, as the commands are called.
Way = Literal["walkthrough", "drill", "practice", "dance"]
WAYS: tuple[Way, ...] = get_args(Way)
# How well a class can do a routine, as its teacher says.
Standing = Literal["learnt", "shaky", "not done"]
STANDINGS: tuple[Standing, ...] = get_args(Standing)


@dataclass(frozen=True, slots=True)
class Taught:
    """One stage done by one class. part: what of the routine, in words. tempo: as danced; full: the routine's own.
    attended: somebody was there, as far as an order tells. since: the stage of a walkthrough from which, up to this
    one, none was left out; from 1, and 1 where it was not kept."""

    class_name: str
    at: datetime
    routine: str
    way: str
    part: str
    stage: int = 0
    stages: int = 0
    tempo: Fraction | None = None
    full: Fraction | None = None
    attended: bool = True
    since: int = 1


@dataclass(frozen=True, slots=True)
class Mark:
    """How well a class can do a routine, as its teacher says; a later one holds in its place."""

    class_name: str
    at: datetime
    routine: str
    mark: Standing


@dataclass(frozen=True, slots=True)
class Note:
    """The teacher's words on a class, or on one routine with it ("" = the class)."""

    class_name: str
    at: datetime
    routine: str
    words: str


@dataclass(frozen=True, slots=True)
class Pages:
    """All of a book. classes: in order of name, also those without an entry; entries in the order they were made."""

    classes: tuple[str, ...] = ()
    taught: tuple[Taught, ...] = ()
    notes: tuple[Note, ...] = ()
    marks: tuple[Mark, ...] = ()


def moment(text: str) -> datetime:
    """The instant of "2026-03-31T18:45:00Z". Raises ValueError for any other writing, and for a year that no class is
    taught in: what is reckoned from it must be a date too."""
    at = datetime.strptime(text, _FORM).replace(tzinfo=UTC)
    if not FIRST_YEAR <= at.year <= LAST_YEAR:
        raise ValueError(f"a year from {FIRST_YEAR} to {LAST_YEAR}, not {at.year}")
    return at


def moment_text(at: datetime) -> str:
    return at.astimezone(UTC).strftime(_FORM)


_FORM = "%Y-%m-%dT%H:%M:%SZ"
FIRST_YEAR, LAST_YEAR = 1900, 2999


def missing_from(book: Pages, wanted: Pages) -> Pages:
    """What the second has that the first lacks. Entries are the same where all they say is, tempos to a hundredth, as
    they go out; what stands twice is wanted twice."""
    return Pages(
        _missing(book.classes, wanted.classes),
        _missing(book.taught, wanted.taught),
        _missing(book.notes, wanted.notes),
        _missing(book.marks, wanted.marks),
    )


_Item = TypeVar("_Item", str, Taught, Note, Mark)


def _missing(there: Iterable[_Item], wanted: Iterable[_Item]) -> tuple[_Item, ...]:
    left = Counter(map(_going_out, there))
    found: list[_Item] = []
    for item in wanted:
        if left[told := _going_out(item)]:
            left[told] -= 1
        else:
            found.append(item)
    return tuple(found)


def _going_out(item: _Item) -> str | Taught | Note | Mark:
    return replace(item, tempo=hundredths(item.tempo), full=hundredths(item.full)) if isinstance(item, Taught) else item


def hundredths(tempo: Fraction | None) -> Fraction | None:
    """To a hundredth."""
    return None if tempo is None else Fraction(round(100 * tempo), 100)
