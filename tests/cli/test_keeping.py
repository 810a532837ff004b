"""The class book kept by what runs live: what is written, and what is told of last time."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from caller.book.store import Book, book_path
from caller.cli.keeping import keeping_dances, keeping_goes, last_time
from caller.teaching.drill import drill_of, section_span
from caller.teaching.running import Outcome, begin, next_stage
from caller.teaching.walkthrough import walkthrough_of
from tests.session.lessons import lantern

CLASS = "Quarry Hall Tuesday"


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    return tmp_path


def test_each_go_is_an_entry_with_its_tempo() -> None:
    dance = lantern()
    programme = drill_of(dance, section_span(dance, 1), "Section 1", tempo=Fraction(108))
    keep = keeping_goes(CLASS)
    assert keep is not None
    running = next_stage(begin(programme), Outcome.DONE)
    assert keep(running) == ""  # only told so far
    assert keep(next_stage(running, Outcome.DONE)) == ""
    with Book(book_path()) as book:
        (entry,) = book.pages().taught
    assert (entry.class_name, entry.routine, entry.way, entry.part) == (CLASS, "Lantern Row", "drill", "Section 1")
    assert (entry.tempo, entry.full) == (54, 108)


def test_a_dance_danced_to_its_end_is_an_entry() -> None:
    keep = keeping_dances(CLASS, Fraction(108))
    assert keep is not None
    assert keep(lantern(), Fraction(100)) == ""
    with Book(book_path()) as book:
        (entry,) = book.pages().taught
    assert (entry.way, entry.part, entry.tempo, entry.full) == ("dance", "7 walls", 100, 108)


def test_without_a_class_nothing_is_kept() -> None:
    assert keeping_goes(None) is None
    assert keeping_dances(None, Fraction(108)) is None
    assert not book_path().exists()


def test_last_time_is_told_with_its_day_and_its_top_tempo() -> None:
    assert last_time(CLASS, "Lantern Row") == ""
    assert not book_path().exists()  # to look is not to begin one
    keep = keeping_dances(CLASS, Fraction(108))
    assert keep is not None
    keep(lantern(), Fraction(97))
    with Book(book_path()) as book:
        (entry,) = book.pages().taught
    day = entry.at.astimezone()
    assert last_time(CLASS, "Lantern Row") == f"Last time, on {day.day} {day:%B}: up to 97 counts a minute, of 108."
    assert last_time(CLASS, "Chalk Line") == ""
    assert last_time("Another class", "Lantern Row") == ""


def test_how_far_a_walkthrough_got_is_told_with_how_to_go_on() -> None:
    programme = walkthrough_of(lantern(), Fraction(100))
    keep = keeping_goes(CLASS)
    assert keep is not None
    keep(next_stage(next_stage(begin(programme, 2), Outcome.DONE), Outcome.DONE))
    count = len(programme.stages)
    told = last_time(CLASS, "Lantern Row")
    assert told.endswith(f"The walkthrough got to stage 3 of {count}. --stage 4 goes on there.")


def test_a_book_that_can_not_be_written_is_told_once(own_folder: Path) -> None:
    book_path().parent.mkdir(parents=True)
    book_path().write_text("no book at all, but some words that are long enough to be looked at" * 20)
    keep = keeping_dances(CLASS, Fraction(108))
    assert keep is not None
    assert keep(lantern(), Fraction(97)).startswith("Not kept in the class book: ")
    assert keep(lantern(), Fraction(97)) == ""
    assert last_time(CLASS, "Lantern Row") == ""


def test_the_entry_of_a_go_at_another_speed_has_that_tempo() -> None:
    dance = lantern()
    running = begin(drill_of(dance, section_span(dance, 1), "Section 1", tempo=Fraction(100)))
    keep = keeping_goes(CLASS)
    assert keep is not None
    keep(next_stage(next_stage(replace(running, speed=Fraction(3, 4)), Outcome.DONE), Outcome.DONE))
    with Book(book_path()) as book:
        assert [entry.tempo for entry in book.pages().taught] == [75]
