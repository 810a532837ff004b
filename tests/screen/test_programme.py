"""A programme on the screen and in plain lines: what is told, where it is, and that it waits."""

from __future__ import annotations

import io
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.dance.walls import Dance
from caller.routine.facing import Facing
from caller.routine.step import Foot
from caller.screen.app import ClassScreen
from caller.screen.board import board_of
from caller.screen.course import course_of
from caller.screen.letters import GOOD_HEIGHT, fit_first
from caller.screen.plain import run_plain
from caller.screen.plain_lines import lines_between
from caller.session import View
from caller.teaching.drill import drill_of, section_span
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.transport.order import Order
from caller.transport.state import State
from tests.fakes.room import VIEW, FakeSession, view_of
from tests.screen.seen import lines_in, lines_of, words_in
from tests.session.classroom import looked
from tests.session.lessons import Taught

READY = replace(VIEW, state=State.READY, stage="Introduction", stage_place="1 of 3", programme=("Introduction", "Told"))
TELLING = replace(
    VIEW,
    state=State.TELLING,
    stage="Section 1, told",
    stage_place="2 of 3",
    telling="walk right.",
    told_next="walk left.",
)
STOOD = replace(TELLING, lines=("right foot.", "walk right.", "walk left."), line=1, facing=Facing(6), free=Foot.RIGHT)
WAITING = replace(VIEW, state=State.WAITING, stage="Section 1", stage_place="2 of 3", told_next="Section 2")


def drilled(dance: Dance) -> LessonPlan:
    return drill_of(dance, section_span(dance, 1), "Section 1", tempo=Fraction(100), times=1)


def told_only(dance: Dance) -> LessonPlan:
    stage = Stage("Section 1, told", StageKind.TELL, said=("walk right,", "walk left."), pause_seconds=Fraction(1))
    return LessonPlan("Lantern Row", "walkthrough", Fraction(100), len(dance.walls), (stage,))


def test_before_the_start_the_stages_stand_in_their_order() -> None:
    board = board_of(READY)
    assert board.listed == ("Will be taught:", "Introduction", "Told")
    assert (board.title, board.section) == ("Copper Kettle, 1 of 3", "Introduction")


def test_what_is_told_has_all_the_room_and_what_is_told_next_a_line() -> None:
    board = board_of(TELLING)
    assert (board.large.call, board.large.label, board.large.next) == (("walk right.",), "then: walk left.", ("",))
    assert (board.title, board.section, board.moving) == ("Copper Kettle, 2 of 3", "Section 1, told", False)
    last = board_of(replace(TELLING, told_next="")).large
    assert (last.label, last.next) == ("", ("",))


def test_what_is_told_stands_as_lines_with_the_one_that_is_now_marked_and_how_all_stand() -> None:
    board = board_of(STOOD)
    assert board.large.next == (
        "facing 9:00, right foot free, weight on the left",
        "facing 9:00, right foot free",
        "9:00, right foot free",
    )
    assert board.listed == ("Section 1, told:", "right foot.", "walk right.", "walk left.")
    assert board.listed[board.marked] == "walk right."
    assert board_of(TELLING).marked == -1


@pytest.mark.parametrize("size", [(80, 24), (100, 30)])
async def test_the_line_that_is_now_is_in_sight_however_long_the_telling(size: tuple[int, int]) -> None:
    lines = tuple(f"sentence {n}." for n in range(60))
    for line in (0, 31, 59):
        session = FakeSession(replace(STOOD, lines=lines, line=line, telling=lines[line]))
        screen = ClassScreen(session)
        async with screen.run_test(size=size) as pilot:
            await pilot.pause()
            marked = [row for row in lines_in(screen, "#listed") if "▶" in row]
            assert [row.split() for row in marked] == [["▶", "sentence", f"{line}."]]


def test_a_pause_in_a_telling_shows_how_all_stand() -> None:
    large = board_of(replace(STOOD, state=State.PAUSED)).large
    assert large.call[0] == "facing 9:00, right foot free, weight on the left"
    assert large.label.startswith("Paused")
    assert large.next == ("walk right.",)


def test_by_the_counts_alone_no_steps_are_shown() -> None:
    board = board_of(replace(VIEW, by_heart=True), course_of(Taught(drilled).lesson.dance))
    assert (board.large.call, board.large.next) == (("3",), ("",))
    assert (board.side.count, board.side.foot, board.side.turn_amount) == ("3", None, "")
    assert board.floor is None


def test_half_the_hall_sees_the_easier_way_where_it_comes() -> None:
    course = course_of(Taught(drilled).lesson.dance)  # an option on the first two counts of section 4
    shown, plain = {}, {}
    for at in (18, 20, 24, 25, 26):
        view = view_of(VIEW, at=Fraction(at), wall=1, section=3 if at < 24 else 4)
        shown[at] = board_of(replace(view, both=True), course).large
        plain[at] = board_of(view, course).large
    easier = "left forward turning a quarter right, right to the side turning a quarter right"
    assert [at for at, large in shown.items() if large.easier] == [20, 24, 25], "from a bar before its first count on"
    assert len({shown[at].easier for at in (20, 24, 25)}) == 1
    assert (shown[24].easier[0], shown[24].easier[-1]) == (easier, "forward 1/4, side 1/4")
    for at in (20, 24):
        assert shown[at].next == plain[at].next, "what follows stands there too"
        assert shown[at].label == "then · half the hall, section 4, easier on 1 to 2, turning right"
    assert fit_first(shown[24].easier, 72, 8).height >= GOOD_HEIGHT, "in letters like those of any call"
    assert shown[26] == plain[26]
    assert not any(large.easier for large in plain.values())


def test_half_the_hall_sees_it_in_the_count_in_of_what_begins_with_it_and_not_beyond_the_stage() -> None:
    course = course_of(Taught(drilled).lesson.dance)
    both = replace(VIEW, both=True)
    counted_in = view_of(
        replace(both, state=State.COUNT_IN), at=Fraction(24), wall=1, section=4, now="", counting_in=True
    )
    assert board_of(counted_in, course).large.easier
    last = view_of(replace(both, until=Fraction(24)), at=Fraction(22), wall=1, section=3)
    assert not board_of(last, course).large.easier


def test_plain_lines_tell_a_sentence_as_often_as_it_is_said() -> None:
    twice = replace(TELLING, lines=("sway right, left.", "sway right, left."), telling="sway right, left.")
    said = ['Said: "sway right, left."']
    assert lines_between(twice, replace(twice, line=1)) == said
    assert lines_between(twice, replace(twice, tempo=Fraction(90))) == ["Tempo: 90 a minute."], "the same one, no other"
    assert said[0] in lines_between(replace(twice, state=State.PAUSED), twice), "after a pause it is said again"


def test_the_end_tells_how_many_walls_were_danced_only_where_none_was_left_out() -> None:
    ended = replace(VIEW, state=State.FINISHED)
    assert "walls danced" in board_of(ended).large.label
    assert "walls" not in board_of(replace(ended, whole=False)).large.label


@pytest.mark.parametrize("size", [(100, 30), (80, 24), (140, 44)])
async def test_what_half_the_hall_dances_stands_in_block_letters_below_what_follows(size: tuple[int, int]) -> None:
    course = Taught(drilled).lesson.dance
    view = view_of(replace(VIEW, both=True), at=Fraction(20), wall=1, section=3)
    app = ClassScreen(FakeSession(view, course))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        (then, then_height), (easier, height) = words_in(app, "#next"), words_in(app, "#easier")
        assert then.lower() == (VIEW.glance.next if VIEW.glance else "")
        assert easier.lower().startswith("forward 1/4")
        assert min(then_height, height) >= (GOOD_HEIGHT if size > (80, 24) else 5)


def test_a_telling_that_is_paused_goes_on_with_its_sentence() -> None:
    large = board_of(replace(TELLING, state=State.PAUSED)).large
    assert large.call == ("paused",)
    assert large.next == ("walk right.",)


def test_a_stage_that_waits_says_how_it_goes_on_and_with_what() -> None:
    large = board_of(WAITING).large
    assert large.call == ("Space or the pedal goes on", "tap to go on")
    assert large.next == ("Section 2",)
    assert "A does it again" in large.label


def test_a_stage_that_waits_tells_how_all_stand_now_apart_from_how_the_next_one_begins() -> None:
    """After "you now face six o'clock" the dial shows that wall, whatever comes next."""
    back, front, right = Facing(4), Facing(0), Foot.RIGHT
    waiting = replace(WAITING, facing=front, free=right, glance=view_of().glance)
    turned = board_of(replace(waiting, stood=(back, right)))
    told = "now facing 6:00, right foot free; then facing 12:00, right foot free; next"
    assert turned.large.label.endswith(told)
    assert turned.side.facing == back
    still = board_of(replace(waiting, stood=(front, right)))
    assert still.large.label.endswith("; facing 12:00, right foot free, weight on the left; next")
    unknown = board_of(waiting)
    assert unknown.large.label == still.large.label
    assert waiting.glance is not None
    assert unknown.side.facing == waiting.glance.facing


def test_a_tag_that_is_not_danced_in_a_stage_is_not_ahead_in_it() -> None:
    taught = Taught(drilled)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    course = course_of(taught.lesson.dance)
    strip = board_of(looked(taught.lesson), course).strip
    assert strip is not None
    assert strip.ahead == ""
    whole = board_of(replace(looked(taught.lesson), until=None), course).strip
    assert whole is not None
    assert whole.ahead.startswith("tag in ")


def test_plain_lines_tell_each_stage_each_sentence_and_the_waiting() -> None:
    assert lines_between(READY, TELLING) == ["Stage 2 of 3: Section 1, told.", 'Said: "walk right."']
    assert lines_between(TELLING, replace(TELLING, telling="walk left.", told_next="")) == ['Said: "walk left."']
    assert lines_between(TELLING, replace(WAITING, stage=TELLING.stage)) == [
        'Done. Type "go", or press the pedal, to go on.',
        "Next: Section 2.",
    ]
    counting = replace(TELLING, state=State.COUNT_IN, telling="", stage="Section 1, 1 of 2")
    assert lines_between(TELLING, counting)[:2] == ["Stage 2 of 3: Section 1, 1 of 2.", "Counting in."]


@given(st.text(max_size=80), st.text(max_size=80), st.sampled_from((State.TELLING, State.PAUSED, State.WAITING)))
def test_any_words_stand_on_the_board_and_stay_on_their_lines(words: str, name: str, state: State) -> None:
    view = replace(TELLING, telling=words, told_next=words, stage=name, state=state)
    board = board_of(view)
    assert not any(set(shown) & set("\n\r\x1b") for shown in (*board.large.call, *board.large.next, board.section))
    assert all(len(line.splitlines()) <= 1 for line in lines_between(None, view))


def test_the_plain_mode_runs_a_programme_from_its_start_to_its_end() -> None:
    taught, out = Taught(drilled), io.StringIO()
    run_plain(taught.lesson, out, pause=lambda seconds: taught.speaker.advance(round(seconds * taught.speaker.rate)))
    lines = out.getvalue().splitlines()
    assert "Stage 1 of 1: Section 1." in lines
    assert 'Said: "section one, half speed."' in lines
    assert lines[-1] == "Finished."
    assert [line for line in lines if line.startswith("  ")]


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (160, 45)])
async def test_the_screen_shows_the_words_told_in_full(size: tuple[int, int]) -> None:
    taught = Taught(told_only)
    screen = ClassScreen(taught.lesson)
    async with screen.run_test(size=size) as pilot:
        await pilot.press("space")
        screen.look()
        await pilot.pause()
        lines = lines_of(screen)
        assert any("Section 1, told" in line for line in lines)
        view: View = looked(taught.lesson)
        assert view.lines[1:] == ("walk right,", "walk left.")
        assert all(any(words in line for line in lines) for words in view.lines)
        await pilot.press("n")
        assert taught.lesson.state is State.FINISHED


async def test_a_key_moves_a_programme_on_and_back() -> None:
    taught = Taught(drilled)
    async with ClassScreen(taught.lesson).run_test() as pilot:
        await pilot.press("space", "n")
        assert taught.lesson.state is State.FINISHED
        await pilot.press("p")
        assert taught.lesson.state is State.TELLING
        taught.lesson.obey(Order.QUIT)
        assert taught.lesson.left
