"""The sections read so far, as they lie one after another: the counts before each, the weight after each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from caller.routine.facing import NO_TURN, Turn
from caller.routine.parts import Section
from caller.routine.passages import Passage
from caller.routine.step import Weight


@dataclass(slots=True)
class Laid:
    """The sections read so far. after: the weight after each; bases: the counts that each one's numbers run on from;
    start: the weight before the first step."""

    start: Weight
    sections: list[Section] = field(default_factory=list)
    after: list[Weight | None] = field(default_factory=list)
    bases: list[int] = field(default_factory=list)

    @property
    def counts(self) -> int:
        return sum(section.passage.counts for section in self.sections)

    def counts_before(self, index: int) -> int:
        """Counts of its part before the section of this index."""
        if not self.sections:
            return 0
        part = self.sections[min(index, len(self.sections) - 1)].part
        return sum(section.passage.counts for section in self.sections[:index] if section.part == part)

    def counted_on(self, first: int, after: int) -> int:
        """How many counts go before ``first`` in the numbers of a wall, or of a section of it, of which ``after`` are
        danced; 0 where it is counted anew."""
        begins = {0, *(self.counts_before(index) for index in range(len(self.sections)))}
        return first - 1 if after - (first - 1) in begins else 0

    def turned(self, after: int | None) -> Turn:
        """How far the first so many counts of the sections turn, None = all of them."""
        turn, passed = NO_TURN, 0
        for section in self.sections:
            for step in section.passage.steps:
                if after is None or passed + step.at < after:
                    turn = turn + step.movement.turn
            passed += section.passage.counts
        return turn

    def weight_at(self, after: int | None) -> Weight | None:
        """The weight after so many counts of the sections, None = after all of them."""
        if after is None:
            return self.after[-1] if self.after else self.start
        return self._within(list(zip(self.sections, self.after, strict=True)), after)

    def part_end(self, part: str, counts: int | None) -> Weight | None:
        """The weight after a part, or its first so many counts."""
        own = [(s, w) for s, w in zip(self.sections, self.after, strict=True) if s.part == part]
        if not own:
            return self.start
        return own[-1][1] if counts is None else self._within(own, counts)

    def _within(self, sections: Sequence[tuple[Section, Weight | None]], counts: int) -> Weight | None:
        weight: Weight | None = self.start
        passed = 0
        for section, after in sections:
            if passed + section.passage.counts > counts:
                return weight_before(section.passage, Fraction(counts - passed), weight)
            passed += section.passage.counts
            weight = after
        return weight


def weight_before(passage: Passage, at: Fraction, weight: Weight | None) -> Weight | None:
    """The weight before the step at this position, entering with ``weight``; None after something unread."""
    for step in passage.steps:
        if step.at >= at:
            break
        weight = None if step.movement.action == "unread" else step.movement.weight or weight
    return weight
