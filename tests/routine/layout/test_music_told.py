"""What heads say of the music, in sentences of their own. Common practice of the floor, no published source."""

from __future__ import annotations

import pytest

from caller.routine.notation.read import read_sheet

STEPS = "\n\nSection 1\n1-4  Walk R, L, R, L\n5-8  Walk R, L, R, L\n"


@pytest.mark.parametrize(
    ("line", "intro"),
    [
        ("START ON VOCALS (16 COUNTS IN).  1 TAG, 1 RESTART", 16),
        ("Start on vocals (32 beats).", 32),
        ("Dance begins on the lyrics, 16 counts in. Restart on wall 3 after 8 counts.", 16),
        ("Start: after 16 counts. Tag/Restart: 1 tag, 2 restarts", 16),
        ("Wait 24 counts, left foot leads.", 24),
        ("To: a waltz of your own. Wait 24 counts, left foot leads.", 24),
        ("There's 16 counts of guitar before we start.", 16),
        ("Let 32 beats go by, then off we go.", 32),
        ("Listen to sixteen counts of music first.", 16),
        ("Give them two eights (16 counts) and bring them in.", 16),
        ("Starts on count 17", 16),
        ("Count 32 from the first drum beat.", 32),
        ("Handout No. 7 from the Saturday class", None),
        ("Restart on wall 3 after 8 counts.", None),
    ],
)
def test_the_introduction_is_told_in_many_ways(line: str, intro: int | None) -> None:
    assert read_sheet(f"Made Up\n8 counts, 1 wall\n{line}{STEPS}").routine.header.intro == intro


@pytest.mark.parametrize(
    ("line", "tempo"),
    [
        ("Intro: 16 counts (112 BPM)", 112),
        ("Intro: 16 counts @ 116 BPM", 116),
        ("Intro 16 counts at ~92", 92),
        ("The track runs at 120 and we wait 32.", 120),
        ("8 ct - 1 wall - beginner - 110 - wait 16", 110),
        ("112 beats\na minute, and you begin after 16 counts", 112),  # told over two lines
        ("8 counts / 1 wall / beginner", None),
    ],
)
def test_the_tempo_is_told_in_many_ways(line: str, tempo: int | None) -> None:
    assert read_sheet(f"Made Up\n{line}{STEPS}").routine.header.tempo == tempo


def test_facts_without_a_key_beside_keyed_ones_are_read_too() -> None:
    read = read_sheet(f"Made Up\nCounts: 8 | Walls: 1 | improver | 100 bpm{STEPS}")
    header = read.routine.header
    assert (header.counts, header.walls, header.level, header.tempo) == (8, 1, "improver", 100)
    assert not [finding for finding in read.findings if finding.place.line == 2]


def test_a_number_alone_in_a_row_of_facts_is_a_guess() -> None:
    read = read_sheet(f"Made Up\n8 ct - 1 wall - beginner - 110 - wait 16{STEPS}")
    assert [f.place.line for f in read.findings if f.code == "guess"] == [2]


def test_a_title_in_a_text_that_marks_its_headings_with_hashes() -> None:
    read = read_sheet("# Made Up\n\n8 counts, 1 wall\n\n## I. Walks\n1-8  Walk R, L, R, L, R, L, R, L\n")
    assert read.routine.header.title == "Made Up"
