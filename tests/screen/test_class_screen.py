"""The screen driven by a pilot at the three sizes it is laid out for."""

from __future__ import annotations

import os
import re
import unicodedata
from dataclasses import fields, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len
from textual import events

from caller.calls.glance import Coming
from caller.calls.groups import groups_between, shown_wordings, shown_words
from caller.dance.unroll import unroll
from caller.routine.facing import CLOCK, Facing, Turn
from caller.routine.notation.read import read_bytes
from caller.routine.step import Foot
from caller.screen.app import AWAY, ClassScreen
from caller.screen.captions import LINGERS_SECONDS
from caller.screen.dial import dial
from caller.screen.feet import foot_lines, next_foot_lines
from caller.screen.help import PURPOSES, purpose_lines
from caller.screen.letters import capitals
from caller.screen.own_orders import OWN_ORDERS
from caller.screen.terminal import own_terminal
from caller.screen.widgets import HelpPages
from caller.screen.words import call_wordings, key_word
from caller.session import View
from caller.transport.context import OrderContext
from caller.transport.foot import Gesture
from caller.transport.footing import FOR_A_DANCE, FOR_A_LESSON, Footing
from caller.transport.leaving import LEAVING
from caller.transport.order import ORDERS, Order
from caller.transport.respond import respond
from caller.transport.state import State
from tests.fakes.room import GLANCE, TAG_IN_8, VIEW, Clock, FakeSession, view_of
from tests.screen.seen import lines_in, lines_of, read, words_in

SIZES = [(80, 24), (100, 30), (160, 45)]
CALLS = [
    ("walk, walk", "right shuffle"),
    ("step, pivot a quarter left", "jazz box turning a quarter right"),
    ("left lock step forward", "vine left, touch"),
    ("coaster step", "rock, recover"),
    ("cross and cross", "left sailor turning a quarter left"),
]
# Heights of two common screens, millimetres, and how far away they are looked at: a laptop of 14 inches (16:9) by the
# teacher, a television of 55 inches by the class.
LAPTOP, TELEVISION = (174.3, 3000.0), (684.9, 8000.0)
ROUTINES = sorted((Path(__file__).parents[2] / "routines").glob("*.txt"))
RESTART_IN_1 = Coming("restart", 1, "restart")
LANTERN = unroll(read_bytes((Path(__file__).parents[2] / "routines" / "lantern-row.txt").read_bytes()).routine)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("now", "following"), CALLS)
async def test_the_call_and_the_next_stand_in_whole_words(size: tuple[int, int], now: str, following: str) -> None:
    app = ClassScreen(FakeSession(view_of(now=now, next=following)))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        for place, call in (("#call", now), ("#next", following)):
            words, height = words_in(app, place)
            assert words in {capitals(call), capitals(call).replace("A QUARTER", "1/4")}
            assert height >= 5, f"{call} is in ordinary letters"


def _minutes_of_arc(height: int, rows: int, screen: tuple[float, float]) -> float:
    """How large letters look. H = 6.283 D M / 21600 (NUREG-0700 rev. 2, 1.3.1-4), so M = 21600 H / (6.283 D)."""
    high, away = screen
    return 21600 * (height * high / rows / 2) / (6.283 * away)


@pytest.mark.parametrize("coming", [(), (TAG_IN_8,)])
@pytest.mark.parametrize("facing", range(8))
async def test_letters_are_of_22_minutes_of_arc_at_100_columns(facing: int, coming: tuple[Coming, ...]) -> None:
    app = ClassScreen(FakeSession(view_of(coming=coming, facing=Facing(facing))))
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        heights = {place: words_in(app, place)[1] for place in ("#call", "#next", "#count", "#facing")}
    # 20 to 22 minutes are better than the least of 16 (NUREG-0700 rev. 2, 1.3.1-4; ISO 9241-3, second hand).
    for screen in (LAPTOP, TELEVISION):
        assert {place for place, height in heights.items() if _minutes_of_arc(height, 30, screen) < 22} == set()


@pytest.mark.parametrize("path", ROUTINES, ids=lambda path: path.stem)
async def test_every_call_of_a_routine_is_as_large(path: Path) -> None:
    dance = unroll(read_bytes(path.read_bytes()).routine)
    session, clock = FakeSession(dance=dance), Clock()
    app = ClassScreen(session, clock)
    async with app.run_test(size=(100, 30)) as pilot:
        groups = groups_between(dance, Fraction(0), dance.walls[0].end)
        for call, wordings in {shown_words(group): shown_wordings(group) for group in groups}.items():
            session.shows = view_of(now=call, next=call, coming=(TAG_IN_8,))
            clock.seconds += 2
            app.look()
            await pilot.pause()
            for place in ("#call", "#next"):
                words, height = words_in(app, place)
                assert words in {capitals(form) for form in call_wordings(call, wordings)}
                assert _minutes_of_arc(height, 30, LAPTOP) >= 22


@pytest.mark.parametrize("size", SIZES)
async def test_letters_are_never_too_small_for_where_people_stand(size: tuple[int, int]) -> None:
    app = ClassScreen(FakeSession(view_of(coming=(TAG_IN_8,))))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        heights = {place: words_in(app, place)[1] for place in ("#call", "#next", "#count", "#coming")}
    # At least 16 minutes of arc (NUREG-0700 rev. 2, 1.3.1-4).
    assert all(_minutes_of_arc(height, size[1], TELEVISION) >= 16 for height in heights.values())
    assert all(_minutes_of_arc(heights[place], size[1], LAPTOP) >= 16 for place in ("#call", "#next", "#count"))


@pytest.mark.parametrize("size", SIZES)
async def test_count_foot_dial_wall_and_what_is_coming_are_all_there(size: tuple[int, int]) -> None:
    app = ClassScreen(FakeSession(view_of(coming=(TAG_IN_8,), count=7, facing=Facing(5), next_turn=Turn(-2))))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        screen = " ".join(lines_of(app))
        assert words_in(app, "#count")[0] == "7"
        assert words_in(app, "#coming")[0] == "TAG IN 8"
        assert words_in(app, "#wall")[0] == "WALL 3 OF 8"
        assert words_in(app, "#facing")[0] in ("FACING 7:30", "7:30")
        assert all(clock in screen for clock in CLOCK)
        assert "in 2, to 4:30" in screen or "1/4 LEFT IN 2, TO 4:30" in screen
        assert all(words in screen for words in ("Copper Kettle", "Section 2: Rock back, quarter"))
        assert words_in(app, "#tempo")[0] == "104"
        if size[1] > 24:  # there the strip has taken its place until the class stands
            assert "104 a minute | Sound: on pulse | Voice: Kitchen, ready | Pedal: none" in screen


async def test_a_small_screen_shows_the_wall_large_while_nothing_is_coming() -> None:
    app = ClassScreen(FakeSession(VIEW))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert words_in(app, "#wall_below") == ("WALL 3 OF 8", 5)
        assert not app.query_one("#coming").display
        await pilot.resize_terminal(100, 30)
        await pilot.pause()
        assert not app.query_one("#wall_below").display
        assert words_in(app, "#wall") == ("WALL 3 OF 8", 5)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("foot", Foot)
async def test_the_foot_is_told_by_shape_side_and_word(size: tuple[int, int], foot: Foot) -> None:
    app = ClassScreen(FakeSession(view_of(foot=foot)))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        rows = lines_in(app, "#foot")
        assert rows == list(foot_lines(foot, len(rows[0]), len(rows)))
        own, word = slice(0, 4), slice(6, None)
        if foot is Foot.RIGHT:
            own, word = slice(-4, None), slice(0, -6)
        assert all(row[own].strip() for row in rows[:2]), "the sole"
        assert read([row[word].replace("▁", " ") for row in rows])[0] in (foot.name, f"{foot.name} FOOT")


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("foot", Foot)
async def test_a_foot_that_only_moves_next_is_said_to_and_has_no_print(size: tuple[int, int], foot: Foot) -> None:
    app = ClassScreen(FakeSession(view_of(foot=foot, foot_next=True)))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        rows = lines_in(app, "#foot")
        assert rows == list(next_foot_lines(foot, len(rows[0]), len(rows)))
        words = " ".join("".join(rows).split())
        assert words == f"NEXT: {foot.name}" or read(rows)[0] == f"NEXT: {foot.name}"
        at = min(len(row) - len(row.lstrip()) for row in rows if row.strip())
        assert (at > 0) is (foot is Foot.RIGHT), "at its own edge"


@pytest.mark.parametrize("rows", [3, 5])
def test_a_right_foots_print_is_a_left_ones_mirrored_and_both_are_turned_for_a_teacher_who_faces_them(
    rows: int,
) -> None:
    wide, turned = 4, str.maketrans("▀▄", "▄▀")
    left, right = (list(foot_lines(foot, 60, rows)) for foot in Foot)
    assert [row[:wide] for row in left] == [row[: -wide - 1 : -1] for row in right]
    facing = [row[-wide:] for row in foot_lines(Foot.LEFT, 60, rows, facing_class=True)]
    assert facing == [row[wide - 1 :: -1].translate(turned) for row in left[::-1]]


@pytest.mark.parametrize("size", SIZES)
async def test_the_bar_has_one_thick_mark_and_it_moves(size: tuple[int, int]) -> None:
    session = FakeSession(view_of(in_bar=0))
    app = ClassScreen(session)
    async with app.run_test(size=size) as pilot:
        thick = []
        for beat in range(4):
            session.shows = view_of(in_bar=beat, count=beat + 1)
            app.look()
            await pilot.pause()
            (row,) = lines_in(app, "#bar")
            assert len(row.split()) == 4
            thick.append([place for place, mark in enumerate(row.split()) if set(mark) == {"▄"}])
        assert thick == [[0], [1], [2], [3]]


@pytest.mark.parametrize("size", SIZES)
async def test_states_follow_each_other_on_the_screen(size: tuple[int, int]) -> None:
    session = FakeSession(replace(VIEW, state=State.GETTING_READY, glance=None), LANTERN)
    clock = Clock()
    told = "Paused, weight on the left. Goes on from this bar of section 2: Space or the pedal, counted in, with"
    app = ClassScreen(session, clock)
    cannot = ("walk forward: too long at 104",)
    script = [
        (session.shows, "GETTING READY", "prepared"),
        (replace(VIEW, state=State.READY, cannot=cannot), "READY", "space"),
        (replace(view_of(counting_in=True), state=State.COUNT_IN), "RIGHT SHUFFLE", "rock, recover"),
        (VIEW, "RIGHT SHUFFLE", "rock, recover"),
        (replace(VIEW, state=State.FINISHING), "RIGHT SHUFFLE", "rock, recover"),
        (replace(VIEW, state=State.PAUSED), "FACING 6:00, RIGHT FOOT FREE", "rock"),
        (replace(VIEW, state=State.FINISHED), "FINISHED", "dances it again"),
    ]
    async with app.run_test(size=size) as pilot:
        for view, call, following in script:
            session.shows = view
            clock.seconds += 2
            app.look()
            await pilot.pause()
            assert words_in(app, "#call")[0].startswith(call)
            assert capitals(following) in words_in(app, "#next")[0]
            listed = " ".join("".join(lines_in(app, "#listed")).split())
            assert listed.startswith("Can't be called in time at 104: · " + cannot[0]) == (view.state is State.READY)
            assert app.query_one("#side").display == (view.state in MOVING)
            assert view.state not in MOVING or words_in(app, "#count")[0] == "3"
            assert view.state is not State.PAUSED or told in " ".join(" ".join(lines_of(app)).split())


MOVING = (State.COUNT_IN, State.RUNNING, State.FINISHING)


@pytest.mark.parametrize("ended", [False, True])
async def test_the_pose_that_a_dance_ends_in_stays_to_be_seen(ended: bool) -> None:
    over = replace(view_of(now="stomp, arms up", next=""), state=State.FINISHED)
    app = ClassScreen(FakeSession(over, replace(LANTERN, ended=ended)))
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        assert words_in(app, "#call")[0] == ("STOMP, ARMS UP" if ended else "FINISHED")
        label = " ".join(lines_in(app, "#label")).strip()
        assert label.startswith("finished; 8 walls danced; " if ended else "8 walls danced; ")
        assert "DANCES IT AGAIN" in words_in(app, "#next")[0]


@pytest.mark.parametrize("size", SIZES)
async def test_a_pause_shows_how_all_stand_and_the_next_four_counts_large(size: tuple[int, int]) -> None:
    app = ClassScreen(FakeSession(replace(VIEW, state=State.PAUSED), LANTERN))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        stands, height = words_in(app, "#call")
        assert stands.startswith("FACING 6:00, RIGHT FOOT FREE")
        assert height >= 5
        counts, _ = words_in(app, "#next")
        assert [counts.count(f"{number} ") for number in (1, 2, 3, 4)] == [1, 1, 1, 1]
        assert "ROCK" in counts
        assert any(turn in counts for turn in ("QUARTER TURN LEFT", "QUARTER LEFT", "1/4 LEFT", "1/4 TURN LEFT"))
        assert "Paused" in " ".join(lines_in(app, "#label"))


@pytest.mark.parametrize("size", SIZES)
async def test_before_the_start_it_is_told_what_will_be_called(size: tuple[int, int]) -> None:
    app = ClassScreen(FakeSession(replace(VIEW, state=State.READY), LANTERN))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        listed = " ".join(" ".join(lines_in(app, "#listed")).split())
        assert listed.startswith("Will be called: · Section 1: walk, walk · right shuffle forward")
        assert size[1] < 30 or "Wall 3: tag after 32 counts, 8 counts long." in listed
        assert "Sound: on pulse | Voice: Kitchen, ready | Pedal: none" in " ".join(lines_of(app))


@pytest.mark.parametrize("size", SIZES)
async def test_the_wall_and_the_running_order_are_drawn(size: tuple[int, int]) -> None:
    session = FakeSession(view_of(wall=3, at=Fraction(80)), LANTERN)
    app = ClassScreen(session)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        (strip,) = lines_in(app, "#strip")
        # Wall 3 begins after 64 counts and has 40 with its tag: the 17th is under way.
        assert strip.count("▄") * 40 == 17 * sum(strip.count(mark) for mark in "▄▁")
        assert strip.split()[-3:] == ["tag", "in", "16"]
        session.shows = replace(session.shows, state=State.PAUSED)
        app.look()
        await pilot.pause()
        order = lines_in(app, "#order")[0]
        assert "[3" in order
        assert order.replace("[", " ").replace("]", " ").split()[-1] in ("12:00", "7")


@pytest.mark.parametrize("size", SIZES)
async def test_one_key_shows_the_room_as_a_teacher_who_faces_the_class_sees_it(size: tuple[int, int]) -> None:
    app = ClassScreen(FakeSession(view_of(foot=Foot.RIGHT, facing=Facing(0), next_turn=Turn(2))))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        before = lines_in(app, "#dial")
        await pilot.press("v")
        await pilot.pause()
        after = lines_in(app, "#dial")
        assert after == list(dial(Facing(0), Turn(2), len(after[0]), len(after), facing_class=True))
        rows = lines_in(app, "#foot")
        assert rows == list(foot_lines(Foot.RIGHT, len(rows[0]), len(rows), facing_class=True))
        assert all(row[0] + row[1] != "  " for row in rows), "the dancers' right is at the teacher's left"
        await pilot.press("v")
        await pilot.pause()
        assert lines_in(app, "#dial") == before


def test_no_key_is_the_screens_and_the_classs() -> None:
    own = [key for entry in OWN_ORDERS for key in entry.keys]
    assert not {key for entry in ORDERS for key in entry.keys} & {*own, "escape"}
    assert len(own) == len(set(own))


async def test_what_holds_besides_stands_on_the_strip() -> None:
    app = ClassScreen(FakeSession(replace(VIEW, holds=("muted", "easier way")), LANTERN))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "muted · easier way" in lines_in(app, "#strip")[0]


async def test_what_is_said_and_stands_nowhere_else_is_a_caption() -> None:
    session, clock = FakeSession(view_of(saying="rock, recover")), Clock()
    app = ClassScreen(session, clock)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert not app.query_one("#coming").display, "it is the next call already"
        session.shows = view_of(saying="wall four, three o'clock", coming=(TAG_IN_8,))
        app.look()
        await pilot.pause()
        assert words_in(app, "#coming")[0] == "WALL FOUR"  # all that has room in block letters
        session.shows = view_of(saying="", coming=(TAG_IN_8,))
        clock.seconds += LINGERS_SECONDS + 0.1
        app.look()
        await pilot.pause()
        assert words_in(app, "#coming")[0] == "TAG IN 8"


@pytest.mark.parametrize(
    ("saying", "coming", "shown"),
    [
        ("restart cross rock", RESTART_IN_1, "RESTART IN 1"),
        ("restart, right cross rock", RESTART_IN_1, "RESTART"),
        ("tag after this wall, facing six o'clock, four sways, right", TAG_IN_8, "TAG IN 8"),
        ("wall four, nine o'clock", None, "WALL FOUR"),
        ("restart, right cross rock", None, "RESTART"),
    ],
)
@pytest.mark.parametrize("size", [(100, 30), (80, 24)])
async def test_an_announcement_too_long_for_block_letters_is_cut_to_what_matters_most(
    size: tuple[int, int], saying: str, coming: Coming | None, shown: str
) -> None:
    app = ClassScreen(FakeSession(view_of(saying=saying, coming=(coming,) if coming else ())))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        words, height = words_in(app, "#coming")
        assert (words, height > 0) == (shown, True)


@pytest.mark.parametrize("place", ["#call", "#next"])
async def test_what_is_told_stands_in_block_letters_at_a_hundred_by_thirty(place: str) -> None:
    told = "left side shuffle: left to the side, right together, left to the side, and rock back on the right, recover."
    said = (told, "walk it with me.", "once more.", "watch the weight.", "facing twelve o'clock.")
    view = replace(VIEW, state=State.TELLING, telling=told, lines=said, facing=Facing(0), free=Foot.RIGHT, line=0)
    app = ClassScreen(FakeSession(view))
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        words, height = words_in(app, place)
        assert height > 0
        assert words.startswith("LEFT SIDE SHUFFLE") if place == "#call" else "12:00, RIGHT FOOT FREE" in words


async def test_a_step_that_is_called_before_it_shows_stands_small_until_it_does() -> None:
    session, clock = FakeSession(view_of(now="walk, walk", next="right shuffle forward"), LANTERN), Clock()
    app = ClassScreen(session, clock)
    async with app.run_test(size=(80, 24)) as pilot:
        session.shows = view_of(now="walk, walk", next="right shuffle forward", saying="rock forward, recover")
        app.look()
        await pilot.pause()
        assert lines_in(app, "#label")[0].strip() == 'then · said: "rock forward, recover"'
        assert not app.query_one("#coming").display
        clock.seconds += 0.5
        session.shows = view_of(now="right shuffle forward", next="rock forward, recover", saying="")
        app.look()
        await pilot.pause()
        assert lines_in(app, "#label")[0].strip() == "then"


@pytest.mark.parametrize("width", [80, 100, 160])
async def test_the_dial_is_there_whatever_the_height(width: int) -> None:
    session = FakeSession(view_of(coming=(TAG_IN_8,)), LANTERN)
    session.shows = replace(session.shows, notices=("The pedal was unplugged.", "The sound is back."))
    app = ClassScreen(session)
    async with app.run_test(size=(width, 24)) as pilot:
        for height in (24, 27, 28, 29, 30, 36, 43, 44, 45, 60):
            await pilot.resize_terminal(width, height)
            await pilot.pause()
            dial_rows = lines_in(app, "#dial")
            assert all(any(clock in row for row in dial_rows) for clock in CLOCK), height
            assert any("█" in row for row in dial_rows), "the hand"


@pytest.mark.parametrize("size", SIZES)
async def test_no_word_of_a_long_title_or_section_is_cut(size: tuple[int, int]) -> None:
    title, name = (
        "A Rather Longwinded Dance Called After Something",
        "Behind side cross, side rock, vine right and more",
    )
    app = ClassScreen(FakeSession(replace(view_of(section_name=name), title=title)))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        for place, whole in (("#title", title), ("#section", f"Section 2: {name}")):
            shown = " ".join(" ".join(lines_in(app, place)).split())
            kept = shown.removesuffix(" …").split()
            assert len(kept) >= 2
            assert whole.replace(",", "").split()[: len(kept)] == " ".join(kept).replace(",", "").split()


async def test_a_long_list_says_how_much_of_it_is_left_out() -> None:
    cannot = tuple(f"sentence number {n} on something that can't be said in time" for n in range(20))
    app = ClassScreen(FakeSession(replace(VIEW, state=State.READY, cannot=cannot)))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        listed = "".join(lines_in(app, "#listed"))
        shown = sum(f"number {n} " in listed for n in range(20))
        assert 0 < shown < 20
        assert f"and {20 - shown} more" in listed


async def test_each_key_gives_its_order() -> None:
    session = FakeSession()
    app = ClassScreen(session)
    async with app.run_test(size=(80, 24)) as pilot:
        for entry in ORDERS:
            for key in entry.keys if entry.order not in LEAVING else ():
                session.obeyed.clear()
                await pilot.press(key)
                opened = app.query_one("#help").display
                assert (session.obeyed, opened) == (([], True) if entry.order is Order.HELP else ([entry.order], False))
                await pilot.press("escape")


async def test_the_key_that_leaves_ends_what_sounds_at_the_second_press() -> None:
    session = FakeSession()
    app = ClassScreen(session)
    async with app.run_test() as pilot:
        await pilot.press("q")
        assert app.is_running
        session.shows = replace(VIEW, state=State.PAUSED)
        await pilot.press("q")
        await pilot.pause()
        assert not app.is_running
    assert session.obeyed == [Order.STOP_OR_LEAVE, Order.STOP_OR_LEAVE]


@pytest.mark.parametrize("key", ["ctrl+q", "ctrl+c"])
async def test_leaving_ends_the_screen_in_order(key: str) -> None:
    session = FakeSession()
    app = ClassScreen(session)
    async with app.run_test() as pilot:
        assert app.is_running
        await pilot.press(key)
        await pilot.pause()
        assert not app.is_running
    assert session.obeyed == [Order.QUIT]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("footing", [FOR_A_DANCE, FOR_A_LESSON.changed({Gesture.DOUBLE_TAP: Order.EASIER}, {})])
async def test_help_lists_every_order_with_its_keys_and_the_gestures_in_use(
    size: tuple[int, int], footing: Footing
) -> None:
    session, clock = FakeSession(), Clock()
    session.footing = footing
    app = ClassScreen(session, clock)
    async with app.run_test(size=size) as pilot:
        pages: list[str] = []
        while len(pages) < 10 * size[1]:
            clock.seconds += 0.5
            await pilot.press("question_mark")
            await pilot.pause()
            if not app.query_one("#help").display:
                break
            pages += lines_of(app)
            assert "closes it" in " ".join(lines_of(app))
        head = next(n for n, line in enumerate(pages) if "What it does" in line)
        pages = pages[head:]  # before it come the keys by purpose
        words = " ".join(" ".join(pages).split())
        rows = [line for line in pages if line.strip() and "closes it" not in line]
        pedal, tells = rows[0].index("Pedal"), rows[0].index("What it does")
        for entry in ORDERS:
            does = respond(session.context, entry.order)
            title = does.title
            if does.elsewhere:  # an order of another kind of class
                assert does.tells not in words
                continue
            (at,) = [n for n, line in enumerate(rows) if line.strip().startswith(f"{title} ")]
            told = " ".join(" ".join(line[pedal:tells] for line in rows[at:]).split())
            assert told.startswith(footing.words(entry.order) or "- ")
            assert all(key_word(key) in words for key in entry.keys)
        for own in OWN_ORDERS:
            (row,) = [line for line in pages if line.strip().startswith(f"{own.title} ")]
            assert f" {key_word(own.keys[0])} " in row


def test_each_order_that_has_a_key_has_a_purpose() -> None:
    stands = [order for _, orders in PURPOSES for order in orders]
    keyed = {entry.order for entry in ORDERS if entry.keys} | {own.order for own in OWN_ORDERS}
    assert set(stands) == keyed
    assert len(stands) == len(keyed)


@pytest.mark.parametrize("context", [{}, {"lesson": True}, {"lesson": True, "alone": True}, {"evening": True}])
async def test_the_keys_by_purpose_are_two_pages_of_the_smallest_screen_at_most(context: dict[str, bool]) -> None:
    session, clock = FakeSession(), Clock()
    where = OrderContext(State.RUNNING, **context)
    footing = FOR_A_LESSON if where.lesson else FOR_A_DANCE
    lines = tuple(purpose_lines(76, footing, where))
    words = "\n".join(lines)
    for entry in ORDERS:
        does = respond(where, entry.order)
        if entry.keys and not does.elsewhere:
            assert re.search(rf"(?m)  {re.escape(key_word(entry.keys[0]))} +{re.escape(does.title)}(  |$)", words)
        if footing.words(entry.order) and not does.elsewhere:
            assert f"{footing.words(entry.order)}: {does.title}" in " ".join(words.split())
    async with ClassScreen(session, clock).run_test(size=(80, 24)) as pilot:
        await pilot.press("question_mark")
        await pilot.pause()
        shown = pilot.app.query_one(HelpPages)
        shown.blocks = (lines,)
        await pilot.pause()
        assert "Page 1 of 2" in "\n".join(lines_of(pilot.app))


async def test_help_tells_what_is_true_where_it_is_asked() -> None:
    session = FakeSession(replace(VIEW, stage="Section 1", stage_place="2 of 3"))
    app = ClassScreen(session)
    async with app.run_test(size=(100, 60)) as pilot:
        await pilot.press("question_mark")
        await pilot.pause()
        assert any("Next stage" in line for line in lines_of(app))
        assert not any("Next section" in line for line in lines_of(app))


@pytest.mark.parametrize(("key", "order"), [("E", Order.STOP_AT_EIGHT), ("A", Order.SECTION_AGAIN)])
async def test_a_letter_is_the_same_with_shift_or_caps_lock(key: str, order: Order) -> None:
    session = FakeSession()
    async with ClassScreen(session).run_test() as pilot:
        await pilot.press(key)
        assert session.obeyed == [order]


async def test_the_key_that_pauses_closes_help_and_pauses_at_once() -> None:
    session = FakeSession()
    app = ClassScreen(session)
    async with app.run_test() as pilot:
        await pilot.press("question_mark", "space")
        assert (app.query_one("#help").display, session.obeyed) == (False, [Order.GO])


async def test_other_keys_of_a_pedal_work_through_the_help_page() -> None:
    session = FakeSession()
    app = ClassScreen(session)
    async with app.run_test() as pilot:
        await pilot.press("question_mark", "a", "e")
        assert app.query_one("#help").display
        assert session.obeyed == [Order.SECTION_AGAIN, Order.STOP_AT_EIGHT]


@pytest.mark.parametrize("state", [State.READY, State.PAUSED, State.WAITING, State.FINISHED, State.GETTING_READY])
async def test_what_would_begin_a_class_behind_help_closes_it_and_begins_when_pressed_again(state: State) -> None:
    session = FakeSession(replace(VIEW, state=state, stage_place="1 of 3"))
    app = ClassScreen(session)
    async with app.run_test() as pilot:
        await pilot.press("question_mark", "space")
        assert (app.query_one("#help").display, session.obeyed) == (False, [])
        await pilot.press("space")
        assert session.obeyed == [Order.GO]


async def test_page_down_and_up_turn_the_page_of_help_that_is_open_and_are_orders_else() -> None:
    session, clock = FakeSession(), Clock()
    app = ClassScreen(session, clock)
    async with app.run_test(size=(100, 30)) as pilot:
        for key, page in (("question_mark", 0), ("pagedown", 1), ("pagedown", 2), ("pageup", 1)):
            clock.seconds += 2
            await pilot.press(key)
            await pilot.pause()
            assert (app.query_one("#help").display, app.query_one(HelpPages).page) == (True, page)
        assert session.obeyed == []
        await pilot.press("escape", "pagedown", "pageup")
        await pilot.pause()
        assert session.obeyed == [Order.GO, Order.HALF]


@pytest.mark.parametrize("key", ["escape", "q"])
async def test_help_is_closed_without_leaving(key: str) -> None:
    session = FakeSession()
    app = ClassScreen(session)
    async with app.run_test() as pilot:
        await pilot.press("question_mark", key)
        await pilot.pause()
        assert not app.query_one("#help").display
    assert session.obeyed == []


@pytest.mark.parametrize("size", SIZES)
async def test_a_window_out_of_focus_says_that_keys_do_not_arrive(size: tuple[int, int]) -> None:
    app = ClassScreen(FakeSession(replace(VIEW, notices=("The sound is back.",))))
    async with app.run_test(size=size) as pilot:
        app.post_message(events.AppBlur())
        await pilot.pause()
        assert AWAY in " ".join(lines_of(app))
        assert words_in(app, "#call")[0] == "RIGHT SHUFFLE"
        app.post_message(events.AppFocus())
        await pilot.pause()
        assert AWAY not in " ".join(lines_of(app))


async def test_notices_stand_below_for_a_while() -> None:
    session, clock = FakeSession(), Clock()
    app = ClassScreen(session, clock)
    async with app.run_test(size=(80, 24)) as pilot:
        session.shows = replace(VIEW, state=State.PAUSED, notices=("The pedal was unplugged: plug it in again.",))
        app.look()
        await pilot.pause()
        assert "The pedal was unplugged: plug it in again." in lines_of(app)[-1]
        clock.seconds += 60
        app.look()
        await pilot.pause()
        assert "Sound: on pulse" in lines_of(app)[-1]


async def test_large_words_change_three_times_a_second_at_most_and_end_up_right() -> None:
    session, clock = FakeSession(view_of(now="walk")), Clock()
    app = ClassScreen(session, clock)
    async with app.run_test(size=(80, 24)) as pilot:
        shown = []
        for word in ("walk", "rock", "step", "kick", "stomp"):
            session.shows = view_of(now=word)
            app.look()
            await pilot.pause()
            shown.append(words_in(app, "#call")[0])
            clock.seconds += 0.1
        assert shown == ["WALK", "ROCK", "STEP", "STEP", "STEP"]
        clock.seconds += 1
        app.look()
        await pilot.pause()
        assert words_in(app, "#call")[0] == "STOMP"


async def test_parts_whose_content_stays_are_not_drawn_again() -> None:
    session = FakeSession(view_of(next_turn_in=Fraction(2)))
    app = ClassScreen(session)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        drawn: list[str] = []
        for part in app.screen.walk_children():
            _note_drawing(part, drawn)
        for moment in range(20):  # the time to the turn runs on; what is shown of it does not change
            session.shows = view_of(next_turn_in=Fraction(40 - moment, 20))
            app.look()
            await pilot.pause()
        assert drawn == []
        session.shows = view_of(count=4, in_bar=3)
        app.look()
        await pilot.pause()
        assert set(drawn) == {"count", "bar"}


def _note_drawing(part: Any, drawn: list[str]) -> None:
    render = part.render

    def noted() -> Any:
        drawn.append(part.id)
        return render()

    part.render = noted


NASTY = [
    "[red]walk[/]",
    "[/b] [@click=app.quit]x[/] [bold",
    "\x1b[31m\x1b]0;t\x07\x1b[2J",
    "\u202egnok \u2066x",
    "日本語" * 20,
    "👩‍🚀 🇫🇷 ☂️",
    "e" + "\u0301" * 40,
    "\ud800\x00\x90",
    "w" * 400,
    "a b " * 300,
    "",
]


def _filled(text: str, state: State) -> View:
    """A view with ``text`` wherever there is text."""
    glance = replace(GLANCE, **{f.name: text for f in fields(GLANCE) if f.type == "str"})
    glance = replace(glance, coming=(Coming(text, 3, text),))
    words = {f.name: text for f in fields(View) if f.type == "str"}
    return replace(VIEW, glance=glance, state=state, notices=(text, text), cannot=(text, text), **words)


@pytest.mark.parametrize("text", NASTY)
async def test_nasty_text_is_shown_as_text_in_every_place(text: str) -> None:
    session, clock = FakeSession(_filled(text, State.RUNNING)), Clock()
    app = ClassScreen(session, clock)
    async with app.run_test(size=(100, 30)) as pilot:
        for state in State:
            session.shows = _filled(text, state)
            clock.seconds += 2
            app.look()
            await pilot.pause()
            for line in lines_of(app):
                assert cell_len(line) == 100
                assert not [c for c in line if unicodedata.category(c) in ("Cc", "Cf", "Cs")]
        assert "[red]walk[/]" not in text or "Sound: [red]walk[/]" in " ".join(lines_of(app))


@pytest.mark.parametrize("size", [(200, 24), (80, 50), (60, 20), (30, 8), (10, 3), (2, 1)])
async def test_any_size_of_window_is_borne(size: tuple[int, int]) -> None:
    app = ClassScreen(FakeSession(view_of(coming=(TAG_IN_8,))))
    async with app.run_test(size=size) as pilot:
        await pilot.press("question_mark")
        await pilot.pause()
        assert len(lines_of(app)) == size[1]


def test_what_libraries_print_goes_to_the_log_and_textual_to_the_terminal(tmp_path: Path, capfd: Any) -> None:
    import sys

    before, log = sys.__stderr__, tmp_path / "screen.log"
    with own_terminal(log):
        os.write(2, b"a library grumbles\n")
        print("drawn", file=sys.__stderr__, flush=True)
    os.write(2, b"afterwards\n")
    assert log.read_bytes() == b"a library grumbles\n"
    assert capfd.readouterr().err == "drawn\nafterwards\n"
    assert sys.__stderr__ is before


def test_the_screen_is_drawn_where_output_goes_when_errors_go_to_a_file(tmp_path: Path) -> None:
    import pty
    import sys

    above, terminal = pty.openpty()
    kept = os.dup(1), os.dup(2)
    with (tmp_path / "errors").open("wb") as errors:
        try:
            os.dup2(terminal, 1)
            os.dup2(errors.fileno(), 2)
            with own_terminal(tmp_path / "screen.log"):
                print("drawn", file=sys.__stderr__, flush=True)
        finally:
            for descriptor, was in enumerate(kept, 1):
                os.dup2(was, descriptor)
                os.close(was)
    assert os.read(above, 100).split() == [b"drawn"]
    os.close(above)
    os.close(terminal)


def test_the_terminal_is_given_back_when_the_screen_fails(tmp_path: Path, capfd: Any) -> None:
    with pytest.raises(RuntimeError), own_terminal(tmp_path / "screen.log"):
        raise RuntimeError
    os.write(2, b"afterwards\n")
    assert capfd.readouterr().err == "afterwards\n"
