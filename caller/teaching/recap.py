"""The recap: a dance gone over in a few minutes, for those who missed it or where it is shaky. Common practice."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from caller.calls.plan import Manner
from caller.dance.walls import Dance
from caller.teaching.dosage import told_briefly
from caller.teaching.floors import Floors
from caller.teaching.minutes import stage_seconds
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.teaching.walkthrough import walkthrough_of

RECAP_SECONDS = 300
# What a recap takes of the walkthrough, the fullest first; the first that is short enough is taken, else the last.
_FULLEST_FIRST: tuple[tuple[StageKind, ...], ...] = (
    (StageKind.TELL, StageKind.WORDS, StageKind.WALL, StageKind.EVENT),
    (StageKind.WORDS, StageKind.JOIN, StageKind.WALL, StageKind.EVENT),
    (StageKind.WORDS, StageKind.WALL, StageKind.EVENT),
    (StageKind.WORDS, StageKind.WALL),
    (StageKind.WALL, StageKind.EVENT),
    (StageKind.WALL,),
)

_TOGETHER = (StageKind.ADD, StageKind.QUICK)
# Of a wall what comes with counts only, of an event what comes called once it has been told.
_LEFT_OUT = {StageKind.WALL: Manner.COUNTS, StageKind.EVENT: Manner.AHEAD}


def recap_of(
    dance: Dance, tempo: Fraction | None = None, seconds: int = RECAP_SECONDS, taught: Iterable[Stage] | None = None
) -> LessonPlan:
    """The dance gone over once, in ``seconds`` where that can be; twice where there are more than it usually has, and
    enough. taught: the stages that a class has had, where that is not all: no more than they have. It is kept in the
    class book as a drill."""
    whole, floors = walkthrough_of(dance, tempo, "advanced"), Floors.of(dance)
    if taught is not None:
        whole = _as_far_as(whole, tuple(taught))
    often = [(2, _FULLEST_FIRST[0])] if seconds > RECAP_SECONDS else []
    often += [(1, kinds) for kinds in _FULLEST_FIRST]
    stages = [tuple(told_briefly((*_over(whole, *one), *_built(whole.stages)))) for one in often]
    recaps = [replace(whole, way="drill", stages=one) for one in stages]
    filled = [recap for recap in recaps if recap.stages]
    return next((recap for recap in filled if sum(stage_seconds(recap, floors)) <= seconds), filled[-1])


def _as_far_as(whole: LessonPlan, taught: tuple[Stage, ...]) -> LessonPlan:
    """What is danced within the sections that were taught, and the events that were; all where that is nothing."""
    had = {section for stage in taught if stage.danced for section in stage.sections}
    ends = max((stage.end for stage in taught if stage.sections), default=Fraction(0))
    events = {stage.start for stage in taught if stage.kind is StageKind.EVENT}

    def within(stage: Stage) -> bool:
        if stage.kind is StageKind.EVENT:
            return stage.start in events
        return had.issuperset(stage.sections) if stage.sections else stage.danced and stage.end <= ends

    stages = tuple(filter(within, whole.stages))
    return replace(whole, stages=stages) if any(stage.danced for stage in stages) else whole


def _built(stages: Sequence[Stage]) -> Iterator[Stage]:
    """Of a dance of which no wall was danced whole, what was put together last, as slowly as it was: once called, then
    by prompts."""
    together = [stage for stage in stages if stage.kind in _TOGETHER]
    if together and not any(stage.kind is StageKind.WALL for stage in stages):
        last = together[-1]
        slowest = next(stage for stage in together if (stage.start, stage.end) == (last.start, last.end))
        yield replace(slowest, times=2, manners=(Manner.AHEAD, Manner.PROMPTS))


def _over(whole: LessonPlan, times: int, kinds: tuple[StageKind, ...]) -> Iterator[Stage]:
    opening = f"{whole.title}, gone over {'once' if times == 1 else 'twice'}."
    for stage in whole.stages:
        if stage.kind in kinds and stage.manners[0] is not _LEFT_OUT.get(stage.kind):
            said = (opening, *stage.said) if opening else stage.said
            yield replace(stage, times=times if stage.danced else min(stage.times, 1), said=said)
            opening = ""
