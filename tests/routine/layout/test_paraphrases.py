"""What authors say of walls, places and events in words of their own, as the telling's own words. Common practice; the
sentences are invented."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.routine.layout.mentions import mentions_in
from caller.routine.layout.paraphrases import said_plainly

ROWS = [
    ("finish with the touch and then it's straight back to the vines", "restart"),
    ("and then it's section A again, at 3:00", "restart"),
    ("when you have finished the dance for the third time", "after wall 3"),
    ("The third wall breaks off early", "restart wall 3"),
    ("The last wall is the 8th", "end wall 8"),
    ("BRIDGE, on wall 3, between counts 16 and 17", "after 16 counts"),
    ("dance the first two blocks only", "after s 2"),
    ("the band adds four beats: do that again", "4-count tag"),
    ("on the 4th wall skip III altogether", "skip s 3"),
    ("on wall 4 skip section B", "skip s 2"),
    ("Grand finish: wall ten begins at the front", "ending"),
]


@pytest.mark.parametrize(("text", "plain"), ROWS, ids=[plain for _, plain in ROWS])
def test_a_paraphrase_is_said_plainly(text: str, plain: str) -> None:
    assert plain in said_plainly(text)


@given(st.text(alphabet=st.characters(min_codepoint=32, max_codepoint=126), max_size=300))
def test_places_in_the_text_stay_what_they_are(text: str) -> None:
    assert len(said_plainly(text)) == len(text)


@pytest.mark.parametrize("text", [text for text, _ in ROWS])
def test_a_paraphrase_takes_no_more_room_than_it_had(text: str) -> None:
    assert len(said_plainly(text)) == len(text)


def test_the_next_wall_is_no_wall_of_the_event() -> None:
    found = mentions_in("After wall 5 repeat the last 8 counts, so that wall 6 will start facing the back: a tag.")
    assert [(m.kind, m.walls) for m in found] == [("tag", (5,))]


def test_what_starts_again_names_no_section_left_out() -> None:
    """ "Leave out section 4 and start again" is where a restart is, no part left out."""
    assert "skip" not in said_plainly("On wall 5 leave out section 4 and start again")


@pytest.mark.parametrize(
    "told", ["Tag after wall 3: the band plays on for 4 more beats, sway", "The band plays on for 4 more beats, sway"]
)
def test_what_the_music_adds_is_a_tag_only_where_a_wall_is_over_and_nothing_is_named(told: str) -> None:
    assert said_plainly(told) == told


def test_the_wall_that_begins_after_what_was_put_in_is_not_cut_short() -> None:
    told = "After wall 5 sway right, left, begin wall 6"
    assert "begin wall 6" not in said_plainly(told)
    assert [(m.kind, m.walls) for m in mentions_in(told)] == []
