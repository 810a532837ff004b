"""A pedal that may come and go: watched, opened, listened to.

Conventions: seconds are ``time.perf_counter``'s. Everything is called from the session's thread and nothing waits; only
the MIDI library's own thread appends to the inbox.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable

from caller.rig.pedal.port import MISSING, NONE_FOUND, Message, MidiMissing, Ports, RtPorts
from caller.transport.foot import Foot, Gesture, Setting, lifted, on_message, on_time

LOOK_SECONDS = 1.5  # no system tells when a port goes: names are asked for this often
OFF = "off, as asked"
MOST_WAITING = 4096  # a flood of messages costs the oldest of them, never memory


class Pedal:
    """One pedal, by name or the first there is. says: one short sentence on how it is now.

    wish: "" = the first port found; else a part of its name, in any case.
    """

    def __init__(
        self, ports: Ports | None, wish: str = "", says: str = NONE_FOUND, setting: Setting | None = None
    ) -> None:
        self.says = says
        self._ports = ports
        self._wish = wish.lower()
        self._foot = Foot(setting or Setting())
        self._inbox: deque[Message] = deque(maxlen=MOST_WAITING)
        self._name = ""
        self._stop: Callable[[], None] | None = None
        self._looked = float("-inf")

    def poll(self, now: float) -> tuple[Gesture, ...]:
        """The gestures since the last poll, in order. Looks for the pedal where it is time to."""
        made: list[Gesture] = []
        if self._ports is not None and now - self._looked >= LOOK_SECONDS:
            self._looked = now
            made += self._look(self._ports, now)
        while self._inbox:
            message, came = self._inbox.popleft()
            self._foot, gestures = on_time(self._foot, came)
            made += gestures
            self._foot, gestures = on_message(self._foot, message, came)
            made += gestures
        self._foot, gestures = on_time(self._foot, now)
        return (*made, *gestures)

    def close(self) -> None:
        """Lets go of the port; may be called twice."""
        self._let_go()
        if self._ports is not None:
            self._ports.close()
            self._ports = None

    def _look(self, ports: Ports, now: float) -> tuple[Gesture, ...]:
        names = ports.names()
        if self._name:
            return () if self._name in names else self._lost(now)
        name = next((n for n in names if self._wish in n.lower()), None)
        if name is None:
            self.says = (
                f"none called {self._wish!r} is found; plug it in, or use Space or Page Down"
                if self._wish
                else NONE_FOUND
            )
            return ()
        try:
            self._stop = ports.open(name, self._inbox)
        except OSError as fault:
            self.says = f"none: {fault}"
            return ()
        self._name, self.says = name, f"on {name}"
        return ()

    def _lost(self, now: float) -> tuple[Gesture, ...]:
        """Unplugged: what was held is let go, and it is looked for from now on."""
        self.says = f"none: {self._name} is gone; plug it in again, or use Space or Page Down"
        self._let_go()
        self._inbox.clear()
        self._foot, gestures = lifted(self._foot, now)
        return gestures

    def _let_go(self) -> None:
        stop, self._stop, self._name = self._stop, None, ""
        if stop is not None:
            stop()


def _none(wish: str) -> str:
    return f"none called {wish!r} is found; plug it in, or use Space or Page Down" if wish else NONE_FOUND


def open_pedal(wish: str = "", make: Callable[[], Ports] = RtPorts, setting: Setting | None = None) -> Pedal:
    """The pedal for ``wish``: "none", "" (the first there is), or a part of a port's name. Never raises."""
    if wish == "none":
        return Pedal(None, says=OFF)
    try:
        return Pedal(make(), wish, setting=setting)
    except MidiMissing as missing:
        return Pedal(None, says=str(missing) or MISSING)
