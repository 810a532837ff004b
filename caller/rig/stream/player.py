"""The player: a deck, played on a sink block by block, and what it tells the board.

Conventions: stream frames; seconds of ``time.perf_counter``. Runs in a process of its own, because beside a busy
interpreter even a C-driven Python callback misses its blocks; nothing here knows of processes or devices, so tests
play it by hand. While there is no sink the stream goes on by the clock, and when one comes back it is joined where the
clock has got to.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import replace
from typing import Any, Protocol

from caller.rig.stream.board import SharedBoard
from caller.rig.stream.deck import Deck
from caller.rig.stream.wire import HushOrder, PlayerOrder
from caller.sound.score import Samples

BLOCK = 480
RETRY_SECONDS = 1.0
OPEN_LIMIT_SECONDS = 5.0
WRITE_LIMIT_SECONDS = 0.5


class SoundLost(Exception):
    """No sound, for a reason that can be said in one sentence."""


class Sink(Protocol):
    """Where blocks go. device: its name. latency_frames: from a write to the ear with a full queue; lead_frames: the
    same with an empty one."""

    device: str
    latency_frames: int
    lead_frames: int

    def wait_for_room(self, frames: int, look: Callable[[], bool]) -> None:
        """Back once so many frames can be written without waiting, or ``look()`` is true, which is asked about each
        millisecond. Raises SoundLost."""
        ...

    def write(self, block: Samples) -> bool:
        """Hand over a block, waiting for room. True: the sink had run dry before it. Raises SoundLost."""
        ...

    def queued(self) -> int:
        """Frames written and not yet heard."""
        ...

    def drop(self) -> None:
        """Falls silent at once: what is queued is not heard any more, but for ``lead_frames``. Raises SoundLost."""
        ...

    def close(self) -> None:
        """Close at once, whatever is queued; never raises."""
        ...


class Inbox:
    """Orders that have arrived. ended: nobody will send any more (set by whoever fills it)."""

    def __init__(self) -> None:
        self.waiting: deque[PlayerOrder] = deque()
        self.ended = False


class ParentWatch(Protocol):
    """Ends the process when what is expected doesn't happen: a device call that hangs can't be called back."""

    def expect(self, within_seconds: float) -> None: ...

    def rest(self) -> None: ...


class Player:
    """now: seconds. The board's last reading is where it goes on from (a player before this one may have ended)."""

    def __init__(
        self, rate: int, board: SharedBoard, inbox: Inbox, watch: ParentWatch, now: Callable[[], float]
    ) -> None:
        self._rate = rate
        self._board = board
        self._inbox = inbox
        self._watch = watch
        self._now = now
        self._told = board.read()
        self._late_before = self._told.late
        # A hush is seen on the board before it comes as an order, and before what was ordered before it: until it has
        # come, no score is taken. (One asked for before this player began is not seen, but sent to it.)
        self._seen = board.hush_asked()
        self._hushed = self._ahead_of = 0
        self._sink: Sink | None = None
        self._filled = 0  # a device that has dropped all is filled at one go: so far is as good as written
        # From 0: orders told again after a restart are then never late, and the deck skips ahead once a sink is open.
        self._deck = Deck()

    def run(self, open_sink: Callable[[], Sink], wait: Callable[[float], None]) -> None:
        """Play until the inbox has ended. ``wait(seconds)`` is called between tries to open a sink."""
        while not self._inbox.ended:
            sink: Sink | None = None
            self._watch.expect(OPEN_LIMIT_SECONDS)
            try:
                sink = open_sink()
                self.play(sink)
            except SoundLost as reason:
                self._sink = None
                self._watch.expect(OPEN_LIMIT_SECONDS)
                if sink is not None:
                    sink.close()
                self._watch.rest()
                self.tell_fault(str(reason))
                wait(RETRY_SECONDS)

    def play(self, sink: Sink) -> None:
        """Play on ``sink`` until the inbox has ended."""
        self.take_orders()  # before skipping: what was asked for earlier is not late, there was nothing to be late for
        self._sink = sink
        if self._told.begun:
            self._deck.skip_to(max(self._told.written, self._by_clock() + sink.lead_frames))
        while not self._inbox.ended:
            # Orders are taken once there is room, not before: a block that is made waits for the device and can't be
            # called back.
            self._watch.expect(WRITE_LIMIT_SECONDS)
            sink.wait_for_room(BLOCK, self._hush_waits)
            self.take_orders()
            self._write(sink)
        self._sink = None  # what is queued is to be heard to its end
        self._deck.hush()
        ends = self._deck.written + BLOCK + sink.latency_frames
        while self._deck.written < ends:  # until the fade has been heard: a device drops what is queued when it closes
            self._write(sink)
        self._watch.expect(OPEN_LIMIT_SECONDS)
        sink.close()
        self._watch.rest()

    def take_orders(self) -> None:
        """Obey all that has arrived; call between blocks."""
        if (asked := self._board.hush_asked()) > self._seen:
            self._seen = self._ahead_of = asked
            self._hush(asked)
        while self._inbox.waiting:
            self._take(self._inbox.waiting.popleft())
        self._deck.prune()

    def _take(self, order: PlayerOrder) -> None:
        if isinstance(order, HushOrder):
            if order.number > self._hushed:
                self._hush(order.number)
            if order.number >= self._ahead_of:
                self._ahead_of = 0
        elif not self._ahead_of:
            self._deck.splice(order.score, order.score_frame, order.at)

    def tell_fault(self, sentence: str) -> None:
        """No sound from here on: the stream goes on by the clock. The first time, frame 0 is now."""
        if not self._told.begun:
            self._told = replace(self._told, begun=True, at_seconds=self._now())
        self.take_orders()
        self._tell(fault=sentence)

    def _hush_waits(self) -> bool:
        return self._board.hush_asked() > self._seen

    def _hush(self, number: int) -> None:
        self._hushed = number
        if self._told.fault and self._told.begun:
            self._deck.skip_to(self._by_clock())
        if self._sink is not None and self._told.begun and not self._told.fault:
            # What the device holds is not waited for. The stream goes back to where it is cut off, so that whoever is
            # muted dances on in time.
            cut = self._by_clock() + self._sink.lead_frames
            self._watch.expect(OPEN_LIMIT_SECONDS)
            self._sink.drop()
            self._deck.cut(cut)
            self._filled = self._deck.written + self._sink.latency_frames
        else:
            self._deck.hush()
        self._tell(hush=number, hushed_at=self._deck.hushed_at, written=max(self._deck.written, self._filled))

    def _write(self, sink: Sink) -> None:
        block = self._deck.block(BLOCK)
        self._watch.expect(WRITE_LIMIT_SECONDS)
        dry = sink.write(block)
        self._tell(
            written=max(self._deck.written, self._filled),
            heard=max(0, self._deck.written - min(sink.queued(), self._rate)),
            at_seconds=self._now(),
            underruns=self._told.underruns + dry,
            late=self._late_before + self._deck.late,
            begun=True,
            device=sink.device,
            fault="",
        )

    def _by_clock(self) -> int:
        return self._told.heard_by(self._now(), self._rate)

    def _tell(self, **news: Any) -> None:
        self._told = replace(self._told, **news)
        self._board.write(self._told)
