"""A pedal that may come and go: watched, opened, listened to.

Conventions: seconds are ``time.perf_counter``'s. Everything is called from the session's thread and nothing waits for
the pedal (opening a port takes a few milliseconds, once each time it is plugged in). A press is timed when it comes,
not when it is looked at.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from caller.rig.pedal.port import NONE_FOUND, Message, MidiMissing, MidoPorts, Port, Ports
from caller.transport.expression import USUAL_LIMITS, Limits
from caller.transport.unit import Footwork, Unit, UnitState

# No system tells when a port goes: names are asked for this often. It costs under half a millisecond, and a pedal
# pulled out and put back is missed only within that time.
LOOK_SECONDS = 0.5
OFF = "off, as asked"
# Of several ports, the first with one of these in its name; else the first.
PEDAL_WORDS = ("pedal", "foot", "sustain")


class MidiPedal:
    """One pedal, or a unit of several, by name or the best there is.

    says: one short sentence on how it is now; begins with "none" where it should be there and is not. name: the stable
    name of the port that is open, else "". arrived: what the last poll heard. make: how to get at the ports, None for
    no pedal at all. settings: what was learnt of each pedal, by name. limits: of an expression pedal.
    """

    def __init__(
        self,
        make: Callable[[], Ports] | None,
        wish: str = "",
        settings: Mapping[str, Unit] | None = None,
        limits: Limits = USUAL_LIMITS,
    ) -> None:
        self.says = OFF if make is None else NONE_FOUND
        self.name = ""
        self._make = make
        self._ports: Ports | None = None
        self._wish = wish
        self.arrived: tuple[Message, ...] = ()
        self._settings = dict(settings or {})
        self._limits = limits
        self._standing = UnitState.on(Unit(), self._limits)
        self._port: Port | None = None
        self._looked = float("-inf")
        self._lost_name = ""
        self._beside: frozenset[str] = frozenset()  # ports that were there beside the one that was lost

    @property
    def gone_for_good(self) -> bool:
        """There will be none while the program runs."""
        return self._make is None

    def poll(self, now: float) -> Footwork:
        """What was done with it since the last poll, in order. Looks for the pedal where it is time to."""
        self.arrived = self._pending(now)
        made: Footwork = ()
        for message, came in self.arrived:
            self._standing, more = self._standing.heard(message, came)
            made += more
        made += self._look(now)
        self._standing, more = self._standing.later(now)
        return made + more

    def messages(self, now: float) -> tuple[Message, ...]:
        """In place of :meth:`poll`, where the pedal is being learnt: what it sent, each with its time."""
        self._look(now)
        return self._pending(now)

    def learn(self, unit: Unit) -> None:
        """From now on listens to the open pedal as this unit."""
        self._settings[self.name] = unit
        self._standing = UnitState.on(unit, self._limits)

    @property
    def down(self) -> bool:
        """Whether a foot is on one of its switches, as far as polled."""
        return self._standing.down

    def close(self) -> None:
        """Lets go of the port; may be called twice."""
        self._let_go()
        ports, self._ports, self._make = self._ports, None, None
        if ports is not None:
            ports.close()

    def _pending(self, now: float) -> tuple[Message, ...]:
        return () if self._port is None else self._port.pending(now)

    def _look(self, now: float) -> Footwork:
        if self._make is None or now - self._looked < LOOK_SECONDS:
            return ()
        self._looked = now
        try:
            self._ports = self._ports or self._make()
        except MidiMissing as missing:
            self.says = str(missing)
            self._make = None if missing.for_good else self._make
            return ()
        return self._follow(self._ports, self._ports.names())

    def _follow(self, ports: Ports, names: Sequence[str]) -> Footwork:
        """Keeps to the port that is open; without one, opens the one that is wanted."""
        if self.name in names:
            self._beside = frozenset(names) - {self.name}
            return ()
        made = self._lost() if self.name else ()
        name = self._wanted(names)
        if name:
            self._open(ports, name)
        elif not self._lost_name:
            self.says = _none(self._wish, names)
        return made

    def _wanted(self, names: Sequence[str]) -> str:
        """The port to open, or "". After a loss: the same again, or one plugged in since."""
        if self._lost_name in names:
            return self._lost_name
        return chosen([name for name in names if not (self._lost_name and name in self._beside)], self._wish)

    def _open(self, ports: Ports, name: str) -> None:
        try:
            self._port = ports.open(name)
        except OSError as fault:
            self.says = f"none: {fault}"
            return
        if name != self._lost_name:
            self._standing = UnitState.on(self._settings.get(name, Unit()), self._limits)
        self.name, self._lost_name, self.says = name, "", f"on {name}"

    def _lost(self) -> Footwork:
        """Unplugged: what was held is let go, and it is looked for from now on."""
        self.says = f"none: {self.name} is gone; plug it in again, or use Space or Page Down"
        self._lost_name = self.name
        self._let_go()
        self._standing, made = self._standing.lifted()
        return made

    def _let_go(self) -> None:
        port, self._port, self.name = self._port, None, ""
        if port is not None:
            port.close()


def chosen(names: Sequence[str], wish: str) -> str:
    """The port that is meant, or "". wish: "" = any; else a name, or a part of one, in any case."""
    asked = wish.casefold()
    fits = [name for name in names if asked in name.casefold()]
    words = (asked,) if asked else PEDAL_WORDS

    def rank(name: str) -> tuple[bool, bool]:
        return name.casefold() != asked, not any(word in name.casefold() for word in words)

    return min(fits, key=rank, default="")


def _none(wish: str, names: Sequence[str]) -> str:
    if not wish:
        return NONE_FOUND
    there = f"there is {', '.join(names)}" if names else "plug it in, or use Space or Page Down"
    return f"none called {wish!r} is found; {there}"


def open_pedal(
    wish: str = "",
    make: Callable[[], Ports] = MidoPorts,
    settings: Mapping[str, Unit] | None = None,
    limits: Limits = USUAL_LIMITS,
) -> MidiPedal:
    """The pedal for ``wish``: "none", "" (the best there is), or a part of a port's name. Never raises; the first
    ``poll`` looks for it."""
    return MidiPedal(None if wish == "none" else make, wish, settings, limits)
