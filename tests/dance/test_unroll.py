"""The dance as danced: walls, tags, restarts, changes, endings, phrased orders."""

from __future__ import annotations

import itertools
import math
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caller.dance.check import check, has_errors
from caller.dance.unroll import MOST_WALLS, unroll, usual_walls
from caller.dance.walls import Dance
from caller.routine.facing import EIGHTHS, FRONT, Facing
from caller.routine.notation.read import read_sheet
from caller.routine.step import Foot, Weight
from tests.routine.strategies import readable_sheets

HEAD = "Title: Test Piece\nTempo: 100\nStarts: right\n"
# Eight counts, a quarter to the left, the same foot free at the end.
SECTION = "Section 1\n1-2 Walk R, L\n3-4 Step R forward, pivot 1/4 left\n5-8 Walk R, L, R, L\n"
SHIPPED = sorted((Path(__file__).parents[2] / "routines").glob("*.txt"))


def _dance(*lines: str, head: str = HEAD, walls: int | None = None) -> Dance:
    sheet = read_sheet(head + SECTION + "\n".join(lines) + "\n")
    assert sheet.findings == ()
    return unroll(sheet.routine, walls)


def _starts(dance: Dance) -> list[str]:
    return [wall.starts.clock for wall in dance.walls]


def _actions(dance: Dance, wall: int) -> list[str]:
    return [d.step.movement.action for d in dance.walls[wall - 1].movements]


def test_each_wall_starts_where_the_last_one_ended() -> None:
    dance = _dance(head=HEAD + "Walls: 4\n", walls=5)
    assert _starts(dance) == ["12:00", "9:00", "6:00", "3:00", "12:00"]
    assert [wall.at for wall in dance.walls] == [0, 8, 16, 24, 32]
    assert dance.counts == 40


def test_a_whole_figure_keeps_its_name_and_what_a_cut_leaves_of_one_is_told_by_its_movements() -> None:
    text = f"{HEAD}Section 1\n1-4 Right rocking chair\n5-8 Walk R, L, R, L\nRestart: wall 2 after 2 counts\n"
    whole, cut = (wall.phrases[0] for wall in unroll(read_sheet(text).routine, 2).walls)
    assert (whole.name, whole.figure.name if whole.figure else "") == ("right rocking chair", "rocking chair")
    assert (cut.first, cut.last, cut.figure) == (0, 1, None)
    assert "rocking chair" not in cut.name


def test_of_a_figure_that_a_restart_cuts_every_movement_that_is_danced_is_told() -> None:
    section = "Section 1\n1-4 Walk R, L, R, L\n5-8 Jazz box R cross, L back, R side, L forward\n\n"
    cut = unroll(read_sheet(f"{HEAD}{section}Restart on wall 2 after 6 counts\n").routine).walls[1].phrases[-1]
    assert cut.wordings == ("cross right over, step left back", "cross, back")


def test_a_tag_is_danced_after_its_wall_once_and_turns_what_follows() -> None:
    dance = _dance("Tag: after wall 2", "1-2 Step R forward, pivot 1/2 left", walls=4)
    assert [wall.counts for wall in dance.walls] == [8, 10, 8, 8]
    assert _starts(dance) == ["12:00", "9:00", "12:00", "9:00"]
    assert [(e.kind, e.after, e.counts, e.name) for e in dance.walls[1].events] == [("tag", 8, 2, "")]


def test_a_named_tag_is_danced_after_each_of_its_walls() -> None:
    dance = _dance("Tag B: after walls 1, 2 and 4", "1-4 Sway R, L, R, L", walls=5)
    assert [wall.counts for wall in dance.walls] == [12, 12, 8, 12, 8]
    assert {e.name for wall in dance.walls for e in wall.events} == {"B"}


def test_a_tag_inside_a_wall_goes_on_from_there() -> None:
    dance = _dance("Tag: wall 2 after 4 counts", "1-2 Stomp R, L", walls=2)
    wall = dance.walls[1]
    assert wall.counts == 10
    assert [d.step.movement.action for d in wall.movements][4:6] == ["stomp", "stomp"]
    assert [d.at - wall.at for d in wall.movements] == [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]
    assert [(s.name, int(s.at - wall.at), s.counts) for s in wall.stretches] == [("", 0, 4), ("tag", 4, 2), ("", 6, 4)]


def test_a_tag_and_a_restart_at_one_place_start_the_routine_again() -> None:
    dance = _dance("Tag: wall 1 after 4 counts", "1-2 Stomp R, L", "Restart: wall 1 after 4 counts", walls=2)
    assert dance.walls[0].counts == 6
    assert [e.kind for e in dance.walls[0].events] == ["tag", "restart"]
    assert _starts(dance) == ["12:00", "9:00"]


def test_a_restart_cuts_its_walls() -> None:
    dance = _dance("Restart: walls 2 and 3 after 2 counts", walls=4)
    assert [wall.counts for wall in dance.walls] == [8, 2, 2, 8]
    assert _starts(dance) == ["12:00", "9:00", "9:00", "9:00"]
    assert [(e.kind, e.after, e.counts) for e in dance.walls[1].events] == [("restart", 2, 0)]


def test_a_step_change_of_a_restart_is_danced_in_that_wall_alone() -> None:
    dance = _dance("Restart: wall 2 after 4 counts", "S1 3-4  Stomp R, L", walls=3)
    assert _actions(dance, 2) == ["walk", "walk", "stomp", "stomp"]
    assert _actions(dance, 3)[2:4] == ["step", "pivot"]
    assert _starts(dance) == ["12:00", "9:00", "9:00"]


def test_a_change_differs_in_its_wall_alone() -> None:
    dance = _dance("Change: wall 2", "S1 5-6  Stomp R, L", walls=3)
    assert [_actions(dance, wall)[4:6] for wall in (1, 2, 3)] == [["walk"] * 2, ["stomp"] * 2, ["walk"] * 2]
    assert [(e.kind, e.after, e.counts) for e in dance.walls[1].events] == [("change", 4, 2)]


def test_the_dance_ends_with_its_ending() -> None:
    dance = _dance("Ending: wall 3 after 4 counts", "1 Stomp R forward")
    assert dance.ended
    assert [wall.counts for wall in dance.walls] == [8, 8, 5]
    assert _actions(dance, 3)[-1] == "stomp"
    assert len(unroll(dance.routine, 10).walls) == 3


def test_a_dance_without_an_ending_goes_on_as_far_as_asked() -> None:
    assert len(_dance(walls=17).walls) == 17
    assert not _dance(walls=17).ended
    assert len(_dance(walls=MOST_WALLS + 5).walls) == MOST_WALLS


def test_walls_are_danced_past_the_last_event_where_nobody_says_how_many() -> None:
    assert usual_walls(_dance("Restart: wall 9 after 4 counts", walls=1).routine) == 10


PHRASED = (
    HEAD
    + "Order: A B Tag A2 B Tag C\n"
    + "Part A section 1\n1-4 Walk R, L, R, L\n"
    + "Part B section 1\n1-2 Step R forward, pivot 1/2 left\n"
    + "Tag\n1-2 Stomp R, L\nTag C\n1 Clap\n"
)


def test_a_phrased_order_makes_a_wall_of_each_part() -> None:
    sheet = read_sheet(PHRASED)
    assert not has_errors(check(sheet))
    dance = unroll(sheet.routine)
    assert [(w.part, w.counts, w.starts.clock) for w in dance.walls] == [
        ("A", 4, "12:00"),
        ("B", 4, "12:00"),
        ("A", 2, "6:00"),
        ("B", 3, "6:00"),
    ]
    assert dance.ended
    assert [[(e.kind, e.name) for e in w.events] for w in dance.walls] == [[], [("tag", "")], [], [("tag", "C")]]


def test_a_pick_up_falls_in_the_count_before_its_section() -> None:
    text = HEAD + SECTION + "Section 2\n&1 Step R out, step L out\n2-8 Hold\n"
    dance = unroll(read_sheet(text).routine, 2)
    wall = dance.walls[1]
    pick_up = next(d for d in wall.movements if d.step.count == "&")
    assert pick_up.at - wall.at == Fraction(15, 2)
    assert pick_up.section == 2


def test_feet_and_facings_are_carried_from_movement_to_movement() -> None:
    dance = _dance(walls=3)
    movements = [d for wall in dance.walls for d in wall.movements]
    assert movements[0].before.weight is Weight.on(Foot.LEFT)
    for before, after in itertools.pairwise(movements):
        assert before.after == after.before


def test_a_dance_has_a_wall_and_a_step() -> None:
    with pytest.raises(ValueError, match="at least one wall"):
        _dance(walls=0)
    with pytest.raises(ValueError, match="nothing to dance"):
        unroll(read_sheet("Title: T\n").routine)


def test_the_wall_at_a_count_is_the_one_danced_there() -> None:
    dance = _dance(walls=3)
    assert [dance.wall_at(Fraction(at)).number for at in (-1, 0, 7, 8, 23, 99)] == [1, 1, 1, 2, 3, 3]


@given(st.integers(-8, 8), st.integers(1, 12))
def test_the_walls_come_round_after_eight_over_the_gcd(eighths: int, walls: int) -> None:
    """Arithmetic: math.gcd."""
    turn = f"turning {abs(eighths)}/8 {'right' if eighths > 0 else 'left'}" if eighths else ""
    sheet = read_sheet(f"{HEAD}Section 1\n1-2 Step R forward {turn}, step L beside R\n")
    dance = unroll(sheet.routine, walls)
    assert [w.starts for w in dance.walls] == [Facing(eighths * n) for n in range(walls)]
    period = EIGHTHS // math.gcd(EIGHTHS, abs(eighths))
    assert all(w.starts == FRONT for w in dance.walls[::period])


@given(readable_sheets(), st.integers(1, 9))
@settings(max_examples=80, suppress_health_check=[HealthCheck.too_slow])
def test_walls_add_up_and_hold_their_movements(text: str, walls: int) -> None:
    dance = unroll(read_sheet(text).routine, walls)
    at = Fraction(0)
    for wall in dance.walls:
        assert wall.at == at
        assert wall.counts == sum(stretch.counts for stretch in wall.stretches)
        assert [d.at for d in wall.movements] == sorted(d.at for d in wall.movements)
        assert all(wall.at - 1 < d.at < wall.end for d in wall.movements)
        covered = [n for phrase in wall.phrases for n in range(phrase.first, phrase.last + 1)]
        assert covered == list(range(len(wall.movements)))
        at = wall.end
    assert dance.counts == at


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_shipped_routine_has_nothing_to_find(path: Path) -> None:
    sheet = read_sheet(path.read_text(encoding="utf-8"))
    assert check(sheet) == ()
    assert unroll(sheet.routine).walls


def test_there_are_shipped_routines() -> None:
    assert SHIPPED
