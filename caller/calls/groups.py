"""Groups: the movements that one call is for.

Conventions: the sheet's phrases, but that movements which are no figure are called together over two counts, and the
same figure on the same foot is called once ("kick ball change, twice"). A group lies within one section, tag or ending,
and within what is danced of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache, partial

from caller.calls.chain import mirrored
from caller.calls.group import Group, follows, loose, part_of
from caller.calls.patterns import BALLS, SheetNames, figure_at, figure_in, gone_over, patterned
from caller.calls.places import own_place, phrases_between, stretch_at
from caller.calls.words import figure_words, in_own_words, sheet_words
from caller.dance.walls import Dance, DancedPhrase, DancedStep, Wall
from caller.routine.meter import Meter
from caller.routine.named_figures import FigureCalled
from caller.routine.parts import Routine
from caller.routine.step import Movement

# Movements that are no figure are called together over fewer counts than this, and no more of them than that; how a
# figure or a chain ends ("vine right, touch"), over no more than these.
_TOGETHER_COUNTS, _TOGETHER = 2, 4
_ENDING_COUNTS = 4
# The same so often, over no more counts than this, is one call.
_MOST_TIMES, _MOST_TIMES_COUNTS = 4, 8


def groups_between(dance: Dance, start: Fraction, end: Fraction) -> list[Group]:
    """The groups that begin from ``start`` on and before ``end``."""
    return list(_groups_between(_Itself(dance), start, end))


class _Itself:
    """A dance, equal to itself alone: to compare all of one takes longer than what is kept for it."""

    __slots__ = ("dance",)

    def __init__(self, dance: Dance) -> None:
        self.dance = dance

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Itself) and self.dance is other.dance

    def __hash__(self) -> int:
        return id(self.dance)


@lru_cache(maxsize=32)  # a new tempo, a loop and a go once more ask for the same stretch again
def _groups_between(own: _Itself, start: Fraction, end: Fraction) -> tuple[Group, ...]:
    return tuple(groups_of(phrases_between(own.dance, start, end), sheet_of(own.dance.routine)))


def sheet_of(routine: Routine) -> SheetNames:
    return SheetNames(routine.header.meter, sheet_words(routine), routine.own_words)


def groups_of(phrases: Iterable[tuple[Wall, DancedPhrase]], sheet: SheetNames) -> list[Group]:
    """Groups of phrases that follow one another."""
    meter = sheet.meter
    single = [group for wall, phrase in phrases for group in _within(_single(wall, phrase, sheet), sheet)]
    named = gone_over(patterned(single, sheet), sheet)
    ended = _folded(_folded(_upbeats(named), _together), partial(_ended, meter=meter))
    return list(_alike(_folded(ended, _repeated)))


_names = lru_cache(maxsize=2048)(figure_words)


def _single(wall: Wall, phrase: DancedPhrase, sheet: SheetNames) -> Group:
    belongs = own_place(wall, phrase.at, phrase.section)
    stretch = stretch_at(wall, belongs)
    movements = wall.movements[phrase.first : phrase.last + 1]
    figure, ends = (phrase.figure, 0) if phrase.figure or not phrase.call else figure_in(_steps_of(movements))
    off = figure is not None and _off_its_place(figure, phrase.at)
    names = _names(figure, stretch.name, sheet.meter, sheet.words, sheet.own) if figure and not off else ()
    unread = any(m.step.movement.action == "unread" for m in movements)
    own = in_own_words(phrase.wordings[0], sheet.own) if unread else ""
    place = belongs - stretch.at
    told = (phrase.at, phrase.first, phrase.last, phrase.section, place)
    return Group(wall, *told, names, figure, phrase.call, own, ends=ends if names else 0)


def _within(group: Group, sheet: SheetNames) -> Iterator[Group]:
    """A figure that nobody calls by its name is left to those within it that have one: a side shuffle and a rock."""
    if group.figure is None or group.figure.named or not loose(group):
        yield group
        return
    steps = _steps_of(group.wall.movements[group.first : group.last + 1])
    at = begun = 0
    while at < len(steps):
        found = _named_at(group, at, steps, sheet)
        if found is None:
            at += 1
            continue
        if at > begun:
            yield part_of(group, group.first + begun, group.first + at - 1)
        yield found
        at = begun = found.last - group.first + 1
    if begun == 0:
        yield group
    elif begun < len(steps):
        yield part_of(group, group.first + begun, group.last)


def _named_at(group: Group, at: int, steps: Sequence[tuple[Movement, Fraction]], sheet: SheetNames) -> Group | None:
    """The longest figure with a name that begins at one of a group's movements, and is not all of it."""
    last = len(steps) - (at == 0)
    while (found := figure_at(steps[at:last])) is not None:
        figure, length = found
        begins = group.wall.movements[group.first + at].at
        heading = stretch_at(group.wall, own_place(group.wall, group.at, group.section)).name
        names = () if _off_its_place(figure, begins) else _names(figure, heading, sheet.meter, sheet.words, sheet.own)
        if names:
            return part_of(group, group.first + at, group.first + at + length - 1, names, figure)
        last = at + length - 1
    return None


def _off_its_place(figure: FigureCalled, at: Fraction) -> bool:
    """Whether a figure that begins between two counts by its name ("ball step") was recognised on a count."""
    return figure.name in BALLS and not figure.named and at.denominator == 1


def _steps_of(movements: Sequence[DancedStep]) -> tuple[tuple[Movement, Fraction], ...]:
    return tuple((danced.step.movement, danced.at - movements[0].at) for danced in movements)


def _upbeats(groups: Iterable[Group]) -> Iterator[Group]:
    """A movement between two counts goes with those before it, so that what comes after begins on a count."""
    held: Group | None = None
    for group in groups:
        rest = group
        if held and _takes_upbeat(held, group):
            held, rest = replace(held, last=group.first, figure=None), part_of(group, group.first + 1, group.last)
        if held:
            yield held
        held = rest
    if held:
        yield held


def _takes_upbeat(held: Group, group: Group) -> bool:
    next_to = follows(held, group) and loose(held) and loose(group) and not _holds(held)
    between = held.at.denominator == 1 and group.at.denominator != 1 and group.at - held.at < _TOGETHER_COUNTS
    return next_to and between and group.last > group.first and group.first - held.first < _TOGETHER


def _folded(groups: Iterable[Group], onto: Callable[[Group, Group], Group | None]) -> Iterator[Group]:
    """onto: what a group makes of the one held before it, None where each stands for itself."""
    held: Group | None = None
    for group in groups:
        joined = onto(held, group) if held and follows(held, group) else None
        if held and joined is None:
            yield held
        held = joined or group
    if held:
        yield held


def _together(held: Group, group: Group) -> Group | None:
    few = group.last - held.first < _TOGETHER and group.wall.movements[group.last].at - held.at < _TOGETHER_COUNTS
    if few and loose(held) and loose(group) and not _holds(held):
        return replace(held, last=group.last, figure=None)
    return None


def _holds(group: Group) -> bool:
    """Whether it is but a hold, which ends what stands before it."""
    return group.first == group.last and group.wall.movements[group.first].step.movement.action == "hold"


def _ended(held: Group, group: Group, meter: Meter) -> Group | None:
    """A figure or a chain with the single movement that ends it; in threes within its bar."""
    return replace(held, last=group.last, ends=1) if not held.ends and _ends(held, group, meter) else None


def _ends(held: Group, group: Group, meter: Meter) -> bool:
    movements = held.wall.movements
    whole = (group.at - held.at).denominator == 1 and group.at - held.at < _ENDING_COUNTS
    few = held.last > held.first and (held.names or held.last - held.first < _TOGETHER - 1)
    single = group.first == group.last and loose(group) and not movements[group.first].step.movement.turn
    bar = meter.counts != 3 or held.place // 3 == group.place // 3
    return bool(whole and few and single and bar and not (held.call or held.own))


def _repeated(held: Group, group: Group) -> Group | None:
    counts = (group.at - held.at) / held.times * (held.times + 1)
    few = held.times < _MOST_TIMES and counts <= _MOST_TIMES_COUNTS
    alike = held.placed == group.placed and (held.names, held.ends) == (group.names, group.ends)
    if few and alike and not held.own and held.call == group.call:
        return replace(held, last=group.last, times=held.times + 1)
    return None


def _alike(groups: Iterable[Group]) -> Iterator[Group]:
    before: Group | None = None
    for group in groups:
        like = (
            before is not None
            and before.wall is group.wall
            and group.first == before.last + 1
            and before.times == group.times == 1
            and not (group.turns or group.own)
            and len(group.placed) > 1
            and [(mirrored(one.movement), one.offset) for one in before.placed]
            == [(one.movement, one.offset) for one in group.placed]
        )
        yield replace(group, like=True) if like else group
        before = group


def shown_wordings(group: Group) -> tuple[str, ...]:
    """What a group is called, fullest first, as it is shown and told."""
    return group.shown


def shown_words(group: Group) -> str:
    """The fullest of them."""
    return shown_wordings(group)[0]
