"""Where in the dance the class is: found from a glance alone, for every count of every dance."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from caller.calls.glance import Coming, glance
from caller.calls.plan import Manner
from caller.calls.score import make_take
from caller.calls.take import Take
from caller.dance.unroll import unroll
from caller.routine.facing import Facing, Turn
from caller.routine.notation.read import read_bytes
from caller.screen.board import board_of
from caller.screen.captions import unshown
from caller.screen.course import Course, CoursePiece, OrderWall, Strip, course_of
from caller.screen.ready import what_is_said
from caller.screen.strip import order_lines, strip_line
from caller.screen.words import coming_words, nearest
from caller.teaching.drill import drill_of
from caller.teaching.standing import turned as turned_dance
from caller.transport.order import Order
from caller.transport.state import GoOn, State
from tests.fakes.lexicon import Mute
from tests.fakes.room import GLANCE, TAG_IN_8, view_of
from tests.session.classroom import COUNT, Class, looked
from tests.session.lessons import Taught

ROUTINES = sorted((Path(__file__).parents[2] / "routines").glob("*.txt"))


def _course(path: Path) -> Course:
    dance = unroll(read_bytes(path.read_bytes()).routine)
    return course_of(dance, what_is_said(dance, Manner.AHEAD))


LANTERN = _course(ROUTINES[0].parent / "lantern-row.txt")


def _silent_take(course: Course) -> Take:
    return make_take(
        course.dance,
        start=Fraction(0),
        end=Fraction(course.dance.counts),
        tempo=Fraction(120),
        manner=Manner.QUIET,
        lexicon=Mute(),
        clips=lambda *_: None,
        count_in=8,
        rate=48_000,
    )


@pytest.mark.parametrize("path", ROUTINES, ids=lambda path: path.stem)
def test_the_place_is_found_at_every_count(path: Path) -> None:
    course = _course(path)
    take = _silent_take(course)
    for count in range(course.dance.counts):
        assert course.place(glance(take, take.timeline.frame_of(Fraction(count)) + 10)) == count


@pytest.mark.parametrize("path", ROUTINES, ids=lambda path: path.stem)
def test_a_wall_is_the_sum_of_its_pieces(path: Path) -> None:
    course = _course(path)
    for wall, strip in zip(course.dance.walls, course.strips, strict=True):
        assert sum(piece.counts for piece in strip.pieces) == wall.counts
        assert (strip.ends == "restart") == any(event.kind == "restart" for event in wall.events)


def test_tag_restart_and_change_are_marked() -> None:
    assert LANTERN.strips[2].pieces[-1] == CoursePiece("tag", 8)
    assert LANTERN.strips[5].pieces == (CoursePiece("1", 8), CoursePiece("2", 8), CoursePiece("3", 8, ((4, 8),)))
    assert LANTERN.order[5] == OrderWall(6, "", Facing(2), ("change", "restart"))


def test_counts_to_the_next_event_are_counted_down_to_it() -> None:
    take = _silent_take(LANTERN)
    frames = (take.timeline.frame_of(Fraction(count)) + 10 for count in (0, 95, 96))
    ahead = [strip.ahead for frame in frames if (strip := LANTERN.strip(glance(take, frame)))]
    # The tag begins after the 96 counts of three walls; the change of wall 6 on its 21st count, 8 + 64 + 20 further.
    assert ahead == ["tag in 96", "tag in 1", "steps change in 92"]


def test_a_glance_of_another_dance_has_no_place() -> None:
    for glanced in (view_of(wall=99).glance, view_of(at=Fraction(10_000)).glance):
        assert LANTERN.place(glanced or GLANCE) is None
        assert LANTERN.strip(glanced or GLANCE) is None
        assert LANTERN.resumes(glanced or GLANCE, GoOn.BAR) is None


@pytest.mark.parametrize(
    ("go_on", "resumed"),
    [
        (GoOn.BAR, ["walk, walk", "rock forward, recover", "rock back, recover", "cross and cross"]),
        (GoOn.SECTION, ["walk, walk", "walk, walk", "rock back, recover", "rock back, recover"]),
        (GoOn.WALL, ["walk, walk"] * 4),
    ],
)
def test_what_resumes_is_the_call_from_where_it_goes_on(go_on: GoOn, resumed: list[str]) -> None:
    take = _silent_take(LANTERN)
    glances = [glance(take, take.timeline.frame_of(Fraction(count)) + 10) for count in (3, 7, 8, 15)]
    assert [found.call for one in glances if (found := LANTERN.resumes(one, go_on))] == resumed


@pytest.mark.parametrize("go_on", GoOn)
def test_what_is_told_of_a_pause_is_what_the_class_then_dances(go_on: GoOn) -> None:
    room = Class(go_on=go_on)
    looked(room.session)
    room.order(Order.GO)
    room.danced(8 + 32 + 12.5)  # counted in by eight, then into the second wall, after its turn
    view = room.order(Order.GO)
    paused, course = view.glance, course_of(room.session.dance)
    resumed = course.resumes(paused or GLANCE, go_on)
    side = board_of(view, course).side
    room.speaker.advance(COUNT)
    room.order(Order.GO)
    going = room.danced(4.5).glance
    assert resumed is not None
    assert going is not None
    assert (resumed.call, resumed.facing) == (going.now, going.facing)
    assert (side.facing, side.foot) == (resumed.facing, resumed.free)


def test_a_section_that_comes_again_keeps_its_place_and_the_order_its_walls() -> None:
    room = Class()
    looked(room.session)
    room.order(Order.GO)
    room.danced(8 + 64 + 9)  # the second section of wall 3
    room.order(Order.LOOP)
    begun = []
    for _ in range(3):
        seen = room.danced(8).glance or GLANCE
        course = course_of(room.session.dance)
        strip = course.strip(seen)
        assert [wall.number for wall in course.order] == [1, 2, 3]
        assert strip is not None
        begun.append((seen.section, seen.count, strip.pieces[-1], strip.danced))
    # Once to the end of the section within its wall, then that section alone.
    assert begun == [(2, 1, CoursePiece("2", 8), 1)] * 3
    room.order(Order.LOOP)
    seen = room.danced(10).glance or GLANCE
    course = course_of(room.session.dance)
    strip = course.strip(seen)
    assert [wall.number for wall in course.order] == [1, 2, 3, 4, 5, 6, 7]
    assert strip is not None
    assert [piece.label for piece in strip.pieces] == ["2", "3", "4", "tag"]
    assert (seen.section, seen.wall) == (3, 3)


def test_before_the_start_calls_and_events_are_told() -> None:
    assert LANTERN.said[0].startswith("Section 1: walk, walk · right shuffle forward")
    assert "Wall 3: tag after 32 counts, 8 counts long." in LANTERN.said
    assert what_is_said(LANTERN.dance, Manner.QUIET) == ("Called: nothing; the count track alone.",)


PIECES = st.builds(CoursePiece, st.sampled_from(["1", "12", "tag", "ending"]), st.integers(1, 64))
STRIPS = st.builds(
    Strip,
    st.lists(PIECES, min_size=1, max_size=12).map(tuple),
    st.sampled_from(["", "restart"]),
    st.integers(0, 700),
    st.sampled_from(["", "tag in 8"]),
)


@given(STRIPS, st.integers(0, 200))
def test_the_strip_keeps_to_its_width_and_cuts_no_word(strip: Strip, width: int) -> None:
    line = strip_line(strip, width)
    assert cell_len(line) <= width
    words = "".join(c if c.isalnum() else " " for c in line).split()
    assert set(words) <= {"1", "12", "tag", "ending", "restart", "in", "8"}


WALLS = st.builds(
    OrderWall,
    st.integers(1, 99),
    st.sampled_from(["", "A"]),
    st.builds(Facing, st.integers(0, 7)),
    st.sampled_from([(), ("tag",), ("change", "restart")]),
)


@given(st.lists(WALLS, min_size=1, max_size=40), st.integers(0, 40), st.integers(0, 200), st.integers(0, 3))
def test_the_running_order_keeps_to_its_place(order: list[OrderWall], now: int, width: int, rows: int) -> None:
    lines = order_lines(order, now, width, rows)
    assert len(lines) <= min(rows, 2)
    assert all(cell_len(line) <= width for line in lines)


def test_the_wall_danced_now_is_in_sight_however_many_there_are() -> None:
    order = [OrderWall(number, "", Facing(number), ()) for number in range(1, 41)]
    for now in range(1, 41):
        line = order_lines(order, now, 60, 1)[0]
        assert f"[{now} {Facing(now)}]" in line
        assert len(line) <= 60


@pytest.mark.parametrize(
    ("saying", "caption"),
    [
        ("rock, recover", ""),
        ("Rock", ""),
        ("three", ""),
        ("four", ""),
        ("tag in eight", ""),
        ("tag in nine", ""),  # said a little before the count it tells of
        ("wall four", "wall four"),
        ("wall four, nine o'clock", "wall four, nine o'clock"),
        ("restart", "restart"),
        ("", ""),
    ],
)
def test_what_is_spoken_and_stands_nowhere_is_a_caption(saying: str, caption: str) -> None:
    coming = (Coming("wall", 4, "wall 4, 9:00"), TAG_IN_8)
    assert unshown(view_of(saying=saying, coming=coming).glance or GLANCE, TAG_IN_8) == caption


def test_in_a_count_in_as_later_how_far_it_is_to_an_event_is_one_number_in_both_places() -> None:
    """From the first step, which the class can't be told from before it is danced; the restart in wall 6."""
    dance = LANTERN.dance
    restart = next(wall.at + event.after for wall in dance.walls for event in wall.events if event.kind == "restart")
    take = make_take(
        dance,
        start=restart - 10,
        end=restart + 8,
        tempo=Fraction(120),
        manner=Manner.QUIET,
        lexicon=Mute(),
        clips=lambda *_: None,
        count_in=4,
    )
    told = []
    for count in range(-4, 10):
        seen = glance(take, take.timeline.frame_of(take.start + count) + 10)
        strip, ahead = LANTERN.strip(seen), nearest(seen.coming, 16)
        assert strip is not None
        assert ahead is not None
        told.append((strip.ahead, coming_words(ahead)))
    change = [f"steps change in {counts}" for counts in range(10, 0, -1)]
    assert told == [(words, words) for words in (*change, *(f"restart in {counts}" for counts in (4, 3, 2, 1)))]


def test_what_holds_leaves_the_bars_of_progress_their_room() -> None:
    """With all of it there is room for labels alone."""
    strip = Strip(tuple(CoursePiece(str(n), 8) for n in range(1, 5)), "", 3, "restart in 8")
    holds = ("looping this stage", "half the hall: easier way", "waits after each stage")
    line = strip_line(strip, 100, holds)
    assert line.startswith("1 ▄▄▄▁▁▁▁▁  2 ▁▁▁▁▁▁▁▁")
    assert line.endswith("looping this stage · … · restart in 8")
    assert strip_line(strip, 140, holds).endswith(f"{' · '.join(holds)} · restart in 8")
    assert strip_line(strip, 60, holds[:1]).startswith("[1]"), "too narrow for bars whatever is left out"


def test_the_walls_are_the_sheets_however_everybody_has_turned() -> None:
    turned = course_of(turned_dance(LANTERN.dance, Turn(-2)))
    assert turned.order != LANTERN.order
    assert turned.order_of_the_sheet(Turn(-2)) == LANTERN.order
    assert LANTERN.order_of_the_sheet(Turn(0)) == LANTERN.order
    taught = Taught(lambda dance: drill_of(dance, (Fraction(8), Fraction(16)), "Section 2", tempo=Fraction(100)))
    taught.order(Order.GO)
    view = taught.until(lambda view: view.stage == "Section 2, time 2" and view.state is State.RUNNING)
    assert board_of(view, course_of(taught.lesson.dance)).order == LANTERN.order
