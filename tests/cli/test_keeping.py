"""The class book kept by what runs live: what is written, and what is told of last time."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from functools import partial
from pathlib import Path

import pytest

from caller.book.entries import Mark
from caller.book.entries import Taught as Entry
from caller.book.known import last_rung, weak_places
from caller.book.store import Book, book_path
from caller.cli.keeping import AT_HOME, BookKeeping, last_time
from caller.cli.walkthrough import ordered
from caller.session import TaughtProgramme
from caller.teaching.alone import Asked, practice_alone
from caller.teaching.drill import drill_of, section_span
from caller.teaching.rungs import went_well
from caller.teaching.running import StageOutcome, answered, begin, next_stage
from caller.teaching.walkthrough import walkthrough_of
from caller.transport.order import Order
from caller.transport.state import State
from tests.book.books import START
from tests.session.classroom import lantern
from tests.session.lessons import Taught

CLASS = "Quarry Hall Tuesday"
FULL = Fraction(108)


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    return tmp_path


def test_each_go_is_an_entry_with_its_tempo() -> None:
    dance = lantern()
    programme = drill_of(dance, section_span(dance, 1), "Section 1", tempo=Fraction(108))
    kept = BookKeeping(CLASS)
    running = next_stage(begin(programme), StageOutcome.DONE)
    assert kept.gone(running, dance, Fraction(54), FULL) == ""  # only told so far
    assert kept.gone(next_stage(running, StageOutcome.DONE), dance, Fraction(54), FULL) == ""
    with Book(book_path()) as book:
        (entry,) = book.pages().taught
    assert (entry.class_name, entry.routine, entry.way, entry.part) == (CLASS, "Lantern Row", "drill", "Section 1")
    assert (entry.tempo, entry.full) == (54, 108)


def test_a_dance_danced_to_its_end_is_an_entry() -> None:
    assert BookKeeping(CLASS).danced(lantern(), Fraction(100), FULL) == ""
    with Book(book_path()) as book:
        (entry,) = book.pages().taught
    assert (entry.way, entry.part, entry.tempo, entry.full) == ("dance", "7 walls", 100, 108)


def test_last_time_is_told_with_its_day_and_its_top_tempo() -> None:
    assert last_time(CLASS, "Lantern Row") == ""
    assert not book_path().exists()  # to look is not to begin one
    BookKeeping(CLASS).danced(lantern(), Fraction(97), FULL)
    with Book(book_path()) as book:
        (entry,) = book.pages().taught
    day = entry.at.astimezone()
    assert last_time(CLASS, "Lantern Row") == f"Last time, on {day.day} {day:%B}: up to 97 counts a minute, of 108."
    assert last_time(CLASS, "Chalk Line") == ""
    assert last_time("Another class", "Lantern Row") == ""


def test_a_class_is_found_in_whatever_case_it_is_named() -> None:
    BookKeeping(CLASS).danced(lantern(), Fraction(97), FULL)
    BookKeeping(CLASS.upper()).danced(lantern(), Fraction(99), FULL)
    with Book(book_path()) as book:
        assert book.pages().classes == (CLASS,)
    assert "up to 99 counts" in last_time(f" {CLASS.lower()}", "Lantern Row")


def test_how_far_a_walkthrough_got_is_told_with_how_to_go_on() -> None:
    programme = walkthrough_of(lantern(), Fraction(100))
    running = begin(programme)
    while len(running.done) < 1:
        running = next_stage(answered(running), StageOutcome.DONE)
    stage = running.done[0].index + 1
    BookKeeping(CLASS).gone(running, lantern(), Fraction(60), Fraction(100))
    count = len(programme.stages)
    told = last_time(CLASS, "Lantern Row")
    goes_on = f'--stage {stage + 1} goes on there, or "stage {stage + 1}" typed.'
    assert told.endswith(f"The walkthrough got to stage {stage} of {count}. {goes_on}")


def test_a_lesson_goes_on_from_what_the_book_knows_and_not_from_where_it_was_begun() -> None:
    programme = walkthrough_of(lantern(), Fraction(100))

    def kept(first: int) -> str:
        running = begin(programme, first - 1)
        while not running.done:
            running = next_stage(running, StageOutcome.DONE)
        BookKeeping(CLASS).gone(running, lantern(), Fraction(60), Fraction(100))
        return last_time(CLASS, "Lantern Row")

    assert kept(30).endswith("of 100.")  # nothing was taught before
    with Book(book_path()) as book:
        book.add(Entry(CLASS, START, "Lantern Row", "walkthrough", "Wall 1", 29, len(programme.stages)))
    assert f"got to stage 30 of {len(programme.stages)}." in kept(30)


def test_a_book_that_can_not_be_written_is_told_once(own_folder: Path) -> None:
    book_path().parent.mkdir(parents=True)
    book_path().write_text("no book at all, but some words that are long enough to be looked at" * 20)
    kept = BookKeeping(CLASS)
    assert kept.danced(lantern(), Fraction(97), FULL).startswith("Not kept in the class book: ")
    assert kept.danced(lantern(), Fraction(97), FULL) == ""
    assert last_time(CLASS, "Lantern Row") == ""


def test_what_was_danced_unanswered_is_attended_once_an_order_comes() -> None:
    times = iter(START + timedelta(minutes=minute) for minute in range(9))
    kept = BookKeeping(CLASS, lambda: next(times))
    running = begin(walkthrough_of(lantern()))
    while not running.done:
        running = next_stage(running, StageOutcome.DONE)
    assert kept.gone(running, lantern(), Fraction(60), FULL) == ""
    with Book(book_path()) as book:
        assert [entry.attended for entry in book.pages().taught] == [False]
        assert kept.answered() == ""
        assert [entry.attended for entry in book.pages().taught] == [True]


def test_a_rung_is_kept_once_it_can_not_be_taken_back() -> None:
    running = begin(practice_alone(lantern(), FULL, Asked(first=2)))
    while not running.waiting:
        running = next_stage(running, StageOutcome.DONE)
    kept = BookKeeping(AT_HOME)
    well = went_well(running)
    on = next_stage(next_stage(well, StageOutcome.DONE), StageOutcome.DONE)
    assert kept.gone(on, lantern(), Fraction(97), FULL) == ""
    assert kept.rungs(on, FULL) == ""
    with Book(book_path()) as book:
        pages = book.pages()
    rung, go = pages.taught
    assert (rung.part, rung.stage, rung.stages, rung.tempo) == ("80%, from wall one, went well", 3, 5, Fraction(432, 5))
    assert (go.part, go.stage) == ("90%, from wall one", 0)
    assert last_rung(pages, AT_HOME, "Lantern Row") == 3


def test_a_weak_place_is_kept_as_soon_as_it_is_said_to_be_one() -> None:
    """The dancer leaves before it has been danced to its end."""
    kept = BookKeeping(AT_HOME, lambda: START)
    taught = Taught(lambda dance: practice_alone(dance, FULL, Asked(first=3)), ordered=partial(book_order, kept))
    taught.order(Order.GO)
    taught.until(lambda view: view.glance is not None and view.glance.section == 2 and view.state is State.RUNNING)
    assert taught.order(Order.SECTION_AGAIN).stage == "Section 2, a weak place, 1 of 2"
    taught.order(Order.SECTION_AGAIN, Order.SAY_AGAIN, Order.QUIT)  # the same place once more is no other mark
    with Book(book_path()) as book:
        pages = book.pages()
    assert [(entry.part, entry.tempo) for entry in pages.taught] == [("Section 2, a weak place", None)]
    assert weak_places(pages, AT_HOME, "Lantern Row", START) == (2,)


def book_order(kept: BookKeeping, taught: TaughtProgramme, order: Order) -> str:
    return ordered(kept, taught, order, FULL)


def test_again_with_calls_marks_no_place() -> None:
    running = begin(practice_alone(lantern(), FULL, Asked(first=2)))
    assert BookKeeping(AT_HOME).weak(running) == ""
    drilled = begin(drill_of(lantern(), section_span(lantern(), 1), "Section 1"))
    assert BookKeeping(AT_HOME).weak(drilled) == ""
    assert not book_path().exists()


def test_a_mark_is_kept_with_its_class() -> None:
    assert BookKeeping(CLASS, lambda: START).marked("Lantern Row", "shaky") == ""
    with Book(book_path()) as book:
        assert book.pages().marks == (Mark(CLASS, START, "Lantern Row", "shaky"),)


def test_a_weak_place_that_went_well_is_no_rung_of_the_book() -> None:
    running = begin(practice_alone(lantern(), None, Asked(weak=(2,))))
    both = replace(running, well=(0, 1))
    assert BookKeeping(CLASS).rungs(both, FULL) == ""
    with Book(book_path()) as book:
        assert [entry.part for entry in book.pages().taught] == ["60%, from wall one, went well"]
