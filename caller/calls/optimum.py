"""The best way to say things one after the other: an exact optimum, in plain whole numbers.

Conventions: stages come in the order in which they are said. Each is said in one of its options, or left out. An option
holds the line for ``frames`` from its start, which lies in ``first`` .. ``last``, and takes a silence of at least
``before`` before and ``after`` after it. It is worth ``worth``, less ``early`` for each step (of ``step`` frames, begun
steps counted whole) that it starts before ``wish``, or ``late`` for each that it starts after it. Left out, a stage
is worth ``unsaid``. Sought is the greatest sum.

The sum is found by going through the stages with a frontier: for every moment at which the line may be free again,
the most that can have been gathered by then, keeping only those moments at which waiting longer has gathered more.
The starts that need be tried are few: as soon as the line is free, or (being early costs a whole step at a time) the
first frame of each step before the wish. So every frame is weighed though not every frame is tried, and what a stage
costs does not grow with the number of stages.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

Numbers = npt.NDArray[np.int64]


class Option(NamedTuple):
    """One way to say a stage. early, late: what a step off the wish costs, 0 or more."""

    first: int
    last: int
    wish: int
    frames: int
    worth: int
    early: int
    late: int
    before: int
    after: int


@dataclass(frozen=True, slots=True)
class Stage:
    options: tuple[Option, ...]
    unsaid: int = 0


class Chosen(NamedTuple):
    """The option of a stage, by index, and the frame on which it starts."""

    option: int
    start: int


# Rows of a frontier, whose columns are moments. _FREE: a frame from which the line may be free; _TOTAL: the most
# gathered by then (both rise from column to column); _PARENT: the column of the frontier before it; _OPTION: -1 where
# the stage was left out; _START: the frame on which it was said.
_FREE, _TOTAL, _PARENT, _OPTION, _START = range(5)


def best_plan(stages: Sequence[Stage], step: int, free: int = 0) -> tuple[list[Chosen | None], int]:
    """For each stage how it is said, None = left out; and the sum. The line is free from frame ``free`` on."""
    frontiers = [np.array([[free], [0], [-1], [-1], [0]])]
    for stage, floor in zip(stages, _floors(stages), strict=True):
        frontiers.append(_after(frontiers[-1], stage, step, floor))
    return _walk_back(frontiers), int(frontiers[-1][_TOTAL, -1])


def _floors(stages: Sequence[Stage]) -> list[int]:
    """For each stage the last frame at which a free line is of no use yet to it or any that follows."""
    floors: list[int] = []
    floor = 1 << 62
    for stage in reversed(stages):
        floor = min([floor, *(option.first - option.before for option in stage.options)])
        floors.append(floor)
    return floors[::-1]


def _after(came: Numbers, stage: Stage, step: int, floor: int) -> Numbers:
    """The frontier once a stage is said or left out."""
    # Of the moments too early to be of use to anything to come, only the last (which has gathered most) is needed.
    idle = max(int(came[_FREE].searchsorted(floor, "right")) - 1, 0)
    merged = came[:, idle:].copy()
    merged[_TOTAL] += stage.unsaid
    merged[_PARENT] = np.arange(idle, came.shape[1])
    merged[_OPTION] = -1
    if stage.options:
        said = _said(came[_FREE, idle:], came[_TOTAL, idle:], stage.options, step)
        said[_PARENT] += idle
        merged = np.concatenate((merged, said), axis=1)
    merged = merged[:, np.lexsort((-merged[_TOTAL], merged[_FREE]))]
    total = merged[_TOTAL]
    risen = np.ones(len(total), np.bool_)
    risen[1:] = total[1:] > np.maximum.accumulate(total)[:-1]
    return merged[:, risen]


def _said(free: Numbers, total: Numbers, options: tuple[Option, ...], step: int) -> Numbers:
    """What the options lead to: from each place of the frontier at once, and at the first frame of each early step.

    In the tables here rows are options, columns are starts.
    """
    first, last, wish, frames, worth, early, late, before, after = np.array(options, np.int64).T[:, :, None]
    steps = np.arange(max(0, int(-((first - wish).min() // step))) + 1)
    soonest, stepped = free + before, wish - step * steps
    # The first start of all comes once, in the place of the first step that would lie before it.
    opening = np.where((stepped > first - step) | (steps == 0), np.maximum(stepped, first), last + 1)
    start = np.concatenate((soonest, opening), axis=1)
    parent = np.empty_like(start)
    parent[:, : len(free)] = np.arange(len(free))
    parent[:, len(free) :] = free.searchsorted(opening - before, "right") - 1
    steps_off = (np.abs(start - wish) + step - 1) // step
    gathered = total[parent] + worth - steps_off * np.where(start < wish, early, late)
    row, column = ((start >= first) & (start <= last) & (parent >= 0)).nonzero()
    start = start[row, column]
    return np.array([start + (frames + after)[row, 0], gathered[row, column], parent[row, column], row, start])


def _walk_back(frontiers: Sequence[Numbers]) -> list[Chosen | None]:
    chosen: list[Chosen | None] = []
    at = -1
    for frontier in reversed(frontiers[1:]):
        _, _, parent, option, start = frontier[:, at].tolist()
        chosen.append(None if option < 0 else Chosen(option, start))
        at = parent
    return chosen[::-1]
