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


class Choice(NamedTuple):
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
class OptionSlot:
    options: tuple[Choice, ...]
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
    stages: Sequence[OptionSlot], step: int, free: int = 0, dear: int | None = None
) -> tuple[list[Chosen | None], int]:
    """For each stage how it is said, None = left out; and the sum. The line is free from frame ``free`` on.

    dear: where given, one choice worth no more than that weighs more than all that the others together could gain by
    it; the plan is as good without it, and found sooner with it.
    """
    frontiers = [np.array([[free], [0], [-1], [-1], [0]])]
    bounds = _bounds(stages, free, dear)
    tables = _tables(stages, bounds, step)
    for stage, floor, bound, table in zip(stages, _floors(stages), bounds, tables, strict=True):
        came = frontiers[-1]
        # Of the moments too early to be of use to anything to come, only the last (which has gathered most) is needed.
        idle = max(int(came[_FREE].searchsorted(floor, "right")) - 1, 0)
        tried = len(table.worth) * (came.shape[1] - idle) + len(table.opening_start)
        after = _few if tried <= _FEW else _many
        frontiers.append(after(came, stage, table, bound.must, step, idle))
    return _walk_back(frontiers), int(frontiers[-1][_TOTAL, -1])


class _Bound(NamedTuple):
    """must: the stage may not be left out. ways: the first so many options alone are open. latest: the last frame at
    which the line may be free after it."""

    must: bool
    ways: int
    latest: int


_FAR = 1 << 62


def _bounds(stages: Sequence[OptionSlot], free: int, dear: int | None) -> list[_Bound]:
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


def _floors(stages: Sequence[OptionSlot]) -> list[int]:
    """For each stage the last frame at which a free line is of no use yet to it or any that follows."""
    floors: list[int] = []
    floor = _FAR
    for stage in reversed(stages):
        floor = min([floor, *(option.first - option.before for option in stage.options)])
        floors.append(floor)
    return floors[::-1]


class _Table(NamedTuple):
    """A stage's options as columns of numbers, shape (options, 1); last: within the stage's bound; span: frames and the
    silence after. opening_...: the first frame of each step before the wish that lies in an option's window, shape
    (n,); opening_ready: by which frame the line must be free for it."""

    first: Numbers
    last: Numbers
    wish: Numbers
    worth: Numbers
    early: Numbers
    late: Numbers
    before: Numbers
    span: Numbers
    opening_start: Numbers
    opening_ready: Numbers
    opening_over: Numbers
    opening_worth: Numbers
    opening_row: Numbers


def _tables(stages: Sequence[OptionSlot], bounds: Sequence[_Bound], step: int) -> list[_Table]:
    """The tables of all stages, made in one go."""
    counts = [bound.ways for bound in bounds]
    every = [option for stage, ways in zip(stages, counts, strict=True) for option in stage.options[:ways]]
    numbers = np.array(every, np.int64).reshape(-1, len(Choice._fields)).T
    first, last, wish, frames, worth, early, late, before, after = numbers
    span = frames + after
    latest = np.repeat(np.array([bound.latest for bound in bounds], np.int64), counts)
    last = np.minimum(last, latest - span)
    ends = np.cumsum(counts, dtype=np.int64)
    row = np.arange(len(every)) - np.repeat(ends - counts, counts)
    # Openings: on the wish, and each whole step before it, the last of them on the window's first frame.
    steps = np.maximum(-((first - wish) // step), 0) + 1
    option = np.repeat(np.arange(len(every)), steps)
    back = np.arange(len(option)) - np.repeat(np.cumsum(steps) - steps, steps)
    start = np.maximum(wish[option] - step * back, first[option])
    off = np.abs(start - wish[option])
    lost = (off + step - 1) // step * np.where(start < wish[option], early[option], late[option])
    kept = start <= last[option]
    option, start, gain = option[kept], start[kept], (worth[option] - lost)[kept]
    openings = (start, start - before[option], start + span[option], gain, row[option])
    cuts = option.searchsorted(ends)
    columns = [column[:, None] for column in (first, last, wish, worth, early, late, before, span)]
    begins, opens = [0, *ends.tolist()], [0, *cuts.tolist()]
    return [
        _Table(*(c[begins[n] : begins[n + 1]] for c in columns), *(o[opens[n] : opens[n + 1]] for o in openings))
        for n in range(len(stages))
    ]


def _many(came: Numbers, stage: OptionSlot, table: _Table, must: bool, step: int, idle: int) -> Numbers:
    """The frontier once a stage is said or left out, from the places of the one before from ``idle`` on, all at once.
    must: it may not be left out."""
    free, total = came[_FREE, idle:], came[_TOTAL, idle:]
    start = free + table.before  # as soon as the line is free: rows are options, columns places
    early = table.wish - start
    lost = (np.abs(early) + (step - 1)) // step * np.where(early > 0, table.early, table.late)
    row, place = ((start >= table.first) & (start <= table.last)).nonzero()
    opened = free.searchsorted(table.opening_ready, "right") - 1
    open_ = opened >= 0
    opened = opened[open_]
    unsaid = 0 if must else len(free)
    over = np.concatenate((free[:unsaid], (start + table.span)[row, place], table.opening_over[open_]))
    gathered = np.concatenate(
        (
            total[:unsaid] + stage.unsaid,
            (total + table.worth - lost)[row, place],
            total[opened] + table.opening_worth[open_],
        )
    )
    best = _rising(over, gathered)
    parent = np.concatenate((np.arange(unsaid), place, opened))[best] + idle
    option = np.concatenate((np.full(unsaid, -1), row, table.opening_row[open_]))[best]
    over = over[best]
    return np.array([over, gathered[best], parent, option, over - table.span[option, 0]])


def _rising(over: Numbers, gathered: Numbers) -> Numbers:
    """The indices, in order of time, of those that have gathered more than any that are over no later."""
    order = over.argsort()
    gathered = gathered[order]
    risen = np.ones(len(order), np.bool_)
    risen[1:] = gathered[1:] > np.maximum.accumulate(gathered)[:-1]
    order = order[risen]
    # Of those over at one moment, the last has gathered most.
    last = np.ones(len(order), np.bool_)
    last[:-1] = over[order[1:]] != over[order[:-1]]
    return order[last]


def _few(came: Numbers, stage: OptionSlot, table: _Table, must: bool, step: int, idle: int) -> Numbers:
    """The same one by one, which is quicker where there is little to try."""
    free, total = came[_FREE].tolist(), came[_TOTAL].tolist()
    places = range(idle, len(free))
    found = [] if must else [(free[at], -total[at] - stage.unsaid, at, -1, 0) for at in places]
    for row, last in enumerate(table.last[:, 0].tolist()):
        option = stage.options[row]
        for at in places:
            start = free[at] + option.before
            if option.first <= start <= last:
                lost = -(-abs(start - option.wish) // step) * (option.early if start < option.wish else option.late)
                over = start + option.frames + option.after
                found.append((over, lost - total[at] - option.worth, at, row, start))
    for start, ready, over, worth, row in zip(*(column.tolist() for column in table[-5:]), strict=True):
        at = bisect_right(free, ready) - 1
        if at >= idle:
            found.append((over, -total[at] - worth, at, row, start))
    best: list[tuple[int, int, int, int, int]] = []
    for over, less, at, row, start in sorted(found):
        if not best or -less > best[-1][1]:
            best.append((over, -less, at, row, start))
    return np.array(best, np.int64).T


def _walk_back(frontiers: Sequence[Numbers]) -> list[Chosen | None]:
    chosen: list[Chosen | None] = []
    at = -1
    for frontier in reversed(frontiers[1:]):
        _, _, parent, option, start = frontier[:, at].tolist()
        chosen.append(None if option < 0 else Chosen(option, start))
        at = parent
    return chosen[::-1]
