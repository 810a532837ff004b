"""How much of a dance has been danced while it is under way; what the class book has of one that is left."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from caller.book.entries import Taught
from caller.book.known import known
from caller.book.store import Book, book_path
from caller.cli.evening_book import EveningBook
from caller.cli.keeping import BookKeeping
from caller.dance.part_way import part_way
from caller.dance.unroll import unroll
from caller.evening.plan import Item, Kind
from caller.session import WholeDance
from caller.session.evening import Evening
from caller.session.programme import ProgrammeEvent
from caller.session.slots import Slot
from caller.session.walls_danced import WallsDanced, walls_through
from caller.transport.order import Amounts, Order
from tests.session.classroom import TEMPO, Class, lantern
from tests.session.evenings import evening_of
from tests.takehome.packets import shipped_dance

CHALK = shipped_dance("chalk-line", 8)  # walls of 16 counts


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))


def kept() -> list[Taught]:
    with Book(book_path()) as book:
        return list(book.pages().taught)


def ordered(whole: WholeDance, order: Order, count: int, *amounts: int) -> WholeDance:
    asked: Amounts = tuple(Fraction(amount) for amount in amounts)
    return whole.after(ProgrammeEvent(order, Fraction(count), amounts=asked))


# -- walls


def walls(whole: WholeDance, count: int) -> set[int]:
    return set(walls_through(whole, whole.sheet, Fraction(count)))


def test_a_wall_is_danced_once_its_last_count_was() -> None:
    whole = WholeDance.of(CHALK, TEMPO)
    assert [walls(whole, count) for count in (0, 15, 16, 47, 48)] == [set(), set(), {1}, {1, 2}, {1, 2, 3}]


def test_what_was_jumped_over_was_not_danced_nor_the_wall_that_was_left_within() -> None:
    on = ordered(WholeDance.of(CHALK, TEMPO), Order.TO_WALL, 20, 5)
    assert [walls(on, count) for count in (64, 79, 80, 97)] == [set(), set(), {5}, {5, 6}]
    back = ordered(on, Order.TO_WALL, 70, 2)  # all from there on is danced again
    assert walls(back, 33) == {2}


def test_what_is_looped_within_a_wall_leaves_nothing_out() -> None:
    whole = WholeDance.of(CHALK, TEMPO)
    looped = ordered(whole, Order.LOOP, 18)  # the section of counts 17 to 24, over and over
    assert walls(looped, 60) == {1}
    assert walls(ordered(looped, Order.LOOP, 60), 60 + 4 + 8) == {1, 2}
    again = ordered(whole, Order.LOOP_WALL, 18, 1, 16)
    assert [walls(again, count) for count in (31, 33, 60)] == [{1}, {1, 2}, {1, 2}]


def test_all_walls_that_were_danced_are_kept_in_mind_and_the_quickest_that_was_held() -> None:
    whole = WholeDance.of(CHALK, TEMPO)
    seen = WallsDanced().on(whole, Fraction(0), TEMPO).on(whole, Fraction(32), TEMPO)
    assert (seen.of("Chalk Line"), seen.tempo(TEMPO)) == ({1, 2}, 120)
    jumped = ordered(whole, Order.TO_WALL, 32, 6)
    seen = seen.on(jumped, jumped.start, TEMPO).on(jumped, jumped.start + 16, Fraction(60))
    assert seen.of("Chalk Line") == {1, 2, 6}
    assert seen.tempo(Fraction(60)) == 120


def test_a_tempo_counts_once_sixteen_counts_were_danced_no_slower() -> None:
    """By hand: 16 at 70, then 8 at 81 and 8 at 90 are 16 at 81 or quicker; 8 at 90 are too few for 90."""
    whole, seen = WholeDance.of(CHALK, TEMPO), WallsDanced()
    paces, tempos = ((0, 70), (8, 70), (16, 70), (20, 81), (24, 81), (28, 90), (32, 90), (40, 60), (48, 60)), []
    for count, pace in paces:
        seen = seen.on(whole, Fraction(count), Fraction(pace))
        tempos.append(seen.tempo(Fraction(pace)))
    assert tempos == [70, 70, 70, 70, 70, 70, 81, 81, 81]
    assert len(seen.lately) == 1


# -- the book


def test_what_was_danced_quicker_before_the_end_is_kept_beside_the_whole() -> None:
    whole, book = WholeDance.of(CHALK, TEMPO), BookKeeping("Thursday")
    for count, tempo in ((0, 120), (32, 120), (64, 80)):
        book.passed(whole, Fraction(count), Fraction(tempo), Fraction(96))
    book.danced_whole(whole, Fraction(80), Fraction(96))
    assert [(entry.way, entry.tempo) for entry in kept()] == [("drill", 120), ("dance", 80)]
    with Book(book_path()) as there:
        (one,) = known(there.pages())
    assert (one.top_tempo, one.whole, one.slowly, one.lessons, one.runs) == (120, False, True, 1, 1)


def test_a_dance_that_is_left_is_kept_as_far_as_it_was_danced_and_as_it_happens() -> None:
    room = Class(dance=CHALK, book=BookKeeping("Thursday"))
    room.order(Order.GO)
    room.danced(8 + 15)
    assert not book_path().exists()  # not one wall yet
    room.danced(2)
    assert [(entry.way, entry.part) for entry in kept()] == [("drill", "1 of 8 walls")]
    room.danced(32)
    (entry,) = kept()  # one entry, which grows
    assert (entry.routine, entry.part, entry.tempo, entry.full) == ("Chalk Line", "3 of 8 walls", 120, 96)
    room.order(Order.QUIT)
    assert kept() == [entry]
    with Book(book_path()) as book:
        (one,) = known(book.pages())
    assert (one.lessons, one.whole, one.slowly, one.top_tempo) == (1, False, False, 120)


def test_danced_to_its_end_it_is_one_entry_and_the_next_time_is_another() -> None:
    room = Class(dance=shipped_dance("chalk-line", 2), book=BookKeeping("Thursday"))
    room.order(Order.GO)
    room.danced(8 + 33)
    assert [(entry.way, entry.part) for entry in kept()] == [("dance", "2 walls")]
    room.order(Order.GO)
    room.danced(8 + 17)
    assert [(entry.way, entry.part) for entry in kept()] == [("dance", "2 walls"), ("drill", "1 of 2 walls")]
    with Book(book_path()) as book:
        (one,) = known(book.pages())
    assert (one.whole, one.part) == (True, "2 walls")


def passes(book: BookKeeping, whole: WholeDance, *counts: int, item: int = 0) -> str:
    return "".join([book.passed(whole, Fraction(count), Fraction(100), Fraction(96), item) for count in counts])


def test_walls_that_were_danced_before_others_were_left_out_count_to_its_end() -> None:
    book, whole = BookKeeping("Thursday"), WholeDance.of(CHALK, TEMPO)
    passes(book, whole, 0, 32)
    on = ordered(whole, Order.TO_WALL, 32, 5)
    passes(book, on, 64, 100)
    assert book.danced_whole(on, TEMPO, Fraction(96)) == ""
    assert [(entry.way, entry.part) for entry in kept()] == [("drill", "6 of 8 walls")]
    passes(book, on, 64, 100)
    assert book.danced_whole(on, TEMPO, Fraction(96)) == ""
    assert kept()[1].part == "from wall 5, to the end"


def test_sections_that_are_danced_over_and_over_are_kept_with_how_often() -> None:
    first = unroll(part_way(lantern().routine, 2), 9)
    book = BookKeeping("Thursday")
    passes(book, WholeDance.of(first, TEMPO), 0, 16)
    assert [entry.part for entry in kept()] == ["sections 1 to 2, once"]
    passes(book, WholeDance.of(first, TEMPO), 50)
    assert [entry.part for entry in kept()] == ["sections 1 to 2, 3 times"]


def test_of_two_on_one_floor_each_is_kept_by_its_own_walls_whichever_is_called() -> None:
    both = WholeDance.on_one_floor(WholeDance.of(lantern(), TEMPO), shipped_dance("chalk-line", 40))
    book = BookKeeping("Thursday")
    passes(book, both, 0, 40)
    over = ordered(both, Order.CHANGE_OVER, 40)
    passes(book, over, 64)
    told = {entry.routine: (entry.part.split()[0], entry.tempo, entry.full) for entry in kept()}
    assert told == {"Chalk Line": ("4", 100, 96), "Lantern Row": ("2", 100, 108)}


def test_a_book_that_can_not_be_written_is_told_of_once() -> None:
    book_path().parent.mkdir(parents=True)
    book_path().write_text("no book at all, but some words that are long enough to be looked at" * 20)
    book = BookKeeping("Thursday")
    assert passes(book, WholeDance.of(CHALK, TEMPO), 0, 16).startswith("Not kept in the class book: ")
    assert passes(book, WholeDance.of(CHALK, TEMPO), 32) == ""


# -- an evening


def chalk_twice() -> Evening:
    run = Slot(Item(Kind.RUN, 4, "Chalk Line"), WholeDance.of(shipped_dance("chalk-line", 8), TEMPO))
    return evening_of(run, run)


def in_evening(book: EveningBook, evening: Evening, *counts: int) -> None:
    for count in counts:
        assert book.passed(evening, Fraction(count), Fraction(108)) == ""


def test_an_item_that_is_left_for_the_next_is_kept_each_by_itself() -> None:
    book, evening = EveningBook("Thursday"), chalk_twice()
    in_evening(book, evening, 0, 40)
    waits = evening.after(ProgrammeEvent(Order.NEXT_ITEM, Fraction(40)))
    in_evening(book, waits, 64)  # nothing is danced any more
    assert [entry.part for entry in kept()] == ["2 of 8 walls"]
    second = waits.after(ProgrammeEvent(Order.NEXT))
    assert second.index == 1
    in_evening(book, second, 0, 17)
    assert [(entry.part, entry.tempo, entry.full) for entry in kept()] == [
        ("2 of 8 walls", 108, 96),
        ("1 of 8 walls", 108, 96),
    ]


def test_what_goes_on_counts_the_walls_from_before_once_another_is_danced() -> None:
    own = chalk_twice().own
    assert isinstance(own, WholeDance)
    evening = replace(chalk_twice(), own=own.at(Fraction(48), Fraction(0), TEMPO))
    book = EveningBook("Thursday")
    in_evening(book, evening, 48, 60)
    assert not book_path().exists()
    in_evening(book, evening, 64)
    assert [entry.part for entry in kept()] == ["4 of 8 walls"]
    in_evening(EveningBook(""), evening, 48, 64)  # of no class, in no book
    assert len(kept()) == 1
