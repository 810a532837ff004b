"""An evening as a programme: items of a plan, each a programme of its own, one after another. Pure.

Conventions: what is ordered within an item is the item's own concern. Between two items it waits for the teacher. The
time comes as an outcome, in seconds since the midnight before the evening; minutes as in :mod:`caller.evening.plan`.
What is late is told, and what might be taken out; nothing is taken out but by an order.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from caller.book.entries import Standing
from caller.evening.lateness import late_words, over_by, proposal
from caller.evening.plan import Item, Kind, Plan, clock, end_line, item_line, long_words
from caller.session.bookmarks import Bookmark, gone_on, within
from caller.session.changes import Calling
from caller.session.programme import CanNot, Passed, ProgrammeEvent, ProgrammeFacts, Segment, ToDance
from caller.session.slots import Inner, Slot, Telling
from caller.session.taught import TaughtProgramme
from caller.transport.order import Order
from caller.transport.tempo import Slowing

# How often it is looked how late it is.
_LOOKS_SECONDS = 5
# How long before the hall closes that is said.
WARNED_MINUTES = 10
MARKS: dict[Order, Standing] = {
    Order.LEARNT: "learnt",
    Order.SHAKY: "shaky",
    Order.NOT_DONE: "not done",
}


@dataclass(frozen=True, slots=True)
class Evening:
    """plan: as it was made, but for its items, which are those of slots. catalogue: what may be requested. own: the
    item under way, or the last one. ahead: which item is begun next, while it waits for that; None while one is under
    way. now: the time; began: when the item did. out: what was taken out, with its place, the last one last. marked:
    what was said of a routine. told: which item was last said to be taken out, if any.
    says: a sentence on what has come to pass, told when it changes."""

    plan: Plan
    slots: tuple[Slot, ...]
    catalogue: tuple[Slot, ...]
    own: Inner
    index: int = 0
    ahead: int | None = None
    now: Fraction = Fraction(0)
    began: Fraction | None = None
    out: tuple[tuple[int, Slot], ...] = ()
    marked: tuple[tuple[str, Standing], ...] = ()
    told: Item | None = None
    says: str = ""

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
        slot, gone = self.slot, self._gone
        given = max(slot.item.minutes - gone, Fraction(0))
        if self.over or (self.ahead is not None and slot.item.kind is not Kind.BREAK):
            return Fraction(0)
        whole = sum(slot.seconds, Fraction(0)) / 60
        if isinstance(self.own, TaughtProgramme) and self.ahead is None and slot.item.minutes >= whole:
            return sum(slot.seconds[self.own.running.index :], Fraction(0)) / 60
        return given

    @property
    def over_by(self) -> int:
        """Minutes beyond the closing time, as it stands; less than 0 is in hand."""
        return over_by(self.now / 60, self.left, [slot.item for slot in self.later], self.plan.closes)

    @property
    def proposed(self) -> Slot | None:
        """What might be taken out."""
        found = proposal([slot.item for slot in self.later], self.over_by)
        return None if found is None else self.later[found]

    @property
    def _gone(self) -> Fraction:
        """Minutes since the item began."""
        return Fraction(0) if self.began is None else (self.now - self.began) / 60

    # -- a programme

    @property
    def facts(self) -> ProgrammeFacts:
        waits = self.ahead is not None or self.over
        facts = self._between if waits else self.own.facts
        return replace(
            facts,
            item=f"item {min(self._shown_index + 1, len(self.slots))} of {len(self.slots)}",
            after=facts.after or self._name(self.index + 1),
            evening=True,
            between=waits,
            plan=tuple(self._lines()) if waits or self.began is None else (),
            clock=self._clock_words(),
            late=self._late_words,
            says=self.says,
        )

    def segment(self, slowing: Slowing) -> Segment:
        return self.own.segment(slowing)

    def shown(self, slowing: Slowing) -> ToDance | None:
        if self.ahead is None:
            return None if self.over else self.own.shown(slowing)
        next_one = self._next_request() if self._asks else (*self.slots[self.ahead :], None)[0]
        return None if next_one is None else next_one.programme.shown(slowing)

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
        if own is self.own and self.began is not None:
            return self
        begun = self if self.began is not None or outcome.what is not Order.GO else replace(self, began=self.now)
        return replace(begun, own=own, ahead=self.index + 1 if own.over else None)

    # -- from item to item

    def _begun(self, index: int) -> Evening:
        """An item from its start; beyond the last it is over."""
        if index >= len(self.slots):
            return replace(self, index=index, ahead=None)
        own = self.slots[index].programme.after(ProgrammeEvent(Order.GO))
        return replace(self, index=index, own=own, ahead=None, began=self.now)

    def _goes_on(self, outcome: ProgrammeEvent) -> Evening:
        """With what is ahead; where it was left open what is danced, with what is proposed."""
        assert self.ahead is not None
        return self._with_request(self._next_request())._begun(self.index) if self._asks else self._begun(self.ahead)

    def _back_into(self, outcome: ProgrammeEvent) -> Evening:
        """Into the item that has come to its end: a section of it, its last stage."""
        own = self.own.after(outcome)
        return replace(self, own=own, ahead=None) if not own.over else self._begun(self.index)

    def _left_for(self, index: int) -> Evening:
        """Waiting with an item, whatever was under way."""
        return replace(self, ahead=index)

    def _next_item(self, outcome: ProgrammeEvent) -> Evening:
        ahead = self.index + 1 if self.ahead is None else self.ahead + 1
        return self._left_for(min(ahead, len(self.slots)))

    def _to_item(self, outcome: ProgrammeEvent) -> Evening:
        number = int(outcome.amounts[0])
        if not 1 <= number <= len(self.slots):
            raise CanNot(f"There is no item {number}; there are 1 to {len(self.slots)}.")
        return self._left_for(number - 1)

    # -- what changes the plan

    def _cut(self, outcome: ProgrammeEvent) -> Evening:
        found = proposal([slot.item for slot in self.later], self.over_by)
        if found is None:
            over = self.over_by
            why = "there is nothing that may be" if over > 0 else f"there are {long_words(-over)} in hand"
            raise CanNot(f"Nothing is taken out: {why}.")
        place = len(self.slots) - len(self.later) + found
        slot, slots = self.slots[place], (*self.slots[:place], *self.slots[place + 1 :])
        cut = replace(self, slots=slots, out=(*self.out, (place, slot)))
        return replace(cut, says=f"Taken out: {slot.name}. Now it ends at {clock(cut._ends)}.")

    def _put_back(self, outcome: ProgrammeEvent) -> Evening:
        if not self.out:
            raise CanNot("Nothing has been taken out.")
        place, slot = self.out[-1]
        place = min(max(place, len(self.slots) - len(self.later)), len(self.slots))
        slots = (*self.slots[:place], slot, *self.slots[place:])
        back = replace(self, slots=slots, out=self.out[:-1])
        return replace(back, says=f"Back in the plan: {slot.name}. Now it ends at {clock(back._ends)}.")

    def _requested(self, outcome: ProgrammeEvent) -> Evening:
        number = int(outcome.amounts[0])
        if not 1 <= number <= len(self.catalogue):
            raise CanNot(f"There is no routine {number} to ask for; there are 1 to {len(self.catalogue)}.")
        return self._with_request(self.catalogue[number - 1])

    def _with_request(self, slot: Slot) -> Evening:
        """In the place of the next request that is open, here or later; without one, as the next item."""
        first = self.index if self.ahead is not None else self.index + 1
        place = next((n for n in range(first, len(self.slots)) if self.slots[n].open), None)
        if place is None:
            slots = (*self.slots[: self.index + 1], slot, *self.slots[self.index + 1 :])
            asked = replace(self, slots=slots)
        else:
            slots = (*self.slots[:place], slot, *self.slots[place + 1 :])
            here = place == self.index
            asked = replace(self, slots=slots, ahead=place if here else self.ahead)
        return replace(asked, says=f"Asked for: {slot.title}.")

    def _next_request(self) -> Slot:
        """Of what may be asked for, what is not in the evening yet."""
        danced = {slot.title for slot in self.slots}
        return next((slot for slot in self.catalogue if slot.title not in danced), self.catalogue[0])

    def _marked(self, outcome: ProgrammeEvent) -> Evening:
        assert isinstance(outcome.what, Order)
        title, mark = self.slot.title, MARKS[outcome.what]
        if not title:
            raise CanNot("No routine is danced here, so there is none to mark.")
        return replace(self, marked=(*self.marked, (title, mark)), says=f"{title}: {mark}.")

    # -- the time

    def _timed(self, outcome: ProgrammeEvent) -> Evening:
        timed = replace(self, now=outcome.amounts[0])
        if self.began is None or timed.now // _LOOKS_SECONDS == self.now // _LOOKS_SECONDS:
            return timed
        slot = timed.proposed
        if (slot.item if slot else None) != self.told:
            timed = replace(timed, told=slot.item if slot else None)
            return replace(timed, says=f"{timed._late_words}.") if slot else timed
        if self.now / 60 < self.plan.closes - WARNED_MINUTES <= timed.now / 60:
            return replace(timed, says=f"The hall closes in {long_words(WARNED_MINUTES)}.")
        given = self.slot.item.minutes
        if given and self._gone < given <= timed._gone:
            return replace(timed, says=f"{self.slot.item_named.heading}: its time is over.")
        return timed

    @property
    def _late_words(self) -> str:
        slot = self.proposed
        return late_words(self.over_by, slot.item_named if slot is not None else None)

    @property
    def _ends(self) -> Fraction:
        return Fraction(self.plan.closes + self.over_by)

    def _clock_words(self) -> str:
        """ "19:24, until 19:40"."""
        now = self.now / 60
        under_way = self.began is not None and self.ahead is None and self.left
        until = f", until {clock(ceil(now + self.left))}" if under_way else ""
        return f"{clock(now)}{until}"

    # -- what shows between items

    @property
    def _shown_index(self) -> int:
        """Of the item that is under way, or else is next."""
        return self.index if self.ahead is None or self._asks or self._rest else self.ahead

    @property
    def _between(self) -> ProgrammeFacts:
        ahead = len(self.slots) if self.ahead is None else self.ahead
        slot = self.slots[ahead] if ahead < len(self.slots) else self.slot
        facts = slot.programme.facts
        return ProgrammeFacts(
            (self.slot.programme.facts.title if self._asks or self._rest else slot.title) or "The evening",
            facts.dance,
            facts.tempo,
            Calling(),
            lesson=True,
            danced=False,
            stage="" if self._asks or self._rest else f"{self.slot.item_named.heading}, done",
            after=self._next_request().name if self._asks else self._name(ahead) or "the end of the evening",
            rest=self._rest,
            to_mark=self.slot.title if ahead == self.index + 1 else "",
        )

    @property
    def _asks(self) -> bool:
        """What is danced is to be chosen now."""
        return self.ahead == self.index + 1 and self.slot.open and bool(self.catalogue)

    @property
    def _rest(self) -> str:
        if self.slot.item.kind is not Kind.BREAK or self.ahead != self.index + 1 or self.began is None:
            return ""
        return f"break until {clock(self.began / 60 + self.slot.item.minutes)}"

    def _name(self, index: int) -> str:
        return self.slots[index].name if index < len(self.slots) else ""

    def _lines(self) -> Iterator[str]:
        """What is to come, each with its time; what may be asked for."""
        at = self.now / 60 + (self.left if self.began is not None else 0)
        for slot in self.later if self.began is not None else self.slots[self.index :]:
            yield item_line(slot.item_named, at)
            at += slot.item.minutes
        yield end_line(at, self.plan.closes, -self.over_by)
        if self.catalogue and any(slot.open for slot in self.slots[self.index :]):
            asked = ", ".join(f"{n} {slot.title}" for n, slot in enumerate(self.catalogue, 1))
            yield f"/request and a number asks for: {asked}"

    # -- going on another time

    def bookmark(self, count: Fraction | None) -> Bookmark:
        """Where it is. count: of what is danced, as it stands; None where nothing is."""
        return within(Bookmark(self.index, self.ahead, began=self.began), self.own, count)

    def at(self, place: Bookmark) -> Evening:
        """As it was at a bookmark; waiting for the start. Where it waited for an item, that is what it begins with; a
        break goes on."""
        last = len(self.slots) - 1
        index = min(place.index, last)
        resting = isinstance(self.slots[index].programme, Telling) and place.ahead == index + 1
        if place.ahead is not None and not resting:
            index = min(place.ahead, last)
            return replace(self, index=index, own=self.slots[index].programme)
        return replace(self, index=index, own=gone_on(self.slots[index].programme, place), began=place.began)


_ANSWERS: dict[Order | Passed, Callable[[Evening, ProgrammeEvent], Evening]] = {
    Passed.TIMED: Evening._timed,
    Order.NEXT_ITEM: Evening._next_item,
    Order.ITEM: Evening._to_item,
    Order.CUT: Evening._cut,
    Order.PUT_BACK: Evening._put_back,
    Order.REQUEST: Evening._requested,
    Order.LEARNT: Evening._marked,
    Order.SHAKY: Evening._marked,
    Order.NOT_DONE: Evening._marked,
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
