"""Events told in sentences: which kind, on which walls, after how many counts. Source: common practice of the trade."""

from __future__ import annotations

import pytest

from caller.routine.facing import Facing
from caller.routine.layout.mentions import mentions_in
from caller.routine.notation.read import read_sheet

ROWS = [
    ("Tag: after wall 2", [("tag", (2,), None)]),
    ("* restart here on wall 4 (facing 6:00)", [("restart", (4,), None)]),
    ("Restarts: wall 3 after 16 counts and wall 6 after 24 counts", [("restart", (3,), 16), ("restart", (6,), 24)]),
    (
        "One 4-count tag at the end of wall 3, and a restart in wall 5 after count 16.",
        [("tag", (3,), None), ("restart", (5,), 16)],
    ),
    (
        "Restart after 16 counts on the 3rd wall and after 8 counts on the 6th wall",
        [("restart", (3,), 16), ("restart", (6,), 8)],
    ),
    ("TAG (4 counts) end of walls 2, 4 & 6", [("tag", (2, 4, 6), None)]),
    ("Bridge between walls 2 & 3: 4 sways", [("tag", (2,), None)]),
    ("dance up to count 16 of wall 3 and restart", [("restart", (3,), 16)]),
    ("At the end of the third wall there is a tag of 4 counts", [("tag", (3,), None)]),
    ("2 restarts - wall 3 (16 counts) facing 6:00, wall 6 (32 counts)", [("restart", (3,), 16), ("restart", (6,), 32)]),
    ("After 16 counts of wall 4 start again from the beginning", [("restart", (4,), 16)]),
    ("Wall 3 - restart after 20 counts", [("restart", (3,), 20)]),
    ("TAG when you have finished the 2nd wall and again when you have finished the 4th", [("tag", (2, 4), None)]),
    ("Tag after wall 1, 3 and restart wall 4 after S2", [("tag", (1, 3), None), ("restart", (4,), None)]),
    ("Restart on wall 3, drop counts 29-32", [("restart", (3,), 28)]),
    ("Tag, restart on wall 4 after 8 counts", [("tag", (), None), ("restart", (4,), 8)]),
    ("Restart on wall 3, tag of 4 counts, then restart after 16 counts", [("tag", (), None), ("restart", (3,), 16)]),
    ("Walk on, smile and enjoy", []),
]


@pytest.mark.parametrize(("text", "wanted"), ROWS, ids=[text for text, _ in ROWS])
def test_the_events_of_a_sentence(text: str, wanted: list[tuple[str, tuple[int, ...], int | None]]) -> None:
    assert [(m.kind, m.walls, m.after) for m in mentions_in(text)] == wanted


def test_what_else_is_told_of_an_event() -> None:
    (tag,) = mentions_in("4 count tag after wall 2, facing 6:00, danced twice")
    assert (tag.long, tag.facing, tag.times) == (4, Facing(4), 2)
    (every,) = mentions_in("Tag on every odd wall")
    assert every.every == "odd"
    (back,) = mentions_in("Each time you face the back, add the tag")
    assert back.facing_walls == Facing(4)
    (within,) = mentions_in("Restart: wall 5 after count 4 of section 3")
    assert (within.section, within.within) == (3, 4)
    assert all(m.none for m in mentions_in("NO TAGS OR RESTARTS"))


EIGHT = "1-2 Walk R, L\n3-4 Rock R forward, recover\n5-8 Walk back R, L, R, L\n"
HEAD = "Made Up\n16 counts, 1 wall, 100 bpm\n"
DANCE = f"Section 1\n{EIGHT}Section 2\n{EIGHT}"


def test_an_event_announced_and_marked_is_one_event() -> None:
    at = "1 restart, wall 3 after 8 counts"
    text = f"{HEAD}{at}\n\nSection 1\n{EIGHT}*** Restart here on wall 3 ***\nSection 2\n{EIGHT}"
    read = read_sheet(text)
    assert [[(c.wall, c.after) for c in r.cuts] for r in read.routine.restarts] == [[(3, 8)]]
    assert [f.code for f in read.findings] == []


def test_two_places_that_say_otherwise_of_one_event_are_an_error_that_names_both() -> None:
    at = "Restart on wall 3 after 16 counts"
    text = f"{HEAD}{at}\n\nSection 1\n{EIGHT}*** Restart here on wall 3 ***\nSection 2\n{EIGHT}"
    (finding,) = [f for f in read_sheet(text).findings if f.code == "event-place"]
    assert "line 3" in finding.message
    assert "line 9" in finding.message


def test_the_wall_in_the_header_and_the_steps_below_a_heading_are_one_tag() -> None:
    read = read_sheet(f"{HEAD}One 4-count tag, end of wall 2\n\n{DANCE}\nTAG\n1-4 Sway R, L, R, L\n")
    (tag,) = read.routine.tags
    assert ([(c.wall, c.after) for c in tag.cuts], tag.passage.counts) == ([(2, None)], 4)


def test_a_step_change_with_a_restart_told_in_one_sentence() -> None:
    read = read_sheet(
        f"{HEAD}\n{DANCE}\nOn wall 3 replace counts 7-8 of section 1 with: 7-8 walk back R, touch L, and restart\n"
    )
    assert [c.walls for c in read.routine.changes] == [(3,)]
    assert [[(c.wall, c.after) for c in r.cuts] for r in read.routine.restarts] == [[(3, 8)]]
