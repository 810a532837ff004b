"""Figures that the floor knows by a name though the vocabulary has other steps for it, and those that go over from one
section into the next.

Conventions: patterns stand in ``words.toml``, told for the right foot. They are sought in groups that have no name yet,
and in figures whose name says less (a ball step that ends a sailor); a group is parted where one begins or ends within
it. What the section's heading tells movement by movement stays so.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from caller.calls.group import Group, follows, loose, part_of
from caller.calls.places import own_place, stretch_at
from caller.calls.words import figure_words, in_own_words, movement_words, pattern_entries, placed_words
from caller.dance.walls import DancedStep
from caller.routine.count import read_counts
from caller.routine.facing import Turn
from caller.routine.meter import Meter
from caller.routine.named_figures import FigureCalled, OwnWords
from caller.routine.passages import Step
from caller.routine.recognise import find_figure
from caller.routine.step import Foot, Movement
from caller.routine.vocabulary import shipped

# They begin between two counts; where the sheet does not tell them, a longer figure goes before them.
BALLS = frozenset(("ball step", "ball change", "ball cross"))
# What a shuffle that goes over consists of.
_STEPS = frozenset(("step", "cross"))


class SheetNames(NamedTuple):
    """What of a sheet goes for all its groups. words: all that it says, as ``words.sheet_words`` has it; own: what the
    teacher always says."""

    meter: Meter
    words: str
    own: tuple[OwnWords, ...] = ()


class _Step(NamedTuple):
    """leading: None = no foot. where: empty = anywhere."""

    leading: bool | None
    action: str
    where: frozenset[str]

    def fits(self, danced: DancedStep, lead: Foot | None) -> bool:
        movement = danced.step.movement
        foot = None if self.leading is None or lead is None else lead if self.leading else lead.other
        plain = movement.where.removesuffix(" diagonal")
        placed = not self.where or movement.where in self.where or plain in self.where
        return movement.action == self.action and placed and movement.foot is foot


class Pattern(NamedTuple):
    """words: empty where it is called movement by movement. turning: the steps that may turn, from 0. turns: eighths
    in all, either way. meter: counts in a bar; 0 = any. heading: only where the section's heading has that; sheet: only
    where the sheet has one of these words. within: it may begin within a group."""

    words: tuple[str, ...]
    steps: tuple[_Step, ...]
    offsets: tuple[tuple[Fraction, ...], ...]
    turning: frozenset[int]
    turns: frozenset[int]
    meter: int
    heading: str
    sheet: frozenset[str]
    within: bool


@cache
def _patterns() -> tuple[Pattern, ...]:
    found = [
        Pattern(
            tuple(entry["words"]),
            tuple(_step(text) for text in entry["steps"]),
            tuple(_offsets(counts) for counts in entry["counts"]),
            frozenset(n - 1 for n in entry.get("turning", range(1, len(entry["steps"]) + 1))),
            frozenset(entry.get("turns", (0,))),
            entry.get("meter", 0),
            entry.get("heading", ""),
            frozenset(entry.get("sheet", ())),
            entry.get("within", False),
        )
        for entry in pattern_entries()
    ]
    return tuple(sorted(found, key=lambda one: -len(one.steps)))


def _step(text: str) -> _Step:
    """ "R step side|forward": the leading foot, the action, the places that will do; "- heel split": no foot."""
    foot, rest = text.split(" ", 1)
    action, _, where = rest.partition(":")
    return _Step({"R": True, "L": False, "-": None}[foot], action, frozenset(where.strip().split("|") if where else ()))


def _offsets(counts: str) -> tuple[Fraction, ...]:
    read = read_counts(counts)
    if read is None:
        raise ValueError(f"words.toml: {counts!r} are no counts")
    return tuple(beat.at - read.beats[0].at for beat in read.beats)


def patterned(groups: Sequence[Group], sheet: SheetNames) -> Iterator[Group]:
    """The groups, with those that a pattern is found in made one."""
    run: list[Group] = []
    for group in groups:
        if run and not (_open(group) and follows(run[-1], group)):
            yield from _in_run(run, sheet)
            run = []
        if _open(group):
            run.append(group)
        else:
            yield group
    yield from _in_run(run, sheet)


def _open(group: Group) -> bool:
    weak = group.figure is not None and not group.figure.named and group.figure.name in BALLS
    return not (group.call or group.own) and (not group.names or weak)


def _in_run(run: Sequence[Group], sheet: SheetNames) -> Iterator[Group]:
    left = list(run)
    while left:
        head = left.pop(0)
        at = head.first
        while at <= head.last:
            found = _found(head, left, at, sheet)
            if found is None:
                at = head.last + 1 if head.names else at + 1
                continue
            before, own, after = found
            if before is not None:
                yield before
            yield own
            left = after
            break
        else:
            yield head


def _found(
    head: Group, rest: Sequence[Group], at: int, sheet: SheetNames
) -> tuple[Group | None, Group, list[Group]] | None:
    """What stands before it in its group, the group of the pattern that begins at movement ``at``, what is left."""
    wall = head.wall
    if wall.movements[at].at.denominator != 1:
        return None
    last = rest[-1].last if rest else head.last
    heading = _heading(head)
    for pattern in _patterns():
        end = at + len(pattern.steps) - 1
        if (
            end > last
            or not _is_the_sheets(pattern, sheet)
            or (pattern.words and at != head.first and not pattern.within)
        ):
            continue
        covered = [group for group in (head, *rest) if group.first <= end]
        if any(group.names and group.last > end for group in covered):
            continue
        figure = _fits(pattern, wall.movements[at : end + 1], heading)
        if figure is None or (pattern.words and covered[0].names and covered[0].last == end and head.first == at):
            continue
        footed = bool(pattern.words) and wall.movements[at].step.movement.foot is not None
        own = part_of(head, at, end, _said_for(pattern, sheet), figure if footed else None)
        after = [group for group in rest if group.first > end]
        if covered[-1].last > end:
            after.insert(0, part_of(covered[-1], end + 1, covered[-1].last))
        return part_of(head, head.first, at - 1) if at > head.first else None, own, after
    return None


def _said_for(pattern: Pattern, sheet: SheetNames) -> tuple[str, ...]:
    """A pattern's words, with the teacher's own for the figure that they name."""
    return placed_words(tuple(in_own_words(words, sheet.own) for words in pattern.words))


def _is_the_sheets(pattern: Pattern, sheet: SheetNames) -> bool:
    said = not pattern.sheet or any(f" {word} " in f" {sheet.words} " for word in pattern.sheet)
    return said and pattern.meter in (0, sheet.meter.counts)


def _heading(group: Group) -> str:
    stretch = stretch_at(group.wall, own_place(group.wall, group.at, group.section))
    return " ".join(re.findall(r"[a-z]+", stretch.name.lower()))


def _fits(pattern: Pattern, movements: Sequence[DancedStep], heading: str) -> FigureCalled | None:
    lead = movements[0].step.movement.foot
    if not all(step.fits(danced, lead) for step, danced in zip(pattern.steps, movements, strict=True)):
        return None
    if tuple(danced.at - movements[0].at for danced in movements) not in pattern.offsets:
        return None
    turns = [danced.step.movement.turn.eighths for danced in movements]
    total = sum(turns)
    one_way = all(n in pattern.turning and (turn > 0) == (total > 0) for n, turn in enumerate(turns) if turn)
    if not one_way or abs(total) not in pattern.turns or not _may_be_said(pattern, movements, heading):
        return None
    return FigureCalled("", "", lead or Foot.RIGHT, Turn(total))


def _may_be_said(pattern: Pattern, movements: Sequence[DancedStep], heading: str) -> bool:
    """Whether the sheet's heading has what it has to have, and does not have the first two movements."""
    if pattern.heading:
        return pattern.heading in heading
    first = [movement_words(one.step.movement.action, one.step.movement.where)[-1] for one in movements[:2]]
    return not pattern.words or " ".join(first) not in heading


def figure_in(placed: Sequence[tuple[Movement, Fraction]]) -> tuple[FigureCalled | None, int]:
    """The vocabulary's figure that movements begin with, and how many more there are: none or one."""
    found = figure_at(placed)
    if found is None or len(placed) - found[1] > 1:
        return None, 0
    return found[0], len(placed) - found[1]


def figure_at(placed: Sequence[tuple[Movement, Fraction]]) -> tuple[FigureCalled, int] | None:
    """The longest figure of the vocabulary that movements begin with, and how many of them it is."""
    steps = [Step(at, "", movement) for movement, at in placed]
    found = find_figure(steps, 0, len(steps), shipped(), (0,) * len(steps)) if steps else None
    if found is None:
        return None
    return FigureCalled(found.figure.name, found.way, found.lead, found.turn), found.last + 1


def gone_over(groups: Iterable[Group], sheet: SheetNames) -> Iterator[Group]:
    """A shuffle that begins on the last count of a section and ends on the first of the next is one group, in the
    section that it begins in; not where a tag, restart or change stands between."""
    held: Group | None = None
    for group in groups:
        over = _over(held, group, sheet) if held is not None else None
        if over is not None:
            before, held, left = over
            if before is not None:
                yield before
            if left is not None:
                yield held
                held = left
            continue
        if held is not None:
            yield held
        held = group
    if held is not None:
        yield held


def _over(before: Group, after: Group, sheet: SheetNames) -> tuple[Group | None, Group, Group | None] | None:
    wall = before.wall
    next_to = wall is after.wall and after.first == before.last + 1 and before.section != after.section
    if not next_to or before.last == before.first or not (loose(before) and loose(after)):
        return None
    if any(wall.at + event.after == after.at for event in wall.events):
        return None
    own = part_of(before, before.last - 1, after.first)
    offsets = [one.offset for one in own.placed]
    if own.at.denominator != 1 or offsets[2] != 1 or any(one.movement.action not in _STEPS for one in own.placed):
        return None
    found = _named(own, sheet)
    if found is None:
        return None
    sooner = part_of(before, before.first, before.last - 2) if before.last - before.first > 1 else None
    return sooner, found, part_of(after, after.first + 1, after.last) if after.last > after.first else None


def _named(group: Group, sheet: SheetNames) -> Group | None:
    """The group as the figure that all of it is."""
    figure, more = figure_in(tuple((one.movement, one.offset) for one in group.placed))
    if figure is not None and not more and (names := figure_words(figure, "", sheet.meter, sheet.words, sheet.own)):
        return replace(group, names=names, figure=figure)
    movements = group.wall.movements[group.first : group.last + 1]
    for pattern in _patterns():
        right = pattern.words and len(pattern.steps) == len(movements) and _is_the_sheets(pattern, sheet)
        if right and (called := _fits(pattern, movements, "")):
            return replace(group, names=_said_for(pattern, sheet), figure=called)
    return None
