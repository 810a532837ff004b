"""An evening as a programme: items of a plan, each a programme of its own, one after another. Pure.

Conventions: what is ordered within an item is the item's own concern. Between two items it waits for the teacher. The
time comes as an outcome, in seconds since the midnight before the evening; minutes as in :mod:`caller.evening.plan`.
What is late is told, and what might be taken out; nothing is taken out but by an order.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from caller.book.entries import Standing
from caller.evening.lateness import over_by, proposal
from caller.evening.plan import Item, Kind, Plan
from caller.session.bookmarks import Bookmark, gone_on, within
from caller.session.evening_changes import cut, marked, passed_over, put_back, waiting_with
from caller.session.evening_facts import facts_of, news_at, offered
from caller.session.evening_halves import ended, hanging, hanging_words, stopped, with_half
from caller.session.evening_requests import Doubted, next_request, requested, with_request
from caller.session.programme import CanNot, Passed, ProgrammeEvent, ProgrammeFacts, Segment, ToDance
from caller.session.slots import Inner, Slot, Telling, latest_of
from caller.session.taught import TaughtProgramme
from caller.session.whole import WholeDance
from caller.transport.order import Order
from caller.transport.tempo import Slowing

# How often it is looked how late it is.
_LOOKS_SECONDS = 5


@dataclass(frozen=True)
class Evening:
    """plan: as it was made, but for its items, which are those of slots. catalogue: what may be requested. own: the
    item under way, or the last one. ahead: which item is begun next, while it waits for that; None while one is under
    way. now: the time; began: when the item did. out: what was taken out, with its place, or passed over, with None,
    the last one last. marked: what was said of a routine. danced: what has been danced whole. doubted: which request
    was last asked about. agreed: minutes beyond the closing time that one was taken for. resumed: it stands where it
    was cut short another time. told: which item was last said to be taken out, if any. parted: the item under way has
    been left, so that a break that was told lasts no longer. halves: lessons that were left before their end, as they
    were. latest: the routine danced before the item under way, "" for none. says: a sentence on what has come to pass;
    news: how many there have been."""

    plan: Plan
    slots: tuple[Slot, ...]
    catalogue: tuple[Slot, ...]
    own: Inner
    index: int = 0
    ahead: int | None = None
    now: Fraction = Fraction(0)
    began: Fraction | None = None
    out: tuple[tuple[int | None, Slot], ...] = ()
    marked: tuple[tuple[str, Standing], ...] = ()
    danced: tuple[str, ...] = ()
    doubted: Doubted | None = None
    agreed: int = 0
    resumed: bool = False
    told: Item | None = None
    parted: bool = False
    halves: tuple[TaughtProgramme, ...] = ()
    latest: str = ""
    says: str = ""
    news: int = 0

    @classmethod
    def of(cls, plan: Plan, slots: tuple[Slot, ...], catalogue: tuple[Slot, ...] = ()) -> Evening:
        """At its start. Raises ValueError where there is no item."""
        if not slots:
            raise ValueError("an evening has one item at least")
        return cls(plan, slots, catalogue, slots[0].programme, now=Fraction(60 * plan.starts))

    # -- where it is

    @property
    def over(self) -> bool:
        return self.index >= len(self.slots)

    @property
    def waits(self) -> bool:
        return self.ahead is not None or self.own.waits

    @property
    def slot(self) -> Slot:
        """The item under way, or the last one."""
        return self.slots[min(self.index, len(self.slots) - 1)]

    @property
    def to_mark(self) -> str:
        """The routine that is danced, or was danced last: a break has none of its own. "" for none."""
        return self.slot.title or self.latest

    @property
    def later(self) -> tuple[Slot, ...]:
        """What comes after the item that is under way, or that has come to its end."""
        return self.slots[self.index + 1 if self.ahead is None else self.ahead :]

    @property
    def replanned(self) -> Plan:
        """The plan as it stands."""
        return replace(self.plan, items=tuple(slot.item for slot in self.slots), left_out=())

    @property
    def left(self) -> Fraction:
        """Minutes that the item under way still takes, as far as can be told."""
        slot, gone = self.slot, self.gone
        given = max(slot.item.minutes - gone, Fraction(0))
        if self.over or (self.ahead is not None and (self.parted or slot.item.kind is not Kind.BREAK)):
            return Fraction(0)
        if self.resumed and isinstance(self.own, WholeDance):  # whatever has gone by meanwhile
            return slot.item.minutes * (1 - self.own.start / self.own.dance.counts)
        whole = sum(slot.seconds, Fraction(0)) / 60
        if isinstance(self.own, TaughtProgramme) and self.ahead is None and slot.item.minutes >= whole:
            return sum(slot.seconds[self.own.running.index : self.own.running.until], Fraction(0)) / 60
        return given

    @property
    def over_by(self) -> int:
        """Minutes beyond the closing time, as it stands; less than 0 is in hand."""
        return over_by(self.now / 60, self.left, [slot.item for slot in self.later], self.plan.closes)

    @property
    def late_by(self) -> int:
        """Minutes beyond the closing time, or what was agreed to beyond it."""
        return self.over_by - self.agreed

    @property
    def proposed(self) -> Slot | None:
        """What might be taken out, where that is not what hangs on a lesson that was left."""
        if hanging(self):
            return None
        found = proposal([slot.item for slot in self.later], self.late_by)
        return None if found is None else self.later[found]

    @property
    def ends(self) -> Fraction:
        """When it is over, as it stands, in minutes of the day."""
        return Fraction(self.plan.closes + self.over_by)

    @property
    def asks(self) -> bool:
        """What is danced is to be chosen now."""
        return self.ahead == self.index + 1 and not self.parted and self.slot.open and bool(self.catalogue)

    @property
    def rests(self) -> bool:
        """The break that was told is still under way, while it waits with what comes after it."""
        return self.ahead == self.index + 1 and not self.parted and self.slot.item.kind is Kind.BREAK

    @property
    def _begins(self) -> Fraction:
        """When the item that is started now began, or would have: of a dance that goes on, what is left of it."""
        if self.began is None:
            return self.now
        if self.resumed and isinstance(self.own, WholeDance):
            return self.now - 60 * (self.slot.item.minutes - self.left)
        return self.began

    @property
    def gone(self) -> Fraction:
        """Minutes since the item began."""
        return Fraction(0) if self.began is None else (self.now - self.began) / 60

    def saying(self, sentence: str) -> Evening:
        """The same, with a sentence on what has come to pass."""
        return replace(self, says=sentence, news=self.news + 1)

    # -- a programme

    @cached_property
    def facts(self) -> ProgrammeFacts:
        # Kept, since time, pedal and screen each ask for them many times a second.
        return facts_of(self)

    def segment(self, slowing: Slowing) -> Segment:
        return self.own.segment(slowing)

    def shown(self, slowing: Slowing) -> ToDance | None:
        if self.ahead is None:
            return None if self.over else self.own.shown(slowing)
        coming = [next_request(self)] if self.asks else self.slots[self.ahead :]
        return coming[0].programme.shown(slowing) if coming else None

    def may_say(self) -> Iterable[str]:
        return self.own.may_say()

    def after(self, outcome: ProgrammeEvent) -> Evening:
        if self.over:
            return self
        if (answer := _ANSWERS.get(outcome.what)) is not None:
            return answer(self, outcome)
        if self.ahead is not None:
            answer = _BETWEEN.get(outcome.what)
            return answer(self, outcome) if answer else self
        own = self.own.after(outcome)
        if own is self.own and self.began is not None and not self.resumed:
            return self
        begun = self
        if outcome.what is Order.GO:
            begun = replace(self, began=self._begins, resumed=False)
        whole = own.over and outcome.what is Passed.DONE and isinstance(own, WholeDance) and own.all_of_it
        danced = (*self.danced, self.slot.title) if whole else self.danced
        ends = own.over or stopped(own)
        on = replace(begun, own=own, ahead=self.index + 1 if ends else None, danced=danced)
        return ended(on) if ends else on

    # -- from item to item

    def _begun(self, index: int) -> Evening:
        """An item from its start; beyond the last it is over."""
        if index >= len(self.slots):
            return replace(self, index=index, ahead=None, latest=self.to_mark)
        own = self.slots[index].programme.after(ProgrammeEvent(Order.GO))
        return replace(self, index=index, own=own, ahead=None, began=self.now, parted=False, latest=self.to_mark)

    def _goes_on(self, outcome: ProgrammeEvent) -> Evening:
        """With what is ahead; where it was left open what is danced, with what is proposed."""
        assert self.ahead is not None
        return with_request(self, next_request(self))._begun(self.index) if self.asks else self._begun(self.ahead)

    def _back_into(self, outcome: ProgrammeEvent) -> Evening:
        """Into the item that has come to its end: a section of it, its last stage; on with a lesson that stopped where
        it was planned to."""
        if isinstance(self.own, TaughtProgramme) and self.own.stopped and outcome.what is Order.PREVIOUS:
            return replace(self, own=self.own.gone_beyond, ahead=None, parted=False)
        own = self.own.after(outcome)
        return replace(self, own=own, ahead=None, parted=False) if not own.over else self._begun(self.index)

    def _left_for(self, index: int) -> Evening:
        """Waiting with an item, whatever was under way."""
        left = waiting_with(self if self.ahead is not None else with_half(self), index)
        fresh = [slot for slot in hanging(left) if slot not in hanging(self)]
        return left.saying(f"{hanging_words(tuple(fresh))}.") if fresh else left

    def _next_item(self, outcome: ProgrammeEvent) -> Evening:
        """The item under way is left, and so is a break that lasts, or a request that is asked about; once more, what
        it waits with is passed over, as is the first before it has begun."""
        leaves = (self.ahead is None and self.began is not None) or self.rests or self.asks
        return self._left_for(self.index + 1) if leaves else passed_over(self)

    def _to_item(self, outcome: ProgrammeEvent) -> Evening:
        number = int(outcome.amounts[0])
        if not 1 <= number <= len(self.slots):
            raise CanNot(f"There is no item {number}; there are 1 to {len(self.slots)}.")
        return self._left_for(number - 1)

    # -- the time

    def _timed(self, outcome: ProgrammeEvent) -> Evening:
        timed = replace(self, now=outcome.amounts[0])
        if timed.now < self.now and self.began is not None:  # the clock was put back: summer time ends, say
            timed = replace(timed, began=self.began + timed.now - self.now)
        if self.began is None or timed.now // _LOOKS_SECONDS == self.now // _LOOKS_SECONDS:
            return timed
        told = tuple(news_at(self, timed))
        timed = replace(timed, told=offered(timed))
        return timed.saying(" ".join(told)) if told else timed

    # -- going on another time

    def bookmark(self, count: Fraction | None) -> Bookmark:
        """Where it is. count: of what is danced, as it stands; None where nothing is."""
        index = self.index + 1 if self.parted and self.ahead == self.index + 1 else self.index  # a break is over
        return within(Bookmark(index, self.ahead, began=self.began), self.own, count)

    def at(self, place: Bookmark) -> Evening:
        """As it was at a bookmark; waiting for the start. Where it waited for an item, that is what it begins with; a
        break goes on."""
        last = len(self.slots) - 1
        index = min(place.index, last)
        resting = isinstance(self.slots[index].programme, Telling) and place.ahead == index + 1
        if place.ahead is not None and not resting:
            index = min(place.ahead, last)
            own, began = self.slots[index].programme, None
        else:
            own, began = gone_on(self.slots[index].programme, place), place.began
        return replace(self, index=index, own=own, began=began, resumed=True, latest=latest_of(self.slots[:index]))


_ANSWERS: dict[Order | Passed, Callable[[Evening, ProgrammeEvent], Evening]] = {
    Passed.TIMED: Evening._timed,
    Order.NEXT_ITEM: Evening._next_item,
    Order.ITEM: Evening._to_item,
    Order.CUT: cut,
    Order.PUT_BACK: put_back,
    Order.REQUEST: requested,
    Order.LEARNT: marked,
    Order.SHAKY: marked,
    Order.NOT_DONE: marked,
}
_BETWEEN: dict[Order | Passed, Callable[[Evening, ProgrammeEvent], Evening]] = {
    Order.NEXT: Evening._goes_on,
    Order.SECTION_AGAIN: lambda evening, outcome: evening._begun(evening.index),
    Order.TOP: lambda evening, outcome: evening._begun(evening.index),
    Order.PREVIOUS: Evening._back_into,
    Order.SECTION: Evening._back_into,
    Order.STAGE: Evening._back_into,
    Order.WAIT: lambda evening, outcome: replace(evening, own=evening.own.after(outcome)),
}
