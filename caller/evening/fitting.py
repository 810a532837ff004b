"""What of an evening's wishes there is time for, and the order in which it is danced. Pure.

Conventions: minutes as in :mod:`caller.evening.plan`. What everybody knows comes first, to warm up, then revision, the
new dance, a second dance, the rest of the revision and requests, with a break near the middle: as teachers do, without
a source. Nothing goes beyond the closing time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from caller.evening.plan import Item, Kind, Plan
from caller.evening.planning import BEFORE_A_LESSON, WARM_UP, Ease, Wishes, as_easy

# Shorter evenings have no break.
WITH_A_BREAK = 60
# How many runs come before the lesson, while everybody is fresh; the least that a lesson is worth beginning for, where
# that is not half of it, and the least for a second one.
RUNS_BEFORE, LEAST_LESSON, LEAST_SECOND = 2, 10, 20
# What stays in hand of an evening that is not full, in minutes.
IN_HAND = 5
# By so many minutes a break may be further from the middle, where it comes after a lesson.
AFTER_A_LESSON = 15

_NO_TIME = "there is no time for it"
_A_LITTLE = "a little stays in hand"
_ALL_IN = "that is all that the class knows or could learn here; 'caller add FILE' adds a dance"
_ENOUGH = "more than this is seldom kept from one evening; --save FILE writes the plan to a file to add to"


# The run, with its minutes, of what a lesson has taught in the minutes that it has; None where that is not to be danced
# by itself.
PartRun = Callable[[Item], Item | None]


def no_part(lesson: Item) -> None:
    """Nothing is danced of what was half taught."""
    return


def fitted(
    wanted: Wishes, class_name: str, starts: int, closes: int, ease: Ease = as_easy, part_run: PartRun = no_part
) -> Plan:
    """What of the wishes there is time for. A lesson that is too long is begun all the same, after the first run, and
    gone on with another time; where there is room, as much as was taught is run after it."""
    taken, left_out, missed = _taken(wanted, closes - starts, part_run)
    spare = closes - starts - sum(item.minutes for item in taken)
    items = tuple(_with_a_break(list(_with_questions(_in_turn(taken, ease), spare))))
    plan = Plan(class_name, starts, closes, items, (*wanted.left_out, *left_out))
    return replace(plan, free=_why_free(closes - plan.ends, missed, wanted))


def _taken(wanted: Wishes, minutes: int, part_run: PartRun) -> tuple[list[Item], list[tuple[str, str]], list[Item]]:
    """What is danced; what is left out, with why; and all that there was no time for, as far as anything may be."""
    left, taken, left_out, missed = minutes, list[Item](), list[tuple[str, str]](), list[Item]()
    lost: set[str] = set()  # what is not taught to its end, and so not danced
    for place, item in enumerate((*wanted.items, *wanted.more)):
        first = place < len(wanted.items)
        beside = wanted.items if first else wanted.more
        not_taught = item.routine in lost if item.kind is not Kind.RECAP else _for_none(item, taken)
        if (item.kind is Kind.BREAK and minutes < WITH_A_BREAK) or not_taught:
            continue
        room = left - (_warm_up(wanted.items, item) if first and item.kind is Kind.LESSON else 0)
        room = _room_after_a_recap(beside, item, room) if item.kind is Kind.LESSON else room
        if item.kind is Kind.LESSON and item.minutes > room:
            lost.add(item.routine)
            cut = _cut(item, room, part_run if first else no_part) if _worth_while(item, room, first) else []
        else:
            cut = [item] if 0 < item.minutes <= room else []
        taken += cut
        left -= sum(one.minutes for one in cut)
        if not cut:
            missed.append(item)
            left_out += [(item.name, _NO_TIME)] if first and item.kind is not Kind.REQUEST else []
    return taken, left_out, missed


def _for_none(recap: Item, taken: Iterable[Item]) -> bool:
    """Whether it is of what a lesson would have gone on with that is not given."""
    given = any(_comes_before(recap, item) for item in taken if item.kind is Kind.LESSON)
    return recap.why in BEFORE_A_LESSON and not given


def _room_after_a_recap(items: Sequence[Item], lesson: Item, room: int) -> int:
    """Minutes that a lesson may have beside the recap of what it goes on with, as far as the least of one is left."""
    recap = next((item.minutes for item in items if _comes_before(item, lesson)), 0)
    return room - recap if room - recap >= LEAST_LESSON else room


def _comes_before(item: Item, lesson: Item) -> bool:
    """Whether it is the recap of what that lesson goes on with."""
    return item.kind is Kind.RECAP and item.routine == lesson.routine and item.why in BEFORE_A_LESSON


def _warm_up(items: Sequence[Item], lesson: Item) -> int:
    """Minutes of the run that comes before a lesson."""
    return next((item.minutes for item in items if item.kind is Kind.RUN and item.routine != lesson.routine), 0)


def _worth_while(lesson: Item, room: int, first: bool) -> bool:
    """Whether a lesson that is too long to be given whole is begun."""
    return room >= LEAST_LESSON or 0 < lesson.minutes <= 2 * room if first else room >= LEAST_SECOND


def _cut(lesson: Item, room: int, part_run: PartRun) -> list[Item]:
    """A lesson as far as there is room for it, and where that leaves the least of one the run of what it has taught."""
    for minutes in range(room - 1, LEAST_LESSON - 1, -1):
        run = part_run(replace(lesson, minutes=minutes))
        if run is not None and minutes + run.minutes <= room:
            return [replace(lesson, minutes=minutes), run]
    return [replace(lesson, minutes=room)]


def _why_free(free: int, missed: Sequence[Item], wanted: Wishes) -> str:
    """Why nothing more is danced in the minutes that are left free; "" where there are none."""
    if free <= 0:
        return ""
    shortest = min((item.minutes for item in missed if item.kind is not Kind.BREAK and item.minutes), default=0)
    if shortest > free:
        return f"what else there is takes {shortest} minutes or more"
    if free <= IN_HAND:
        return _A_LITTLE
    return _ALL_IN if wanted.all_in else _ENOUGH


def _with_a_break(items: Sequence[Item]) -> Iterator[Item]:
    """The break, which stands first, near the middle: after a lesson rather than elsewhere, not between a drill and the
    run beside it or a recap and its lesson; none where nothing comes after it."""
    rests = [item for item in items if item.kind is Kind.BREAK]
    danced = [item for item in items if item.kind is not Kind.BREAK]
    whole = sum(item.minutes for item in danced)

    def from_the_middle(place: int) -> int:
        before = sum(item.minutes for item in danced[:place])
        return abs(whole - 2 * before) + (0 if danced[place - 1].kind is Kind.LESSON else AFTER_A_LESSON)

    def belong(before: Item, after: Item) -> bool:
        run_first = (before.kind, after.kind) == (Kind.RUN, Kind.DRILL) and before.routine == after.routine
        return before.kind is Kind.DRILL or run_first or _comes_before(before, after)

    places = [n for n in range(1, len(danced)) if not belong(danced[n - 1], danced[n])]
    middle = min(places, key=from_the_middle, default=len(danced))
    yield from danced[:middle]
    yield from rests if danced[middle:] else ()
    yield from danced[middle:]


def _in_turn(taken: Iterable[Item], ease: Ease) -> Iterator[Item]:
    """As it is danced, each once, the break apart; what is taught is run after it only, a drill comes before the run of
    its dance (but after the run that the evening begins with: nobody is drilled cold), and what is run twice comes
    last. Where nothing is known, the lesson that goes on, or the easiest, comes first."""
    left, again = _first_and_again(taken)
    new = {item.routine for item in left if item.kind is Kind.LESSON}
    runs = [item for item in left if item.kind is Kind.RUN and item.routine not in new]
    runs.sort(key=lambda item: not item.why.startswith(WARM_UP))
    danced = {item.routine for item in left if item.kind is Kind.RUN} | new
    for place, run in enumerate(runs[:RUNS_BEFORE]):
        drills = _picked(left, Kind.DRILL, run.routine)
        left.remove(run)
        yield from (*drills, run) if place else (run, *drills)
    drills = [item for item in left if item.kind is Kind.DRILL and item.routine not in danced]
    left = [item for item in left if item not in drills]
    yield from drills if runs else ()
    lessons = _picked(left, Kind.LESSON)
    if not runs and lessons:
        first = min(lessons, key=lambda item: (item.stage == 1, ease(item.routine)))
        lessons.insert(0, lessons.pop(next(n for n, item in enumerate(lessons) if item is first)))
    recaps = _picked(left, Kind.RECAP)
    before = [[item for item in recaps if _comes_before(item, lesson)] for lesson in lessons]
    yield from (item for item in recaps if not any(item in own for own in before))
    yield from _picked(left, Kind.BREAK)
    yield from before[0] if before else ()
    yield from lessons[:1]
    later = [*([] if runs else drills), *_danced_of(left, lessons[:1])]
    for lesson, own in zip(lessons[1:], before[1:], strict=True):
        later += [*own, lesson, *_danced_of(left, [lesson])]
    for run in runs[RUNS_BEFORE:]:
        later += [*_picked(left, Kind.DRILL, run.routine), run]
    later += [*_picked(left, Kind.REQUEST), *again]
    yield from later


def _with_questions(items: Iterable[Item], spare: int) -> Iterator[Item]:
    """Of what is left even then some for the lessons, in which people ask; a little stays in hand."""
    for item in items:
        more = min(spare - IN_HAND, item.minutes // 2) if item.kind is Kind.LESSON else 0
        if more > 0:
            spare -= more
            why = f"{item.why}, {more} min of it for questions".removeprefix(", ")
            item = replace(item, minutes=item.minutes + more, why=why)
        yield item


def _first_and_again(taken: Iterable[Item]) -> tuple[list[Item], list[Item]]:
    """What is danced, and apart from it the runs of what is run already, for the end of the evening."""
    first: list[Item] = []
    again: list[Item] = []
    for item in taken:
        run_already = any(one.kind is Kind.RUN and one.routine == item.routine for one in first)
        (again if item.kind is Kind.RUN and run_already else first).append(item)
    return first, again


def _picked(left: list[Item], kind: Kind, routine: str | None = None) -> list[Item]:
    """What is left of a kind, of one routine where it is named, taken out of it."""
    found = [item for item in left if item.kind is kind and routine in (None, item.routine)]
    for item in found:
        left.remove(item)
    return found


def _danced_of(left: list[Item], lessons: Sequence[Item]) -> list[Item]:
    """What is danced of what was taught: its drill, then all of it."""
    return [
        item for lesson in lessons for kind in (Kind.DRILL, Kind.RUN) for item in _picked(left, kind, lesson.routine)
    ]
