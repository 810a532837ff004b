"""An easier way as a teacher tells it: for whom it is, on which counts, and its steps. Pure.

Conventions: sentences as they are spoken; counts from 1 within the section.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from caller.calls.easier import Way
from caller.calls.spelling import spoken
from caller.calls.wording import number_of, spoken_number
from caller.dance.walls import Dance
from caller.routine.facing import Turn
from caller.routine.meter import Meter
from caller.routine.naming import turn_words
from caller.routine.parts import Option, Routine, Section
from caller.routine.passages import Passage
from caller.routine.short_heading import LONGEST
from caller.routine.step import Movement
from caller.teaching.figures_told import option_figures

# Who is spared half a turn would rather not spin.
_HALF_TURN = 4
# A foot told by its letter: what is told so is no name, but the steps.
_FOOT_LETTER = re.compile(r"\b[RL]\b")
# So many walks one after another that turn are a walk round.
_LEAST_ROUND = 3


def section_options(routine: Routine, part: str, number: int) -> tuple[Option, ...]:
    """The options of a section, none where there is no such section."""
    section = _section(routine, part, number)
    return section.options if section else ()


def section_told_easier(routine: Routine, part: str, number: int) -> tuple[str, ...]:
    """All options of a section, each with its counts; of two for the same counts, the second as another."""
    section, told, taken = _section(routine, part, number), list[str](), list[Option]()
    for option in section.options if section else ():
        opening, *steps = option_told(option, routine.header.meter, section.passage if section else None)
        again = any(option.first <= other.last and option.last >= other.first for other in taken)
        told += [f"or {opening}" if again else opening, *steps]
        taken.append(option)
    return tuple(told)


def ways_told(dance: Dance, first: Fraction, last: Fraction) -> dict[Way, tuple[str, ...]]:
    """What half the hall dances in the place of some counts of the dance, way by way; with its section where the counts
    are of more than one."""
    routine, found = dance.routine, dict[Way, tuple[str, ...]]()
    stretches = [
        (wall.part, stretch)
        for wall in dance.walls
        for stretch in wall.stretches
        if stretch.at < last and stretch.at + stretch.counts > first
    ]
    several = len({(part, stretch.section) for part, stretch in stretches}) > 1
    for part, stretch in stretches:
        section = _section(routine, part, stretch.section)
        for index, option in enumerate(section.options if section else ()):
            if section and stretch.at + option.first - 1 < last and stretch.at + option.last > first:
                named = f"section {spoken_number(stretch.section)}, " if several else ""
                named = f"in part {part} {named}" if part and named else named
                told = option_told(option, routine.header.meter, section.passage, named)
                found.setdefault(Way(part, stretch.section, index), told)
    return found


def option_told(option: Option, meter: Meter, passage: Passage | None = None, where: str = "") -> tuple[str, ...]:
    """An option: for whom it is, by what it spares of the section's own ``passage``, and its movements. where: the
    section, before its counts."""
    # What is no name but the steps once more is told by these.
    named = option.name and len(option.name) <= LONGEST and "(" not in option.name
    name = spoken(option.name) if named and not _FOOT_LETTER.search(option.name) else ""
    spared = _spared(option, meter, passage, where)
    return (f"{spared}: {name}." if name else f"{spared}.", *(f"{told}." for told in _passage_told(option.passage)))


def option_words(option: Option) -> str:
    """An option's steps, in one breath."""
    return _walked_round([step.movement for step in option.passage.steps]) or option_figures(*_steps(option.passage))


def _section(routine: Routine, part: str, number: int) -> Section | None:
    return next((s for s in routine.sections if (s.part, s.number) == (part, number)), None)


def _spared(option: Option, meter: Meter, passage: Passage | None, where: str) -> str:
    """ "if you'd rather not spin, on five to eight"; "an easier way, section two, three to four"."""
    first, last = (spoken_number(number_of(count - 1, meter)) for count in (option.first, option.last))
    counts = first if option.first == option.last else f"{first} to {last}"
    on = f"{where}{counts}" if where else f"on {counts}"
    own = [step for step in passage.steps if option.first - 1 <= step.at < option.last] if passage else []
    turned, left = (sum(abs(s.movement.turn.eighths) for s in steps) for steps in (own, option.passage.steps))
    between = [any(step.at.denominator != 1 for step in steps) for steps in (own, option.passage.steps)]
    if turned > left:
        return f"if you'd rather not {'spin' if turned - left >= _HALF_TURN else 'turn'}, {on}"
    return f"if that is too quick, {on}" if between == [True, False] else f"an easier way, {on}"


def _passage_told(passage: Passage) -> Iterator[str]:
    if walked := _walked_round([step.movement for step in passage.steps]):
        yield walked
        return
    for phrase in passage.phrases:
        yield option_figures(*_steps(passage, phrase.first, phrase.last + 1))


def _steps(passage: Passage, first: int = 0, last: int | None = None) -> tuple[list[Movement], list[bool]]:
    """Movements, and whether each comes between two counts."""
    steps = passage.steps[first:last]
    return [step.movement for step in steps], [step.at.denominator != 1 for step in steps]


def _walked_round(movements: list[Movement]) -> str:
    """ "walk round three quarters to the left: right, left, right, left"; "" where that is not what they are."""
    turn = Turn(sum(one.turn.eighths for one in movements))
    walks = all(one.action in ("walk", "step") and one.foot and one.where in ("", "forward") for one in movements)
    if not turn or not walks or len(movements) < _LEAST_ROUND:
        return ""
    amount, _, side = turn_words(turn).rpartition(" ")
    article = {"quarter": "a ", "full turn": "a "}.get(amount, "")
    feet = ", ".join(one.foot.word for one in movements if one.foot)
    return f"walk round {article}{amount} to the {side}: {feet}"
