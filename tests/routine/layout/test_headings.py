"""Headings as authors write them. Source: common practice of the trade."""

from __future__ import annotations

import pytest

from caller.dance.check import check
from caller.routine.layout.headings import Heading, read_heading, read_unsure
from caller.routine.notation.read import read_sheet

SURE = [
    ("S2: Vines", Heading(None, 2, "Vines")),
    ("S2 (9-16) Vines", Heading(None, 2, "Vines", (9, 16))),
    ("SEC 2 Vines", Heading(None, 2, "Vines")),
    ("Sec. 2", Heading(None, 2)),
    ("Set 2:", Heading(None, 2)),
    ("Section Two", Heading(None, 2)),
    ("Section II", Heading(None, 2)),
    ("SEC B", Heading(None, 2)),
    ("[S2]", Heading(None, 2)),
    ("S2 [9-16]", Heading(None, 2, "", (9, 16))),
    ("Sec 2 (9-16&)", Heading(None, 2, "", (9, 16))),
    ("2nd 8:", Heading(None, 2)),
    ("Second set of 8: Rocks", Heading(None, 2, "Rocks")),
    ("Section 2 (Counts 9-16): Jazz box", Heading(None, 2, "Jazz box", (9, 16))),
    ("Section 3 - 8 counts - Rocks", Heading(None, 3, "Rocks", None, 8)),
    ("(17 – 24) Side", Heading(None, None, "Side", (17, 24))),
    ("Part A, Section 2", Heading("A", 2)),
    ("PART B (16 counts)", Heading("B", None, "", None, 16, opens=False)),
    ("B2: Grinds", Heading("B", 2, "Grinds")),
]


@pytest.mark.parametrize(("text", "heading"), SURE, ids=[text for text, _ in SURE])
def test_a_heading_is_read_in_every_way_of_writing_it(text: str, heading: Heading) -> None:
    assert read_heading(text, phrased=True) == heading


@pytest.mark.parametrize(
    "text", ["Step R forward", "Shuffle R", "Section 4 is the same as 2", "Part B is danced twice"]
)
def test_a_sentence_is_no_heading(text: str) -> None:
    assert read_heading(text, phrased=True) is None


@pytest.mark.parametrize(
    ("text", "said", "number", "name"),
    [
        ("9-16 VINES", (9, 16), None, "VINES"),
        ("Counts 9-16:", (9, 16), None, ""),
        ("VINES (9-16)", (9, 16), None, "VINES"),
        ("2. Vines", None, 2, "Vines"),
        ("II. SWEEPS", None, 2, "SWEEPS"),
        ("D. (25-32) Forward touch", (25, 32), 4, "Forward touch"),
    ],
)
def test_what_may_be_a_heading_is_told_as_such(
    text: str, said: tuple[int, int] | None, number: int | None, name: str
) -> None:
    heading = read_unsure(text)
    assert heading is not None
    assert (heading.said, heading.number, heading.name, heading.sure) == (said, number, name, False)


FIRST = "Made Up\n16 counts, 1 wall, 100 bpm\n\n"
STEPS = "1-2 Walk R, L\n3-4 Rock R forward, recover\n5-8 Walk back R, L, R, L\n"


@pytest.mark.parametrize(
    "heading",
    [
        "HEEL GRINDS",
        "== Vines ==",
        "**Section 2**",
        "• Section 2",
        "# Section 2",
        "9-16 VINES",
        "Counts 9-16:",
        "II. Vines",
    ],
)
def test_counts_that_begin_again_make_a_heading_of_the_line_before_them(heading: str) -> None:
    sections = read_sheet(f"{FIRST}Section 1\n{STEPS}\n{heading}\n{STEPS}").routine.sections
    assert [(s.number, s.passage.counts) for s in sections] == [(1, 8), (2, 8)]


def test_counts_that_begin_again_without_a_heading_begin_a_section() -> None:
    sections = read_sheet(FIRST + STEPS + STEPS).routine.sections
    assert [(s.number, s.passage.counts) for s in sections] == [(1, 8), (2, 8)]


def test_counts_that_run_on_in_one_column_are_divided_in_eights() -> None:
    lines = "".join(f"{n} Step {'RL'[(n + 1) % 2]} forward\n" for n in range(1, 17))
    assert [s.passage.counts for s in read_sheet(FIRST + lines).routine.sections] == [8, 8]


def test_a_range_that_stands_twice_is_found_at_the_second_and_names_the_first() -> None:
    text = f"{FIRST}[1-8]\n{STEPS}[9-16]\n{STEPS}[9-16]\n{STEPS}"
    found = [f for f in read_sheet(text).findings if f.code == "heading"]
    assert [f.place.line for f in found] == [12]
    assert "line 8" in found[0].message


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("SIDE, TOGETHER, SIDE, TOUCH x 2", "SIDE, TOGETHER, SIDE, TOUCH x 2"),
        ("Side, together, side and touch", "Side, together, side and touch"),
        ("Walk forward / touch", "Walk forward / touch"),
        ("Walk to the front, smile and touch your hat.", ""),  # a sentence
        ("Keep your hands low: step lightly, touch softly", ""),
        ("For Ada, who likes a touch", ""),
    ],
)
def test_a_list_of_steps_right_above_the_first_step_lines_heads_them(line: str, name: str) -> None:
    head = "PORCH LIGHT\n32 counts, 4 walls, beginner, 104 bpm\n\n"
    read = read_sheet(f"{head}{line}\n1-3 Walk R, L, R\n4 Touch L beside R\n\nVINE\n1-4 Vine left, touch\n")
    assert [section.name for section in read.routine.sections] == [name, "VINE"]
    assert (line in read.routine.header.notes) is not bool(name)


@pytest.mark.parametrize("word", ["Part", "Section", "Set"])
def test_a_section_may_be_numbered_in_words(word: str) -> None:
    eight = "Walk R, L, R, L, R, L, R, L"
    read = read_sheet(f"PORCH LIGHT\n\n{word} the first:\n1-8 {eight}\n\n{word} the second (9-16)\n9-16 {eight}\n")
    assert [(section.number, section.name) for section in read.routine.sections] == [(1, ""), (2, "")]


def test_a_part_is_as_long_as_its_heading_says_or_the_heading_is_told() -> None:
    def told(counts: str) -> list[str]:
        part = f"Part A ({counts})\nSection 1\n1-4 Walk R, L, R, L\n5-8 Walk R, L, R, L\n"
        read = read_sheet(f"PORCH LIGHT\nOrder: A B A\n\n{part}\nPart B (1-4)\nSection 1\n1-4 Sway R, L, R, L\n")
        return [finding.message for finding in check(read) if finding.code == "counts-total"]

    assert told("1-8") == []
    assert told("1-16") == ["part A is said to have 16 counts, and its steps take 8; mend one or the other"]


def test_the_counts_of_a_part_may_run_on_from_the_part_before() -> None:
    part = "Part A\n1-8 Walk R, L, R, L, R, L, R, L\n"
    read = read_sheet(f"PORCH LIGHT\nOrder: A B A\n\n{part}\nPart B\n9-12 Sway R, L, R, L\n")
    assert [section.passage.counts for section in read.routine.sections] == [8, 4]


def test_sections_told_in_paragraphs_may_count_on_and_have_names() -> None:
    walks = "Walks (1-8). Walk right (1), left (2), right (3), left (4), right (5), left (6), right (7), left (8)."
    sways = "Sways (9-12). Sway right (9), left (10), right (11), left (12)."
    read = read_sheet(f"PORCH LIGHT\n\n{walks}\n\n{sways}\n")
    assert [(section.name, section.passage.counts) for section in read.routine.sections] == [("Walks", 8), ("Sways", 4)]


def test_a_section_may_begin_with_the_counts_it_takes_in_words() -> None:
    pairs = ", ".join(f"walk right, left on {n}, {n + 1}" for n in (1, 3, 5, 7))
    (section,) = read_sheet(f"PORCH LIGHT\n\nCounts 1 to 8. {pairs.capitalize()}.\n").routine.sections
    assert [step.count for step in section.passage.steps] == [str(n) for n in range(1, 9)]


def test_a_section_that_says_only_what_it_repeats_is_asked_for_its_counts() -> None:
    walks = "Section 1\n1-8 Walk R, L, R, L, R, L, R, L\n"
    read = read_sheet(f"PORCH LIGHT\n\n{walks}\nSection 2: repeat section 1\n")
    (fault,) = [finding for finding in read.findings if finding.code == "unreadable"]
    assert (fault.place.line, "does not begin with counts" in fault.message) == (6, True)
