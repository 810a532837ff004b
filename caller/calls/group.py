"""A group: the movements that one call is for.

Conventions: a group lies within what is danced of one section, tag or ending; only a shuffle that goes over into the
next section's first count lies in the one that it begins in.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from caller.calls.called import Called
from caller.calls.chain import EITHER_FOOT, PlacedMovement
from caller.calls.forms import Forms, forms_of
from caller.dance.walls import Wall
from caller.routine.facing import NO_TURN
from caller.routine.named_figures import FigureCalled
from caller.routine.step import Weight

# Gestures that may last, and from how many counts on that is said.
_SLOW, _SLOW_COUNTS = frozenset(("drag", "sweep", "ronde")), 2


@dataclass(frozen=True)
class Group:
    """first, last: of the wall's movements, those of all times. names: of the figure it is, empty where it is called
    movement by movement. ends: movements after the figure that are called with it. place: counts into its section.
    like: it is the group before it with the other foot."""

    wall: Wall
    at: Fraction
    first: int
    last: int
    section: int
    place: Fraction
    names: tuple[str, ...]
    figure: FigureCalled | None
    call: str
    own: str
    times: int = 1
    like: bool = False
    ends: int = 0

    @property
    def once(self) -> int:
        """The last movement of the first time."""
        return self.first + (self.last - self.first + 1) // self.times - 1

    @property
    def length(self) -> Fraction:
        """Counts from one time to the next; 0 where there is no other."""
        again = self.once + 1
        return self.wall.movements[again].at - self.at if self.times > 1 else Fraction(0)

    @cached_property
    def placed(self) -> tuple[PlacedMovement, ...]:
        """Its movements, once."""
        return placed_in(self.wall, self.first, self.once)

    @cached_property
    def shown(self) -> tuple[str, ...]:
        """What it is called, fullest first, as it is shown and told: once, as a screen asks at each look."""
        return group_forms(replace(self, like=False), thin=False, marked=False, sided=True).wordings

    @property
    def syncopated(self) -> bool:
        return any(one.offset.denominator != 1 for one in self.placed)

    @property
    def turns(self) -> bool:
        return any(one.movement.turn for one in self.placed)


def placed_in(wall: Wall, first: int, last: int) -> tuple[PlacedMovement, ...]:
    at = wall.movements[first].at
    return tuple(
        PlacedMovement(danced.step.movement, danced.at - at, slow=_is_slow(wall, n))
        for n, danced in enumerate(wall.movements[first : last + 1], first)
    )


def _is_slow(wall: Wall, index: int) -> bool:
    """Whether a drag or sweep goes on for two counts or more."""
    danced = wall.movements[index]
    if danced.step.movement.action not in _SLOW:
        return False
    after = wall.movements[index + 1].at if index + 1 < len(wall.movements) else Fraction(wall.end)
    return after - danced.at >= _SLOW_COUNTS


def swaps_foot(before: Group | None, group: Group) -> bool:
    """Whether it goes to the side, and with the other foot than the call before it: after a touch or a stomp there not
    everybody knows which foot is free."""
    first = group.placed[0].movement
    led = before.placed[0].movement.foot if before is not None else None
    sided = first.where == "side" and first.action not in EITHER_FOOT  # whose words hold the side
    return sided and first.foot is not None and led is first.foot.other


def loose(group: Group) -> bool:
    """Whether it is called movement by movement."""
    return not (group.names or group.call or group.own)


def follows(before: Group, after: Group) -> bool:
    """Whether they stand in one stretch, one after the other."""
    same = before.wall is after.wall and before.section == after.section and after.first == before.last + 1
    return same and after.place - before.place == after.at - before.at


def part_of(
    group: Group, first: int, last: int, names: tuple[str, ...] = (), figure: FigureCalled | None = None
) -> Group:
    """Some of a group's movements, or some that go on after it."""
    at = group.wall.movements[first].at
    return replace(
        group, at=at, first=first, last=last, place=group.place + at - group.at, names=names, figure=figure, ends=0
    )


def group_forms(
    group: Group,
    *,
    thin: bool,
    marked: bool,
    sided: bool = False,
    first: bool = False,
    contrary: bool = False,
    swaps: bool = False,
) -> Forms:
    """What a group may be called. thin: the second time or later; marked: its foot must be heard; sided: the side that
    it turns to has been told; first: a figure that has not been called on that foot before; contrary: it turns the
    other way than was turned shortly before; swaps: it goes to the side with the other foot than the call before it."""
    figure = group.figure if group.names else None
    danced = group.wall.movements[group.first]
    lead = figure.lead if figure else danced.step.movement.foot
    return forms_of(
        Called(
            group.placed,
            group.ends,
            group.names,
            figure.turn if figure else NO_TURN,
            lead.word if lead else "",
            foot_open=lead is not None and danced.before.weight is Weight.BOTH,
            call=group.call,
            own=group.own,
            times=group.times,
            like=group.like,
            marked=marked and lead is not None,
            thin=thin,
            sided=sided,
            length=group.length,
            upbeat=group.at.denominator != 1,
            first=first,
            contrary=contrary,
            swaps=swaps and not thin,
        )
    )
