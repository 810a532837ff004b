"""What a class has been taught so far, as a stage that a teacher puts in: from the top, over and over. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from caller.calls.plan import Manner
from caller.calls.wording import spoken_number
from caller.routine.parts import first_words
from caller.session.programme import CanNot
from caller.teaching.own_stages import by_itself_first, left_out
from caller.teaching.running import Running, is_easier
from caller.teaching.stage import MovesOn, Stage, StageKind
from caller.transport.order import Order

# What leaves it: the next stage, and the same order once more. Out of its loop it waits first.
LEAVES = frozenset({Order.NEXT, Order.SO_FAR})
# What leads elsewhere in the lesson, whose stages it is none of.
ELSEWHERE = frozenset({Order.PREVIOUS, Order.STAGE, Order.SECTION, Order.TO_WALL, Order.TOP})
_NONE_TAUGHT, _NO_LESSON = "No section has been taught so far.", "Only a walkthrough teaches section by section."


def so_far(running: Running, bars: int) -> Stage:
    """The sections of the part that was taught last, as far as they have been danced, and as fast as all of them were.
    bars: counts of the count-in. Raises CanNot where there are none."""
    if running.programme.way != "walkthrough":
        raise CanNot(_NO_LESSON)
    danced = _sections_had(running)
    if not danced:
        raise CanNot(_NONE_TAUGHT)
    part = danced[-1].sections[-1][0]
    own = [stage for stage in danced if stage.sections[-1][0] == part]
    last = max(numbers_of(own))
    words = f"part {part} {first_words(last)}" if part else first_words(last)
    return Stage(
        f"So far, {words}",
        StageKind.DRILL,
        min(stage.start for stage in own),
        max(stage.end for stage in own),
        min(max(stage.speed for stage in own if (part, n) in stage.sections) for n in numbers_of(own)),
        times=0,
        manners=(Manner.AHEAD, Manner.PROMPTS),
        said=(f"from the top, as far as section {spoken_number(last)}.",),
        count_in=bars,
        moves_on=MovesOn.PEDAL,
        easier=is_easier(running),
        sections=tuple((part, number) for number in range(1, last + 1)),
    )


def put_in(running: Running, stage: Stage) -> Running:
    """A stage of the teacher's own before the one under way, or after it where that is done."""
    after = replace(running, index=running.index + running.waiting)
    goes = 0 if running.waiting else running.goes
    return replace(by_itself_first(after, replace(stage, beside=True)), goes_before=goes)


def taken_out(running: Running) -> Running:
    """Without the teacher's own stage under way, at the start of the go that it was put in before."""
    return replace(left_out(running), goes=running.goes_before, goes_before=0)


def is_put_in(running: Running) -> bool:
    """Whether the stage under way is the teacher's own."""
    return not running.over and running.stage.beside


def had(running: Running) -> Sequence[Stage]:
    """The stages up to here that have been danced once, or told to their end, by now."""
    return running.programme.stages[: running.index + (running.waiting or running.goes > 0)]


def numbers_of(stages: Iterable[Stage]) -> set[int]:
    """The sections that some stages teach."""
    return {number for stage in stages for _, number in stage.sections}


def _sections_had(running: Running) -> Sequence[Stage]:
    """Stages in which sections have been danced by now."""
    return [one for one in had(running) if one.danced and one.sections and one.kind is not StageKind.DEMONSTRATE]


def may_be_said(running: Running) -> tuple[str, ...]:
    """What is said first, where there is anything to be danced so far."""
    there = not running.over and running.programme.way == "walkthrough" and _sections_had(running)
    return so_far(running, 1).said if there else ()
