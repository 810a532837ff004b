"""A stage that the teacher puts into a lesson, and takes out of it. Pure.

Conventions: where the lesson is to stop stays the same place in it.
"""

from __future__ import annotations

from dataclasses import replace

from caller.teaching.running import Running, at_stage, at_start
from caller.teaching.stage import Stage


def by_itself_first(running: Running, stage: Stage) -> Running:
    """Another stage before the one under way, which then begins again."""
    stages, until = running.programme.stages, running.until
    there = (*stages[: running.index], stage, *stages[running.index :])
    until = until + 1 if until is not None and until > running.index else until
    return at_start(replace(running, programme=replace(running.programme, stages=there), until=until), running.index)


def left_out(running: Running) -> Running:
    """Without the stage under way, at the start of the one after it."""
    stages, index, until = running.programme.stages, running.index, running.until
    there = replace(running.programme, stages=(*stages[:index], *stages[index + 1 :]))
    until = until - 1 if until is not None and until > index else until
    return at_stage(replace(running, programme=there, until=until), index)
