"""How far a lesson comes in less time than it takes: the sections that have been danced by then, and how fast. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate

from caller.teaching.stage import Stage, StageKind

# What comes once a dance has been taught: quicker, and all of it once more.
KNOWN_BY_THEN = (StageKind.LADDER, StageKind.WHOLE)
# What comes once all sections have been.
_AFTER_SECTIONS = (*KNOWN_BY_THEN, StageKind.WALL, StageKind.WALLS, StageKind.EVENT)


@dataclass(frozen=True, slots=True)
class Reach:
    """part: "" where the dance is not phrased. section: the last one danced, of so many of that part; speed: as fast as
    all of them were, a share of the full tempo. taught_whole: what is left only makes all of it quicker. ends: the
    stage, from 0, before which it ends, once all of that has been taught."""

    part: str
    section: int
    sections: int
    speed: Fraction
    taught_whole: bool = False
    ends: int = 0

    @property
    def words(self) -> str:
        """ "to section 3 of 4", "to part B section 1 of 2"."""
        if self.taught_whole:
            return "all its sections, not yet up to tempo"
        part = f"part {self.part} " if self.part else ""
        return f"to {part}section {self.section} of {self.sections}"


# How far a lesson comes, as what is said of it may have it from minutes that it had before.
_REACHES = re.compile(r"(?:^|, )(?:to (?:part \S+ )?section \d+ of \d+|all its sections, not yet up to tempo)$")


def why_with(why: str, reach: Reach | None) -> str:
    """Why a lesson is given, with how far it comes; without, where it comes to its end."""
    return ", ".join(filter(None, (_REACHES.sub("", why), reach.words if reach else "")))


def reach_of(
    stages: Sequence[Stage], seconds: Sequence[Fraction], given: Fraction, part: str | None = None
) -> Reach | None:
    """seconds: how long each stage takes, 0 for what was danced another time; given: how long there is. part: which one
    is meant, None = the one that was danced last. None where no section is danced to its end by then."""
    done = [stage for stage, ends in zip(stages, accumulate(seconds), strict=True) if ends <= given]
    danced = [stage for stage in done if stage.danced and stage.sections and stage.kind is not StageKind.DEMONSTRATE]
    part = danced[-1].sections[-1][0] if danced and part is None else part
    speeds = {number: max(_speeds(danced, part, number)) for number in sorted(_numbers(danced, part))}
    section = next(n for n in range(len(speeds) + 1) if n + 1 not in speeds)
    if not section:
        return None
    whole = all(stage.kind in KNOWN_BY_THEN for stage in stages[len(done) :])
    speed = min(speeds[number] for number in range(1, section + 1))
    had = {own for stage in danced for own in stage.sections if own[0] != part or own[1] <= section}
    ends = _ends(stages, len(done), had)
    return Reach(part or "", section, max(_numbers(stages, part)), speed, whole, ends)


def _ends(stages: Sequence[Stage], done: int, had: set[tuple[str, int]]) -> int:
    """The first stage, of those for which there is no time, that does not belong to the sections that were danced."""

    def beyond(stage: Stage) -> bool:
        return stage.kind in _AFTER_SECTIONS or not had.issuperset(stage.sections)

    return next((n for n in range(done, len(stages)) if beyond(stages[n])), len(stages))


def _numbers(stages: Sequence[Stage], part: str | None) -> set[int]:
    return {number for stage in stages for own, number in stage.sections if own == part}


def _speeds(stages: Sequence[Stage], part: str | None, number: int) -> Iterator[Fraction]:
    return (stage.speed for stage in stages if (part, number) in stage.sections)
