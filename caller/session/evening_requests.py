"""Dances that are asked for in an evening: where they come, and what is asked about first. Pure.

Conventions: as in :mod:`caller.session.evening_changes`. What was asked about is taken where the same is asked for once
more, and nothing else of the plan has been changed meanwhile.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from caller.evening.plan import Kind, clock, long_words, requests_words
from caller.session.evening_changes import ends_words, place_words
from caller.session.programme import CanNot, ProgrammeEvent
from caller.session.slots import Slot

if TYPE_CHECKING:
    from caller.session.evening import Evening

# How long the same request, made once more, means that a double is wanted.
_AGAIN_SECONDS = 120
# Where a whole dance is danced for its own sake: the same twice is a double.
_DANCED = (Kind.RUN, Kind.REQUEST)


@dataclass(frozen=True, slots=True)
class Doubted:
    """A request that was asked about: of which dance, whether at the end, and when, as an evening has the time."""

    title: str
    last: bool
    at: Fraction

    def meant(self, title: str, last: bool, now: Fraction) -> bool:
        """Whether a request is that one once more; at the end, as it was told, also where it was asked for next."""
        return title == self.title and last >= self.last and now - self.at <= _AGAIN_SECONDS


def requested(evening: Evening, outcome: ProgrammeEvent) -> Evening:
    """With the dance of that number, as the last where that is asked; without a number it is told what there is. What
    is a double, or goes beyond the closing time, is asked about first."""
    if not outcome.amounts:
        raise CanNot(f"Say which dance, by number or name: {catalogue_words(evening)}.")
    number = int(outcome.amounts[0])
    slot = next((one for one in evening.catalogue if one.number == number), None)
    if slot is None:
        raise CanNot(f"There is no dance {number} to ask for; there are: {catalogue_words(evening)}.")
    last = len(outcome.amounts) > 1
    taken = with_request(evening, slot, last)
    double = next(_doubles(evening, slot.title), "")
    late = _late_words(evening, taken, number, last)
    if not (double or late):
        return taken
    if evening.doubted is not None and evening.doubted.meant(slot.title, last, evening.now):
        return _all_the_same(evening, taken) if late else taken
    asked = replace(evening, doubted=Doubted(slot.title, last, evening.now))
    if double:
        return asked.saying(f"{slot.title} {double}: ask for it once more to dance it twice.")
    return asked.saying(f"{slot.title} {late}.")


def _all_the_same(before: Evening, taken: Evening) -> Evening:
    """With a request that goes beyond the closing time, as the teacher wishes: neither is it proposed to be taken out,
    nor is what it takes late."""
    had = {id(slot) for slot in before.slots}
    kept = (slot if id(slot) in had else replace(slot, item=replace(slot.item, keep=True)) for slot in taken.slots)
    return replace(taken, slots=tuple(kept), agreed=max(taken.over_by, before.agreed))


def _late_words(evening: Evening, taken: Evening, number: int, last: bool) -> str:
    """What is asked of a request that the evening has no time for, "" where it has: also of one that takes longer than
    the open request whose place it takes."""
    if taken.over_by <= max(evening.over_by, 0):
        return ""
    ends = f"would end it at {clock(taken.ends)}, {long_words(taken.over_by)} after the hall closes"
    if len(taken.slots) == len(evening.slots):
        return f"{ends}: ask for it once more to dance it in the place of the request"
    at_the_end = "" if last else f", or type request {number} last to dance it at the end"
    return f"{ends}: ask for it once more to dance it {'at the end' if last else 'next'}{at_the_end}"


def with_request(evening: Evening, slot: Slot, last: bool = False) -> Evening:
    """In the place of the next request that is open, here or later; without one, as the next item, or the last."""
    if last:
        asked = replace(evening, slots=(*evening.slots, slot), doubted=None)
        return _asked_saying(evening, asked, slot, len(evening.slots))
    first = evening.index if evening.ahead is not None else evening.index + 1
    place = next((n for n in range(first, len(evening.slots)) if evening.slots[n].open), None)
    if place is None:
        place = len(evening.slots) - len(evening.later)
        slots = (*evening.slots[:place], slot, *evening.slots[place:])
    else:
        slots = (*evening.slots[:place], slot, *evening.slots[place + 1 :])
    ahead = place if place == evening.index else evening.ahead
    asked = replace(evening, slots=slots, ahead=ahead, doubted=None)
    return _asked_saying(evening, asked, slot, place)


def _asked_saying(before: Evening, asked: Evening, slot: Slot, place: int) -> Evening:
    return asked.saying(
        f"{slot.title}: {place_words(asked, place)}, {slot.item.minutes} min; {ends_words(before, asked)}."
    )


def catalogue_words(evening: Evening) -> str:
    """What may be asked for, as :func:`~caller.evening.plan.requests_words` tells it."""
    return requests_words((slot.number, slot.title) for slot in evening.catalogue)


def next_request(evening: Evening) -> Slot:
    """Of what may be asked for, what is not in the evening yet."""
    danced = {slot.title for slot in evening.slots}
    return next((slot for slot in evening.catalogue if slot.title not in danced), evening.catalogue[0])


def _doubles(evening: Evening, title: str) -> Iterator[str]:
    """Where the evening has that dance, whole, without being asked: what is to come first."""
    if evening.ahead is None and evening.slot.title == title and _whole(evening.slot):
        yield (
            "is being danced now" if evening.began is not None else f"is in the plan already, item {evening.index + 1}"
        )
    for place in range(len(evening.slots) - len(evening.later), len(evening.slots)):
        slot = evening.slots[place]
        if slot.title == title and _whole(slot):
            yield f"is in the plan already, {place_words(evening, place)}"
    if title in evening.danced:
        yield "was danced this evening"


def _whole(slot: Slot) -> bool:
    return slot.item.kind in _DANCED and slot.item.sections is None
