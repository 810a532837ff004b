"""What a sheet says of one event, gathered from wherever it says it: on which walls it happens, and its steps."""

from __future__ import annotations

from dataclasses import dataclass, field

from caller.routine.facing import Facing
from caller.routine.findings import Finding
from caller.routine.layout.blocks import EventBlock, ReplacedLines
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import ENDING, Mention


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

    def face(self, mention: Mention) -> None:
        """The facing as told in another place, where none is known yet or it is surer."""
        if self.facing is None or (mention.sure and not self.sure):
            self.facing, self.sure = mention.facing or self.facing, mention.sure


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
