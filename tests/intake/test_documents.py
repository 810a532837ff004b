"""Files that other programs made: the same sheet comes out of each, whole and in order."""

from __future__ import annotations

import pytest

from caller.dance.check import check, has_errors
from caller.intake.found import UnreadableFile
from caller.intake.take import take_in
from caller.routine.notation.read import read_sheet
from tests.corpus.sheets import sheet_text
from tests.intake.files_made import SLATE_YARD, lines_of, made

FURNITURE = {"Quarry Hall Tuesday class", "Page 1 of 1"}


@pytest.mark.parametrize(
    "name", ["slate-yard.docx", "slate-yard.odt", "slate-yard.rtf", "slate-yard.pdf", "turned.pdf"]
)
def test_one_sheet_comes_out_of_each_kind_of_file(name: str) -> None:
    found = take_in(made(name))
    assert lines_of(found.text) == SLATE_YARD
    assert set(found.left_out) == FURNITURE


def test_a_word_processors_own_web_page_keeps_all_but_what_it_made_a_picture_of() -> None:
    found = take_in(made("slate-yard.html"))
    tag = SLATE_YARD.index("Tag: after wall 2")
    wanted = [
        line.removeprefix("Section ").replace(": ", ". ", 1) if line[:7] == "Section" else line for line in SLATE_YARD
    ]
    assert lines_of(found.text) == wanted[:tag] + wanted[tag + 2 :]
    assert set(found.left_out) == FURNITURE


@pytest.mark.parametrize("name", ["slate-yard.docx", "slate-yard.odt", "slate-yard.rtf", "slate-yard.pdf"])
def test_what_comes_out_can_be_danced(name: str) -> None:
    read = read_sheet(take_in(made(name)).text)
    assert not has_errors(check(read)), check(read)
    assert read.routine.counts == read.routine.header.counts


def test_letters_that_a_font_draws_as_one_are_all_there_and_bold_ones_come_once() -> None:
    """ "shuffle" in a font with a sign of its own for "ffl"."""
    assert lines_of(take_in(made("attic-trunk.pdf")).text) == lines_of(sheet_text("first", "attic-trunk"))


@pytest.mark.parametrize("name", ["apple-crate.html", "apple-crate.rtf", "apple-crate.pdf"])
def test_steps_in_a_table_are_as_they_were_typed(name: str) -> None:
    """A page with a table for each section, by other makers again; narrow enough for cells that go on below."""
    assert lines_of(take_in(made(name)).text) == lines_of(sheet_text("first", "apple-crate"))


def test_columns_of_a_printed_page_stand_one_after_the_other() -> None:
    """LibreOffice's columns over two pages, with a running head, page numbers and lines broken for want of room; its
    Word file has the same words in order by itself."""
    printed, written = take_in(made("columns.pdf")), take_in(made("columns.docx"))
    assert lines_of(printed.text) == lines_of(written.text)
    assert set(printed.left_out) == {"Step sheets of the Quarry Hall", "1", "2"}


def test_words_parted_at_a_hyphen_are_whole_and_the_floors_own_hyphens_stay() -> None:
    text = take_in(made("two-columns.pdf")).text
    for words in (
        "can be managed",
        "kick-ball-change",
        "recover L\n",
        "the shoulders",
        "unhurried look to the right-hand wall",
    ):
        assert words in text
    assert "office" in text.lower()
    lines = lines_of(text)
    assert [line[:5] for line in lines if line.startswith("SEC")] == ["SEC 1", "SEC 2", "SEC 3", "SEC 4"]
    assert lines[-2:] == ["Restart: wall 3 after 16 counts", "Finish facing the front and hold."]
    assert lines[1].endswith("start on the vocals after the first drum fill")


def test_a_page_that_was_printed_sideways_is_read_from_left_to_right() -> None:
    lines = lines_of(take_in(made("sideways.pdf")).text)
    assert lines[0] == "Bell Lane"
    assert lines[-1] == "1-8 Sway R, L, R, L, R, L, R, L"


def test_a_web_page_and_its_print_say_the_same() -> None:
    page, printed = take_in(made("tidal-gate.html")), take_in(made("tidal-gate.pdf"))
    assert lines_of(page.text) == [line for line in lines_of(printed.text) if not line.startswith("©")]
    assert any(line.startswith("© the Quarry Hall") for line in page.left_out)
    assert any(line.startswith("file:///sheets") for line in printed.left_out)
    for hidden in ("not a step", "hidden", "so is this", "Turn scripts on"):
        assert hidden not in page.text
    assert "1. Keep it small on a busy floor." in page.text
    assert "pivot ¼ left  6:00" in page.text


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("slate-yard.doc", "save it as .docx or PDF"),
        ("scan.pdf", "this PDF is a scan"),
        ("locked.pdf", "locked with a password"),
    ],
)
def test_what_cant_be_read_gets_one_sentence_that_says_what_to_do(name: str, told: str) -> None:
    with pytest.raises(UnreadableFile, match=told) as raised:
        take_in(made(name))
    assert "\n" not in str(raised.value)
