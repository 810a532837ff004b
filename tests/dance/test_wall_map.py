"""Which facing each wall starts at, as values, as a table and as a drawing of the room."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings

from caller.dance.unroll import unroll
from caller.dance.wall_map import WallMap, map_walls, wall_drawing, wall_table
from caller.routine.facing import CLOCK, Facing
from caller.routine.notation.read import read_sheet
from tests.routine.strategies import readable_sheets

SHEET = """\
Title: Test Piece
Tempo: 100
Walls: 4
Starts: right
Section 1
1-2 Walk R, L
3-4 Step R forward, pivot 1/4 left
5-8 Walk R, L, R, L
Tag B: after wall 2
1-2 Step R forward, pivot 1/2 left
Restart: wall 4 after 2 counts
Change: wall 5
S1 5-6 Stomp R, L
Ending: wall 6 after 4 counts
1 Stomp R forward
"""

TABLE = """\
wall  starts   ends  counts  events
   1   12:00   9:00       8
   2    9:00  12:00      10  tag B after 8 counts, 2 counts long
   3   12:00   9:00       8
   4    9:00   9:00       2  restart after 2 counts
   5    9:00   6:00       8  change on counts 5-6
   6    6:00   3:00       5  ending after 4 counts, 1 count long
"""


def _map(text: str = SHEET) -> WallMap:
    return map_walls(unroll(read_sheet(text).routine))


def test_the_table_has_a_line_for_each_wall() -> None:
    assert wall_table(_map()) == TABLE.splitlines()


def test_walls_stand_at_the_side_that_they_start_facing() -> None:
    walls = _map()
    assert [w.number for w in walls.starting(Facing(6))] == [2, 4, 5]
    lines = wall_drawing(walls)
    assert lines[0].strip() == "12:00"
    assert lines[1].strip() == "1, 3"
    assert lines[-2].strip() == "6:00"
    assert lines[-1].strip() == "6 ending"
    left = " ".join(line.split("|")[0].strip() for line in lines if "|" in line)
    assert left.split() == ["9:00", "2", "tag,", "4", "restart,", "5", "change"]
    right = [line.split("|")[2].strip() for line in lines if line.count("|") == 2]
    assert [text for text in right if text] == ["3:00"]


def test_the_room_is_square_and_says_where_the_front_is() -> None:
    lines = wall_drawing(_map())
    walls = [n for n, line in enumerate(lines) if line.strip().startswith("+")]
    assert len(walls) == 2
    assert lines[walls[0]] == lines[walls[1]]
    assert any("front: 12:00" in line for line in lines[walls[0] : walls[1]])


def test_parts_are_named_in_a_phrased_dance() -> None:
    text = (
        "Title: T\nTempo: 100\nStarts: right\nOrder: A B A\n"
        "Part A section 1\n1-2 Walk R, L\nPart B section 1\n1-2 Step R forward, pivot 1/2 left\n"
    )
    walls = _map(text)
    assert wall_table(walls)[0].split()[:2] == ["wall", "part"]
    assert [w.label for w in walls.walls] == ["1 A", "2 B", "3 A"]


def test_a_wall_at_a_corner_stands_at_the_corner() -> None:
    text = "Title: T\nTempo: 100\nStarts: right\nSection 1\n1-2 Step R forward turning 1/8 right, step L beside R\n"
    lines = wall_drawing(map_walls(unroll(read_sheet(text).routine, 8)))
    rows = [line for line in lines if line.count("|") == 2]
    assert rows[0].split("|")[2].strip() == "1:30"
    assert rows[0].split("|")[0].strip() == "10:30"
    assert {rows[-2].split("|")[n].strip() for n in (0, 2)} == {"7:30", "4:30"}


@given(readable_sheets())
@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
def test_every_wall_is_in_the_drawing_once_and_in_the_table_once(text: str) -> None:
    walls = map_walls(unroll(read_sheet(text).routine))
    assert [int(line.split()[0]) for line in wall_table(walls)[1:]] == [w.number for w in walls.walls]
    assert sorted(w.number for clock in range(len(CLOCK)) for w in walls.starting(Facing(clock))) == [
        w.number for w in walls.walls
    ]
    drawn = "\n".join(wall_drawing(walls))
    for wall in walls.walls:
        assert f"{wall.number}" in drawn
    assert max(len(line) for line in wall_drawing(walls)) <= 80
