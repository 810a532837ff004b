"""Block letters: as large as fits, read back square for square, never a word cut."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from caller.screen.glyphs import LOW, TALL
from caller.screen.letters import CUT, SIZES, capitals, fit, fit_first
from tests.screen.seen import read

WORDS = st.lists(st.text("abcdefgzkmqwv0123456789/&-", min_size=1, max_size=9), min_size=1, max_size=5).map(" ".join)


@pytest.mark.parametrize(("drawing", "tall"), [(TALL, 7), (LOW, 5)])
def test_every_letter_is_whole_and_has_a_shape_of_its_own(drawing: dict[str, tuple[str, ...]], tall: int) -> None:
    assert set("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.,:;!?'\"-/&()+") <= set(drawing)
    assert len(set(drawing.values())) == len(drawing)
    for glyph in drawing.values():
        assert len(glyph) == tall
        assert len({len(row) for row in glyph}) == 1
        assert "#" in "".join(row[0] for row in glyph), "a blank first column would widen the gap before it"
        assert "#" in "".join(row[-1] for row in glyph)


def test_sizes_go_from_the_largest_down() -> None:
    assert [size.height for size in SIZES] == [42, 35, 28, 21, 14, 10, 7, 5, 5]


@given(WORDS, st.integers(30, 160), st.integers(1, 40))
def test_words_in_block_letters_are_read_back_whole(words: str, width: int, rows: int) -> None:
    block = fit(words, width, rows)
    assert len(block.lines) <= rows
    assert all(len(line) == width for line in block.lines)
    if block.height:
        assert read(block.lines) == (capitals(words), block.height)


@given(WORDS, st.integers(30, 160), st.integers(3, 40), st.integers(0, 30), st.integers(0, 10))
def test_more_room_never_makes_letters_smaller(words: str, width: int, rows: int, wider: int, more: int) -> None:
    assert fit(words, width + wider, rows + more).height >= fit(words, width, rows).height


@given(st.text(alphabet=st.characters(codec=None), max_size=60), st.integers(0, 60), st.integers(0, 12))
def test_any_text_stays_within_its_space(text: str, width: int, rows: int) -> None:
    block = fit(text, width, rows, "center")
    assert len(block.lines) <= rows
    assert all(cell_len(line) == width for line in block.lines)


def test_a_mark_without_a_letter_takes_no_cell() -> None:
    assert {cell_len(line) for line in fit("000¸", 15, 3).lines} == {15}


@given(WORDS)
def test_plain_words_wrap_between_words(words: str) -> None:
    assert " ".join(" ".join(fit(words, 9, 60, tallest=0).lines).split()) == capitals(words)


def test_words_without_room_say_so_with_an_ellipsis() -> None:
    assert [line.strip() for line in fit("jazz box turning a quarter right", 12, 2).lines] == ["JAZZ BOX", "TURNING A…"]


def test_what_has_no_block_letter_stands_as_itself() -> None:
    block = fit("step ☂ now", 80, 4)
    assert block.height == 7
    assert sum("☂" in line for line in block.lines) == 1


def test_words_in_another_script_are_shown_plainly() -> None:
    block = fit("шаг вправо", 80, 9)
    assert block.height == 0
    assert block.lines[0].strip() == "ШАГ ВПРАВО"


@pytest.mark.parametrize(
    ("text", "drawn"),
    [
        ("turn ½", "TURN 1/2"),
        ("Café à gauche", "CAFE A GAUCHE"),
        ("“walk” – now…", '"WALK" - NOW...'),
        ("straße", "STRASSE"),
    ],
)
def test_fractions_accents_and_marks_have_letters(text: str, drawn: str) -> None:
    assert read(fit(text, 120, 9).lines)[0] == drawn


def test_the_longest_wording_that_is_not_crowded_is_taken() -> None:
    long, short = "jazz box turning a quarter right", "jazz box turning 1/4 right"
    assert read(fit_first((long, short), 160, 9).lines)[0] == capitals(long)
    assert read(fit_first((long, short), 68, 9).lines)[0] == capitals(short)
    assert fit_first((long, short), 12, 9).lines[0].strip() == "JAZZ BOX"


def test_where_no_block_letters_fit_the_first_that_fits_whole_stands() -> None:
    texts = ("full turn right in 4, to 6:00", "full right in 4, to 6:00", "full turn right")
    assert fit_first(texts, 26, 1).lines[0].strip() == "FULL RIGHT IN 4, TO 6:00"
    assert fit_first(texts, 30, 1).lines[0].strip() == "FULL TURN RIGHT IN 4, TO 6:00"
    assert fit_first(texts, 9, 1).lines[0].strip() == "FULL TUR…"


def test_a_wording_that_is_cut_is_shown_only_where_none_that_is_whole_has_block_letters() -> None:
    texts = ("rock forward and recover on the left", f"rock forward{CUT}")
    assert fit_first(texts, 120, 8).height > 0
    assert fit_first(texts, 120, 8) == fit(texts[0], 120, 8)
    assert fit_first(texts, 80, 3) == fit(texts[1], 80, 3)
    assert fit(texts[0], 80, 3).height == 0 < fit(texts[1], 80, 3).height
