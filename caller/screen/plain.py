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
from fractions import Fraction
from typing import TYPE_CHECKING, TextIO

from caller.screen.captions import unshown
from caller.screen.plain_text import plain_text
from caller.screen.typing import obey_typed
from caller.screen.watch import Watch
from caller.screen.words import in_words, nearest, new_notices, section_words, tempo_words, typed_word, wall_words
from caller.transport.footing import Footing
from caller.transport.order import ORDERS, Order, OrderEntry
from caller.transport.state import GoOn, State
from caller.transport.table import Context, respond

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.calls.glance import Coming, Glance
    from caller.screen.board import Board
    from caller.session import Live, View

# How far ahead something is told, and told again, in counts.
WARNINGS = (16, 8, 4)
LOOK_SECONDS = 0.05
LISTENS_A_LOOK = 5  # a foot is heeded sooner than what it does has to be told
# Of what is typed: characters of a line, and lines that wait.
LONGEST_ORDER, MOST_WAITING = 400, 20

_TOLD_STATES = {
    State.GETTING_READY: "Getting ready: the calls are being prepared.",
    State.READY: "Ready.",
    State.TELLING: "",  # the stage and the words are told
    State.COUNT_IN: "Counting in.",
    State.RUNNING: "Dancing.",
    State.FINISHING: "Dancing on to the end of the eight, then pausing.",
    State.PAUSED: 'Paused. Type "{go}", or press the pedal, to go on{where}.',
    State.WAITING: 'Done. Type "{go}", or press the pedal, to go on.',
    State.FINISHED: "Finished.",
}
_FROM = {
    GoOn.BAR: " from this bar",
    GoOn.SECTION: " from the start of this section",
    GoOn.WALL: " from the start of this wall",
}
_NOT_BEGUN = (State.GETTING_READY, State.READY)
_DANCED = frozenset({State.COUNT_IN, State.RUNNING, State.FINISHING})


def lines_between(before: View | None, now: View) -> list[str]:
    """What there is to tell, given what had been told: in the order state, what can't be called, tempo, wall, section,
    warnings, call, what is said besides, sound and the like, notices. before: None at first."""
    if now == before:
        return []
    return [
        *_state(before, now),
        *_tempo(before, now),
        *_danced(before, now),
        *_spoken(before, now),
        *_parts(before, now),
        *_notices(before, now),
    ]


def _state(before: View | None, now: View) -> Iterator[str]:
    if before is None:
        yield f"{plain_text(now.title)}."
    yield from _item(before, now)
    yield from _stage(before, now)
    told = _TOLD_STATES[now.state]
    if told and (before is None or before.state is not now.state):
        yield told.format(go=typed_word(Order.GO), where=_FROM[now.go_on])
    if now.state is State.READY:
        known = before.cannot if before and before.state is State.READY else ()
        yield from (f"Can't be called in time: {plain_text(one)}" for one in now.cannot if one not in known)


def _item(before: View | None, now: View) -> Iterator[str]:
    """Of an evening: the plan while it shows, which item is under way, and how late it is."""
    if now.plan and (before is None or before.state is not now.state):
        yield from map(plain_text, now.plan)
    if now.item and (before is None or (before.item, before.title) != (now.item, now.title)):
        yield f"{now.item.capitalize()}: {plain_text(now.title)}."


def _stage(before: View | None, now: View) -> Iterator[str]:
    """Of a programme: which stage has begun."""
    begun = now.state not in _NOT_BEGUN
    known = (before.stage_place, before.stage) if before and before.state not in _NOT_BEGUN else ("", "")
    if now.stage and begun and known != (now.stage_place, now.stage):
        yield f"Stage {now.stage_place}: {plain_text(now.stage)}." if now.stage_place else f"{plain_text(now.stage)}."


def _tempo(before: View | None, now: View) -> Iterator[str]:
    if before is None or (before.tempo, before.speed) != (now.tempo, now.speed):
        yield f"Tempo: {tempo_words(now)}."


def _danced(before: View | None, now: View) -> Iterator[str]:
    """Walls, sections, warnings and calls, while there is dancing. After a pause all are told anew."""
    if now.glance is None or now.state not in _DANCED:
        return
    going_on = before is not None and before.state in _DANCED
    was = before.glance if before is not None and going_on else None
    glance = now.glance
    if was is None or was.wall != glance.wall:
        yield f"{wall_words(glance)}, starting at {glance.wall_starts}."
    section = section_words(glance)
    if section and (was is None or was.wall != glance.wall or section_words(was) != section):
        yield f"{section}."
    yield from _warnings(was, glance)
    if glance.now and not glance.counting_in and _phrase_began(was, glance):
        yield f"  {glance.count}: {plain_text(glance.now)}"


def _phrase_began(was: Glance | None, glance: Glance) -> bool:
    def place(one: Glance) -> tuple[object, ...]:
        return one.wall, one.part, one.section, one.section_name, one.now, one.next

    return was is None or was.counting_in or place(was) != place(glance)


def _warnings(was: Glance | None, glance: Glance) -> Iterator[str]:
    told = {(c.kind, c.words): _warned(c) for c in was.coming} if was else {}
    for coming in glance.coming:
        due = _warned(coming)
        if coming.kind != "wall" and due is not None and told.get((coming.kind, coming.words)) != due:
            words = plain_text(coming.words) or coming.kind
            yield f"{in_words(Fraction(coming.in_counts)).capitalize()}: {words}."


def _warned(coming: Coming) -> int | None:
    """The nearest warning that is due by now, None while it is too far ahead for any."""
    return min((at for at in WARNINGS if coming.in_counts <= at), default=None)


def _spoken(before: View | None, now: View) -> Iterator[str]:
    """What is said beyond the calls, which are told as they are danced."""
    if now.state is State.TELLING and now.telling and (before is None or before.telling != now.telling):
        yield f'Said: "{plain_text(now.telling)}"'
    if now.glance is None or now.state not in _DANCED:
        return
    words = unshown(now.glance, nearest(now.glance.coming, max(WARNINGS)))
    if words and (before is None or before.glance is None or before.glance.saying != now.glance.saying):
        yield f'Said: "{words}".'


def _parts(before: View | None, now: View) -> Iterator[str]:
    for name in ("sound", "voice", "pedal"):
        says = getattr(now, name)
        counting = name == "voice" and before is not None and _counting(before.voice) and _counting(says)
        if not counting and (before is None or getattr(before, name) != says):
            yield f"{name.capitalize()}: {plain_text(says)}".rstrip(".") + "."


def _counting(voice: str) -> bool:
    """Whether it is still being made ready; that is told once, however long the evening's words take."""
    return voice.startswith("getting ready")


def _notices(before: View | None, now: View) -> Iterator[str]:
    """What is new and no part has said on a line of its own."""
    said = (now.sound, now.voice, f"Pedal: {now.pedal}.")
    fresh = new_notices(before.notices if before else (), now.notices)
    yield from (f"Note: {plain_text(notice)}" for notice in fresh if notice not in said)


def typed_help(footing: Footing, context: Context) -> list[str]:
    """Every order that can be typed, with what it does where the class stands, and what gives it on the pedal."""
    here = ((entry, respond(context, entry.order)) for entry in ORDERS)
    return [_typed_line(entry, does.tells, footing.words(entry.order)) for entry, does in here if not does.elsewhere]


def _typed_line(entry: OrderEntry, tells: str, gestures: str) -> str:
    typed = " or ".join(filter(None, (*entry.typed, entry.example)))
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
    started = False
    try:
        while True:
            leaving = _obey(session, out, taken())
            now = _looked(session)
            _tell(out, *lines_between(told, now))
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


def _looked(session: Live) -> View:
    now = session.desk.now()
    session.tick(now)
    return session.view(now)


def _wait_for_look(session: Live, pause: Callable[[float], object]) -> None:
    for _ in range(LISTENS_A_LOOK):
        pause(LOOK_SECONDS / LISTENS_A_LOOK)
        session.listen()


def _obey(session: Live, out: TextIO, lines: Iterable[str]) -> bool:
    """Obey the lines typed. Returns whether one of them ends the class."""
    for line in lines:
        order, answer = obey_typed(session, line)
        if order is Order.HELP:
            _tell(out, *typed_help(session.footing, session.context))
        elif answer:
            _tell(out, answer)
        if order is Order.QUIT:
            return True
    return False
