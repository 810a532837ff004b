"""What an evening shows: what is under way and next, the plan between two items, the time, how late it is. Pure.

Conventions: short phrases without a full stop, as in :class:`~caller.session.programme.ProgrammeFacts`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil
from typing import TYPE_CHECKING

from caller.evening.lateness import late_words
from caller.evening.plan import Item, clock, end_line, item_line, long_words, requests_line
from caller.session.changes import Calling
from caller.session.evening_changes import beside_to_mark, markable
from caller.session.evening_halves import hanging, hanging_words, stopped
from caller.session.evening_requests import next_request
from caller.session.evening_shorter import shorter, shorter_words, told_item
from caller.session.programme import ProgrammeFacts

if TYPE_CHECKING:
    from caller.session.evening import Evening

# How long before the hall closes that is said.
WARNED_MINUTES = 10


def facts_of(evening: Evening) -> ProgrammeFacts:
    waits = evening.ahead is not None or evening.over
    facts = _between(evening) if waits else evening.own.facts
    shows_plan = not evening.over and (waits or evening.began is None or evening.resumed)
    return replace(
        facts,
        item=f"item {min(_shown_index(evening) + 1, len(evening.slots))} of {len(evening.slots)}",
        after=facts.after or _name(evening, evening.index + 1),
        evening=True,
        between=waits,
        plan=tuple(plan_shown(evening)) if shows_plan else (),
        clock=_clock_words(evening),
        late="; ".join(filter(None, (late_sentence(evening), _goes_on_words(evening)))),
        says=evening.says,
        news=evening.news,
        resumed=evening.resumed,
        requests=tuple((slot.number, slot.title) for slot in evening.catalogue),
        markable=markable(evening),
    )


def plan_shown(evening: Evening) -> Iterator[str]:
    """What is to come, each with its time; what may be asked for."""
    at, items = evening.now / 60, [slot.item_named for slot in evening.later]
    if (evening.began is None or evening.resumed) and evening.ahead is None:
        own = evening.slot.item_named
        items.insert(0, replace(own, minutes=max(ceil(evening.left), 1)) if evening.began is not None else own)
    else:
        at += evening.left
    for item in items:
        yield item_line(item, at)
        at += item.minutes
    yield end_line(evening.ends, evening.plan.closes, -evening.over_by)
    if evening.catalogue and any(slot.open for slot in evening.slots[evening.index :]):
        yield requests_line((slot.number, slot.title) for slot in evening.catalogue)


def late_sentence(evening: Evening) -> str:
    """How late it is, and what might be taken out, without a full stop; "" in time."""
    if slots := hanging(evening):
        late = f"{long_words(evening.over_by)} over; " if evening.over_by > 0 else ""
        return late + hanging_words(slots)
    slot = evening.proposed
    if evening.late_by <= 0:
        return ""
    if slot is None and (less := shorter(evening)) is not None:
        return shorter_words(less, evening.over_by)
    return late_words(evening.over_by, slot.item_named if slot is not None else None)


def offered(evening: Evening) -> Item | None:
    """What is proposed to be taken out, or stopped short; None where nothing is."""
    slot = evening.proposed
    return slot.item if slot is not None else told_item(None if hanging(evening) else shorter(evening))


def news_at(before: Evening, after: Evening) -> Iterator[str]:
    """What has come to pass by a later look at the clock."""
    item, closes, given = offered(after), before.plan.closes, before.slot.item.minutes
    if item is not None and item != before.told:
        yield f"{late_sentence(after)}."
    if before.now / 60 < closes - WARNED_MINUTES <= after.now / 60:
        yield f"The hall closes in {long_words(WARNED_MINUTES)}."
    if before.now / 60 < closes <= after.now / 60:
        yield f"It is {clock(closes)}: the hall closes now."
    if given and before.gone < given <= after.gone and not before.parted:
        yield f"{before.slot.item_named.heading}: its time is over."


def _between(evening: Evening) -> ProgrammeFacts:
    ahead = len(evening.slots) if evening.ahead is None else evening.ahead
    slot = evening.slots[ahead] if ahead < len(evening.slots) else evening.slot
    facts, chooses = slot.programme.facts, evening.asks or bool(_rest(evening))
    done = f"{evening.slot.item_named.heading}, {_how_ended(evening)}"
    waits_for = "which dance is asked for?" if evening.asks else long_words(evening.slot.item.minutes)
    return ProgrammeFacts(
        (evening.slot.programme.facts.title if chooses else slot.title) or "The evening",
        facts.dance,
        facts.tempo,
        Calling(),
        lesson=True,
        danced=False,
        stage=waits_for if chooses else done,
        after=next_request(evening).name if evening.asks else _name(evening, ahead) or "the end of the evening",
        rest=_rest(evening),
        to_mark=evening.to_mark if ahead == evening.index + 1 else "",
        beside_to_mark=beside_to_mark(evening) if ahead == evening.index + 1 else "",
    )


def _how_ended(evening: Evening) -> str:
    if evening.began is None:
        return "passed over"
    if evening.own.over:
        return "done"
    return "as far as planned" if stopped(evening.own) and not evening.parted else "left"


def _goes_on_words(evening: Evening) -> str:
    """What a lesson that stopped where it was planned to is gone on with, P being the key; "" where none did."""
    stands = evening.ahead is not None and stopped(evening.own) and not evening.parted
    return "P goes on with the lesson" if stands else ""


def _shown_index(evening: Evening) -> int:
    """Of the item that is under way, or else is next."""
    still = evening.ahead is None or evening.asks or _rest(evening)
    return evening.index if still or evening.ahead is None else evening.ahead


def _rest(evening: Evening) -> str:
    if not evening.rests or evening.began is None:
        return ""
    return f"break until {clock(evening.began / 60 + evening.slot.item.minutes)}"


def _name(evening: Evening, index: int) -> str:
    return evening.slots[index].name if index < len(evening.slots) else ""


def _clock_words(evening: Evening) -> str:
    """ "19:24, until 19:40"."""
    now = evening.now / 60
    under_way = evening.began is not None and evening.ahead is None and evening.left
    until = f", until {clock(ceil(now + evening.left))}" if under_way else ""
    return f"{clock(now)}{until}"
