"""What a teacher's orders make of an evening's plan: an item taken out, put back or passed over, a mark. Pure.

Conventions: each takes an evening and an outcome and returns another evening, with a sentence on what came of it;
raises CanNot where nothing can. Places are among the slots, from 0; items are counted from 1.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from caller.book.entries import Standing
from caller.evening.lateness import proposal
from caller.evening.plan import clock, long_words
from caller.session.evening_halves import hanging, kinds_words, offered_words
from caller.session.evening_shorter import shorter, told_reach, with_shorter
from caller.session.programme import CanNot, ProgrammeEvent
from caller.session.slots import Slot
from caller.transport.order import Order

if TYPE_CHECKING:
    from caller.session.evening import Evening

MARKS: dict[Order, Standing] = {
    Order.LEARNT: "learnt",
    Order.SHAKY: "shaky",
    Order.NOT_DONE: "not done",
}


def cut(evening: Evening, outcome: ProgrammeEvent) -> Evening:
    """Without what is proposed to be taken out: what hangs on a lesson that was left, else what is missed least; where
    nothing may be, with the lesson shorter."""
    if slots := hanging(evening):
        return _unhung(evening, slots)
    found = proposal([slot.item for slot in evening.later], evening.late_by)
    if found is None and (stopped := shorter(evening)) is not None:
        short = with_shorter(evening, stopped)
        stops = f"The lesson of {stopped.slot.title} is shorter: {told_reach(stopped)}"
        return short.saying(f"{stops}; {ends_words(evening, short)}; P goes on with it once it is there.")
    if found is None:
        over = evening.over_by
        why = "there is nothing that may be" if over > 0 else f"there are {long_words(-over)} in hand"
        why = "it is no later than was asked for" if evening.late_by <= 0 < over else why
        why = why.replace("there are 1 ", "there is 1 ")
        raise CanNot(f"Nothing is taken out: {why}.")
    place = len(evening.slots) - len(evening.later) + found
    slot, slots = evening.slots[place], (*evening.slots[:place], *evening.slots[place + 1 :])
    less = replace(evening, slots=slots, out=(*evening.out, (place, slot)), doubted=None)
    return less.saying(f"Taken out: {slot.name}; {ends_words(evening, less)}.")


def _unhung(evening: Evening, hung: tuple[Slot, ...]) -> Evening:
    """Without what hangs on a lesson that was left. Put back, it is to be kept."""
    less = replace(evening, doubted=None)
    for slot in hung:
        first = len(less.slots) - len(less.later)
        place = next(n for n, one in enumerate(less.slots) if n >= first and one is slot)
        kept = replace(slot, item=replace(slot.item, keep=True))
        slots = (*less.slots[:place], *less.slots[place + 1 :])
        less = replace(less, slots=slots, out=(*less.out, (place, kept)))
    told = f"Taken out of {hung[0].title}: {kinds_words(hung)}; {ends_words(evening, less)}"
    return less.saying(f"{told}{offered_words(less)}.")


def put_back(evening: Evening, outcome: ProgrammeEvent) -> Evening:
    """With what was taken out last, where it was, or passed over last, as the next item."""
    if not evening.out:
        raise CanNot("Nothing has been taken out.")
    *out, (place, slot) = evening.out
    first = len(evening.slots) - len(evening.later)
    less = replace(evening, out=tuple(out), doubted=None)
    if place is None:
        back = _back_as_next(less, slot, first)
    else:
        place = min(max(place, first), len(evening.slots))
        back = replace(less, slots=(*evening.slots[:place], slot, *evening.slots[place:]))
    return back.saying(f"Back in the plan: {slot.name}; {ends_words(evening, back)}.")


def _back_as_next(evening: Evening, slot: Slot, first: int) -> Evening:
    """With what was passed over moved to where what is to come begins."""
    was = max(n for n in range(first) if evening.slots[n] is slot)
    slots = (*evening.slots[:was], *evening.slots[was + 1 : first], slot, *evening.slots[first:])
    index = evening.index - (was < evening.index)
    return replace(evening, slots=slots, index=index, ahead=None if evening.ahead is None else first - 1)


def passed_over(evening: Evening) -> Evening:
    """Waiting with the item after the one that it waits with, or is to start with; beyond the last there is none."""
    if evening.ahead is None:
        return passed_over(replace(evening, ahead=evening.index))
    if evening.ahead >= len(evening.slots):
        return evening.saying("There is no item after this one.")
    slot = evening.slots[evening.ahead]
    return waiting_with(evening, evening.ahead + 1).saying(f"Passed over: {slot.name}; U puts it back.")


def waiting_with(evening: Evening, ahead: int) -> Evening:
    """Waiting with an item. What was to come before it is passed over; what is to come again is so no longer."""
    first = len(evening.slots) - len(evening.later)
    passed: tuple[tuple[None, Slot], ...] = tuple((None, slot) for slot in evening.slots[first:ahead])
    to_come = {id(slot) for slot in evening.slots[ahead:]}
    kept = (one for one in evening.out if one[0] is not None or id(one[1]) not in to_come)
    return replace(evening, ahead=ahead, parted=True, out=(*kept, *passed))


def marked(evening: Evening, outcome: ProgrammeEvent) -> Evening:
    """With how well the class can do what is danced, or was just danced, or the dance of that number among those that
    may be marked by name."""
    assert isinstance(outcome.what, Order)
    titles = markable(evening)
    title, mark = titles[int(outcome.amounts[0]) - 1] if outcome.amounts else evening.to_mark, MARKS[outcome.what]
    if not title:
        raise CanNot("No routine has been danced yet, so there is none to mark.")
    other = "" if outcome.amounts else beside_to_mark(evening)
    by_name = f" /{mark} {other} says so of the dance beside it." if other else ""
    return replace(evening, marked=(*evening.marked, (title, mark))).saying(f"{title}: {mark}.{by_name}")


def beside_to_mark(evening: Evening) -> str:
    """What is danced, or was danced last, on the same floor as what would be marked; "" for none."""
    slots = evening.slots[: evening.index + 1]
    return next((slot.beside for slot in reversed(slots) if slot.title and slot.title == evening.to_mark), "")


def markable(evening: Evening) -> tuple[str, ...]:
    """The dances that may be marked by name: those of the evening, then what may be asked for."""
    slots = (*evening.slots, *evening.catalogue)
    return tuple(dict.fromkeys(filter(None, (title for slot in slots for title in (slot.title, slot.beside)))))


def place_words(evening: Evening, place: int) -> str:
    """ "next, at 19:45", "item 4, at 19:45"; "now, at a tap" where it is waited for."""
    if evening.ahead == place:
        return "now, at a tap"
    before = evening.slots[len(evening.slots) - len(evening.later) : place]
    at = evening.now / 60 + evening.left + sum(slot.item.minutes for slot in before)
    # Before the start what comes next is the item that it starts with.
    return f"{f'item {place + 1}' if before or evening.began is None else 'next'}, at {clock(at)}"


def ends_words(before: Evening, after: Evening) -> str:
    """ "it still ends at 20:05", "it ends at 20:09 instead of 20:05, 9 minutes after the hall closes"."""
    was, now = clock(before.ends), clock(after.ends)
    told = f"it still ends at {now}" if was == now else f"it ends at {now} instead of {was}"
    late = f", {long_words(after.over_by)} after the hall closes" if after.over_by > 0 else ""
    return told + late
