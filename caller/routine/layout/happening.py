"""What a sheet says of one event, gathered from wherever it says it: on which walls it happens, and its steps."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from caller.routine.facing import Facing
from caller.routine.findings import Finding
from caller.routine.layout.blocks import EventBlock, ReplacedLines
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import ENDING


@dataclass(slots=True)
class Happening:
    """One wall on which an event is danced. after: counts into it, None = at its end (or not told)."""

    wall: int
    after: int | None
    line: Line
    facing: Facing | None = None
    times: int = 1
    first: int | None = None
    sure: bool = False  # the facing is that of the event itself
    faced: Line | None = None  # the line that tells it

    def face(self, block: EventBlock) -> None:
        """The facing as told in another place, where none is known yet or it is surer."""
        mention = block.mention
        if self.facing is None or (mention.sure and not self.sure):
            self.faced = faced_on(block) if mention.facing is not None else self.faced
            self.facing, self.sure = mention.facing or self.facing, mention.sure


_CLOCK = re.compile(
    r"\b(?P<hour>1[0-2]|[1-9])\s?(?:[:.]00|o['\u2019]?\s?clock)|\b(?:the|facing)\s+(?P<side>front|home|back)\b(?!\s+rock)",
    re.IGNORECASE,
)
_SIDES = {"front": Facing(0), "home": Facing(0), "back": Facing(4)}


def facings_told(text: str) -> Iterator[tuple[int, Facing]]:
    """The facings that a sentence names, each with the index where it does."""
    for found in _CLOCK.finditer(text):
        hour, side = found["hour"], found["side"]
        yield found.start(), _SIDES[side.lower()] if side else Facing(int(hour) % 12 * 8 // 12)


def faced_on(block: EventBlock) -> Line:
    """The line of the file in which the block's sentence tells its facing."""
    told = facings_told(block.heading.text) if block.heading.breaks else ()
    return next((block.heading.at(at) for at, facing in told if facing == block.mention.facing), block.heading)


@dataclass(slots=True)
class Event:
    """An event with all that the sheet says of it. long: the length it states, with the line."""

    kind: str
    heading: Line
    name: str = ""
    happenings: list[Happening] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    replaced: list[ReplacedLines] = field(default_factory=list)
    block: EventBlock | None = None
    words: str = ""
    long: int | None = None
    unplaced: bool = False

    def add(self, b: EventBlock) -> None:
        """What another block tells of it, where that is not known yet."""
        if b.replaced and not self.replaced:
            self.replaced, self.heading, self.block = b.replaced, b.heading, b
        if b.lines and not self.lines:
            self.lines, self.heading = b.lines, b.heading
        announced = self.kind == ENDING and self.block is not None and self.block.within < 0 <= b.within
        if announced and not (self.lines or self.words or self.replaced):
            self.words, self.heading, self.block = b.words, b.heading, b  # "one ending (wall 8)", and it is told below
        self.long = self.long or b.mention.long


@dataclass(slots=True)
class Merged:
    events: list[Event] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
