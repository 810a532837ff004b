"""Cells on a page to lines: columns, tables, broken lines, page furniture. Points, as on A4."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from caller.intake.pages import Cell, CellRow, Page, page_lines

WIDE, HIGH = 595.0, 842.0
SIZE = 12.0
SIGN = 6.0  # each letter's width


def cell(x: float, text: str) -> Cell:
    return Cell(x, x + SIGN * len(text), text, SIGN * len(text.split(" ")[0]))


def page(*rows: tuple[float, list[tuple[float, str]]]) -> Page:
    return Page(WIDE, HIGH, [CellRow(y, SIZE, [cell(x, text) for x, text in cells]) for y, cells in rows])


def read(*pages: Page) -> list[str]:
    return [line for line in page_lines(pages)[0] if line]


def test_columns_that_each_have_counts_are_read_one_after_the_other() -> None:
    rows = [
        (100.0 + 14 * n, [(60.0, f"{n}  Step R to side now"), (320.0, f"{n}  Step L to side then")])
        for n in range(1, 9)
    ]
    assert read(page((80.0, [(200.0, "A dance with a title across the gutter here")]), *rows)) == [
        "A dance with a title across the gutter here",
        *(f"{n} Step R to side now" for n in range(1, 9)),
        *(f"{n} Step L to side then" for n in range(1, 9)),
    ]


def test_a_table_of_counts_steps_and_facings_is_read_row_by_row() -> None:
    rows = [(100.0 + 14 * n, [(60.0, str(n)), (120.0, "Step R to side"), (480.0, "9:00")]) for n in range(1, 9)]
    assert read(page(*rows)) == [f"{n}  Step R to side  9:00" for n in range(1, 9)]


def test_what_is_called_beside_each_step_stays_beside_it() -> None:
    rows = [(100.0 + 14 * n, [(60.0, f"{n}  Step R to side"), (330.0, "and say it loud")]) for n in range(1, 9)]
    assert read(page(*rows)) == [f"{n} Step R to side  and say it loud" for n in range(1, 9)]


def test_a_line_broken_for_want_of_room_is_whole_again() -> None:
    long = "1-2  Step R to side and then step L beside R with a clap, twice if you like it"
    assert read(page((100.0, [(60.0, long)]), (114.0, [(60.0, "and go on")]), (128.0, [(60.0, "3-4  Hold")]))) == [
        " ".join(f"{long} and go on".split()),
        "3-4 Hold",
    ]


def test_a_short_line_is_not_drawn_together_with_the_next() -> None:
    lines = ["Lamp Black", "Made for a Tuesday", "Section 1", "1-2 Walk R, L", "Keep it small"]
    assert read(page(*((100.0 + 14 * n, [(60.0, text)]) for n, text in enumerate(lines)))) == lines


def test_a_cell_that_goes_on_below_is_whole_again_before_the_facing() -> None:
    words = "Step L to side, step R behind L, turn 1/4 left stepping L forward, touch"
    first = (100.0, [(60.0, "5-8"), (90.0, words), (530.0, "9:00")])
    assert read(page(first, (114.0, [(90.0, "R beside L")]))) == [f"5-8  {words} R beside L  9:00"]


def test_counts_in_the_middle_of_their_tables_row_are_those_of_all_of_it() -> None:
    words = "Step L to side, step R behind L, turn 1/4 left stepping L forward and clap, touch"
    rows = [(100.0, [(90.0, words)]), (107.0, [(60.0, "5-8")]), (114.0, [(90.0, "R beside L")])]
    assert read(page(*rows, (140.0, [(60.0, "1-2"), (90.0, "Walk R, L")]))) == [
        f"5-8  {words} R beside L",
        "1-2  Walk R, L",
    ]


def test_a_heading_after_a_full_line_stays_a_heading() -> None:
    long = "1-2  Step R to side and then step L beside R with a clap, twice if you like it"
    assert read(page((100.0, [(60.0, long)]), (114.0, [(60.0, "Section 2: Vine")])))[-1] == "Section 2: Vine"


def test_heads_and_feet_of_pages_and_page_numbers_are_told_and_left_out() -> None:
    pages = [
        page(
            (30.0, [(60.0, "Sheets of the hall")]),
            *((100.0 + 14 * n, [(60.0, f"{n}  Step R to side")]) for n in range(1, 5)),
            (820.0, [(280.0, f"Page {number} of 2")]),
        )
        for number in (1, 2)
    ]
    lines, left_out = page_lines(pages)
    assert left_out == ["Sheets of the hall", "Page 1 of 2", "Page 2 of 2"]
    assert [line for line in lines if line] == [f"{n} Step R to side" for n in (1, 2, 3, 4)] * 2


def test_steps_that_stand_on_each_page_are_no_page_furniture() -> None:
    rows = [(30.0, [(60.0, "1-2  Walk R, L")]), (44.0, [(60.0, "3-4  Walk R, L")])]
    assert read(page(*rows), page(*rows)) == ["1-2 Walk R, L", "3-4 Walk R, L"] * 2


@given(
    st.lists(
        st.tuples(
            st.floats(0, HIGH),
            st.lists(
                st.tuples(st.floats(0, WIDE), st.sampled_from(["1-2", "Walk R", "page 3", "Section 2"])),
                min_size=1,
                max_size=4,
            ),
        ),
        max_size=12,
    )
)
def test_no_word_is_lost_wherever_it_stands(rows: list[tuple[float, list[tuple[float, str]]]]) -> None:
    ordered = [(y, sorted(cells)) for y, cells in sorted(rows)]
    lines, left_out = page_lines([page(*ordered)])
    given_words = sorted(word for _, cells in ordered for _, text in cells for word in text.split())
    out = sorted(word for line in lines for word in line.split())
    if not left_out:
        assert out == given_words
    assert set(given_words) == {word for line in (*lines, *left_out) for word in line.split()}
