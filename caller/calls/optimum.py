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

Some choices may be so dear that all the rest together don't outweigh one. Where a plan without any of them can be had
(found backwards: the last moment at which the line must be free for that), only such plans are gone through, and no
moment later than that is kept.
"""

from __future__ import annotations

from bisect import bisect_right
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

# Up to so many starts are tried one by one.
_FEW = 80


def best_plan(
    stages: Sequence[Stage], step: int, free: int = 0, dear: int | None = None
) -> tuple[list[Chosen | None], int]:
    """For each stage how it is said, None = left out; and the sum. The line is free from frame ``free`` on.

    dear: where given, one choice worth no more than that weighs more than all dearer-bought gains of the others
    together could; the plan is the same without it, and found sooner with it.
    """
    frontiers = [np.array([[free], [0], [-1], [-1], [0]])]
    bounds = _bounds(stages, free, dear)
    for stage, floor, bound in zip(stages, _floors(stages), bounds, strict=True):
        frontiers.append(_after(frontiers[-1], stage, step, floor, bound))
    return _walk_back(frontiers), int(frontiers[-1][_TOTAL, -1])


class _Bound(NamedTuple):
    """must: the stage may not be left out. ways: the first so many options alone are open. latest: the last frame at
    which the line may be free after it."""

    must: bool
    ways: int
    latest: int


_FAR = 1 << 62


def _bounds(stages: Sequence[Stage], free: int, dear: int | None) -> list[_Bound]:
    """What keeps a plan clear of all that is dear; nothing where no plan can."""
    open_to_all = [_Bound(False, len(stage.options), _FAR) for stage in stages]
    if dear is None:
        return open_to_all
    bounds: list[_Bound] = []
    latest = _FAR
    for stage in reversed(stages):
        ways = next((n for n, option in enumerate(stage.options) if option.worth <= dear), len(stage.options))
        sayable = [option for option in stage.options[:ways] if option.first <= option.last]
        # What can't be said in any plan costs the same in all of them.
        must = stage.unsaid <= dear and any(option.first <= option.last for option in stage.options)
        bounds.append(_Bound(must, ways if must else len(stage.options), latest))
        if must:
            starts = [(min(option.last, latest - option.frames - option.after), option) for option in sayable]
            latest = max((start - option.before for start, option in starts if start >= option.first), default=-_FAR)
    return bounds[::-1] if free <= latest else open_to_all


def _floors(stages: Sequence[Stage]) -> list[int]:
    """For each stage the last frame at which a free line is of no use yet to it or any that follows."""
    floors: list[int] = []
    floor = _FAR
    for stage in reversed(stages):
        floor = min([floor, *(option.first - option.before for option in stage.options)])
        floors.append(floor)
    return floors[::-1]


def _after(came: Numbers, stage: Stage, step: int, floor: int, bound: _Bound) -> Numbers:
    """The frontier once a stage is said or left out."""
    # Of the moments too early to be of use to anything to come, only the last (which has gathered most) is needed.
    idle = max(int(came[_FREE].searchsorted(floor, "right")) - 1, 0)
    tried = len(stage.options) * (came.shape[1] - idle + _early_steps(stage, step))
    merged = (_few if tried <= _FEW else _many)(came, stage, step, idle, bound)
    merged = merged[:, merged[_FREE].argsort()]
    total = merged[_TOTAL]
    risen = np.ones(len(total), np.bool_)
    risen[1:] = total[1:] > np.maximum.accumulate(total)[:-1]
    merged = merged[:, risen]
    # Of those free at one moment, the last has gathered most.
    last = np.ones(merged.shape[1], np.bool_)
    last[:-1] = merged[_FREE, 1:] != merged[_FREE, :-1]
    return merged[:, last]


def _early_steps(stage: Stage, step: int) -> int:
    """The most steps, begun ones counted, by which an option may start before its wish."""
    return max(((option.wish - option.first + step - 1) // step for option in stage.options), default=0)


def _many(came: Numbers, stage: Stage, step: int, idle: int, bound: _Bound) -> Numbers:
    """Where a stage leads to from the places of a frontier from ``idle`` on, all at once."""
    kept = came[:, idle:].copy()
    kept[_TOTAL] += stage.unsaid
    kept[_PARENT] = np.arange(idle, came.shape[1])
    kept[_OPTION] = -1
    if not bound.ways:
        return kept
    said = _said(came[_FREE, idle:], came[_TOTAL, idle:], stage.options[: bound.ways], step)
    said[_PARENT] += idle
    said = said[:, said[_FREE] <= bound.latest]
    return said if bound.must else np.concatenate((kept, said), axis=1)


def _few(came: Numbers, stage: Stage, step: int, idle: int, bound: _Bound) -> Numbers:
    """The same one by one, which is quicker where there is little to try."""
    free, total = came[_FREE].tolist(), came[_TOTAL].tolist()
    places = range(idle, len(free))
    found = [] if bound.must else [(free[at], total[at] + stage.unsaid, at, -1, 0) for at in places]
    for row, option in enumerate(stage.options[: bound.ways]):
        starts = [(free[at] + option.before, at) for at in places]
        starts += [(start, bisect_right(free, start - option.before) - 1) for start in _openings(option, step)]
        for start, at in starts:
            over = start + option.frames + option.after
            if option.first <= start <= option.last and at >= idle and over <= bound.latest:
                off = -(-abs(start - option.wish) // step) * (option.early if start < option.wish else option.late)
                found.append((over, total[at] + option.worth - off, at, row, start))
    return np.array(found, np.int64).reshape(-1, 5).T


def _openings(option: Option, step: int) -> list[int]:
    """The first frame of each step before the wish, within the option's window."""
    early = range(option.wish, option.first, -step)
    return [*early, option.first] if early else [max(option.wish, option.first)]


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
