"""Where an order is given, and what can come of it: the values that the table of orders is made of. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from itertools import product

from caller.transport.order import Order
from caller.transport.state import State


class Effect(Enum):
    NOTHING = "nothing"  # it says why
    WHEN_READY = "when-ready"  # start as soon as the calls are ready
    START = "start"  # as made ready
    HUSH = "hush"  # silence at once
    RESUME = "resume"  # from the bar (or as is set), counted in
    BEGIN = "begin"  # go elsewhere in the programme, and let that be heard from its start
    CHANGE = "change"  # how it is danced, called or looped from here on; what sounds goes on, and follows
    LEVEL = "level"  # the same at another loudness
    TO_EIGHT = "to-eight"  # the same, ending with the eight
    RUN_ON = "run-on"  # no, not ending with it
    SHOW = "show"  # the screen's own
    LEAVE = "leave"


@dataclass(frozen=True, slots=True)
class OrderContext:
    """Where an order is given. lesson: in a taught programme, which goes by stages. danced: what is under way, stands
    or is next is danced, not only told. evening: it is an item of one; between: it waits between two items. alone: in
    what is danced in a practice. short: the counts that a teacher goes back by: four, in threes three or six."""

    state: State
    lesson: bool = False
    danced: bool = True
    evening: bool = False
    between: bool = False
    alone: bool = False
    short: int = 4


@dataclass(frozen=True, slots=True)
class Response:
    """What comes of an order. title: what it is called here. tells: what it does, or why it does nothing. gives: what
    the programme is asked, where that is another order. answer: said when it is done, of one that may lead elsewhere
    where it has not; "" for nothing. elsewhere: it is an order of another kind of class, which help leaves out."""

    effect: Effect
    title: str
    tells: str
    gives: Order
    answer: str = ""
    elsewhere: bool = False


@dataclass(frozen=True, slots=True)
class OrderRow:
    """One row. states, lesson, danced, evening, between, alone: where it holds; None = everywhere."""

    order: Order
    title: str
    effect: Effect
    tells: str
    states: tuple[State, ...] | None = None
    lesson: bool | None = None
    danced: bool | None = None
    gives: Order | None = None
    answer: str = ""
    evening: bool | None = None
    between: bool | None = None
    alone: bool | None = None
    elsewhere: bool = False

    def holds(self, context: OrderContext) -> bool:
        return (
            (self.states is None or context.state in self.states)
            and self.lesson in (None, context.lesson)
            and self.danced in (None, context.danced)
            and self.evening in (None, context.evening)
            and self.between in (None, context.between)
            and self.alone in (None, context.alone)
        )


# A dance is danced throughout, and has no stages to wait after. Between two items of an evening nothing is danced.
CONTEXTS = tuple(
    OrderContext(state, lesson, danced, evening, between, alone)
    for state in State
    for lesson, danced, evening, between, alone in product((False, True), repeat=5)
    if (lesson or (danced and state is not State.WAITING))
    and (not between or (evening and lesson and not danced and state in (State.WAITING, State.FINISHED)))
    and (not alone or (lesson and danced and not evening and state is not State.FINISHED))
)
