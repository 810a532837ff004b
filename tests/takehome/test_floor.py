"""Where the feet travel: known figures end where dancers end, and the drawing follows the dancer's own directions."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.dance.wall_map import map_walls
from caller.routine.facing import Facing
from caller.routine.step import Foot
from caller.routine.vocabulary import shipped
from caller.takehome.drawing import floor_figure, map_sides
from caller.takehome.floor import STANCE, Feet, Footfall, Spot, footfalls
from caller.takehome.page import sheet_page
from caller.takehome.prints import STEP, overlap, print_box
from tests.takehome.packets import STEMS, dance_in, shipped_dance

HEAD = "Title: T\nCounts: 8\nWalls: 1\nTempo: 100\nStarts: {starts}\n\nSection 1: S\n"


def feet_after(steps: str, starts: str = "right") -> Feet:
    dance = dance_in(HEAD.format(starts=starts) + steps, 1)
    return footfalls(dance.walls[0].movements)[1]


def near(spot: Spot, x: float, y: float) -> bool:
    return abs(spot.x - x) < 1e-9 and abs(spot.y - y) < 1e-9


# What dancers know of these figures (common practice): a rocking chair and a box come back to where they began, a vine
# of three goes sideways without going forward, walks go straight ahead with the feet a stance apart.
@pytest.mark.parametrize(
    "steps",
    [
        "1-4 Right rocking chair\n5-6 Step R beside L, step L in place\n7-8 Hold",
        "1-2 Step R to side, step L beside R\n3-4 Step R forward, touch L beside R\n"
        "5-6 Step L to side, step R beside L\n7-8 Step L back, step R beside L",
    ],
)
def test_figures_that_come_back_end_where_they_began(steps: str) -> None:
    feet = feet_after(steps)
    assert near(feet.left, -STANCE, 0)
    assert near(feet.right, STANCE, 0)


def test_walks_go_straight_ahead() -> None:
    feet = feet_after("1-4 Walk R, L, R, L\n5-8 Hold")
    assert near(feet.left, -STANCE, 4)
    assert near(feet.right, STANCE, 3)


def test_a_vine_goes_sideways_and_back_again() -> None:
    feet = feet_after("1-3 Vine right\n4 Touch L beside R\n5-7 Vine left\n8 Touch R beside L")
    assert near(feet.left, feet.right.x - 2 * STANCE, feet.right.y)
    there = feet_after("1-3 Vine right\n4 Touch L beside R\n5-8 Hold")
    assert there.right.x > 1.5


def test_four_quarter_turns_forward_walk_a_square() -> None:
    steps = "".join(
        f"{n} Step {'R' if n % 2 else 'L'} forward{' turning 1/4 right' if not n % 2 else ''}\n" for n in range(1, 9)
    )
    middle = feet_after(steps).middle
    assert abs(middle.x) < 0.9
    assert abs(middle.y) < 0.9  # eight steps round end near the start, and nowhere near eight steps away


@given(st.sampled_from(STEMS), st.integers(1, 7))
def test_a_wall_faced_another_way_is_the_same_path_turned(stem: str, eighths: int) -> None:
    wall = shipped_dance(stem).walls[0]
    turned = tuple(_turned(danced, eighths) for danced in wall.movements)
    falls, _ = footfalls(wall.movements)
    others, _ = footfalls(turned)
    for one, other in zip(falls, others, strict=True):
        spot = one.spot.turned(eighths)
        assert near(other.spot, spot.x, spot.y)


def _turned(danced, eighths):  # type: ignore[no-untyped-def]
    from dataclasses import replace

    from caller.routine.facing import Turn
    from caller.routine.step import Body

    turn = Turn(eighths)
    before, after = (Body(body.facing + turn, body.weight) for body in (danced.before, danced.after))
    return replace(danced, before=before, after=after)


def test_mirrored_steps_are_a_mirrored_path() -> None:
    steps = "1&2 Right shuffle forward\n3-4 Rock L to side, recover R\n5-6 Cross L over R, step R back\n7-8 Hold"
    swap = str.maketrans("RL", "LR")
    mirrored = steps.replace("Right", "Leftt").translate(swap).replace("Reftt", "Left")
    one, other = feet_after(steps), feet_after(mirrored, "left")
    assert near(one.left, -other.right.x, other.right.y)
    assert near(one.right, -other.left.x, other.left.y)


def test_a_touch_is_drawn_as_bearing_no_weight_and_is_not_on_the_path() -> None:
    dance = dance_in(HEAD.format(starts="right") + "1-2 Step R to side, touch L beside R\n3-8 Hold", 1)
    falls, _ = footfalls(dance.walls[0].movements)
    assert [(f.foot, f.bears) for f in falls] == [(Foot.RIGHT, True), (Foot.LEFT, False)]
    figure = floor_figure(falls)
    assert len(figure.path) == 1
    assert [mark.shape for mark in figure.marks] == ["foot", "ball"]


def test_a_touch_and_a_kick_are_told_apart_and_each_is_of_its_foot() -> None:
    """By their shapes; whose foot it is, by what is filled."""
    steps = "1-4 Walk R, L, R, kick L forward\n5-8 Walk back L, R, L, touch R beside L"
    falls, _ = footfalls(dance_in(HEAD.format(starts="right") + steps, 1).walls[0].movements)
    shapes = {(mark.foot, mark.shape) for mark in floor_figure(falls).marks}
    assert shapes == {("R", "foot"), ("L", "foot"), ("L", "lifted"), ("R", "ball")}


def test_a_foot_that_comes_back_to_a_place_has_one_mark_with_both_counts() -> None:
    falls = [Footfall(count, Foot.RIGHT, Spot(0.2, 1.0), Facing(0), True) for count in ("1", "3")]
    (mark,) = floor_figure(falls).marks
    assert mark.label == "1, 3"
    assert (mark.x, mark.y) == (0.2 * STEP, -1.0 * STEP)  # SVG's y runs down the page, the front wall is up


def test_prints_at_one_place_that_point_another_way_stand_beside_each_other() -> None:
    """A pivot leaves a foot where it was: the print as it then points does not cover the one before."""
    ways = [Footfall(count, Foot.LEFT, Spot(0, 1), Facing(e), True) for count, e in (("2", 0), ("4", 6), ("6", 4))]
    figure = floor_figure(ways)
    first, *others = figure.marks
    assert (first.x, first.y) == (0, -STEP)
    assert figure.path == tuple((mark.x, mark.y) for mark in figure.marks)
    boxes = [print_box(fall, (mark.x, mark.y)) for fall, mark in zip(ways, figure.marks, strict=True)]
    assert all(overlap(one, other) == 0 for one, other in combinations(boxes, 2))
    assert all(abs(mark.x) + abs(mark.y + STEP) <= 0.6 * STEP for mark in others)  # nearer than the next step


@pytest.mark.parametrize("stem", STEMS)
def test_no_print_of_a_shipped_routine_is_covered(stem: str) -> None:
    for section in sheet_page(shipped_dance(stem), shipped()).sections:
        assert section.figure is not None
        spots = [(mark.x, mark.y) for mark in section.figure.marks]
        assert len(set(spots)) == len(spots)
        for (x, y), (other_x, other_y) in combinations(spots, 2):
            assert max(abs(x - other_x), abs(y - other_y)) > 9, section.heading


@given(st.lists(st.tuples(st.floats(-9, 9), st.floats(-9, 9), st.integers(0, 7), st.booleans()), max_size=12))
def test_every_mark_and_label_lies_within_the_drawing(places: list[tuple[float, float, int, bool]]) -> None:
    falls = [
        Footfall(str(n), Foot.RIGHT if right else Foot.LEFT, Spot(x, y), Facing(facing), True)
        for n, (x, y, facing, right) in enumerate(places)
    ]
    figure = floor_figure(falls)
    left, top, wide, high = figure.view
    for mark in figure.marks:
        for x, y in ((mark.x, mark.y), (mark.label_x, mark.label_y)):
            assert left < x < left + wide
            assert top < y < top + high


def test_the_wall_map_has_every_wall_at_the_side_it_starts_from() -> None:
    dance = shipped_dance("lantern-row")
    sides = {side.clock: side for side in map_sides(map_walls(dance), 200)}
    assert (sides["12:00"].y, sides["6:00"].y) == (24, 176)
    assert sides["9:00"].x < 100 < sides["3:00"].x
    for wall in dance.walls:
        assert str(wall.number) in " ".join(line for line, _ in sides[wall.starts.clock].walls)


def test_the_walls_of_two_sides_never_meet_in_the_middle_of_the_map() -> None:
    """However many there are: in lines, an event beside its wall's number."""
    sheet = HEAD.format(starts="right") + "1-8 Vine right turning 1/4 left, hold, vine left, hold\n\n"
    dance = dance_in(sheet + "\nTag, 4 counts, after walls 2, 6 and 10\n1-4 Sway R, L, R, L\n", 24)
    for side in map_sides(map_walls(dance), 260):
        assert all(len(line) <= (26 if side.anchor == "middle" else 13) for line, _ in side.walls), side
        ys = [y for _, y in side.walls]
        assert ys == sorted(ys)
        assert all(0 < y < 260 for y in ys)
