"""Which steps of a passage stand on one line, as it is written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from caller.routine.meter import Feel
from caller.routine.passages import LineWords, Passage, Step

_MOST_COUNTS = 4  # on one line, where phrases let it end


@dataclass(frozen=True, slots=True)
class Row:
    """Steps first to last (both included) of a passage on one line, filling whole counts up to ``until`` (excluded)."""

    first: int
    last: int
    until: int


def rows_of(passage: Passage, feel: Feel, words_of: Sequence[LineWords]) -> list[Row]:
    """Steps divided into lines: as in the sheet, and, where it has no words for them, where a phrase ends once there
    are four counts."""
    steps = passage.steps
    if not steps:
        return []
    breaks = [0]
    own = {words.first for words in words_of}
    inside = {n for words in words_of for n in range(words.first + 1, words.last + 1)}
    for n in sorted(own | {phrase.first for phrase in passage.phrases[1:]}):
        if n <= breaks[-1] or n in inside:
            continue
        begun, step, before = steps[breaks[-1]], steps[n], steps[n - 1]
        other_line = step.place.line != before.place.line
        long = step.at // 1 - begun.at // 1 >= _MOST_COUNTS
        if steps[n].at >= passage.counts:  # "8&1": the first count of what comes next
            continue
        begins = n in own or ((other_line or long) and _with_whole_counts(steps, breaks[-1], n))
        if begins and _apart(steps, n, feel):
            breaks.append(n)
    rows = []
    for first, after in zip(breaks, [*breaks[1:], len(steps)], strict=True):
        until = ceil(steps[after].at) if after < len(steps) else passage.counts
        rows.append(Row(first, after - 1, until))
    return rows


def _whole(step: Step) -> bool:
    return step.at.denominator == 1


def _apart(steps: Sequence[Step], n: int, feel: Feel) -> bool:
    """Whether a line may end before step n: not within a beat, nor between the parts of a swung one."""
    step, before = steps[n], steps[n - 1]
    same_gap = step.at // 1 == before.at // 1 and not _whole(step)
    return step.at != before.at and not (feel is Feel.SWING and same_gap and not _whole(before))


def _with_whole_counts(steps: Sequence[Step], begun: int, n: int) -> bool:
    """Whether a whole count stands on either side of a line's end before step n."""
    rest = [s for s in steps[n:] if s.at < steps[n].at // 1 + 2]
    return any(_whole(s) for s in steps[begun:n]) and any(_whole(s) for s in rest)
