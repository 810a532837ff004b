"""What an evening is to be made of: from what the class knows, what is due and what is on hand.

Conventions: instants are UTC; minutes as in :mod:`caller.evening.plan`, not yet told here. What is danced is not yet in
its order. As teachers do, without a source. Pure.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from fractions import Fraction

from caller.book.known import Known
from caller.calls.plan import Manner
from caller.evening.plan import Item, Kind

# A dance that is known is run a little under its tempo, with its walls and events said: then it is seen who knows it.
RUN_TEMPO = Fraction(9, 10)
# What is due by the end of the evening is due; what was danced so shortly before was danced this evening.
DUE_WITHIN, THIS_EVENING = timedelta(hours=12), timedelta(hours=6)
BREAK_MINUTES, REQUEST_MINUTES = 10, 5
# What a recap of a dance that is shaky may take at most: it is gone over twice where there is time.
SHAKY_RECAP_MINUTES = 10
MOST_RUNS, MOST_MORE_RUNS, MOST_AGAIN = 5, 4, 3
# More requests than the class knows dances are none. Besides the dance that is meant, so many may be taught.
LEAST_REQUESTS, MOST_REQUESTS, MOST_OTHERS = 2, 4, 2
# Of a long evening of short lessons so many more, once all else is in it.
MOST_MORE_LESSONS = 2
HARDEST, WARM_UP, SHAKY, GOES_ON = "what is hardest of it", "to warm up", "shaky", "before it goes on"
# Why a recap comes before its own lesson: nobody goes on with what does not stand, or was danced a week ago.
BEFORE_A_LESSON = (SHAKY, GOES_ON)
# A dance of which less than this was taught is begun anew the next time, and not gone over for those who missed it.
_HARDLY = Fraction(1, 4)


# How hard a routine is, by its title or its file: the easiest is least.
Ease = Callable[[str], tuple[Fraction | int, ...]]


def as_easy(routine: str) -> tuple[Fraction | int, ...]:
    """Each as easy as any other."""
    return ()


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is to be in an evening, the most important first, not yet with minutes. more: what the time that is left is
    filled with, the best first. all_in: with these there is nothing more to be had. left_out: what can't be, with
    why."""

    items: tuple[Item, ...]
    more: tuple[Item, ...] = ()
    all_in: bool = True
    left_out: tuple[tuple[str, str], ...] = ()


def wishes(
    known: Sequence[Known], on_hand: Sequence[str], now: datetime, new: str | None = None, ease: Ease = as_easy
) -> Wishes:
    """known: of the class. on_hand: titles, those that may be new first. new: what is to be taught, None = what was
    left half taught, else the first on hand that the class has not had; the easiest, where it has had none."""
    on_hand = on_hand if known else sorted(on_hand, key=ease)
    here = {title.lower() for title in on_hand} | ({new.lower()} if new is not None else set())
    there = [one for one in known if one.routine.lower() in here]
    lost = ((one.routine, "its sheet is not on hand") for one in known if one.routine.lower() not in here)
    lessons = tuple(_lessons(there, on_hand, now, new))
    lesson = lessons[0] if lessons else None
    taught = "" if lesson is None else lesson.routine.lower()
    can = [one for one in there if one.can_run and one.routine.lower() != taught and not _this_evening(one, now)]
    due = _due(can, now)[:MOST_RUNS]
    warm = _to_warm_up(can, due, ease)
    if warm is not None:  # it has the time first: nobody begins a short evening cold
        due = [warm, *(one for one in due if one is not warm)]
    before = due[: 1 if warm is None else 2]
    rest = sorted((one for one in can if one not in due), key=lambda one: one.last)
    others = [replace(other, keep=False) for other in lessons[1:]]
    seconds, further = others[:MOST_OTHERS], others[MOST_OTHERS : MOST_OTHERS + MOST_MORE_LESSONS]
    items, recap = [lesson] if lesson else [], list(_recap(there, lesson, now))
    items += [item for item in recap if item.why in BEFORE_A_LESSON]
    items += [_run(one, now, warm) for one in before]
    items.append(Item(Kind.BREAK, BREAK_MINUTES))
    items += [item for item in recap if item.why not in BEFORE_A_LESSON]
    items += [_once_more(lesson)] if lesson else []
    items += [_run(one, now, warm) for one in due[len(before) :]]
    all_in = len(rest) <= MOST_MORE_RUNS and len(others) <= MOST_OTHERS + MOST_MORE_LESSONS
    return Wishes(
        tuple(items), (*_more(lesson, seconds, due, rest, there, now), *_further(further)), all_in, tuple(lost)
    )


def _more(
    lesson: Item | None,
    seconds: Sequence[Item],
    due: Sequence[Known],
    rest: Sequence[Known],
    had: Sequence[Known],
    now: datetime,
) -> Iterator[Item]:
    """What time that is left is filled with, the best first. seconds: what else may be taught; rest: what the class can
    dance besides what is due; had: all that it had."""
    request = Item(Kind.REQUEST, REQUEST_MINUTES)
    shaky = next((one for one in (*due, *rest) if one.mark == "shaky"), None)
    if shaky is not None:
        yield _drill(shaky.routine, SHAKY, shaky.often)
    yield from [request] * LEAST_REQUESTS
    yield from (_run(one, now) for one in rest[:MOST_MORE_RUNS])
    if lesson is not None:
        yield _drill(lesson.routine, HARDEST, "")
    for other in seconds:
        yield from (other, *_before_it_goes_on(other, had, now), _once_more(other))
    if lesson is not None and seconds:
        yield _to_end_with(lesson)
    yield from (_again(one) for one in due[:MOST_AGAIN])
    yield from [request] * (min(MOST_REQUESTS, len(due) + len(rest)) - LEAST_REQUESTS)
    for other in seconds:
        yield from (_drill(other.routine, HARDEST, ""), _to_end_with(other))


def _further(lessons: Sequence[Item]) -> Iterator[Item]:
    """What a long evening is filled with, where even then time is left."""
    for lesson in lessons:
        yield from (lesson, _once_more(lesson))


def _lessons(there: Sequence[Known], on_hand: Sequence[str], now: datetime, new: str | None) -> Iterator[Item]:
    """What may be taught, the best first: what is named, what was left half taught, what was hardly begun or danced in
    part alone, last of all what is new."""
    had = {one.routine.lower(): one for one in there}
    named = None if new is None else new.lower()
    if new is not None and named is not None:
        yield _taught(had[named], now) if named in had else Item(Kind.LESSON, routine=new, why="new", keep=True)
    half = sorted((one for one in there if not one.can_run), key=lambda one: one.last, reverse=True)
    half.sort(key=lambda one: one.mark != "not done" and _hardly(one))
    yield from (_taught(one, now) for one in half if one.routine.lower() != named)
    fresh = (title for title in on_hand if title.lower() not in had and title.lower() != named)
    yield from (Item(Kind.LESSON, routine=title, why="new", keep=True) for title in fresh)


def _taught(one: Known, now: datetime) -> Item:
    """The walkthrough from where it was left; from its start, where little was danced."""
    left = one.furthest < one.stages
    goes_on = left and one.furthest > 0 and (not _hardly(one) or _this_evening(one, now))
    got = f"got to stage {one.furthest} of {one.stages}" if goes_on else ("hardly begun" if left else "again")
    taught = one.stages or one.whole or one.mark  # what was drilled alone was never taught
    why = "not done" if one.mark == "not done" else (got if taught else "not taught yet")
    why += ", shaky" if one.mark == "shaky" else ""
    stage = one.furthest + 1 if goes_on else 1
    return Item(Kind.LESSON, routine=one.routine, why=why, stage=stage, keep=True)


def _hardly(one: Known) -> bool:
    """So little was danced of its walkthrough that next time it is begun anew."""
    return not one.whole and (not one.furthest or one.furthest < _HARDLY * one.stages)


def _this_evening(one: Known, now: datetime) -> bool:
    return bool(one.lessons) and now - one.last <= THIS_EVENING


def _due(can: Sequence[Known], now: datetime) -> list[Known]:
    """What is to be danced again: what was danced last, then what is due, the longest overdue first."""
    due = sorted((one for one in can if one.due <= now + DUE_WITHIN), key=lambda one: one.due)
    last = max(can, key=lambda one: one.last, default=None)
    return list(dict.fromkeys([*([last] if last else []), *due]))


def _to_warm_up(can: Sequence[Known], due: Sequence[Known], ease: Ease) -> Known | None:
    """The easiest of all, where it is easier than the dance that would come first. What is shaky is no warm-up while
    another dance is known."""

    def hard(one: Known) -> tuple[bool, tuple[Fraction | int, ...]]:
        return one.mark == "shaky", ease(one.routine.lower())

    warm = min(can, key=hard, default=None)
    return warm if warm is not None and hard(warm) < hard(due[0]) else None


def _run(one: Known, now: datetime, warm: Known | None = None) -> Item:
    """warm: what everybody warms up with."""
    weeks = (now.date() - one.last.date()).days // 7
    ago = {0: "danced this week", 1: "danced last week"}.get(weeks, f"danced {weeks} weeks ago")
    why = ", ".join(filter(None, (WARM_UP if one is warm else "", one.mark, ago if one.lessons else "")))
    return Item(Kind.RUN, routine=one.routine, why=why, tempo=RUN_TEMPO, manner=Manner.PROMPTS)


def _once_more(lesson: Item) -> Item:
    return Item(Kind.RUN, routine=lesson.routine, why="once more")


def _to_end_with(lesson: Item) -> Item:
    return Item(Kind.RUN, routine=lesson.routine, why="to end with")


def _again(one: Known) -> Item:
    """What was run under its tempo, at all of it."""
    return Item(Kind.RUN, routine=one.routine, why="again, at full tempo")


def _drill(routine: str, why: str, place: str) -> Item:
    return Item(Kind.DRILL, routine=routine, why=why, place=place)


def _recap(there: Sequence[Known], lesson: Item | None, now: datetime) -> Iterator[Item]:
    """Of what a lesson goes on with; and of what the class had for the first time when it was last here, or what is
    shaky. As far as it was danced. What was danced this evening, or hardly, is not gone over."""
    had = [one for one in there if one.lessons and (one.can_run or not _hardly(one))]
    begun = [one for one in had if one.lessons == 1 or one.mark == "shaky" or not one.can_run]
    latest = max(begun, key=lambda one: (_shaky_half(one), one.last), default=None)
    taught = "" if lesson is None else lesson.routine.lower()
    if lesson is not None:
        yield from _before_it_goes_on(lesson, there, now)
    if latest is None or latest.routine.lower() == taught or _this_evening(latest, now):
        return
    half = 1 if latest.can_run or latest.furthest >= latest.stages else latest.furthest + 1
    yield _gone_over(latest, half, "for those who missed it")


def _before_it_goes_on(lesson: Item, there: Sequence[Known], now: datetime) -> Iterator[Item]:
    """What was taught of a dance another time, before its lesson goes on."""
    one = next((one for one in there if one.routine.lower() == lesson.routine.lower()), None)
    if one is not None and lesson.stage > 1 and not _this_evening(one, now):
        yield _gone_over(one, lesson.stage, GOES_ON)


def _gone_over(one: Known, stage: int, why: str) -> Item:
    """As far as a stage, all of it where that is 1; more of it where it is shaky and half taught."""
    if _shaky_half(one):
        return Item(Kind.RECAP, SHAKY_RECAP_MINUTES, one.routine, SHAKY, stage=stage)
    return Item(Kind.RECAP, routine=one.routine, why=why, stage=stage)


def _shaky_half(one: Known) -> bool:
    """It is shaky and goes on with its lesson, so more of it is gone over."""
    return one.mark == "shaky" and not one.can_run
