"""The plain mode: what is told between two views, and a loop that is driven by hand."""

from __future__ import annotations

import errno
import io
import itertools
import queue
import threading
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import TextIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.calls.glance import Coming
from caller.routine.facing import Facing
from caller.screen.board import Board
from caller.screen.course import course_of
from caller.screen.plain import (
    LONGEST_ORDER,
    MOST_WAITING,
    _read_into,
    lines_typed,
    run_plain,
    short_lines,
    typed_help,
)
from caller.screen.plain_lines import lines_between, place_lines, stands_lines
from caller.screen.words import typed_word
from caller.session import View
from caller.transport.context import OrderContext
from caller.transport.foot import Gesture
from caller.transport.footing import FOR_A_DANCE
from caller.transport.leaving import ends_the_class
from caller.transport.order import ORDERS, Order
from caller.transport.respond import respond
from caller.transport.state import GoOn, State
from tests.fakes.room import GLANCE, VIEW, Clock, FakeSession, view_of
from tests.session.classroom import Class, looked

READY = replace(VIEW, state=State.READY, cannot=("walk forward: too long",))
FINISHED = replace(VIEW, state=State.FINISHED)


def test_the_first_view_tells_everything() -> None:
    assert lines_between(None, view_of(coming=(Coming("tag", 8, "tag B, 4 counts"),))) == [
        "Copper Kettle.",
        "Dancing.",
        "Tempo: 104 a minute.",
        "Wall 3 of 8, starting at 12:00.",
        "Section 2: Rock back, quarter pivot.",
        "In 8: tag B, 4 counts.",
        "  3: right shuffle",
        "Sound: on pulse.",
        "Voice: Kitchen, ready.",
        "Pedal: none.",
    ]


def test_what_half_the_hall_dances_is_told_where_it_comes() -> None:
    """Section 4 has an easier way on its first two counts."""
    course = course_of(Class().session.dance)
    views = [view_of(replace(VIEW, both=True), at=Fraction(at), wall=1, section=4) for at in (18, 20, 24, 26)]
    told = [lines_between(before, now, course) for before, now in itertools.pairwise([VIEW, *views])]
    easier = "  Half the hall, section 4, easier on 1 to 2: left forward turning a quarter right, "
    assert [sum(line.startswith(easier) for line in lines) for lines in told] == [0, 1, 0, 0]
    assert lines_between(VIEW, replace(views[1], both=False), course) == lines_between(
        VIEW, replace(views[1], both=False)
    )


def test_nothing_new_is_nothing_told() -> None:
    assert lines_between(VIEW, VIEW) == []
    assert lines_between(VIEW, view_of(count=4, in_bar=3, next_turn_in=Fraction(3, 7), foot=None)) == []


@pytest.mark.parametrize(
    ("now", "told"),
    [
        (READY, ["Ready.", "Can't be called in time: walk forward: too long"]),
        (replace(VIEW, state=State.PAUSED), ['Paused. Type "go", or press the pedal, to go on from this bar.']),
        (
            replace(VIEW, state=State.PAUSED, go_on=GoOn.WALL),
            ['Paused. Type "go", or press the pedal, to go on from the start of this wall.'],
        ),
        (FINISHED, ["Finished."]),
        (replace(VIEW, tempo=Fraction(100)), ["Tempo: 100 a minute."]),
        (replace(VIEW, speed=Fraction(1, 2)), ["Tempo: 52 a minute, half of 104."]),
        (view_of(now="rock, recover", next="coaster step", count=5), ["  5: rock, recover"]),
        (replace(VIEW, sound="none: no device"), ["Sound: none: no device."]),
        (replace(VIEW, notices=("The pedal is gone.",)), ["Note: The pedal is gone."]),
        (replace(VIEW, state=State.FINISHING), ["Dancing on to the end of the eight, then pausing."]),
        (view_of(saying="wall four, nine o'clock", with_step=False), ['Said: "wall four, nine o\'clock".']),
        (view_of(saying=""), []),
    ],
)
def test_each_change_is_one_line(now: View, told: list[str]) -> None:
    assert lines_between(VIEW, now) == told


@pytest.mark.parametrize(
    ("said", "line"),
    [
        ("right shuffle", "  5: right shuffle"),
        ("Right shuffle,", "  5: right shuffle"),
        ("shuffle", '  5: right shuffle (said "shuffle")'),
        ("", "  5: right shuffle (not said)"),
        (None, "  5: right shuffle"),
    ],
)
def test_a_call_tells_how_it_was_said_where_that_is_not_as_it_reads(said: str | None, line: str) -> None:
    before = view_of(now="walk, walk", next="right shuffle", saying="")
    assert lines_between(before, view_of(count=5, said=said, saying="")) == [line]


def test_what_is_said_of_a_step_has_no_line_besides_its_call() -> None:
    assert lines_between(VIEW, view_of(saying="triple to the side", of_step=True)) == []


def test_what_an_order_was_answered_is_told_once() -> None:
    paused = replace(VIEW, state=State.PAUSED, notices=("Paused.",))
    assert not any(line.startswith("Note") for line in lines_between(VIEW, paused))
    assert lines_between(paused, replace(paused, notices=("Paused.", "Muted."))) == ["Note: Muted."]


def test_whoever_asks_where_the_class_is_is_told_all_of_it() -> None:
    now = replace(view_of(coming=(Coming("tag", 8, "tag B"),)), holds=("muted",), clock="5 min, 17 left")
    assert place_lines(now) == [
        "Copper Kettle.",
        "Dancing.",
        "Tempo: 104 a minute.",
        "Wall 3 of 8, starting at 12:00.",
        "Section 2: Rock back, quarter pivot.",
        "In 8: tag B.",
        "  3: right shuffle",
        "Then: rock, recover.",
        "Facing 6:00.",
        "Set: muted.",
        "Time: 5 min, 17 left.",
    ]
    out = io.StringIO()
    run_plain(FakeSession(now), out, io.StringIO(), lambda _: None, _typing([], ["WHERE \n"], ["quit\n"]))
    assert "\n".join(place_lines(now)) in out.getvalue()


def test_a_pause_tells_how_all_stand_and_what_comes_first() -> None:
    room, out = Class(), io.StringIO()
    looked(room.session)
    room.order(Order.GO)
    room.danced(8 + 9.5)
    course = course_of(room.session.dance)
    told = list(stands_lines(room.order(Order.GO), course))
    assert told == [
        "Facing 12:00, right foot free, weight on the left.",
        "Goes on from this bar of section 2, with 1 rock right back, 2 recover, 3 right forward, 4 quarter turn left.",
    ]
    run_plain(room.session, out, io.StringIO(), lambda _: None, _typing(["quit\n"]))
    assert "\n".join(told) in out.getvalue()
    assert list(stands_lines(looked(room.session), None)) == []


def test_where_it_waits_what_comes_next_and_may_be_marked_is_told() -> None:
    waits = replace(VIEW, state=State.WAITING, told_next="Section 3", to_mark="Slow Water", rest="break until 20:10")
    assert lines_between(VIEW, waits)[1:] == [
        "Break until 20:10.",
        "Next: Section 3.",
        "To mark, Slow Water: learnt, shaky, not done.",
    ]
    asked = replace(waits, to_mark="", rest="", alone=True)
    assert lines_between(VIEW, asked)[2] == 'Type "that went well", or "again" to have it again with calls.'


def test_a_new_wall_tells_where_it_starts_its_section_and_its_first_call() -> None:
    now = view_of(wall=4, wall_starts=Facing(6), section=1, section_name="Walks", now="walk, walk", count=1)
    assert lines_between(VIEW, now) == ["Wall 4 of 8, starting at 9:00.", "Section 1: Walks.", "  1: walk, walk"]


def test_a_phrase_said_twice_is_told_twice_when_what_follows_differs() -> None:
    twice = view_of(now="walk, walk", next="walk, walk")
    assert lines_between(twice, view_of(now="walk, walk", next="rock", count=5)) == ["  5: walk, walk"]


def test_a_warning_comes_at_sixteen_eight_and_four() -> None:
    lines: list[str] = []
    before = view_of(coming=())
    for counts in range(20, 0, -1):
        now = view_of(coming=(Coming("wall", counts, "wall 4"), Coming("restart", counts, "restart")))
        lines += lines_between(before, now)
        before = now
    assert lines == ["In 16: restart.", "In 8: restart.", "In 4: restart."]


def test_counting_in_tells_no_call_before_its_count() -> None:
    counting = replace(view_of(counting_in=True, count=5), state=State.COUNT_IN)
    assert lines_between(READY, counting)[0] == "Counting in."
    assert not [line for line in lines_between(READY, counting) if line.startswith("  ")]
    assert lines_between(counting, view_of(count=1)) == ["Dancing.", "  1: right shuffle"]


def test_going_on_after_a_pause_tells_the_place_anew() -> None:
    paused = replace(VIEW, state=State.PAUSED)
    told = lines_between(paused, VIEW)
    assert told == [
        "Dancing.",
        "Wall 3 of 8, starting at 12:00.",
        "Section 2: Rock back, quarter pivot.",
        "  3: right shuffle",
    ]


@given(st.text(alphabet=st.characters(codec=None), max_size=30), st.sampled_from(State))
def test_any_text_stays_on_its_line(text: str, state: State) -> None:
    glance = replace(GLANCE, now=text, next=text, section_name=text, part=text, coming=(Coming("tag", 4, text),))
    view = replace(VIEW, state=state, glance=glance, title=text, sound=text, notices=(text,), cannot=(text,))
    for line in lines_between(None, view):
        assert line.isprintable() or line.strip() == ""
        line.encode()


class Reel(FakeSession):
    """A session that shows one view after the other, one more with each tick, the last for good."""

    def __init__(self, views: Iterable[View]) -> None:
        self._next = iter(views)
        super().__init__()
        self.listened = 0

    def tick(self, now: float) -> None:
        self.shows = next(self._next, self.shows)

    def listen(self) -> None:
        self.listened += 1


def _typing(*moments: list[str]) -> Callable[[TextIO], Callable[[], list[str]]]:
    """Types the lines of one moment at each look."""
    left = list(moments)
    return lambda _: lambda: left.pop(0) if left else []


def test_the_class_starts_by_itself_and_ends_with_the_dance() -> None:
    session, out, waits = Reel([READY, READY, VIEW, VIEW, FINISHED]), io.StringIO(), []
    run_plain(session, out, None, waits.append)  # type: ignore[arg-type]
    assert session.obeyed == [Order.GO]
    assert out.getvalue().splitlines()[:2] == ["Copper Kettle.", "Ready."]
    assert out.getvalue().splitlines()[-1] == "Finished."
    assert len(waits) == session.listened == 15  # five times a look: a foot is heeded sooner than it shows
    assert sum(waits) == pytest.approx(3 * 0.05)


def test_the_same_views_give_the_same_lines() -> None:
    outs = [io.StringIO(), io.StringIO()]
    for out in outs:
        run_plain(Reel([READY, VIEW, view_of(now="rock"), FINISHED]), out, None, lambda _: None)  # type: ignore[arg-type]
    assert outs[0].getvalue() == outs[1].getvalue()


@pytest.mark.parametrize("entry", ORDERS, ids=lambda entry: entry.order.value)
def test_every_typed_word_gives_its_order(entry: object) -> None:
    words = [word.upper() + " \n" for word in entry.typed]  # type: ignore[attr-defined]
    order = entry.order  # type: ignore[attr-defined]
    for word in words:
        session, out = FakeSession(VIEW), io.StringIO()
        run_plain(session, out, io.StringIO(), lambda _: None, _typing([word], ["quit\n"]))
        obeyed = [order] if ends_the_class(order, VIEW.state) else [order, Order.QUIT]
        assert session.obeyed == ([Order.QUIT] if order is Order.HELP else obeyed)
        here = [respond(session.context, one) for one in Order]
        told = [does.tells for does in here if not does.elsewhere]
        assert order is not Order.HELP or all(tells in out.getvalue() for tells in told)


def test_a_second_screen_is_given_each_board_once() -> None:
    boards: list[Board] = []
    reel = Reel([READY, VIEW, VIEW, view_of(count=4), FINISHED])
    run_plain(reel, io.StringIO(), None, lambda _: None, shown=[boards.append], clock=Clock())  # type: ignore[arg-type]
    assert [(board.state, board.side.count) for board in boards] == [
        ("ready", ""),
        ("running", "3"),
        ("running", "4"),
        ("finished", ""),
    ]


def test_an_order_typed_is_a_line_of_its_own() -> None:
    out = io.StringIO()
    run_plain(FakeSession(VIEW), out, io.StringIO(), lambda _: None, _typing(["faster\n"], ["quit\n"]))
    assert "Order: Faster.\n" in out.getvalue()


def test_an_unknown_word_is_told_with_what_to_type() -> None:
    out = io.StringIO()
    run_plain(FakeSession(VIEW), out, io.StringIO(), lambda _: None, _typing(["fatser\n", "\n"], ["quit\n"]))
    assert 'No order is called "fatser". Type "help" for all of them.\n' in out.getvalue()
    assert out.getvalue().count("No order") == 1


def test_a_reader_gone_away_ends_the_class() -> None:
    class Gone(io.StringIO):
        def write(self, _: str) -> int:
            raise BrokenPipeError

    session = FakeSession(VIEW)
    run_plain(session, Gone(), None, lambda _: None)
    assert session.obeyed == [Order.QUIT]


def test_lines_typed_are_kept_in_order_until_asked_for() -> None:
    lines: queue.Queue[str] = queue.Queue()
    _read_into(io.StringIO("go\nslower\n"), lines)
    assert [lines.get_nowait() for _ in range(lines.qsize())] == ["go\n", "slower\n"]


def test_of_a_line_without_end_only_its_beginning_is_taken() -> None:
    endless = io.StringIO("x" * 5_000 + "\ngo\n" + "y" * 900)
    assert list(short_lines(endless)) == ["x" * LONGEST_ORDER, "go\n", "y" * LONGEST_ORDER]


def test_no_further_ahead_is_read_than_some_lines() -> None:
    read: list[int] = []
    enough = threading.Event()

    def endless() -> Iterator[str]:
        for number in itertools.count():
            read.append(number)
            if number > MOST_WAITING:
                enough.set()
            yield "go\n"

    taken = lines_typed(endless())
    came = 0
    while not enough.wait(0.001):
        came += len(taken())
    assert len(read) <= came + MOST_WAITING + 2


def test_a_full_disk_under_the_log_does_not_end_the_class() -> None:
    class Full(io.StringIO):
        def write(self, _: str) -> int:
            raise OSError(errno.ENOSPC, "No space left on device")

    reel = Reel([READY, VIEW, FINISHED])
    run_plain(reel, Full(), io.StringIO(), lambda _: None, _typing(["help\n", "faster\n"]))
    assert Order.FASTER in reel.obeyed
    assert reel.shows.state is State.FINISHED


def test_help_in_plain_lines_tells_what_the_pedal_orders_too() -> None:
    footing = FOR_A_DANCE.changed({Gesture.DOUBLE_TAP: Order.MUTE}, {})
    told = typed_help(footing, OrderContext(State.RUNNING))
    assert "mute or m: Silence, dancing on; once more, sound again. On the pedal: double tap." in told
    assert "faster or +: 4 counts a minute faster, at once." in told
    assert "loop wall 5-12: Those counts of this wall, over and over." in told
    taught = typed_help(footing, OrderContext(State.RUNNING, lesson=True))
    evening = typed_help(footing, OrderContext(State.RUNNING, evening=True))
    assert any("take out or x: " in line for line in evening)
    assert not any("take out or x: " in line for line in told)
    assert any("faster or +: From here on a little faster, in slow stages" in line for line in taught)


def test_that_the_voice_is_being_made_ready_is_told_once() -> None:
    first, second = (replace(VIEW, voice=f"getting ready, {done} of 489") for done in (1, 2))
    assert any("Voice: getting ready" in line for line in lines_between(VIEW, first))
    assert lines_between(first, second) == []
    assert lines_between(second, replace(VIEW, voice="ready")) == ["Voice: ready."]


def test_an_evening_tells_its_plan_its_items_and_what_is_done() -> None:
    waiting = replace(
        VIEW, state=State.WAITING, item="item 2 of 3", title="Slow Water", stage="Lantern Row, run, done",
        plan=("19:04  Slow Water, lesson, 21 min",),
    )  # fmt: skip
    assert lines_between(replace(VIEW, item="item 1 of 3"), waiting)[:3] == [
        "19:04 Slow Water, lesson, 21 min",
        "Item 2 of 3: Slow Water.",
        "Lantern Row, run, done.",
    ]


def test_a_call_that_is_to_be_the_last_before_a_pause_is_told_once() -> None:
    assert VIEW.glance is not None
    ends = replace(VIEW, state=State.FINISHING, glance=replace(VIEW.glance, next=""))
    for before, now in ((VIEW, ends), (ends, VIEW)):
        assert not [line for line in lines_between(before, now) if line.startswith("  ")]
    after = replace(VIEW, glance=replace(VIEW.glance, next="another"))
    assert [line for line in lines_between(VIEW, after) if line.startswith("  ")]


def test_what_only_stops_what_sounds_ends_the_class_where_nothing_does() -> None:
    session, out = FakeSession(VIEW), io.StringIO()
    paused = FakeSession(replace(VIEW, state=State.PAUSED))
    for live, obeyed in ((session, [Order.STOP_OR_LEAVE, Order.QUIT]), (paused, [Order.STOP_OR_LEAVE])):
        run_plain(live, out, io.StringIO(), lambda _: None, _typing(["stop or leave\n"], ["quit\n"]))
        assert live.obeyed == obeyed


def test_every_order_has_a_word_or_a_form_to_type() -> None:
    both = Order.GO  # of a key and a foot; go and pause are typed each by its word
    assert all(typed_word(entry.order) or entry.example for entry in ORDERS if entry.order is not both)
    assert (typed_word(Order.GO_ON), typed_word(Order.PAUSE)) == ("go", "pause")


def test_a_notice_that_is_said_is_told_though_a_screen_shows_it_anyway_and_counts_never_are() -> None:
    told = {
        words: lines_between(VIEW, view_of(saying=words, with_step=False))
        for words in ("tag coming", "three", "and", "five")
    }
    assert told["tag coming"] == ['Said: "tag coming".']
    assert [told[words] for words in ("three", "and", "five")] == [[], [], []]


def test_a_notice_that_is_one_call_with_its_step_is_told_with_that_call() -> None:
    together = view_of(now="side, behind", said="restart side, behind", section=1, section_name="Weave")
    assert '  3: side, behind (said "restart side, behind")' in lines_between(VIEW, together)
    saying = view_of(saying="restart side", with_step=True)
    assert lines_between(VIEW, saying) == []
