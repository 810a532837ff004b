"""A lesson of an evening that is late, shortened where nothing else may be taken out: it stops once what has been
taught by then stands. Pure.

Conventions: nothing is shortened here but by an order; minutes as in :mod:`caller.evening.plan`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

from caller.evening.plan import Item, Kind, long_words
from caller.session.slots import Slot
from caller.session.taught import TaughtProgramme
from caller.teaching.reach import Reach, reach_of, why_with

if TYPE_CHECKING:
    from caller.session.evening import Evening


@dataclass(frozen=True, slots=True)
class Shorter:
    """place: of the lesson among the slots; slot: as it is then; ends: the stage before which it stops. saved: minutes.
    reach: what has been taught by then."""

    place: int
    slot: Slot
    ends: int
    saved: int
    reach: Reach


def shorter(evening: Evening) -> Shorter | None:
    """The lesson under way, else the first to come, stopped so early that the evening is in time, or as early as
    anything is taught; None where that saves nothing, or something else may be taken out first."""
    if evening.late_by <= 0 or evening.proposed is not None or evening.over:
        return None
    first = len(evening.slots) - len(evening.later)
    places = [*([evening.index] if evening.ahead is None and evening.began is not None else []),
              *range(first, len(evening.slots))]  # fmt: skip
    found = (_shortened(evening, place) for place in places if evening.slots[place].item.kind is Kind.LESSON)
    return next((one for one in found if one is not None), None)


def _shortened(evening: Evening, place: int) -> Shorter | None:
    slot, under_way = evening.slots[place], place == evening.index and evening.ahead is None
    own = evening.own if under_way else slot.programme
    if not isinstance(own, TaughtProgramme) or own.running.over or own.stopped:
        return None
    begins, until = own.running.index, own.running.until or len(own.stages.stages)
    seconds = tuple(Fraction(0) if n < begins else own_seconds for n, own_seconds in enumerate(slot.seconds))
    given = sum(seconds[:until], Fraction(0)) - 60 * evening.late_by
    reach = reach_of(own.stages.stages, seconds, given) or _least(own, seconds, until)
    if reach is None:
        return None
    ends = max(reach.ends, begins + 1)
    saved = int(sum(seconds[ends:until], Fraction(0)) / 60)
    if not saved:
        return None
    gone = evening.gone if under_way else Fraction(1, 2)  # what it takes to get to one's place
    minutes = ceil(gone + sum(seconds[:ends], Fraction(0)) / 60)
    item = replace(slot.item, minutes=minutes, why=why_with(slot.item.why, reach))
    return Shorter(place, replace(slot, item=item), ends, saved, reach)


def _least(own: TaughtProgramme, seconds: tuple[Fraction, ...], until: int) -> Reach | None:
    """What is taught once the first section has been danced to its end, where there is no time for that either."""
    ends = (sum(seconds[: n + 1], Fraction(0)) for n in range(own.running.index, until))
    return next(filter(None, (reach_of(own.stages.stages, seconds, given) for given in ends)), None)


def with_shorter(evening: Evening, found: Shorter) -> Evening:
    """The evening with the lesson so much shorter."""
    slot, own = found.slot, evening.own
    if isinstance(slot.programme, TaughtProgramme):
        slot = replace(slot, programme=_until(slot.programme, found.ends))
    slots = (*evening.slots[: found.place], slot, *evening.slots[found.place + 1 :])
    if found.place == evening.index and evening.ahead is None and isinstance(own, TaughtProgramme):
        own = _until(own, found.ends)
    return replace(evening, slots=slots, own=own, doubted=None)


def _until(own: TaughtProgramme, ends: int) -> TaughtProgramme:
    return replace(own, running=replace(own.running, until=ends))


def shorter_words(found: Shorter, over: int) -> str:
    """ "9 minutes over: X shortens the lesson of Lantern Row: to section 1 of 4 (12 min less)", X being the key."""
    return f"{long_words(over)} over: X shortens the lesson of {found.slot.title}: {told_reach(found)}"


def told_reach(found: Shorter) -> str:
    """ "to section 1 of 4 (12 min less)"."""
    return f"{found.reach.words} ({found.saved} min less)"


def told_item(found: Shorter | None) -> Item | None:
    """By what one proposal is told from another: minutes go by, and are no news."""
    return None if found is None else replace(found.slot.item, minutes=0)
