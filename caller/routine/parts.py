"""A routine as written: header, sections, options, events, running order. Every value keeps its place in the sheet.

Conventions: positions are counts as exact fractions since the start of the passage they stand in, the first count at
0 (so written count "3&" is at 5/2; a pick-up "&1" at the head is negative). The steps of an option or a replacement
stand at positions of their section, not of their own first count: count 5 of the section is at 4 there too, and the
passage's ``counts`` is the last count it fills. Places, and how a sheet names things, never take part in equality, so
two spellings of one dance are equal.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction

from caller.routine.facing import Facing, Turn
from caller.routine.findings import Place
from caller.routine.step import Foot, Movement, Weight

NOWHERE = Place(0)


class Feel(Enum):
    STRAIGHT = "straight"
    SWING = "swing"


@dataclass(frozen=True, slots=True)
class Meter:
    """Counts in a bar, and the note value that is written below."""

    counts: int = 4
    unit: int = 4

    def __str__(self) -> str:
        return f"{self.counts}/{self.unit}"


@dataclass(frozen=True, slots=True)
class Step:
    """A movement on its beat part."""

    at: Fraction
    count: str  # as written in short: "3", "3&", "4a"
    movement: Movement
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class FigureWords:
    """A figure that the sheet names: its steps (indices, both included) and its words, as the vocabulary writes
    them."""

    first: int
    last: int
    words: str


@dataclass(frozen=True, slots=True)
class FigureCalled:
    """The figure that a phrase is, by the vocabulary's name. turn: beyond the figure's own. named: by the sheet, rather
    than recognised in its movements. said: the sheet's own name for it, where it has another."""

    name: str
    way: str
    lead: Foot
    turn: Turn
    named: bool = False
    said: str = ""


@dataclass(frozen=True, slots=True)
class OwnWords:
    """What a teacher always says for a way of a figure, by the vocabulary's name. like: the figure and the way that
    were meant, where these are the same movements. whole: for that way alone, so that the words say it."""

    figure: str
    way: str
    like: tuple[str, str]
    words: str
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Phrase:
    """Steps called together: a figure, or what one quoted call covers.

    first, last: indices into the passage's steps, both included.
    name: the figure's full name ("right shuffle forward"), or the movement's plain words.
    wordings: what may be called, fullest first; never empty.
    each: one word for each step, for calling on the count.
    call: the sheet's own quoted words, "" where it has none.
    figures: those of its steps that the sheet names as figures rather than writing them out.
    figure: what all of it is, where it is one.
    """

    first: int
    last: int
    name: str
    wordings: tuple[str, ...]
    each: tuple[str, ...]
    call: str = ""
    figures: tuple[FigureWords, ...] = field(default=(), compare=False)
    figure: FigureCalled | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Claim:
    """A facing or weight that the sheet states after the step of this index (wall 1); -1 = before the first."""

    after: int
    facing: Facing | None = None
    weight: Weight | None = None
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class LineWords:
    """The author's own words for steps first to last (indices, both included), without counts and call."""

    first: int
    last: int
    line: int
    text: str


@dataclass(frozen=True, slots=True)
class Passage:
    """What is danced from one place to another: whole counts, and the steps on them in order.

    note_lines: the sheet's line of each note. words: the author's, line by line.
    """

    counts: int
    steps: tuple[Step, ...] = ()
    phrases: tuple[Phrase, ...] = ()
    claims: tuple[Claim, ...] = ()
    notes: tuple[str, ...] = ()
    note_lines: tuple[int, ...] = field(default=(), compare=False)
    words: tuple[LineWords, ...] = field(default=(), compare=False)


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
    meter: Meter = Meter()
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
