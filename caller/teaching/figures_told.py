"""A figure as a teacher tells it without a beat: its name, then where each foot goes, and no more numbers than needed.

Conventions: sentences in small letters, one a figure. What is alike is told once ("the same on the left", "and all that
again"). A movement that takes no weight says so where its word would be taken for a step. Common practice on the floor,
no published source. Pure.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from caller.calls.group import Group
from caller.calls.groups import groups_of, sheet_of
from caller.calls.losses import TIMES
from caller.calls.places import own_place
from caller.calls.spelling import spoken
from caller.calls.wording import spoken_number
from caller.dance.walls import DancedStep, Stretch, Wall
from caller.routine.facing import NO_TURN, Turn
from caller.routine.naming import movement_name, turn_words, way_home
from caller.routine.parts import Routine
from caller.routine.step import Movement, Weight
from caller.teaching.authors import lines_that_say_more

# A movement by its action and direction, else by its action alone; {foot} where its foot is said.
_MOVED = {
    "step forward": "{foot} forward",
    "step back": "{foot} back",
    "step side": "{foot} to the side",
    "step beside": "{foot} together",
    "step place": "{foot} in place",
    "step out": "{foot} out",
    "step in": "{foot} in",
    "cross over": "{foot} over",
    "cross behind": "{foot} behind",
    "walk forward": "walk forward {foot}",
    "walk back": "walk back {foot}",
    "recover": "recover",
    "touch beside": "touch {foot} beside, no weight",
    "touch": "touch {foot}",
    "heel forward": "{foot} heel in front",
    "kick forward": "kick {foot}",
    "scuff forward": "scuff {foot}",
    "brush forward": "brush {foot}",
    "drag beside": "drag {foot} in",
    "drop": "heel down",
    "hold": "hold",
}
_WHERE = {"side": "to the side", "beside": "together", "place": "in place"}
# After one of these the same foot's step beside is its way home; between two counts it is the ball of a kick.
_OUT_AND_HOME = ("heel", "touch", "point", "toe")
# Of several in a row one tells what they are: "walk back left, right, left".
_RUNNING = frozenset(("walk", "run", "sway", "bump", "skate", "stomp"))
# Told with their number before them: "two walks, right, left".
_COUNTED = {"walk": "walks", "sway": "sways", "bump": "bumps", "skate": "skates", "stomp": "stomps", "run": "runs"}


@dataclass(frozen=True, slots=True)
class FigureTold:
    """at: its first count in its stretch; ends: the count after its last. words: its sentence among the others; alone:
    by itself."""

    at: Fraction
    ends: Fraction
    words: str
    alone: str


def figures_told(wall: Wall, stretch: Stretch, routine: Routine) -> tuple[FigureTold, ...]:
    """The figures of a stretch of a wall, in order; in their author's words where those say more."""
    groups, authors = _groups(wall, stretch, routine), _Authors(lines_that_say_more(routine))
    ends = [*(group.at - stretch.at for group in groups), Fraction(stretch.counts)][1:]
    return tuple(
        FigureTold(max(group.at - stretch.at, Fraction(0)), end, words, authors.alone(group))
        for group, end, words in zip(groups, ends, _sentences(groups, authors), strict=True)
    )


def movements_told(wall: Wall, first: Fraction, last: Fraction) -> tuple[str, ...]:
    """Each movement of the wall from one count of the dance to before another, to be walked without time."""
    own = [m for m in wall.movements if first <= own_place(wall, m.at, m.section) < last]
    movements = [danced.step.movement for danced in own]
    return tuple(f"{words}." for words in _each(movements, _fractional(own), run=False))


def moved_words(movement: Movement) -> str:
    """Where a foot goes, whatever comes before and after it: "right forward", "half turn left"."""
    return spoken(_by_itself(movement) or _moved(movement, None, None, False))


def option_figures(steps: Sequence[Movement], between: Sequence[bool]) -> str:
    """Movements of an option, in one breath."""
    return ", ".join(_each(steps, between))


def _groups(wall: Wall, stretch: Stretch, routine: Routine) -> list[Group]:
    phrases = [
        (wall, phrase)
        for phrase in wall.phrases
        if stretch.at <= own_place(wall, phrase.at, phrase.section) < stretch.at + stretch.counts
    ]
    return groups_of(phrases, sheet_of(routine))


@dataclass(frozen=True, slots=True)
class _Authors:
    """Lines of the sheet whose own words say more than ours."""

    lines: Mapping[int, str]

    def of(self, group: Group) -> tuple[str, ...]:
        """The words of the lines that a group's movements stand on, where they say more."""
        own = group.wall.movements[group.first : group.last + 1]
        return tuple(dict.fromkeys(self.lines[m.step.place.line] for m in own if m.step.place.line in self.lines))

    def alone(self, group: Group) -> str:
        return f"{', '.join(words)}." if (words := self.of(group)) else _alone(group)


def _sentences(groups: Sequence[Group], authors: _Authors) -> Iterator[str]:
    """One a figure; what comes again is told by what it is like, a line in its author's words once."""
    said: tuple[str, ...] = ()
    if any(authors.of(group) for group in groups):
        for group in groups:
            own = authors.of(group)
            yield "" if own and own == said else authors.alone(group)
            said = own
        return
    half = len(groups) // 2
    signs = [_sign(group) for group in groups]
    if half and len(groups) % 2 == 0 and signs[:half] == signs[half:]:
        yield from _sentences(groups[:half], authors)
        again = "and all that again." if half > 1 else "and the same again."
        yield from (again if n == 0 else "" for n in range(half))
        return
    for n, group in enumerate(groups):
        before = groups[n - 1] if n else None
        if before is not None and signs[n] == signs[n - 1]:
            yield "and the same again."
        elif before is not None and group.like and not group.turns and _lead(group):
            yield f"the same on the {_lead(group)}."
        else:
            yield _alone(group)


def _sign(group: Group) -> tuple[object, ...]:
    return group.names, group.times, group.call, group.own, group.placed


def _lead(group: Group) -> str:
    return next((one.movement.foot.word for one in group.placed if one.movement.foot), "")


def _alone(group: Group) -> str:
    """ "crossing shuffle: right over, left to the side, right over.", "two walks, right, left." """
    if group.own:
        return f"{spoken(group.own)}."
    movements = [one.movement for one in group.placed]
    between = [(group.at + one.offset).denominator != 1 for one in group.placed]
    if not group.names and (counted := _counted(movements * group.times)):
        feet = (one.foot.word for one in movements * group.times if one.foot)
        told = f"{counted}, {', '.join(feet)}"
    else:
        # A turn that its name tells is not told again on each of its steps.
        named = group.names and len(movements) > 2 and not _turns_once(group)
        plain = [replace(one, turn=NO_TURN) for one in movements] if named else movements
        told = ", ".join(_each(plain, between))
        times = f", {TIMES[group.times]}" if group.times in TIMES else ""
        told = f"{_named(group)}{times}: {told}" if group.names else f"{told}{times}"
    return f"{told}{_quoted(group, told)}."


def _named(group: Group) -> str:
    """ "left triple forward turning half left"."""
    turn = NO_TURN if _turns_once(group) else Turn(sum(one.movement.turn.eighths for one in group.placed))
    name = spoken(group.names[0].replace("{foot}", _lead(group)).strip())
    return f"{name} {turning_words(turn)}" if turn and "turn" not in name else name


def _turns_once(group: Group) -> bool:
    """Whether one step of several takes all of its turn, which is told there: else nobody knows on which."""
    return len(group.placed) > 2 and sum(bool(one.movement.turn) for one in group.placed) == 1


def _quoted(group: Group, told: str) -> str:
    """The sheet's own call, which the class will hear; not where it has no word that was not told."""
    call, known = spoken(group.call).rstrip("."), {word.rstrip("s") for word in re.findall(r"[a-z']+", told.lower())}
    news = [word for word in re.findall(r"[a-z']+", call.lower()) if word.rstrip("s") not in known]
    return f"; called {call}" if news else ""


def _counted(movements: Sequence[Movement]) -> str:
    """ "two walks", as many as are danced; "" where they are not that."""
    like = {(movement.action, movement.where) for movement in movements}
    if len(movements) < 2 or len(like) > 1 or any(movement.turn for movement in movements):
        return ""
    [(action, where)] = like
    if action not in _COUNTED:
        return ""
    way = "" if action != "walk" or where == "forward" else f" {_WHERE.get(where, where)}"
    return f"{spoken_number(len(movements))} {_COUNTED[action]}{way}"


def _each(movements: Sequence[Movement], between: Sequence[bool], *, run: bool = True) -> Iterator[str]:
    """Each movement's words. between: whether it comes between two counts. run: in one breath, so that of the same
    movement in a row the first says what it is."""
    for n, movement in enumerate(movements):
        before = movements[n - 1] if n else None
        after = movements[n + 1] if n + 1 < len(movements) else None
        home = way_home(*movements[n - 2 : n + 1]) if n > 1 and movement.where == "in" else ""
        if home and movement.foot:
            yield f"{movement.foot.word} {home} to the centre"
        elif run and before is not None and _goes_on(before, movement) and movement.foot:
            yield movement.foot.word
        else:
            yield spoken(("" if run else _by_itself(movement)) or _moved(movement, before, after, between[n]))


def _goes_on(before: Movement, movement: Movement) -> bool:
    like = (before.action, before.where) == (movement.action, movement.where)
    return like and movement.action in _RUNNING and not (before.turn or movement.turn)


def _by_itself(movement: Movement) -> str:
    """A walk, told where it is one movement among others: "left back"; "" for what is no walk."""
    if movement.action != "walk" or not movement.foot or movement.turn:
        return ""
    return f"{movement.foot.word} {_way(movement.where or 'forward')}"


def _fractional(own: Sequence[DancedStep]) -> list[bool]:
    return [danced.at.denominator != 1 for danced in own]


def _moved(movement: Movement, before: Movement | None, after: Movement | None, between: bool) -> str:
    foot = movement.foot.word if movement.foot else ""
    if movement.action in ("pivot", "turn") and movement.turn:
        return _turned(movement.turn)
    if after is not None and after.action == "pivot" and movement.action == "step":
        forward = "forward " if movement.where == "forward" else ""
        return f"step {forward}on the {foot}"
    if movement.action == "step" and movement.where == "beside" and before is not None and before.foot is movement.foot:
        if before.action in _OUT_AND_HOME:
            return "and home"
        if before.action == "kick" and between:
            return "ball"
    key = f"{movement.action} {movement.where}".strip()
    if movement.action == "rock":
        words = f"rock {foot} {_WHERE.get(movement.where, movement.where)}".strip()
    elif movement.action == "heel" and movement.foot and movement.weight is Weight.on(movement.foot):
        words = movement_name(movement)  # it bears the dancer
    elif key in _MOVED or movement.action in _MOVED:
        words = _MOVED.get(key, _MOVED.get(movement.action, "")).format(foot=foot).strip()
    elif movement.action == "step":
        words = f"{foot} {_way(movement.where)}".strip()
    else:
        return movement_name(movement)
    words = words or movement_name(movement)
    return f"{words} {turning_words(movement.turn)}" if movement.turn else words


def _way(where: str) -> str:
    """ "diagonally forward" of "forward diagonal"."""
    straight = where.removesuffix(" diagonal")
    return where if straight == where else f"diagonally {straight}"


def _turned(turn: Turn) -> str:
    """ "half turn right"."""
    amount, _, side = turn_words(turn).rpartition(" ")
    return f"{amount} {side}" if amount.endswith("turn") else f"{amount} turn {side}"


def turning_words(turn: Turn) -> str:
    """ "turning a quarter left", "turning half right"."""
    amount, _, side = turn_words(turn).rpartition(" ")
    article = {"quarter": "a ", "full turn": "a "}.get(amount, "an " if amount == "eighth" else "")
    return f"turning {article}{amount} {side}"
