"""The class as plain lines, for screen readers and logs: one line an event, nothing redrawn.

Conventions: what is said between two views is a pure function of both; the loop only looks, writes and waits. Orders
are typed in the words of the order table, one a line.
"""

from __future__ import annotations

import queue
import threading
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, TextIO

from caller.screen.plain_lines import lines_between, place_lines, stands_lines
from caller.screen.typing import WHERE, asks_where, obey_typed
from caller.screen.watch import Watch
from caller.transport.context import OrderContext
from caller.transport.footing import Footing
from caller.transport.order import ORDERS, Order, OrderEntry
from caller.transport.respond import respond
from caller.transport.state import State

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.dance.walls import Dance
    from caller.screen.board import Board
    from caller.screen.course import Course
    from caller.session import Live, View


LOOK_SECONDS = 0.05
LISTENS_A_LOOK = 5  # a foot is heeded sooner than what it does has to be told
# Of what is typed: characters of a line, and lines that wait.
LONGEST_ORDER, MOST_WAITING = 400, 20
WHERE_TELLS = "Tells all of where the class is, what comes next and how it is set."


def typed_help(footing: Footing, context: OrderContext) -> list[str]:
    """Every order that can be typed, with what it does where the class stands, and what gives it on the pedal."""
    here = ((entry, respond(context, entry.order)) for entry in ORDERS)
    lines = (_typed_line(entry, does.tells, footing.words(entry.order)) for entry, does in here if not does.elsewhere)
    return [line for line in lines if line]


def _typed_line(entry: OrderEntry, tells: str, gestures: str) -> str:
    typed = " or ".join(filter(None, (*entry.typed, entry.example)))
    if not typed:
        return f"On the pedal, {gestures}: {tells}" if gestures else ""
    return f"{typed}: {tells}" + (f" On the pedal: {gestures}." if gestures else "")


def lines_typed(stream: Iterable[str]) -> Callable[[], list[str]]:
    """The lines typed since last asked. Reads on a thread of its own, which ends with the stream or the program, and no
    further ahead than some lines: whatever is piped in without end takes neither memory nor the class's time."""
    lines: queue.Queue[str] = queue.Queue(MOST_WAITING)
    threading.Thread(target=_read_into, args=(stream, lines), name="typed orders", daemon=True).start()

    def taken() -> list[str]:
        return [lines.get_nowait() for _ in range(lines.qsize())]

    return taken


def _read_into(stream: Iterable[str], lines: queue.Queue[str]) -> None:
    with suppress(OSError):  # its terminal is gone: nothing more will be typed
        for line in stream:
            lines.put(line)


def short_lines(stream: TextIO) -> Iterator[str]:
    """The lines of a stream; of one that is too long for any order, its beginning."""
    begins = True
    while part := stream.readline(LONGEST_ORDER):
        if begins:
            yield part
        begins = part.endswith("\n")


def run_plain(
    session: Live,
    out: TextIO,
    orders_in: TextIO | None = None,
    pause: Callable[[float], object] = time.sleep,
    typed: Callable[[Iterable[str]], Callable[[], list[str]]] = lines_typed,
    shown: Sequence[Callable[[Board], None]] = (),
    clock: Callable[[], float] = time.monotonic,
) -> None:
    """Start the class once it is ready, and write what happens to ``out`` until it has finished, or is left, or nobody
    reads on.

    orders_in: where orders are typed, one a line; None = nowhere. pause: waits so many seconds. typed: makes of a
    stream what tells the lines typed since last asked; it must not wait. shown: each is given the board of every look
    that changes it, as a second screen needs; clock: seconds that don't run back, for that.
    """
    watch = Watch(session, clock) if shown else None
    board: Board | None = None
    taken = typed(short_lines(orders_in)) if orders_in is not None else list
    told: View | None = None
    courses = _Courses()
    started = False
    try:
        while True:
            leaving = _obey(session, out, taken(), courses)
            now = _looked(session)
            _tell(out, *lines_between(told, now, courses.of(session.dance) if now.both else None))
            if now.state is State.PAUSED and (told is None or told.state is not State.PAUSED):
                _tell(out, *stands_lines(now, courses.of(session.dance)))
            told = now
            if watch is not None:
                before, board = board, watch.board(now)
                for show in shown if board != before else ():
                    show(board)
            if leaving or now.state is State.FINISHED:
                return
            if now.state is State.READY and not started:
                session.obey(Order.GO)
                started = True
            else:
                _wait_for_look(session, pause)
    except BrokenPipeError:
        session.obey(Order.QUIT)


def _tell(out: TextIO, *lines: str) -> None:
    """A full disk under a log is no reason to stop a class. Raises BrokenPipeError where nobody reads on."""
    try:
        for line in lines:
            print(line, file=out, flush=True)
    except BrokenPipeError:
        raise
    except OSError:
        return


class _Courses:
    """The course of what is danced: made when somebody asks, or it is paused, and anew only when something else is."""

    def __init__(self) -> None:
        self._made: Course | None = None

    def of(self, dance: Dance | None) -> Course | None:
        if dance is not None and (self._made is None or self._made.dance is not dance):
            from caller.screen.course import course_of

            self._made = course_of(dance)
        return self._made if dance is not None else None


def _looked(session: Live) -> View:
    now = session.desk.now()
    session.tick(now)
    return session.view(now)


def _wait_for_look(session: Live, pause: Callable[[float], object]) -> None:
    for _ in range(LISTENS_A_LOOK):
        pause(LOOK_SECONDS / LISTENS_A_LOOK)
        session.listen()


def _obey(session: Live, out: TextIO, lines: Iterable[str], courses: _Courses) -> bool:
    """Obey the lines typed. Returns whether one of them ends the class."""
    for line in lines:
        if asks_where(line):
            _tell(out, *place_lines(session.view(session.desk.now()), courses.of(session.dance)))
            continue
        order, answer = obey_typed(session, line)
        if order is Order.HELP:
            _tell(out, f"{WHERE}: {WHERE_TELLS}", *typed_help(session.footing, session.context))
        elif answer:
            _tell(out, answer)
        if order is Order.QUIT:
            return True
    return False
