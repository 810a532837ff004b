"""Two dances on one floor: which ways they face, where they begin together, and what no song serves."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.dance.shared_floor import CAUTION, MIXED, danced_beside, floor_words, shared_floor
from caller.dance.unroll import unroll
from caller.routine.notation.read import read_sheet
from caller.routine.parts import Routine

FRONT_ONLY = "1-4 walk fwd R, L, R, touch L\n5-8 walk back L, R, L, touch R\n"
HALF_ROUND = "1-4 walk fwd R, L, R, touch L\n5-6 walk back L, R\n7-8 step L, half turn right\n"


def sheet(counts: int, steps: str, more: str = "", head: str = "1 wall", music: str = "") -> Routine:
    text = f"A ROW - {counts} counts, {head}, 96 bpm\n{music}\n{steps}{more}"
    return read_sheet(text).routine


def test_a_dance_beside_itself_faces_the_same_way_throughout_and_may_be_mixed() -> None:
    routine = sheet(8, FRONT_ONLY)
    main = unroll(routine, 6)
    shared = shared_floor(main, routine)
    assert (shared.counts, shared.alike, shared.opposed, shared.mixed) == (48, 48, 0, True)
    assert [meeting.at for meeting in shared.meetings] == [8, 16, 24, 32, 40]
    assert next(floor_words(shared)).endswith(": by that both may dance in the same lines.")


def test_what_faces_other_walls_has_a_side_of_the_floor_and_where_it_meets_is_told() -> None:
    """The one turns by a half each eight counts, the other stays at the front, in sixteens."""
    main = unroll(sheet(8, HALF_ROUND, head="2 walls"), 8)
    longer = sheet(16, f"SECTION 1\n{FRONT_ONLY}\nSECTION 2\n{FRONT_ONLY}")
    shared = shared_floor(main, longer)
    assert not shared.mixed
    assert shared.alike < MIXED * shared.counts
    assert shared.alike + shared.opposed == shared.counts
    assert [(one.at, one.walls, one.alike) for one in shared.meetings] == [
        (16, (3, 2), True),
        (32, (5, 3), True),
        (48, (7, 4), True),
    ]
    words = list(floor_words(shared))
    assert words[0].endswith(": give each a side of the floor.")
    assert words[1] == (
        "They begin a wall together 3 times after the start, first after 16 counts, walls 3 and 2, both facing 12:00, "
        "last after 48 counts, walls 7 and 4, both facing 12:00."
    )
    assert words[2:] == ["Longest face to face: from count 9 to 16.", CAUTION]
    assert shared.face_to_face == ((8, 16), (24, 32), (40, 48), (56, 64))


def test_what_never_begins_together_again_is_told() -> None:
    main = unroll(sheet(8, FRONT_ONLY), 3)
    longer = sheet(32, "\n".join(f"SECTION {n}\n{FRONT_ONLY}" for n in range(1, 5)))
    shared = shared_floor(main, longer)
    assert shared.meetings == ()
    assert list(floor_words(shared))[1] == "After the start they never begin a wall together."


def test_what_is_counted_otherwise_or_over_sooner_is_refused() -> None:
    main = unroll(sheet(8, FRONT_ONLY), 8)
    steps = "1-3 waltz basic fwd L\n4-6 waltz basic back R\n"
    waltz = read_sheet(f"A WALTZ - 6 counts, 1 wall, 3/4, 90 bpm\n\n{steps}").routine
    assert waltz.header.meter.counts == 3
    with pytest.raises(ValueError, match="one is counted in 4, the other in 3: no song serves both"):
        danced_beside(main, waltz)
    phrased = sheet(8, f"PART A\n{FRONT_ONLY}", head="1 wall").sections
    assert phrased
    ordered = read_sheet(f"PARTS - 1 wall, 96 bpm\nOrder: A A\n\nPart A section 1\n{FRONT_ONLY}").routine
    with pytest.raises(ValueError, match="it is over after 16 counts, the other after 64"):
        danced_beside(main, ordered)


TAGGED = "\nTag: after wall 2\n1-4 rocking chair R\n\nRestart: on wall 4 after 4 counts, facing 12:00\n"


def test_tags_and_restarts_are_of_its_own_song_and_it_is_told_that_it_is_danced_straight_through() -> None:
    main = unroll(sheet(8, FRONT_ONLY), 9)
    tagged = sheet(8, FRONT_ONLY, TAGGED)
    assert tagged.tags
    assert tagged.restarts
    assert not any(wall.events for wall in danced_beside(main, tagged).walls)
    told = next(floor_words(shared_floor(main, tagged)))
    assert told == "A ROW is danced straight through: its tag and restart are of its own song."


def test_written_to_one_song_both_have_their_tags_and_restarts() -> None:
    music = "Music: The Ferry Song\n"
    main, tagged = unroll(sheet(8, FRONT_ONLY, music=music), 9), sheet(8, FRONT_ONLY, TAGGED, music=music)
    assert main.routine.header.music == tagged.header.music == "The Ferry Song"
    assert [event.kind for wall in danced_beside(main, tagged).walls for event in wall.events] == ["tag", "restart"]
    assert shared_floor(main, tagged).left_out == ()


def test_an_ending_is_of_its_own_song_and_left_out() -> None:
    ending = sheet(8, FRONT_ONLY, "\nEnding: on wall 2, after 8 counts\n1-4 walk fwd R, L, R, L\n")
    main = unroll(sheet(8, FRONT_ONLY), 9)
    assert danced_beside(main, ending).counts >= Fraction(72)


def test_what_begins_together_but_once_is_told_as_once() -> None:
    longer = sheet(16, f"SECTION 1\n{FRONT_ONLY}\nSECTION 2\n{FRONT_ONLY}")
    words = list(floor_words(shared_floor(unroll(sheet(8, FRONT_ONLY), 3), longer)))
    assert words[1].startswith("They begin a wall together once after the start, first after 16 counts")
