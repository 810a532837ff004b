"""An evening as a plain value: what is danced, taught and rested, one item after another.

Conventions: times of the day are minutes since midnight, beyond 1,440 on the day after; how long is whole minutes.
tempo is a share of the routine's own. Sentences and phrases are for the screen, without a full stop.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from enum import Enum
from fractions import Fraction

from caller.calls.plan import Manner
from caller.routine.parts import first_words

A_DAY = 24 * 60
MOST_ITEMS = 60
LONGEST_MINUTES = 240


class Kind(Enum):
    """What an item is. RUN: danced from its first step to its last. LESSON: its walkthrough. RECAP: gone over once, for
    those who missed it. DRILL: one place of it, over and over. REQUEST: a run that the class chooses. BREAK: nothing is
    danced."""

    RUN = "run"
    LESSON = "lesson"
    RECAP = "recap"
    DRILL = "drill"
    REQUEST = "request"
    BREAK = "break"


@dataclass(frozen=True, slots=True)
class Item:
    """minutes: what it is given. routine: the title, or the sheet's file, as 'caller list' and the plan's file have it;
    "" for a break, and for a request that is chosen when it comes. why: it is in the plan. manner, walls: of a run
    (None: as many as a song has). stage, level: of a lesson, its first stage, and the class's level ("" = the sheet's);
    a recap goes over what comes before that stage, over all where it is 1. sections: of a run, its first so many by
    themselves (None: the whole dance); beside: another routine, danced on the same floor. place: of a drill, "section
    2", "part B section 1", "tag" ("" = what is hardest). music: a recording's file, "" for the count track alone. keep:
    it is never proposed to be taken out."""

    kind: Kind
    minutes: int = 0
    routine: str = ""
    why: str = ""
    tempo: Fraction = Fraction(1)
    manner: Manner = Manner.AHEAD
    walls: int | None = None
    stage: int = 1
    level: str = ""
    place: str = ""
    music: str = ""
    keep: bool = False
    sections: int | None = None
    beside: str = ""

    @property
    def open(self) -> bool:
        """It is to be chosen what is danced."""
        return self.kind is Kind.REQUEST and not self.routine

    @property
    def name(self) -> str:
        """ "Lantern Row, run at 90%", "Chalk Line, lesson from stage 8", "break"."""
        if not self.routine:
            return "request" if self.kind is Kind.REQUEST else self.kind.value
        how = {
            Kind.LESSON: f" from stage {self.stage}" if self.stage > 1 else "",
            Kind.RECAP: f" as far as stage {self.stage - 1}" if self.stage > 1 else "",
            Kind.DRILL: f" of {self.place_words}" if self.place else "",
        }.get(self.kind, f"{self._part_words} at {round(100 * self.tempo)}%" if self.tempo != 1 else self._part_words)
        return f"{self.routine}, {self.kind.value}{how}"

    @property
    def _part_words(self) -> str:
        """ " of sections 1 to 2", " beside Chalk Line", "" for the whole dance alone."""
        part = "" if self.sections is None else f" of {first_words(self.sections)}"
        return f"{part} beside {self.beside}" if self.beside else part

    @property
    def place_words(self) -> str:
        """ "section 2", "the tag"."""
        return self.place if any(letter.isdigit() for letter in self.place) else f"the {self.place}"

    @property
    def heading(self) -> str:
        """Its name, to begin a line with."""
        return self.name[0].upper() + self.name[1:]


@dataclass(frozen=True, slots=True)
class Plan:
    """class_name: "" for none. closes: when the hall does. left_out: what there was no time for, or no sheet, each with
    why. free: why nothing more is danced in the time that is left, "" where none is or nobody asked. date: the day that
    it was made for, None where it is for any."""

    class_name: str
    starts: int
    closes: int
    items: tuple[Item, ...]
    left_out: tuple[tuple[str, str], ...] = ()
    free: str = ""
    date: date | None = None

    @property
    def ends(self) -> int:
        return self.starts + sum(item.minutes for item in self.items)

    def timed(self) -> Iterator[tuple[Item, int]]:
        """Each item with when it begins."""
        at = self.starts
        for item in self.items:
            yield item, at
            at += item.minutes


def clock(minutes: int | Fraction) -> str:
    """ "19:05"."""
    whole = int(minutes) % A_DAY
    return f"{whole // 60:02}:{whole % 60:02}"


def long_words(minutes: int) -> str:
    """ "1 minute", "25 minutes"."""
    return f"{minutes} minute{'' if minutes == 1 else 's'}"


def item_line(item: Item, at: int | Fraction) -> str:
    """ "19:05  Lantern Row, run at 90%, 4 min (danced last week)"."""
    why = f" ({item.why})" if item.why else ""
    return f"{clock(at)}  {item.heading}, {item.minutes} min{why}"


def end_line(at: int | Fraction, closes: int, spare: int) -> str:
    """ "20:55  ends; the hall closes at 21:00: 5 minutes in hand"."""
    told = f"{long_words(spare)} in hand" if spare >= 0 else f"{long_words(-spare)} too long"
    return f"{clock(at)}  ends; the hall closes at {clock(closes)}: {told}"


def requests_words(dances: Iterable[tuple[int, str]]) -> str:
    """The dances that may be asked for, in the order of their numbers: "1 Chalk Line, 3 Slow Water"."""
    return ", ".join(f"{number} {title}" for number, title in sorted(dances))


def requests_line(dances: Iterable[tuple[int, str]]) -> str:
    """How they are asked for, as it is typed."""
    return f"/request and a number or name asks for: {requests_words(dances)}"


def plan_lines(plan: Plan) -> Iterator[str]:
    """The plan as it is shown: each item with its time, then the end, then what is left out."""
    for item, at in plan.timed():
        yield item_line(item, at)
    yield end_line(plan.ends, plan.closes, plan.closes - plan.ends)
    if plan.free:
        yield f"Left free: {long_words(plan.closes - plan.ends)}; {plan.free}"
    for title, why in plan.left_out:
        yield f"Left out: {title} ({why})"
