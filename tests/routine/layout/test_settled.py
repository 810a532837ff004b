"""Habits of a whole sheet: where one line alone could be read two ways, all of them together can't. Common practice."""

from __future__ import annotations

from caller.routine.layout.lines import physical
from caller.routine.layout.reflowed import reflowed
from caller.routine.layout.settled import settled


def texts(sheet: str) -> list[str]:
    return [line.text for line in settled(list(physical(sheet)))]


BELOW = "Step right to the side\n1\nTouch left beside\n2\nStep left to the side\n3\n"


def test_counts_below_their_steps_change_places_with_them() -> None:
    assert texts(BELOW) == [
        "1",
        "Step right to the side",
        "2",
        "Touch left beside",
        "3",
        "Step left to the side",
        "",
    ]


def test_counts_above_their_steps_stay() -> None:
    above = "1\nStep right to the side\n2\nTouch left beside\n3\nStep left to the side"
    assert texts(above) == above.split("\n")


def test_too_few_of_them_are_no_habit() -> None:
    two = "Step right to the side\n1\nTouch left beside\n2\n"
    assert texts(two) == two.split("\n")


def test_hours_behind_headings_are_no_lengths() -> None:
    assert texts("Twinkles (12)\nBasics (9)\nSweep, weave (9)\nBasic (6)") == [
        "Twinkles (12:00)",
        "Basics (9:00)",
        "Sweep, weave (9:00)",
        "Basic (6:00)",
    ]


def test_lengths_behind_headings_are_no_hours() -> None:
    lengths = "Twinkles (12)\nBasics (12)\nSweep, weave (6)\nBasic (6)"
    assert texts(lengths) == lengths.split("\n")


def test_counts_that_fell_to_the_next_line_go_back() -> None:
    assert texts("Left toe forward, drop the heel\n(3-4). Cross right over left") == [
        "Left toe forward, drop the heel (3-4).",
        "Cross right over left",
    ]


VINES = (
    "Vine to the right with a touch: step right to the side, left behind, right",
    "to the side, touch left next to right (1-4). Vine to the left making a",
    "quarter turn left on the third step, and brush the right foot forward (5-8).",
    "You are now looking at 9 o'clock.",
)


def pieces(*paragraph: str) -> tuple[int, list[tuple[int, str]]]:
    length, found = reflowed(list(physical("\n".join(paragraph))), 0)
    return length, [(line.number, line.text) for line in found]


def test_a_paragraph_of_steps_breaks_where_its_counts_stand() -> None:
    assert pieces(*VINES) == (
        4,
        [
            (1, f"{VINES[0]} to the side, touch left next to right (1-4)."),
            (2, f"Vine to the left making a {VINES[2]}"),
            (4, VINES[3]),
        ],
    )


def test_a_paragraph_whose_counts_leave_a_gap_stays() -> None:
    assert pieces(VINES[0], VINES[1].replace("1-4", "1-3"), VINES[2]) == (0, [])


def test_counts_that_end_their_lines_need_no_breaking() -> None:
    assert pieces("Walk forward right, left, right, kick left (1-4).", "Walk back left, right, left, touch (5-8).") == (
        0,
        [],
    )


def test_a_table_stays() -> None:
    assert pieces("Walk forward right, left, right,  (1-4) and", "walk back left, right, left, touch  (5-8) so") == (
        0,
        [],
    )
