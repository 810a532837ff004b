"""What an evening is made of: from what the class knows, what is due and what is on hand, within the hall's hours.

Conventions: instants are UTC; minutes as in :mod:`caller.evening.plan`. Revision comes first, then the new dance, a
break, the rest of the revision and requests: as teachers do, without a source. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from fractions import Fraction

from caller.book.entries import Known
from caller.calls.plan import Manner
from caller.evening.plan import Item, Kind, Plan

# A dance that is known is run a little under its tempo, with its walls and events said: then it is seen who knows it.
RUN_TEMPO = Fraction(9, 10)
# What is due by the end of the evening is due.
DUE_WITHIN = timedelta(hours=12)
BREAK_MINUTES, REQUEST_MINUTES = 10, 5
# Shorter evenings have no break.
WITH_A_BREAK = 60
MOST_RUNS, MOST_REQUESTS = 5, 4
# How many runs come before the lesson, while everybody is fresh; and the least that a lesson is worth beginning for.
RUNS_BEFORE, LEAST_LESSON = 2, 10


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is to be in an evening, the most important first, not yet with minutes. left_out: what can't be, with
    why."""

    items: tuple[Item, ...]
    left_out: tuple[tuple[str, str], ...] = ()


def wishes(known: Sequence[Known], on_hand: Sequence[str], now: datetime, new: str | None = None) -> Wishes:
    """known: of the class. on_hand: titles, those that may be new first. new: what is to be taught, None = what was
    left half taught, else the first on hand that the class has not had."""
    here = {title.lower() for title in on_hand}
    there = [one for one in known if one.routine.lower() in here]
    lost = ((one.routine, "its sheet is not on hand") for one in known if one.routine.lower() not in here)
    lesson = _lesson(there, on_hand, new)
    runs = [one for one in _runs(there, now) if lesson is None or one.routine.lower() != lesson.routine.lower()]
    items = [lesson] if lesson else []
    items += [_run(one, now) for one in runs[:1]]
    items.append(Item(Kind.BREAK, BREAK_MINUTES))
    items += _recap(there, lesson)
    if lesson is not None:
        items.append(Item(Kind.RUN, routine=lesson.routine, why="once more"))
    items += [_run(one, now) for one in runs[1:MOST_RUNS]]
    items += [Item(Kind.REQUEST, REQUEST_MINUTES, tempo=Fraction(1))] * MOST_REQUESTS
    return Wishes(tuple(items), tuple(lost))


def fitted(wanted: Wishes, class_name: str, starts: int, closes: int) -> Plan:
    """What of the wishes there is time for, in the order in which it is danced. A lesson that is too long is begun all
    the same, and gone on with another time."""
    left, taken = closes - starts, []
    left_out = list(wanted.left_out)
    cut = ""
    for item in wanted.items:
        if (item.kind is Kind.BREAK and closes - starts < WITH_A_BREAK) or item.routine == cut != "":
            continue
        if item.minutes > left and item.kind is Kind.LESSON and left >= LEAST_LESSON:
            cut, item = item.routine, replace(item, minutes=left)
        if item.minutes <= left:
            taken.append(item)
            left -= item.minutes
        elif item.kind is not Kind.REQUEST:
            cut = item.routine if item.kind is Kind.LESSON else cut
            left_out.append((item.name, "there is no time for it"))
    return Plan(class_name, starts, closes, tuple(_in_turn(taken)), tuple(left_out))


def _in_turn(taken: Iterable[Item]) -> Iterator[Item]:
    """As it is danced; a break only where something comes after it, and what is taught is run after it only."""
    by_kind: dict[Kind, list[Item]] = {kind: [] for kind in Kind}
    for item in taken:
        by_kind[item.kind].append(item)
    new = {item.routine for item in by_kind[Kind.LESSON]}
    runs = [item for item in by_kind[Kind.RUN] if item.routine not in new]
    yield from runs[:RUNS_BEFORE]
    yield from by_kind[Kind.RECAP]
    yield from by_kind[Kind.LESSON]
    once_more = [item for item in by_kind[Kind.RUN] if item.routine in new]
    after = [*once_more, *runs[RUNS_BEFORE:], *by_kind[Kind.REQUEST]]
    yield from by_kind[Kind.BREAK] if after else ()
    yield from after


def _lesson(there: Sequence[Known], on_hand: Sequence[str], new: str | None) -> Item | None:
    had = {one.routine.lower(): one for one in there}
    if new is not None:
        return _taught(had[new.lower()]) if new.lower() in had else Item(Kind.LESSON, routine=new, why="new", keep=True)
    half = [one for one in there if not _can_run(one)]
    if half:
        return _taught(max(half, key=lambda one: one.last))
    fresh = next((title for title in on_hand if title.lower() not in had), None)
    return Item(Kind.LESSON, routine=fresh, why="new", keep=True) if fresh else None


def _taught(one: Known) -> Item:
    """The walkthrough from where it was left."""
    left = one.furthest < one.stages
    why = one.mark or (f"got to stage {one.furthest} of {one.stages}" if left else "again")
    return Item(Kind.LESSON, routine=one.routine, why=why, stage=one.furthest + 1 if left else 1, keep=True)


def _can_run(one: Known) -> bool:
    """Whether the class can dance all of it."""
    return one.mark in ("learnt", "shaky") or (one.whole and one.mark != "not done")


def _runs(there: Sequence[Known], now: datetime) -> list[Known]:
    """What is to be danced again: what was danced last, then what is due, the longest overdue first."""
    can = [one for one in there if _can_run(one)]
    due = sorted((one for one in can if one.due <= now + DUE_WITHIN), key=lambda one: one.due)
    last = max(can, key=lambda one: one.last, default=None)
    return list(dict.fromkeys([*([last] if last else []), *due]))


def _run(one: Known, now: datetime) -> Item:
    weeks = (now.date() - one.last.date()).days // 7
    ago = {0: "danced this week", 1: "danced last week"}.get(weeks, f"danced {weeks} weeks ago")
    why = ", ".join(filter(None, (one.mark, ago if one.lessons else "")))
    return Item(Kind.RUN, routine=one.routine, why=why, tempo=RUN_TEMPO, manner=Manner.PROMPTS)


def _recap(there: Sequence[Known], lesson: Item | None) -> Iterator[Item]:
    """Of what the class had for the first time when it was last here, or what is shaky, or is to be gone on with."""
    begun = [one for one in there if one.lessons and (one.lessons == 1 or one.mark == "shaky" or not _can_run(one))]
    latest = max(begun, key=lambda one: one.last, default=None)
    again = lesson is not None and latest is not None and lesson.routine.lower() == latest.routine.lower()
    if latest is not None and not (again and lesson is not None and lesson.stage == 1):
        yield Item(Kind.RECAP, routine=latest.routine, why="for those who missed it")
