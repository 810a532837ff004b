"""Wordings, what stands where, notices that last, and the pace of large changes: all pure."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.calls.glance import Coming
from caller.routine.facing import NO_TURN, Facing, Turn
from caller.routine.step import Foot
from caller.screen.board import board_of
from caller.screen.heading import COUNT_IN, wall_wordings
from caller.screen.pace import Pace
from caller.screen.watch import ANSWER_SECONDS, MOST_NOTICES, NOTICE_SECONDS, NoticeBoard
from caller.screen.words import (
    call_wordings,
    in_words,
    key_word,
    new_notices,
    section_words,
    speed_words,
    stands_wordings,
    tempo_wordings,
    turn_words,
)
from caller.transport.state import State
from tests.fakes.room import GLANCE, VIEW, view_of


@pytest.mark.parametrize(
    ("turn", "words"),
    [
        (NO_TURN, ""),
        (Turn(-2), "1/4 left"),
        (Turn(3), "3/8 right"),
        (Turn(8), "full turn right"),
        (Turn(-10), "1 1/4 left"),
        (Turn(16), "2 full turns right"),
    ],
)
def test_turns_are_told_by_how_much_and_which_way(turn: Turn, words: str) -> None:
    assert turn_words(turn) == words


def test_counts_to_go_are_never_told_too_few() -> None:
    assert [in_words(Fraction(n, 4)) for n in (9, 8, 1, 0, -1)] == ["in 3", "in 2", "in 1", "now", "now"]


def test_a_call_can_be_shown_with_its_fractions_in_figures() -> None:
    assert call_wordings("step, pivot a quarter left")[1] == "step, pivot 1/4 left"
    assert call_wordings("turn one and a half right")[1] == "turn 1 1/2 right"
    assert call_wordings("three quarters left, walk")[1] == "3/4 left, walk"
    assert call_wordings("halfway") == ("halfway",)


def test_keys_are_told_as_they_are_printed() -> None:
    assert [*map(key_word, ("space", "pagedown", "ctrl+q", "h", "equals_sign", "f1"))] == [
        "Space",
        "Page Down",
        "Ctrl+Q",
        "H",
        "=",
        "F1",
    ]


def test_half_speed_is_told_in_words() -> None:
    assert [speed_words(Fraction(n, 4)) for n in (4, 2, 3)] == ["", "half", "75%"]


def test_a_tempo_has_a_wording_that_fits_beside_a_title() -> None:
    assert tempo_wordings(Fraction(108), Fraction(1)) == ("108",)
    assert tempo_wordings(Fraction(112), Fraction(519, 1000)) == ("58.1, 52% of 112", "58.1 of 112")
    assert max(len(tempo_wordings(Fraction(1085, 10), Fraction(n, 1000))[-1]) for n in range(250, 1500)) <= 15


def test_how_all_stand_is_told_with_the_weight_where_there_is_room() -> None:
    assert stands_wordings(Facing(6), Foot.LEFT) == (
        "facing 9:00, left foot free, weight on the right",
        "facing 9:00, left foot free",
    )
    assert stands_wordings(Facing(0), None) == ("facing 12:00",)
    assert stands_wordings(None, None, "paused") == ("paused",)


def test_a_tag_is_told_by_its_name_and_a_part_with_its_section() -> None:
    assert section_words(replace(GLANCE, section=0, section_name="Tag B")) == "Tag B"
    assert section_words(replace(GLANCE, section=0, section_name="tag")) == "Tag"
    assert section_words(replace(GLANCE, section=0, section_name="")) == "Tag"
    assert section_words(replace(GLANCE, part="B", section=1, section_name="")) == "Part B, section 1"


def test_the_turn_is_shown_with_where_it_ends() -> None:
    side = board_of(view_of(facing=Facing(1), next_turn=Turn(-3), next_turn_in=Fraction(3, 2))).side
    assert (side.turn_amount, side.turn_when) == ("3/8 left", "in 2, to 9:00")


def test_the_soonest_warning_within_two_sections_is_shown() -> None:
    coming = (Coming("wall", 4, "wall 4"), Coming("tag", 12, "tag"), Coming("restart", 9, "restart"))
    assert board_of(view_of(coming=coming)).coming == "restart in 9"
    assert board_of(view_of(coming=(Coming("tag", 17, "tag"),))).coming == ""
    assert board_of(replace(view_of(coming=coming), state=State.PAUSED)).coming == ""


@pytest.mark.parametrize("state", State)
@pytest.mark.parametrize("glance", [None, GLANCE])
def test_every_state_has_its_word_with_or_without_a_glance(state: State, glance: object) -> None:
    board = board_of(replace(VIEW, state=state, glance=glance, telling="walk right." if state is State.TELLING else ""))
    moving = (State.COUNT_IN, State.RUNNING, State.FINISHING)
    other = {State.TELLING: "walk right.", State.WAITING: "Space or the pedal goes on"}
    shown = GLANCE.now if state in moving else other.get(state, state.value)
    assert glance is None or board.large.call[0] == shown
    assert (board.side.count != "") == (glance is not None and state in (*moving, State.PAUSED))


@given(st.lists(st.text(max_size=3), unique=True), st.data())
def test_notices_already_seen_are_not_news(notices: list[str], data: st.DataObject) -> None:
    seen = data.draw(st.integers(0, len(notices)))
    dropped = data.draw(st.integers(0, seen))
    assert new_notices(tuple(notices[:seen]), tuple(notices[dropped:])) == tuple(notices[seen:])


def test_a_notice_stays_up_though_the_view_had_it_for_a_moment() -> None:
    board = NoticeBoard()
    assert board.shown(("pedal lost",), 0.0) == ("pedal lost",)
    assert board.shown((), NOTICE_SECONDS - 0.1) == ("pedal lost",)
    assert board.shown((), NOTICE_SECONDS) == ()


def test_only_the_last_notices_are_up() -> None:
    assert NoticeBoard().shown(("a", "b", "c"), 0.0) == ("a", "b", "c")[-MOST_NOTICES:]


@given(st.lists(st.floats(0, 0.5), max_size=60))
def test_no_second_has_more_than_three_large_changes(waits: list[float]) -> None:
    pace, now, changes = Pace(), 0.0, []
    for wait in waits:
        now += wait
        if pace.allows(now):
            pace.changed(now)
            changes.append(now)
    # WCAG 2.2, success criterion 2.3.1: no more than three flashes in any one second period.
    assert all(sum(at <= other <= at + 1 for other in changes) <= 3 for at in changes)


def test_what_answers_an_order_goes_with_the_next_thing_that_happens_once_it_could_be_read() -> None:
    board, paused = NoticeBoard(), ("Paused.",)
    assert board.shown(paused, 0.0, paused, State.PAUSED) == paused
    assert board.shown(paused, 8.0, paused, State.PAUSED) == paused, "nothing has happened"
    assert board.shown(paused, 8.1, paused, State.COUNT_IN) == ()
    gone = (*paused, "The pedal is gone.", "Muted.")
    assert board.shown(gone, 9.0, ("Muted.",), State.COUNT_IN) == gone[1:]
    assert board.shown(gone, 9.5, ("Muted.",), State.RUNNING) == gone[1:], "not before it could be read"
    assert board.shown(gone, 9.0 + ANSWER_SECONDS, ("Muted.",), State.RUNNING) == ("The pedal is gone.",)
    assert board.shown(gone, 9.0 + NOTICE_SECONDS, ("Muted.",), State.RUNNING) == ()


def test_an_answer_takes_the_place_of_the_one_before() -> None:
    board, muted = NoticeBoard(), ("Muted.",)
    board.shown(muted, 0.0, muted)
    both = ("Muted.", "4 counts over and over.", "The sound is back.")
    assert board.shown(both, 0.5, both[1:2], State.RUNNING) == both[1:]


def test_a_count_in_stands_where_the_wall_does_and_in_a_loop_the_time_round() -> None:
    """The numbers of a count-in look as the dance's counts do; a loop never comes to another wall."""
    assert wall_wordings(VIEW, GLANCE)[0].startswith("Wall ")
    looped = replace(VIEW, time_round=3)
    assert wall_wordings(looped, GLANCE) == ("Loop, time 3", "Time 3")
    counted = replace(looped, state=State.COUNT_IN)
    assert wall_wordings(counted, GLANCE) == (COUNT_IN,)
    assert board_of(counted).large.label.startswith(COUNT_IN)
    assert not board_of(looped).large.label.startswith(COUNT_IN)
