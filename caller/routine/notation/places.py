"""Where in the dance an event stands: its walls, the counts into a wall, the section whose steps it changes.

Conventions: walls count from 1, counts from the beginning of the wall; None for counts is the wall's end, or not told.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from caller.routine.facing import Facing
from caller.routine.layout.blocks import LEFT_OUT, EventBlock, ReplacedLines
from caller.routine.layout.happening import Event
from caller.routine.layout.kinds import BY_NAME, GOES_BACK
from caller.routine.layout.mention import ENDING, RESTART, TAG
from caller.routine.notation.named import FigureSpan, figure_named
from caller.routine.notation.sections import Laid
from caller.routine.parts import OrderItem

_AFTER_FIGURE = re.compile(
    r"\bafter\s+the\s+[\w /-]{3,30}?,?\s+(?:add|insert|dance|do|put)\b"
    r"|\b(?:counts?|beats?)\s+(?:extra\s+)?after\s+the\s+[a-z]",
    re.IGNORECASE,
)
_BETWEEN = re.compile(
    r"\bbetween\s+the\s+(?P<name>[A-Za-z][\w /-]{2,30}?)\s+and\s+the\s+(?!\w+\s+wall)[a-z]", re.IGNORECASE
)
_WALLS_AHEAD = 12  # walls that "every odd wall" reaches: more than any song has
_EVERY = {"odd": (1, 2), "even": (2, 2), "all": (1, 1)}


class Places:
    """Places among the sections that are laid, and in the order of a phrased dance (empty: one part, over and over)."""

    def __init__(self, laid: Laid, order: Sequence[OrderItem]) -> None:
        self.laid = laid
        self.order = order

    def walls(self, block: EventBlock) -> tuple[int, ...]:
        """The walls that a block tells, "every odd wall" and "each time you face the back" as numbers."""
        mention = block.mention
        if mention.walls:
            return mention.walls
        if mention.every:
            first, by = _EVERY[mention.every]
            return tuple(range(first, _WALLS_AHEAD + 1, by))
        if mention.facing_walls is not None:
            turned = sum(
                step.movement.turn.eighths
                for section in self.laid.sections
                for step in section.passage.steps
                if step.movement.turn
            )
            danced = 0 if mention.ends_there else 1  # walls before it starts, or with it ended
            facings = [Facing(turned * (n - danced)) for n in range(1, _WALLS_AHEAD + 1)]
            walls = tuple(n for n, facing in enumerate(facings, 1) if facing == mention.facing_walls)
            nth = mention.nth_facing
            if nth > len(walls):  # "the 8th time you begin at 6:00"
                return (nth,) if nth in walls else ()
            return walls[nth - 1 : nth] if nth else walls[: mention.often or None]
        if mention.last_wall:
            return (self._last_wall(),)
        return ()

    def _last_wall(self) -> int:
        parts = sum(1 for item in self.order if item.part)
        return parts or 0

    def after(self, block: EventBlock) -> int | None:
        """Counts into the wall, None = at its end, or not told."""
        mention = block.mention
        standing = self.standing(block)
        if mention.here and mention.within is not None and mention.section is None and block.here is not None:
            return self.laid.counts_before(block.here[0]) + mention.within
        if mention.section is not None:
            return self._after_section(mention.section, mention.within)
        if mention.left_out and mention.after is None and not self.order:
            return max(self.laid.counts - mention.left_out, 0)
        if (span := self._between(block)) is not None:
            return self.laid.counts_before(span.index) + span.last
        if mention.after is not None:
            within = block.here[1] - self._base(block.here[0]) if block.here is not None else None
            if standing is not None and mention.here and standing != mention.after and within == mention.after:
                return standing
            if standing is not None and mention.kind == RESTART and within == mention.after and self._inside(block):
                return standing
            return mention.after
        by_name = not mention.placed or (mention.kind == TAG and not mention.ends)
        if by_name and self._may_be_named(block) and (span := self._named(block)) is not None:
            return self.laid.counts_before(span.index) + span.last
        if mention.here or (mention.kind == RESTART and not mention.ends and not self._at_the_end(block)):
            return standing
        return None

    def _between(self, block: EventBlock) -> FigureSpan | None:
        """The first of two figures between which it is told to be."""
        between = _BETWEEN.search(block.text)
        return figure_named(self.laid, between["name"], within=block.within) if between is not None else None

    def _may_be_named(self, block: EventBlock) -> bool:
        """Whether a figure may tell its place: a tag's only where it says "after the K-step add"."""
        kind = block.mention.kind
        return kind in (RESTART, ENDING) or (kind == TAG and _AFTER_FIGURE.search(block.text) is not None)

    def _named(self, block: EventBlock) -> FigureSpan | None:
        """The figure after which it is: "as far as the K-step"."""
        text = block.text[: goes_back.start()] if (goes_back := GOES_BACK.search(block.text)) else block.text
        named = (figure_named(self.laid, found["name"]) for found in BY_NAME.finditer(text))
        return max((span for span in named if span is not None), key=lambda s: (s.index, s.last), default=None)

    def _at_the_end(self, block: EventBlock) -> bool:
        """Whether the line stands below all that is danced, and so at no place of it."""
        if block.here is None:
            return True
        index, _count = block.here
        return index + 1 >= len(self.laid.sections) and not (index < len(self.laid.sections) and self._inside(block))

    def _base(self, index: int) -> int:
        return self.laid.bases[index] if index < len(self.laid.bases) else 0

    def standing(self, block: EventBlock) -> int | None:
        """Counts into the wall where the block's line stands in the sheet, None where it stands at none of them."""
        if block.here is None or block.here[0] >= len(self.laid.sections):
            return None
        index, count = block.here
        return self.laid.counts_before(index) + count - self._base(index)

    def _inside(self, block: EventBlock) -> bool:
        """Whether more of the section is danced after the line."""
        assert block.here is not None
        index, count = block.here
        return count - self._base(index) < self.laid.sections[index].passage.counts

    def _after_section(self, number: int, within: int | None) -> int | None:
        for index, section in enumerate(self.laid.sections):
            if section.number == number:
                before = self.laid.counts_before(index)
                if within is None:
                    return before + section.passage.counts
                base = self._base(index)
                return before + (within - base if base and within > base else within)
        return None

    def section_index(self, block: ReplacedLines, event: Event, numbers: list[int]) -> int | None:
        """The section that changed steps belong to, None where none can be told. numbers: the whole counts of their
        lines, as written."""
        sections = self.laid.sections
        if block.section:
            parts = (block.part,) if block.part else tuple(s.part for s in sections)
            return next((n for n, s in enumerate(sections) if s.number == block.section and s.part in parts), None)
        if numbers and sections and max(numbers) > max(s.passage.counts for s in sections):  # counts of the whole wall
            return next(
                (
                    n
                    for n in range(len(sections))
                    if min(numbers) <= self.laid.counts_before(n) + sections[n].passage.counts
                ),
                None,
            )
        here = event.block.here if event.block is not None else None
        if event.block is not None and here is not None and not self._at_the_end(event.block):
            own = sections[here[0]].passage.counts
            if numbers and block.lines and LEFT_OUT.search(block.lines[0].text) and max(numbers) <= own:
                return here[0]
        after = next((h.after for h in event.happenings if h.after is not None), None)
        if after is None and event.block is not None:
            after = self.standing(event.block)
            if after is None and event.block.within >= 0 and event.block.here is None:
                return min(event.block.within, len(sections) - 1)
        for n in range(len(sections)):
            if after is not None and after <= self.laid.counts_before(n) + sections[n].passage.counts:
                return n
        return 0 if len(sections) == 1 else None
