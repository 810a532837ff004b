"""What is taught in an evening besides a whole walkthrough: a recap, a drill; and where a lesson goes on.

Conventions: stages are counted from 0 in a programme, from 1 in a plan and in the class book.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from caller.cli.say import Refused, warn
from caller.evening.plan import Item, Kind

if TYPE_CHECKING:
    from caller.dance.walls import Dance
    from caller.session.slots import Slot
    from caller.teaching.reach import Reach
    from caller.teaching.stage import LessonPlan

# A drill begins comfortably, and gets quicker with each clean go up to the full tempo: common practice.
_DRILL_SPEED, _DRILL_CREEP, _DRILL_GOES = Fraction(3, 5), Fraction(1, 10), 6
_SECTION = re.compile(r"(?:part (\S+) )?section (\d+)")
# Getting to one's place, and a word on what comes: common practice.
CHANGE_OVER = Fraction(1, 2)


def drilled(dance: Dance, tempo: Fraction, place: str, title: str) -> LessonPlan:
    """place: as a plan has it, "section 2", "part B section 1", "tag". Raises Refused."""
    from caller.teaching.drill import NotThere, drill_of, event_drill_span, find_event, section_span
    from caller.teaching.plain_walls import model_walls

    try:
        if found := _SECTION.fullmatch(place):
            parts = {wall.part.lower(): wall.part for wall in model_walls(dance)}
            part = parts.get(found[1] or "", found[1] or "")
            span, name = section_span(dance, int(found[2]), part=part), place.capitalize()
        else:
            span, name = event_drill_span(dance, *find_event(dance, place))
    except NotThere as fault:
        raise Refused(f"{title!r}, drill of {place}: {fault}", 1) from fault
    return drill_of(
        dance,
        span,
        name,
        tempo=tempo,
        speed=_DRILL_SPEED,
        times=_DRILL_GOES,
        creep=_DRILL_CREEP,
        goes_back=found is None,
    )


def hardest_place(dance: Dance) -> str:
    """What a class stumbles over most, where nobody says: what comes but now and then, a tag, a restart or a change of
    steps; else the last section, which has been danced least. Common practice."""
    from caller.teaching.drill import events
    from caller.teaching.plain_walls import model_walls, sections_of

    kinds = [event.kind for _, event in events(dance)]
    if kind := next((kind for kind in ("tag", "restart", "change") if kind in kinds), ""):
        return kind
    wall = model_walls(dance)[-1]
    last = sections_of(wall)[-1].section
    return f"part {wall.part.lower()} section {last}" if wall.part else f"section {last}"


def recapped(dance: Dance, walkthrough: LessonPlan, taught: int, minutes: int) -> LessonPlan:
    """taught: how many stages of the walkthrough the class has had, 0 = all. minutes: what it may take, where that is
    more than it usually has."""
    from caller.teaching.recap import RECAP_SECONDS, recap_of

    had = walkthrough.stages[:taught] if taught else None
    return recap_of(dance, walkthrough.tempo, max(RECAP_SECONDS, 60 * minutes), had)


def first_stage(programme: LessonPlan, item: Item) -> int:
    """Where a lesson begins, from 0; that there is no such stage is told."""
    first, stages = item.stage - 1, len(programme.stages)
    if first < stages:
        return first
    there = f"{stages} stage{'' if stages == 1 else 's'}"
    warn(f"{programme.title!r} has {there}, not {item.stage}; its lesson begins with the first")
    return 0


def stage_after(programme: LessonPlan, part: str, share: Fraction) -> int:
    """The stage after the one of that name, from 1; where there is none of that name any more, the one as far on as
    share says."""
    names = [stage.name for stage in programme.stages]
    done = names.index(part) + 1 if part in names else int(share * len(names))
    return min(done, len(names) - 1) + 1


def reached(lesson: Slot, minutes: int, part: str | None = None) -> Reach | None:
    """How far a lesson comes in so many minutes. part: which one is meant, None = the one that it comes to. None where
    it comes to its end, or no section to its end."""
    from caller.session import TaughtProgramme
    from caller.teaching.reach import reach_of

    given = 60 * (minutes - CHANGE_OVER)
    if not isinstance(lesson.programme, TaughtProgramme) or sum(lesson.seconds) <= given:
        return None
    return reach_of(lesson.programme.stages.stages, lesson.seconds, given, part)


def as_far_as_planned(lesson: Slot) -> Slot:
    """A lesson that stops once what its minutes are for has been taught."""
    from caller.session import TaughtProgramme

    reach = reached(lesson, lesson.item.minutes)
    own = lesson.programme
    if reach is None or not isinstance(own, TaughtProgramme) or reach.ends == len(own.stages.stages):
        return lesson
    return replace(lesson, programme=replace(own, running=replace(own.running, until=reach.ends)))


def reaching(lesson: Slot, item: Item) -> Item:
    """A lesson that says how far it comes, where its minutes are fewer than it takes."""
    from caller.teaching.reach import why_with

    reach = reached(lesson, item.minutes)
    return replace(item, why=why_with(item.why, reach))


def run_of(lesson: Slot, item: Item, part: str) -> Item | None:
    """What a lesson has taught in its minutes, to be danced by itself and as fast as it was danced, without minutes.
    part: the one that may be danced by itself, "" where the dance is not phrased. None where that is none."""
    reach = reached(lesson, item.minutes, part)
    if reach is None:
        return None
    tempo, sections = Fraction(round(100 * reach.speed), 100), None if reach.taught_whole else reach.section
    return Item(Kind.RUN, routine=item.routine, why="what was taught", tempo=tempo, music=item.music, sections=sections)
