"""A session whose views are set by hand, and views to set."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from types import SimpleNamespace
from typing import Any

from caller.calls.glance import Coming, Glance
from caller.calls.plan import Manner
from caller.routine.facing import FRONT, Facing, Turn
from caller.routine.step import Foot
from caller.session import Desk, View
from caller.transport.context import OrderContext
from caller.transport.footing import FOR_A_DANCE, Footing
from caller.transport.levels import Levels
from caller.transport.order import Order
from caller.transport.state import State

GLANCE = Glance(
    wall=3,
    walls=8,
    part="",
    section=2,
    section_name="Rock back, quarter pivot",
    at=Fraction(74),
    count=3,
    in_bar=2,
    bar=4,
    counting_in=False,
    now="right shuffle",
    next="rock, recover",
    saying="rock, recover",
    with_step=True,
    foot=Foot.RIGHT,
    facing=Facing(4),
    next_turn=Turn(-2),
    next_turn_in=Fraction(2),
    wall_starts=FRONT,
    coming=(),
    tempo=Fraction(104),
)

VIEW = View(
    state=State.RUNNING,
    title="Copper Kettle",
    glance=GLANCE,
    tempo=Fraction(104),
    speed=Fraction(1),
    sound="on pulse",
    pedal="none",
    voice="Kitchen, ready",
    notices=(),
    cannot=(),
)

TAG_IN_8 = Coming("tag", 8, "tag in 8")


def view_of(view: View = VIEW, **glance: object) -> View:
    """``view`` with those parts of its glance changed."""
    return replace(view, glance=replace(view.glance or GLANCE, **glance))  # type: ignore[arg-type]


class Clock:
    """Seconds that go on only when told to."""

    def __init__(self) -> None:
        self.seconds = 100.0

    def __call__(self) -> float:
        return self.seconds


class FakeSession:
    """Shows ``shows``, and keeps what it was told to do: orders in ``obeyed``, what they carried in ``told``;
    ``closed`` once it is. Its desk is a clock that stands still."""

    desk: Desk = SimpleNamespace(now=float)  # type: ignore[assignment]
    manner = Manner.AHEAD
    levels = Levels()
    footing: Footing = FOR_A_DANCE
    requests: tuple[tuple[int, str], ...] = ()
    markable: tuple[str, ...] = ()

    def __init__(self, view: View = VIEW, dance: Any = None) -> None:
        self.shows = view
        self.dance = dance
        self.obeyed: list[Order] = []
        self.told: list[object] = []
        self.closed = False

    @property
    def context(self) -> OrderContext:
        return OrderContext(self.shows.state, lesson=bool(self.shows.stage_place))

    def tick(self, now: float) -> None:
        """Nothing moves by itself."""

    def view(self, now: float) -> View:
        return self.shows

    def listen(self) -> None:
        """There is no pedal."""

    def obey(self, order: Order, *amounts: Fraction | int) -> None:
        self.obeyed.append(order)
        self.told += amounts

    def close(self) -> None:
        self.closed = True


def telling_of(
    said: tuple[str, ...],
    line: int,
    stands: tuple[Facing | None, Foot | None],
    stage: str,
    state: State = State.TELLING,
) -> View:
    """One of several sentences being told, or paused in, to those who stand so."""
    then = said[line + 1] if line + 1 < len(said) else ""
    told = replace(VIEW, state=state, glance=None, stage=stage, telling=said[line], told_next=then)
    return replace(told, lines=said, line=line, facing=stands[0], free=stands[1], lesson=True)
