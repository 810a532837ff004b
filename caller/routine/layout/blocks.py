"""What a sheet's lines are gathered into: sections with their options, events with their steps, the header."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache

from caller.routine.count import read_counts
from caller.routine.findings import Finding
from caller.routine.layout.header import HeaderReader
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import Mention


class Role(StrEnum):
    """What a line of the file was taken for."""

    TITLE = "title"
    HEADER = "header"
    HEADING = "heading"
    STEPS = "steps"
    EVENT = "event"
    OPTION = "option"
    NOTE = "note"
    EMPTY = "empty"
    UNREAD = "unread"


@dataclass(slots=True)
class OptionBlock:
    """told: said in its own line in words of the author's; what can't be read of it is then a note. otherwise: the ways
    besides ``lines`` of taking those words. offered: in a sentence, which may be about something else; quiet: not told
    of where its words can't be read."""

    heading: Line
    first: int
    last: int
    name: str
    lines: list[Line] = field(default_factory=list)
    told: bool = False
    otherwise: Sequence[list[Line]] = ()
    offered: bool = False
    quiet: bool = False


@dataclass(slots=True)
class SectionBlock:
    """said: the counts that the heading gives; long: the length it gives; notes: with their lines; again: a heading that
    has no steps but says of which section they are."""

    heading: Line
    part: str
    number: int
    name: str
    lines: list[Line] = field(default_factory=list)
    options: list[OptionBlock] = field(default_factory=list)
    said: tuple[int, int] | None = None
    long: int | None = None
    notes: list[tuple[str, int]] = field(default_factory=list)


# Of counts that are not danced: "S3 1-8  left out".
LEFT_OUT = re.compile(r"^[\d\s&,-]+\s*left out$", re.IGNORECASE)


@dataclass(slots=True)
class ReplacedLines:
    """Lines that take the place of counts of a section; section 0 = the one in which the event stands. of: the figure
    whose counts they take, by the author's name, where no counts are told; words: what is danced on them."""

    heading: Line
    part: str
    section: int
    lines: list[Line] = field(default_factory=list)
    of: str = ""
    words: str = ""


@dataclass(slots=True)
class EventBlock:
    """One event as one line tells it. lines: its steps; replaced: steps in the place of others; here: (index of the
    section, counts into it) where the line stands, None outside the sections; mark: the stars before it; otherwise: the
    ways besides ``replaced`` of taking its sentence."""

    mention: Mention
    heading: Line
    lines: list[Line] = field(default_factory=list)
    replaced: list[ReplacedLines] = field(default_factory=list)
    here: tuple[int, int] | None = None
    mark: str = ""
    within: int = -1  # the section's index it stands in or after
    words: str = ""  # steps told in its own sentence, without counts
    text: str = ""  # the whole sentence
    otherwise: Iterator[list[ReplacedLines]] = iter(())


@dataclass(slots=True)
class Blocks:
    """roles: of every line of the file, by its number. unread: step-like lines that have no counts. parts: stated
    lengths of parts, with the line; shorts: what "A-" stands for."""

    reader: HeaderReader = field(default_factory=HeaderReader)
    sections: list[SectionBlock] = field(default_factory=list)
    events: list[EventBlock] = field(default_factory=list)
    comments: list[tuple[int, str]] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    roles: dict[int, Role] = field(default_factory=dict)
    parts: dict[str, tuple[int, Line]] = field(default_factory=dict)
    shorts: dict[str, int] = field(default_factory=dict)
    wraps: bool = False  # counts go over the end of a section ("8&1")


def without_counts(words: str) -> str:
    """What to say of a line of steps that has no counts."""
    return (
        f"this line has no counts, so nobody knows when it is danced: {words[:60]!r}; begin it with them, such as '1-2'"
    )


def highest_count(lines: Sequence[Line]) -> int:
    """The highest whole count that these lines write."""
    return max((_highest(line.text) for line in lines), default=0)


@lru_cache(maxsize=1024)
def _highest(text: str) -> int:
    counts = read_counts(text)
    return max((b.number for b in counts.beats if not b.part and not b.over), default=0) if counts is not None else 0


def first_count(line: Line) -> int | None:
    """The first whole count of a step line ("&1" gives 1), None where it has none ("& close")."""
    counts = read_counts(line.text)
    if counts is None:
        return None
    return next((beat.number for beat in counts.beats if not beat.part), None)
