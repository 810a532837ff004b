"""Half the hall the easier way: told once, before the first go in which it comes, whichever stage that is. Pure."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from caller.calls.easier import Way
from caller.session.asked import need_easier
from caller.session.programme import Passed, ProgrammeEvent
from caller.teaching.options import ways_told
from caller.teaching.running import easier
from caller.teaching.stage import StageKind
from caller.transport.order import Order

if TYPE_CHECKING:
    from caller.session.taught import TaughtProgramme

HALF_THE_HALL = "half the hall the easier way."
# After what a go may begin that has not been made ready yet.
_BEFORE_A_GO = frozenset(
    {
        *(Passed.DONE, Order.SECTION_AGAIN, Order.NEXT, Order.PREVIOUS, Order.WELL, Order.TOP, Order.SO_FAR),
        *(Order.SECTION, Order.STAGE, Order.LOOP_TO, Order.LOOP_COUNTS, Order.LOOP_WALL),
    }
)


def half_the_hall(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """Half the hall the easier way, or all one way again."""
    need_easier(taught.floors)
    running = taught.running if taught.both else easier(taught.running, False)
    return replace(taught, running=running, both=not taught.both, told_ways=frozenset())


def told_before_go(taught: TaughtProgramme, outcome: ProgrammeEvent) -> TaughtProgramme:
    """The same, with what half the hall dances in the go that is next told first, where it has not been told."""
    running = taught.running
    if (
        not taught.both
        or outcome.what not in _BEFORE_A_GO
        or running.over
        or running.waiting
        or taught.start is not None
    ):
        return taught
    said_yet = running.announced or not running.says
    fresh = {way: told for way, told in ways_ahead(taught).items() if way not in taught.told_ways}
    if not (running.stage.danced and said_yet and fresh):
        return taught
    words = (HALF_THE_HALL, *(sentence for told in fresh.values() for sentence in told))
    return replace(taught, aside=(*words, *taught.aside), told_ways=taught.told_ways | fresh.keys())


def ways_ahead(taught: TaughtProgramme) -> dict[Way, tuple[str, ...]]:
    """The easier ways in the stage, each as it is told; none where the class watches, or all dance it so."""
    if taught.running.over:
        return {}
    stage = taught.running.stage
    if not stage.danced or stage.easier or stage.kind is StageKind.DEMONSTRATE:
        return {}
    return ways_told(taught.floors.plain, stage.start, stage.end)
