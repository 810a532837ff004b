"""How a lesson is taught, as a teacher's orders leave it: the tempo, the way of calling, when it waits. Pure.

Conventions: a tempo is meant for the stage that is danced, and where none is, or nothing has begun, for the whole
programme. dancing: a go is under way, stands, or is about to be.
"""

from __future__ import annotations

from collections.abc import Callable

from caller.calls.plan import Manner
from caller.session.changes import next_manner
from caller.session.programme import Passed, ProgrammeEvent
from caller.teaching.paced import at_tempo, with_tempo
from caller.teaching.running import Running, StageOutcome, Waits, called, next_stage, waiting_when
from caller.transport.order import Order
from caller.transport.tempo import stepped


def _quicker(running: Running, outcome: ProgrammeEvent, dancing: bool) -> Running:
    assert isinstance(outcome.what, Order)
    if dancing:
        return next_stage(running, StageOutcome.SLOWER if outcome.what is Order.SLOWER else StageOutcome.FASTER)
    return with_tempo(running, stepped(running.programme.tempo, outcome.what))


def _timed(running: Running, outcome: ProgrammeEvent, dancing: bool) -> Running:
    take = at_tempo if dancing else with_tempo
    return take(running, outcome.amounts[0])


def _called_next_way(running: Running, outcome: ProgrammeEvent, dancing: bool) -> Running:
    now = Manner.AHEAD if running.over else running.stage.manners[0]
    return called(running, next_manner(now))


def _waiting(running: Running, outcome: ProgrammeEvent, dancing: bool) -> Running:
    """After each stage, or only where nobody answers."""
    return waiting_when(running, Waits.UNANSWERED if running.waits is Waits.STAGES else Waits.STAGES)


WAYS: dict[Order | Passed, Callable[[Running, ProgrammeEvent, bool], Running]] = {
    Order.SLOWER: _quicker,
    Order.FASTER: _quicker,
    Order.TEMPO: _timed,
    Order.MANNER: _called_next_way,
    Order.WAIT: _waiting,
}
