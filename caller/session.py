"""A class, running: the one owner of state. Orders in; scores and facts out."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from caller.calls.glance import Glance
from caller.transport.order import Order
from caller.transport.state import State


@dataclass(frozen=True, slots=True)
class View:
    """All that a screen may show at one moment; made anew for each look.

    title: the routine's, plain text. glance: None until there is something to dance. tempo: full tempo asked for, in
    counts a minute; speed: 1 or 1/2 ("half speed"). sound, pedal, voice: one short phrase each on how they are
    ("on pulse", "none: plug one in ..."). notices: sentences said once, oldest first. cannot: what can't be called at this
    tempo, said before the class hears it.
    """

    state: State
    title: str
    glance: Glance | None
    tempo: Fraction
    speed: Fraction
    sound: str
    pedal: str
    voice: str
    notices: tuple[str, ...]
    cannot: tuple[str, ...]


class Session:
    """The screen's side of it: look, and give orders. Call from one thread only; neither waits."""

    def look(self) -> View:
        raise NotImplementedError

    def obey(self, order: Order) -> None:
        raise NotImplementedError
