"""A routine as far as a class has it: its first sections by themselves, over and over. Pure.

Conventions: nothing comes between them, neither tag nor restart nor change: those are of the whole dance. Each time
through is a wall, which begins where the one before it ended.
"""

from __future__ import annotations

from dataclasses import replace

from caller.dance.check.joins import joins
from caller.routine.parts import Routine, Section


def sections_there(routine: Routine) -> tuple[Section, ...]:
    """The sections that may be danced by themselves, in turn: of a phrased routine those of its first part."""
    part = routine.sections[0].part if routine.sections else ""
    part = next((item.part for item in routine.order if item.part), part)
    return tuple(section for section in routine.sections if section.part == part)


def part_way(routine: Routine, sections: int) -> Routine:
    """The first so many sections. Raises ValueError for more than there are, or none."""
    there = sections_there(routine)
    if not 1 <= sections <= len(there):
        raise ValueError(f"there is no section {sections}; there are 1 to {len(there)}")
    return replace(
        routine,
        header=replace(routine.header, counts=None, walls=None),
        sections=there[:sections],
        tags=(),
        restarts=(),
        changes=(),
        ending=None,
        order=(),
        told=(),
        only=sections,
    )


def goes_round(routine: Routine, sections: int) -> bool:
    """Whether its first so many sections end so that the first can begin again: on the other foot. Raises ValueError
    for more than there are, or none."""
    known = {(finding.code, finding.place) for finding in joins(routine)}
    return all((one.code, one.place) in known for one in joins(part_way(routine, sections)))


def wrong_foot_words(routine: Routine, sections: int) -> str:
    """That the class has to change weight before each time round, and with how many sections it has not; "" where it
    has not."""
    if goes_round(routine, sections):
        return ""
    others = [n for n in range(1, len(sections_there(routine)) + 1) if goes_round(routine, n)]
    fit = f"; with {_listed(others)} it has not" if others else ""
    which = f"section {sections}" if sections > 1 else "it"
    last = f"{which} ends on the foot that {'section 1' if sections > 1 else 'it'} begins with"
    return f"{last}: before each time round the class changes weight{fit}"


def _listed(numbers: list[int]) -> str:
    """ "1 or 4 sections", "1 section"."""
    words = " or ".join(filter(None, (", ".join(map(str, numbers[:-1])), str(numbers[-1]))))
    return f"{words} section{'' if numbers == [1] else 's'}"
