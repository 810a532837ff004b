"""How loud: the count track, the calls and the music, each by steps, and all of it muted.

Conventions: levels in dB over what a score has by itself (0 = as it is). STEP_DB is a change that is heard as one and
not as a jump (from memory: half as loud again is some 6 dB).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from caller.transport.order import Order

STEP_DB = 2.0
SOFTEST_DB, LOUDEST_DB = -20.0, 6.0


@dataclass(frozen=True, slots=True)
class Levels:
    """count_db: of the count track. call_db: of all that is spoken. music_db: of the music. muted: none is heard."""

    count_db: float = 0.0
    call_db: float = 0.0
    muted: bool = False
    music_db: float = 0.0

    def after(self, order: Order) -> Levels:
        """The levels that an order leaves; the same for an order that is none of their business. To be asked to be
        louder ends muting."""
        match order:
            case Order.MUTE:
                return replace(self, muted=not self.muted)
            case Order.COUNT_LOUDER:
                return replace(self, count_db=_within(self.count_db + STEP_DB), muted=False)
            case Order.COUNT_SOFTER:
                return replace(self, count_db=_within(self.count_db - STEP_DB))
            case Order.CALLS_LOUDER:
                return replace(self, call_db=_within(self.call_db + STEP_DB), muted=False)
            case Order.CALLS_SOFTER:
                return replace(self, call_db=_within(self.call_db - STEP_DB))
            case Order.MUSIC_LOUDER:
                return replace(self, music_db=_within(self.music_db + STEP_DB), muted=False)
            case Order.MUSIC_SOFTER:
                return replace(self, music_db=_within(self.music_db - STEP_DB))
            case _:
                return self

    def gain(self, kind: str) -> float:
        """The factor for placements of a kind: "count", "music" or "call"."""
        return float(10 ** ({"call": self.call_db, "music": self.music_db}.get(kind, self.count_db) / 20))


def _within(db: float) -> float:
    return min(max(db, SOFTEST_DB), LOUDEST_DB)
