"""A walkthrough writes the class book as it goes."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction
from pathlib import Path

from caller.book.entries import known
from caller.book.lessons import taught_now
from caller.book.store import Book
from caller.cli.keeping import AT_HOME
from caller.teaching.drill import practice_of
from caller.teaching.running import Outcome, begin, next_stage
from caller.teaching.walkthrough import walkthrough_of
from tests.book.books import START
from tests.takehome.packets import shipped_dance

LANTERN = shipped_dance("lantern-row")


def test_each_go_of_a_walkthrough_is_an_entry_with_its_stage_and_tempo(tmp_path: Path) -> None:
    running = begin(walkthrough_of(LANTERN))
    with Book(tmp_path / "book.sqlite") as book:
        for minute in range(400):
            before = len(running.done)
            running = next_stage(running, Outcome.DONE)
            if len(running.done) > before:
                entry = taught_now("Tuesday", running, START + timedelta(minutes=minute))
                assert entry is not None
                book.add(entry)
            if minute == 12:
                (half,) = known(book.pages())
                assert (half.furthest, half.part, half.top_tempo, half.whole) == (
                    7,
                    "From the top to section 2",
                    Fraction(1674, 25),  # 62 % of 108
                    False,
                )
            if running.over:
                break
        pages = book.pages()
    (one,) = known(pages)
    stages = [entry.stage for entry in pages.taught]
    assert len(stages) == len(running.done)
    assert stages == sorted(stages)
    assert (one.furthest, one.stages, one.part, one.whole) == (28, 28, "The whole dance", True)
    assert (one.top_tempo, one.full) == (108, 108)


def test_nothing_danced_is_no_entry() -> None:
    running = next_stage(begin(walkthrough_of(LANTERN)), Outcome.DONE)
    assert taught_now("Tuesday", running, START) is None


def test_practice_at_home_is_remembered_with_how_fast_it_was() -> None:
    running = begin(practice_of(LANTERN))
    running = next_stage(next_stage(running, Outcome.DONE), Outcome.DONE)
    entry = taught_now(AT_HOME, running, START)
    assert entry is not None
    assert (entry.way, entry.stage, entry.stages, entry.part) == ("practice", 0, 0, "60%, from wall one")
    assert float(entry.tempo or 0) == 64.8
