"""The steps of an easier way, in its author's own words: the first way of taking those that can be danced."""

from __future__ import annotations

import itertools
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout.blocks import OptionBlock
from caller.routine.layout.lines import Line
from caller.routine.notation.passage import Context, ReadPassage, read_passage
from caller.routine.step import Weight

_LEAST_MOVES = 2


def read_easier(block: OptionBlock, context: Context, weight: Weight | None) -> ReadPassage | None:
    """The passage of an option, danced from ``weight`` on (None = unknown); None where its words are not read for sure.

    An option that is written out in step lines is read as those stand.
    """
    read = read_passage(block.lines, context, weight)
    if not block.told:
        return read
    ways = ([_on_whole_counts(block)], *block.otherwise)  # fewer movements than counts written: "3&4: walk, walk"
    further = (read_passage(lines, context, weight) for lines in ways)
    sure = next((one for one in itertools.chain((read,), further) if not _unsure(one)), None)
    return None if sure is not None and block.offered and not _dances(sure, block) else sure


def _unsure(read: ReadPassage) -> bool:
    return bool(read.findings) or any(step.movement.action == "unread" for step in read.passage.steps)


def _dances(read: ReadPassage, block: OptionBlock) -> bool:
    """Whether the feet have something to do on its counts, and it is no talk of "hold back" or "swing the hips"."""
    moves = sum(step.movement.foot is not None for step in read.passage.steps)
    return moves >= min(block.last - block.first + 1, _LEAST_MOVES)


def _on_whole_counts(block: OptionBlock) -> Line:
    counts = f"{block.first}-{block.last}" if block.last > block.first else str(block.first)
    line = block.lines[0]
    told = read_counts(line.text)
    return replace(line, text=f"{counts}  {line.text[told.end :] if told else line.text}", exact=False)
