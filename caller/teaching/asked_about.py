"""Where a telling begins and ends in a lesson: there it is seen whether anybody is there. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from caller.teaching.stage import Stage, StageKind

# Stages of which a class has questions: after one of these, the last that teaches a section or an event, it is seen
# whether anybody is there.
ASKED_ABOUT = (StageKind.TELL, StageKind.WALK, StageKind.OPTION, StageKind.EVENT)
_STEP_BY_STEP = (StageKind.TELL, StageKind.WALK)


def tells_anew(stages: Sequence[Stage], index: int) -> bool:
    """Whether a telling begins with that stage."""
    told = index < len(stages) and stages[index].kind in ASKED_ABOUT
    return told and not (index and tells_on(stages[index - 1], stages[index]))


def tells_on(stage: Stage, follows: Stage) -> bool:
    """Whether what one stage tells is gone on with in the next: four counts of a section, an event once more."""
    if stage.kind is StageKind.EVENT:
        return follows.kind is StageKind.EVENT and follows.start == stage.start
    return stage.kind in _STEP_BY_STEP and follows.kind in _STEP_BY_STEP and follows.sections == stage.sections
