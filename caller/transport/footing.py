"""Which gesture of which pedal orders what: a table, and views of it.

Conventions: a gesture that stands in no row orders nothing; but a double tap that orders nothing is a second tap, and a
tap and hold that orders nothing a hold, since that is what they are told in place of; and whatever slows down while it
is held is up to speed again at its release.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from caller.transport.expression import Lean
from caller.transport.foot import Gesture
from caller.transport.leaving import LEAVING
from caller.transport.order import ORDERS, Order
from caller.transport.unit import Stroke, Which

# Help and leaving are the screen's own, no foot shall leave the class by a slip, and a gesture carries no amounts.
PEDAL_ORDERS = tuple(entry.order for entry in ORDERS if entry.order not in (Order.HELP, *LEAVING) and not entry.form)

_HOLDS = {
    Gesture.RELEASE: (Gesture.HOLD,),
    Gesture.LONG_RELEASE: (Gesture.HOLD, Gesture.LONG_HOLD, Gesture.TAP_AND_HOLD),
    Gesture.TAP_AND_RELEASE: (Gesture.TAP_AND_HOLD,),
}
_INSTEAD = {Gesture.DOUBLE_TAP: Gesture.TAP, Gesture.TAP_AND_HOLD: Gesture.HOLD}

Rows = Mapping[Gesture, Order]
Changes = Mapping[Gesture, Order | None]  # None: it orders nothing any more


@dataclass(frozen=True)
class Footing:
    """What each gesture orders on the first pedal of a unit and on the second."""

    first: Rows
    second: Rows

    def orders(self, done: Stroke | Lean) -> tuple[Order, ...]:
        """What is ordered, in turn."""
        if isinstance(done, Lean):
            return ()
        rows, gesture = self._rows(done.pedal), done.gesture
        if gesture not in rows:
            gesture = _INSTEAD.get(gesture, gesture)
        if gesture is Gesture.TAP_AND_RELEASE and Gesture.TAP_AND_HOLD not in rows:
            gesture = Gesture.RELEASE
        slowed = any(rows.get(hold) is Order.SLOW_ON for hold in _HOLDS.get(gesture, ()))
        found = [Order.SLOW_OFF] if slowed else []
        return tuple(dict.fromkeys([*found, rows[gesture]] if gesture in rows else found))

    def strokes(self, order: Order) -> tuple[Stroke, ...]:
        """All that give an order."""
        return tuple(stroke for stroke, orders in self._given if order in orders)

    @cached_property
    def _given(self) -> tuple[tuple[Stroke, tuple[Order, ...]], ...]:
        """Every stroke, and what it orders."""
        every = (Stroke(gesture, pedal) for pedal in Which for gesture in Gesture)
        return tuple((stroke, self.orders(stroke)) for stroke in every)

    def words(self, order: Order) -> str:
        """ "tap", "double tap; second: tap": all that give an order, "" where nothing does. A release is told once,
        however long the hold before it, and a double tap not where any second tap does."""
        told = []
        for pedal in Which:
            made = [stroke.gesture for stroke in self.strokes(order) if stroke.pedal is pedal]
            words = ", ".join(gesture.value for gesture in made if _PLAINER.get(gesture) not in made)
            told.append(f"{pedal.value}: {words}" if words and pedal is Which.SECOND else words)
        return "; ".join(words for words in told if words)

    def changed(self, first: Changes, second: Changes) -> Footing:
        """With what a teacher has set in place of these."""
        return Footing(_changed(self.first, first), _changed(self.second, second))

    def _rows(self, pedal: Which) -> Rows:
        return self.first if pedal is Which.FIRST else self.second


_PLAINER = {
    Gesture.LONG_RELEASE: Gesture.RELEASE,
    Gesture.TAP_AND_RELEASE: Gesture.RELEASE,
    Gesture.DOUBLE_TAP: Gesture.TAP,
    Gesture.TAP_AND_HOLD: Gesture.HOLD,
}


def _changed(rows: Rows, changes: Changes) -> Rows:
    after = {**rows, **changes}
    return {gesture: order for gesture in Gesture if (order := after.get(gesture)) is not None}


# The second pedal goes about the dance. What lasts is on its long hold, which nobody gives by a slip; going on is on
# the release of a short one, so that a long one doesn't give it on the way.
_ABOUT = {
    Gesture.TAP: Order.SECTION_AGAIN,
    Gesture.DOUBLE_TAP: Order.PREVIOUS,
    Gesture.RELEASE: Order.NEXT,
    Gesture.LONG_HOLD: Order.HALF,
}

FOR_A_DANCE = Footing(
    {
        Gesture.TAP: Order.GO,
        Gesture.DOUBLE_TAP: Order.SECTION_AGAIN,
        Gesture.HOLD: Order.SLOW_ON,
        Gesture.RELEASE: Order.SLOW_OFF,
        Gesture.LONG_RELEASE: Order.SLOW_OFF,
    },
    _ABOUT,
)

# In a taught programme a hold slows down, in steps; a long one lets each stage wait; a tap and hold is the next.
FOR_A_LESSON = Footing(
    {
        Gesture.TAP: Order.GO,
        Gesture.DOUBLE_TAP: Order.SECTION_AGAIN,
        Gesture.RELEASE: Order.SLOWER,
        Gesture.LONG_HOLD: Order.WAIT,
        Gesture.TAP_AND_HOLD: Order.NEXT,
    },
    _ABOUT,
)

# In a drill that gets quicker on a tap, a short hold starts, stops and goes on.
FOR_A_TAPPED_DRILL = Footing(
    {
        Gesture.TAP: Order.FASTER,
        Gesture.RELEASE: Order.GO,
        Gesture.LONG_HOLD: Order.SLOWER,
    },
    _ABOUT,
)
