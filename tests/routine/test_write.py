"""What is written in the standard layout reads as the same routine."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings

from caller.routine.notation.read import read_sheet
from caller.routine.notation.write import write_sheet
from tests.corpus.sheets import sheet_text, sound_sheets
from tests.routine.strategies import readable_sheets

SHIPPED = sorted((Path(__file__).parents[2] / "routines").glob("*.txt"))


@given(readable_sheets())
@settings(max_examples=150, suppress_health_check=[HealthCheck.too_slow])
def test_reading_what_was_written_gives_the_same_routine(text: str) -> None:
    sheet = read_sheet(text)
    assert [f for f in sheet.findings if f.code == "unreadable"] == []
    assume(all(f.code != "counts-overlap" for f in sheet.findings))  # danced twice over, written as danced together
    written = write_sheet(sheet)
    again = read_sheet(written)
    assert again.routine == sheet.routine
    assert write_sheet(again) == written


@pytest.mark.parametrize(("half", "name"), list(sound_sheets()), ids=str)
def test_a_sheet_of_the_corpus_reads_the_same_after_writing(half: str, name: str) -> None:
    sheet = read_sheet(sheet_text(half, name))
    written = write_sheet(sheet)
    assert read_sheet(written).routine == sheet.routine
    assert write_sheet(read_sheet(written)) == written


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_shipped_routine_reads_the_same_after_writing(path: Path) -> None:
    sheet = read_sheet(path.read_text(encoding="utf-8"))
    assert read_sheet(write_sheet(sheet)).routine == sheet.routine


def test_what_nobody_can_read_keeps_its_authors_words() -> None:
    head = "Title: Made Up\nTempo: 96\nStarts: right\nSection 1\n1-2  Walk R, L\n"
    written = write_sheet(read_sheet(f"{head}3  Step R out, step L out, hold\n4  Whirl away\n"))
    assert "Step R out, step L out, hold" in written
    assert "Whirl away" in written


SHEET = """\
# kept at the top
level: Improver
TITLE: Plain Test
Tempo: 100 bpm
wall: 4
Notes: bring water

# before the steps
Sec 1 - one
1-2: walk fwd R, L (keep low)   “walk, walk”
3&4  R shuffle ½ turn L (6 o'clock)
5-6  big step L to L side, drag R up to L
7-8  rock back on R, recover
(all together now)
# between
OPTION 3-4: no turn
3&4  R shuffle

tag at the end of wall 2
1-2  stomp R, stomp L (no weight)
"""

WRITTEN = """\
# kept at the top
Title: Plain Test
Walls: 4
Level: Improver
Tempo: 100
Meter: 4/4
Feel: straight
Starts: right
Notes: bring water

# before the steps
Section 1: one
1-2    walk fwd R, L (keep low)                             "walk, walk"
3&4    R shuffle ½ turn L (6 o'clock)
5-6    big step L to L side, drag R up to L
7-8    rock back on R, recover
Note: all together now
# between
Option 3-4: no turn
3&4    R shuffle

Tag: after wall 2
1-2    stomp R, stomp L (no weight)
"""


def test_the_standard_layout_is_this() -> None:
    assert write_sheet(read_sheet(SHEET)) == WRITTEN


def test_a_line_that_nobody_can_read_is_written_as_it_stands() -> None:
    text = "Title: T\nTempo: 100\nStarts: right\nSection 1\n1-2 Walk R, L\n3&4 Right marmalade forward\n"
    written = write_sheet(read_sheet(text))
    assert "3&4    Right marmalade forward" in written
    assert write_sheet(read_sheet(written)) == written


def test_steps_without_words_are_not_written() -> None:
    sheet = read_sheet("Title: T\nTempo: 100\nSection 1\n1-2 Repeat section 7\n")
    with pytest.raises(ValueError, match="can't be read"):
        write_sheet(sheet)


HEAD = "Title: Plain Test\nTempo: 100\nMeter: 4/4\nFeel: straight\nStarts: right\n\n"
VINES = "1-4 Vine right, touch\n5-8 Vine left, touch\n"
OVER = "1 Side R\n2-3 Rock L back, recover R\n4&5 Shuffle L fwd\n6-7 Rock R fwd, recover L\n8&1 Shuffle R back\n"


@pytest.mark.parametrize(
    ("text", "stands"),
    [
        ("Section 1\n1 Step R fwd\n2 Step L fwd\n3 Step R fwd\n& Close L\n4 Step R fwd\n", "&      Close L"),
        (
            f"Section 1\n{OVER}Section 2\n2-3 Rock L back, recover R\n4-8 Walk L, R, L, R, L\n",
            "8&1    Shuffle R back",
        ),
        (
            f"{VINES}Tag, after walls 2 and 4: sway R, L\nNote: the tag is after wall 2 and after wall 4, hips only\n",
            "Tag: after walls 2 and 4",
        ),
        (
            f"{VINES}Restart on wall 3 after 4 counts, facing 12:00, and smile broadly\n",
            "Restart: wall 3 after 4 counts, facing 12:00",
        ),
        (
            f"{VINES}Restart on wall 3 after 4 counts and mind the chandelier\n",
            '# as its author has it: "Restart on wall 3 after 4 counts and mind the chandelier"',
        ),
        (
            "Part A (8 counts)\n1-4 Vine right, touch\n5-8 Vine left, touch\nPart B (4 counts)\n1-4 Rocking chair R\n"
            "Order: A B A\n",
            "Part B: 4 counts",
        ),
    ],
    ids=["a beat part alone", "over the end", "a tag told of twice", "a facing", "words beside", "lengths"],
)
def test_what_a_sheet_says_stands_in_its_layout_and_reads_the_same(text: str, stands: str) -> None:
    sheet = read_sheet(HEAD + text)
    written = write_sheet(sheet)
    assert stands in written.split("\n"), written
    again = read_sheet(written)
    assert again.routine == sheet.routine
    assert write_sheet(again) == written


def test_what_the_layout_would_lose_of_a_line_stands_right_above_it() -> None:
    told = "Restart on wall 3 after 4 counts and mind the chandelier"
    lines = write_sheet(read_sheet(f"{HEAD}{VINES}{told}\n")).split("\n")
    assert lines[lines.index(f'# as its author has it: "{told}"') + 1].startswith("Restart:")


def test_a_tag_of_two_places_is_written_at_each() -> None:
    text = f"{HEAD}{VINES}Tag: after wall 2\n1-2 Sway R, L\nTag on wall 5 after 4 counts\n"
    written = write_sheet(read_sheet(text))
    headings = [line for line in written.split("\n") if line.startswith("Tag")]
    assert headings == ["Tag: after wall 2", "Tag: wall 5 after 4 counts"]
    assert read_sheet(written).routine == read_sheet(text).routine


def test_a_line_without_counts_is_still_unread_once_written() -> None:
    sheet = read_sheet(f"{HEAD}Section 1\n1-2 Walk R, L\n3-4 Walk R, L\n\nRock forward, recover\n")
    written = write_sheet(sheet)
    assert "Unread: Rock forward, recover" in written.split("\n")
    again = read_sheet(written)
    assert [f.code for f in again.findings] == [f.code for f in sheet.findings] == ["unread"]
    assert write_sheet(again) == written
