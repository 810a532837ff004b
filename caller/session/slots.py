"""What an evening is made of: items, each with the programme that it is run by. Pure.

Conventions: minutes and names as in :mod:`caller.evening.plan`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from caller.dance.walls import Dance
from caller.evening.plan import Item
from caller.session.changes import Calling
from caller.session.programme import Passed, ProgrammeEvent, ProgrammeFacts, Segment, ToDance, ToTell
from caller.session.taught import TaughtProgramme
from caller.session.whole import WholeDance
from caller.teaching.walkthrough import USUAL_TEMPO
from caller.transport.order import Order
from caller.transport.tempo import Slowing


@dataclass(frozen=True, slots=True)
class Telling:
    """An item in which nothing is danced, but told. dance: what shows meanwhile."""

    title: str
    dance: Dance
    said: tuple[str, ...]
    over: bool = False
    waits: bool = False

    @property
    def facts(self) -> ProgrammeFacts:
        tempo = self.dance.routine.header.tempo or USUAL_TEMPO
        return ProgrammeFacts(self.title, self.dance, tempo, Calling(), lesson=True, danced=False)

    def segment(self, slowing: Slowing) -> Segment:
        return ToTell(self.said)

    def shown(self, slowing: Slowing) -> ToDance | None:
        return None

    def may_say(self) -> Iterable[str]:
        return ()

    def after(self, outcome: ProgrammeEvent) -> Telling:
        if outcome.line is not None and outcome.what in (Passed.RESUMED, Order.SAY_AGAIN):
            return replace(self, said=self.said[outcome.line :])
        return replace(self, over=True) if outcome.what in (Passed.DONE, Order.NEXT) else self


Inner = WholeDance | TaughtProgramme | Telling


@dataclass(frozen=True, slots=True)
class Slot:
    """An item as it is run. programme: at its start. seconds: how long each of its stages takes, or all of a run.
    number: by which it is asked for, the same for every class; 0 for what is not."""

    item: Item
    programme: Inner
    seconds: tuple[Fraction, ...] = ()
    number: int = 0

    @property
    def open(self) -> bool:
        """It is to be chosen what is danced."""
        return self.item.open

    @property
    def title(self) -> str:
        """The routine's, "" where none is danced."""
        own = self.programme
        if isinstance(own, Telling):
            return ""
        return own.stages.title if isinstance(own, TaughtProgramme) else own.dance.routine.header.title

    @property
    def beside(self) -> str:
        """The title of what is danced on the same floor, "" for none."""
        other = self.programme.other if isinstance(self.programme, WholeDance) else None
        return other.plain.routine.header.title if other else ""

    @property
    def item_named(self) -> Item:
        """The item with its routine's own title."""
        return replace(self.item, routine=self.title or self.item.routine)

    @property
    def name(self) -> str:
        return self.item_named.name


def latest_of(slots: Sequence[Slot]) -> str:
    """The routine that is danced last in some items, "" for none."""
    return next((slot.title for slot in reversed(slots) if slot.title), "")
