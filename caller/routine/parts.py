"""A routine as written: header, sections, options, events, running order. Every value keeps its place in the sheet.

Conventions: as in :mod:`caller.routine.passages`. The steps of an option or a replacement stand at positions of their
section, not of their own first count: count 5 of the section is at 4 there too, and the passage's ``counts`` is the
last count it fills.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from caller.routine.facing import Facing
from caller.routine.findings import NOWHERE, Place
from caller.routine.meter import FOUR_FOUR, Feel, Meter
from caller.routine.named_figures import OwnWords
from caller.routine.passages import Passage
from caller.routine.step import Foot


@dataclass(frozen=True, slots=True)
class Option:
    """Another way through counts first to last (from 1, both included) of its section, at positions of the section."""

    first: int
    last: int
    name: str
    passage: Passage
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Section:
    """number: from 1 within its part. part: "" where the routine is not phrased."""

    number: int
    name: str
    passage: Passage
    options: tuple[Option, ...] = ()
    part: str = ""
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Cut:
    """A point in the dance: in this wall (the nth start), after so many counts; None = at the wall's end. facing: where
    the sheet says that it is danced; sure: that this can't be where its wall begins or ends; changed:
    that steps before it change in a way nobody could read."""

    wall: int
    after: int | None = None
    facing: Facing | None = field(default=None, compare=False)
    sure: bool = field(default=False, compare=False)
    changed: bool = field(default=False, compare=False)
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Replacement:
    """Steps that take the place of counts first to last (from 1, both included) of a section, at positions of the
    section; a passage of no counts leaves those counts out."""

    section: int
    first: int
    last: int
    passage: Passage
    part: str = ""
    place: Place = field(default=NOWHERE, compare=False)

    @property
    def leaves_out(self) -> bool:
        return self.passage.counts == 0


@dataclass(frozen=True, slots=True)
class Tag:
    """cuts is empty where a phrased order says when it is danced."""

    name: str
    cuts: tuple[Cut, ...]
    passage: Passage
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Restart:
    cuts: tuple[Cut, ...]
    replacements: tuple[Replacement, ...] = ()
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Change:
    walls: tuple[int, ...]
    replacements: tuple[Replacement, ...]
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Ending:
    cut: Cut
    passage: Passage
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class OrderItem:
    """One item of a phrased order: a part, its first so many counts, or a tag by name."""

    part: str = ""
    counts: int | None = None
    tag: str | None = None
    place: Place = field(default=NOWHERE, compare=False)
    short: bool = field(default=False, compare=False)  # "A-": as far as the sheet says elsewhere


@dataclass(frozen=True, slots=True)
class Header:
    """What stands before the first heading. None = not said (and worked out where it can be)."""

    title: str = ""
    devised_by: str = ""
    counts: int | None = None
    walls: int | None = None
    level: str = ""
    tempo: Fraction | None = None  # counts a minute
    meter: Meter = FOUR_FOUR
    feel: Feel = Feel.STRAIGHT
    intro: int | None = None
    starts: Foot | None = None
    music: str = ""
    notes: tuple[str, ...] = ()
    places: dict[str, Place] = field(default_factory=dict, compare=False)


@dataclass(frozen=True, slots=True)
class ToldLength:
    """A length that the sheet states of a part or a section. section 0 = the whole part."""

    part: str
    section: int
    counts: int
    place: Place


def first_words(sections: int) -> str:
    """ "section 1", "sections 1 to 3"."""
    return "section 1" if sections == 1 else f"sections 1 to {sections}"


@dataclass(frozen=True, slots=True)
class Routine:
    header: Header
    sections: tuple[Section, ...] = ()
    tags: tuple[Tag, ...] = ()
    restarts: tuple[Restart, ...] = ()
    changes: tuple[Change, ...] = ()
    ending: Ending | None = None
    order: tuple[OrderItem, ...] = ()
    comments: tuple[tuple[int, str], ...] = field(default=(), compare=False)
    told: tuple[ToldLength, ...] = field(default=(), compare=False)
    own_words: tuple[OwnWords, ...] = ()
    only: int | None = None  # its first so many sections by themselves; None = all of it

    @property
    def shown_title(self) -> str:
        """ "Lantern Row", "Lantern Row, sections 1 to 2" where only those are danced."""
        if self.only is None:
            return self.header.title
        return f"{self.header.title}, {first_words(self.only)}"

    @property
    def holders(self) -> tuple[Restart | Change, ...]:
        """What may put steps in the place of a section's."""
        return (*self.restarts, *self.changes)

    @property
    def passages(self) -> Iterator[Passage]:
        """All that has steps: sections and their options, tags, what is put in the place of steps, the ending."""
        for section in self.sections:
            yield section.passage
            yield from (option.passage for option in section.options)
        yield from (tag.passage for tag in self.tags)
        for holder in self.holders:
            yield from (one.passage for one in holder.replacements)
        if self.ending is not None:
            yield self.ending.passage

    @property
    def counts(self) -> int:
        """Counts of one pass through all sections as they stand."""
        return sum(section.passage.counts for section in self.sections)
