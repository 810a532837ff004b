"""How a programme is to be taught now: where it is, how fast, called and danced which way, how often. Pure.

Conventions: a frozen value, an order makes another; tempo in counts a minute. A tempo is meant for the go that is
danced, or stands paused, and where there is none for the whole programme.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from caller.calls.plan import Manner
from caller.session.changes import MANNERS, Calling
from caller.teaching.running import (
    Outcome,
    Running,
    at_tempo,
    called,
    easier,
    next_stage,
    often,
    with_tempo,
)
from caller.teaching.stage import Kind
from caller.transport.order import Order
from caller.transport.state import State
from caller.transport.tempo import Pace

DANCED = (State.COUNT_IN, State.RUNNING, State.FINISHING)


@dataclass(frozen=True, slots=True)
class Wishes:
    """pace: half speed, and the pedal; its tempo is of no account. kept_times: how often the stage was to be danced
    before it was looped, None where it is not."""

    running: Running
    pace: Pace
    kept_times: int | None = None

    @property
    def tempo(self) -> Fraction:
        """Of what is danced now."""
        return self.tempo_of(self.running)

    def tempo_of(self, running: Running) -> Fraction:
        """Of a stage to come."""
        return replace(self.pace, tempo=running.tempo).effective

    @property
    def manner(self) -> Manner:
        return Manner.AHEAD if self.running.over else self.running.stage.manners[0]

    @property
    def calling(self) -> Calling:
        return Calling(self.manner, not self.running.over and self.running.stage.easier, self.kept_times is not None)

    def moved(self, running: Running) -> Wishes:
        """The same at another place; a loop is over with its stage."""
        kept = self.kept_times if running.index == self.running.index else None
        return replace(self, running=running, kept_times=kept)

    def after(self, order: Order, state: State) -> Wishes:
        """What an order leaves; the same for an order that is none of their business."""
        answer = _ANSWERS.get(order)
        answered = answer(self, state) if answer else self
        return answered.paced(answered.pace.after(order), state)

    def at_tempo(self, tempo: Fraction, state: State) -> Wishes:
        """At that tempo as it is danced: half speed is over with it."""
        pace = replace(self.pace, half=False, share=Fraction(1))
        take = at_tempo if self._dancing(state) else with_tempo
        return replace(self, pace=pace, running=take(self.running, tempo))

    def paced(self, pace: Pace, state: State) -> Wishes:
        """At half speed or not, leaning on the pedal or not; to be slowed down is no clean go."""
        slowed = pace.effective < self.pace.effective and state in DANCED
        running = next_stage(self.running, Outcome.PAUSED) if slowed else self.running
        return replace(self, pace=pace, running=running)

    def quicker(self, outcome: Outcome, order: Order, state: State) -> Wishes:
        if self._dancing(state):
            return replace(self, running=next_stage(self.running, outcome))
        full = Pace(self.running.programme.tempo).after(order).tempo
        return replace(self, running=with_tempo(self.running, full))

    def called_next_way(self) -> Wishes:
        if self.running.over or not self.running.stage.danced:
            return self
        manner = MANNERS[(MANNERS.index(self.manner) + 1) % len(MANNERS)]
        return replace(self, running=called(self.running, manner))

    def eased(self) -> Wishes:
        """The easier way from here on, or the full steps again."""
        stages = self.running.programme.stages[self.running.index :]
        now = any(stage.easier for stage in stages if stage.danced and stage.kind is not Kind.OPTION)
        return replace(self, running=easier(self.running, not now))

    def looped(self) -> Wishes:
        """The stage over and over, or as often as it was to be, and at least once more."""
        if self.running.over or not self.running.stage.danced:
            return self
        if self.kept_times is None:
            return replace(self, running=often(self.running, 0), kept_times=self.running.stage.times)
        times = max(self.kept_times, self.running.goes + 1)
        return replace(self, running=often(self.running, times), kept_times=None)

    def _dancing(self, state: State) -> bool:
        """Whether a go is under way or stands."""
        return not self.running.over and self.running.stage.danced and state is not State.READY


_ANSWERS: dict[Order, Callable[[Wishes, State], Wishes]] = {
    Order.SLOWER: lambda wishes, state: wishes.quicker(Outcome.SLOWER, Order.SLOWER, state),
    Order.FASTER: lambda wishes, state: wishes.quicker(Outcome.FASTER, Order.FASTER, state),
    Order.MANNER: lambda wishes, state: wishes.called_next_way(),
    Order.EASIER: lambda wishes, state: wishes.eased(),
    Order.LOOP: lambda wishes, state: wishes.looped(),
}
