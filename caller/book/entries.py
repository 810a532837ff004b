"""Entries of the class book, and what they say of a class: pure values and sums over them.

Conventions: ``at`` is UTC, to the second, as "2026-03-31T18:45:00Z"; tempo is counts a minute, exact. Entries are only
ever added. How far a routine got is told by the stages of its walkthrough: ``stage`` of ``stages``, from 1; a drill or
a dance has no place among them (0 of 0).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from typing import Literal, TypeVar, get_args

# What was done, as the commands are called.
Way = Literal["walkthrough", "drill", "practice", "dance"]
WAYS: tuple[Way, ...] = get_args(Way)

# Days until a routine is to be gone over again, by how many lessons it has had; a class meets once a week. Each
# repetition lets the next one wait longer (spaced practice; common practice, the steps are ours).
_WAIT_DAYS = (7, 14, 28, 56, 112)


@dataclass(frozen=True, slots=True)
class Taught:
    """One stage done by one class. part: what of the routine, in words. full: the routine's own tempo."""

    class_name: str
    at: datetime
    routine: str
    way: str
    part: str
    stage: int = 0
    stages: int = 0
    tempo: Fraction | None = None
    full: Fraction | None = None


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


@dataclass(frozen=True, slots=True)
class Known:
    """What a class knows of one routine. lessons: days on which it was taught; furthest: the last stage reached of
    ``stages``, with its words; top_tempo: the quickest of all, None where none was kept; whole: the
    walkthrough got to its end, or the whole dance was danced."""

    class_name: str
    routine: str
    lessons: int
    last: datetime
    furthest: int
    stages: int
    part: str
    top_tempo: Fraction | None
    full: Fraction | None
    due: datetime
    notes: tuple[str, ...]
    whole: bool


def known(pages: Pages, class_name: str | None = None) -> tuple[Known, ...]:
    """What each class (or one) knows, by class and routine."""
    groups: dict[tuple[str, str], list[Taught]] = {}
    for entry in pages.taught:
        if class_name in (None, entry.class_name):
            groups.setdefault((entry.class_name, entry.routine), []).append(entry)
    return tuple(_known(group, pages) for _, group in sorted(groups.items()))


def due(pages: Pages, now: datetime, class_name: str | None = None) -> tuple[Known, ...]:
    """What is to be gone over again by ``now``, the longest overdue first."""
    waiting = (one for one in known(pages, class_name) if one.due <= now)
    return tuple(sorted(waiting, key=lambda one: (one.due, one.class_name, one.routine)))


def _known(group: list[Taught], pages: Pages) -> Known:
    last = max(entry.at for entry in group)
    lessons = len({entry.at.date() for entry in group})
    furthest = max(group, key=lambda entry: (entry.stage, entry.at))
    tempos = [entry.tempo for entry in group if entry.tempo is not None]
    fulls = [entry.full for entry in group if entry.full is not None]
    first = group[0]
    # What was left half taught is gone on with at the next class.
    whole = any(entry.way == "dance" or 0 < entry.stages <= entry.stage for entry in group)
    wait = _WAIT_DAYS[min(lessons, len(_WAIT_DAYS)) - 1] if whole else _WAIT_DAYS[0]
    return Known(
        first.class_name,
        first.routine,
        lessons,
        last,
        furthest.stage,
        furthest.stages,
        furthest.part,
        max(tempos, default=None),
        fulls[-1] if fulls else None,
        last + timedelta(days=wait),
        tuple(n.words for n in pages.notes if (n.class_name, n.routine) == (first.class_name, first.routine)),
        whole,
    )


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
    """What the second has that the first lacks. Entries are the same where all they say is; what stands twice is
    wanted twice."""
    return Pages(
        _missing(book.classes, wanted.classes),
        _missing(book.taught, wanted.taught),
        _missing(book.notes, wanted.notes),
    )


_Item = TypeVar("_Item", str, Taught, Note)


def _missing(there: Iterable[_Item], wanted: Iterable[_Item]) -> tuple[_Item, ...]:
    left = Counter(there)
    found: list[_Item] = []
    for item in wanted:
        if left[item]:
            left[item] -= 1
        else:
            found.append(item)
    return tuple(found)
