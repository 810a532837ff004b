"""A walkthrough writes the class book as it goes."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from pathlib import Path

from caller.book.entries import Pages, Taught
from caller.book.known import known
from caller.book.lessons import ANSWERS_WITHIN, Attendance, danced_now, taught_now
from caller.book.store import Book
from caller.cli.keeping import AT_HOME
from caller.teaching.drill import practice_of
from caller.teaching.running import Running, StageOutcome, answered, at_stage, begin, looped, next_stage
from caller.teaching.stage import StageKind
from caller.teaching.walkthrough import walkthrough_of
from tests.book.books import START
from tests.takehome.packets import shipped_dance

LANTERN = shipped_dance("lantern-row")
STAGES = len(walkthrough_of(LANTERN).stages)  # the last of them is the whole dance
FULL, MINUTE = Fraction(108), timedelta(minutes=1)


def test_each_go_of_a_walkthrough_is_an_entry_with_its_stage_and_tempo(tmp_path: Path) -> None:
    running = begin(walkthrough_of(LANTERN))
    with Book(tmp_path / "book.sqlite") as book:
        for minute in range(400):
            before = len(running.done)
            running = next_stage(running, StageOutcome.DONE)
            if len(running.done) > before:
                entry = taught_now(
                    "Tuesday", running, LANTERN, running.done[-1].speed * 108, FULL, START + minute * MINUTE
                )
                assert entry is not None
                book.add(entry)
            if minute == 18:
                (half,) = known(book.pages())
                assert (half.furthest, half.part, half.top_tempo, half.whole) == (
                    13,
                    "From the top to section 2",
                    Fraction(1512, 25),  # 56 % of 108
                    False,
                )
            if running.over:
                break
        pages = book.pages()
    (one,) = known(pages)
    stages = [entry.stage for entry in pages.taught]
    assert len(stages) == len(running.done)
    assert stages == sorted(stages)
    assert (one.furthest, one.stages, one.part, one.whole) == (STAGES, STAGES, "The whole dance", True)
    assert (one.top_tempo, one.full) == (108, 108)


def danced_stages(running: Running, *numbers: int) -> Running:
    """With a go of each of those stages, from 1, in that order, whatever stands between."""
    for number in numbers:
        running = danced_again(at_stage(running, number - 1))
    return running


def got_to(*numbers: int) -> int:
    """How far the class is by the book once it has danced those stages, jumped to in that order."""
    running, entries = begin(walkthrough_of(LANTERN)), []
    for number in numbers:
        running = danced_stages(running, number)
        entry = taught_now("Tuesday", running, LANTERN, FULL / 2, FULL, START + len(entries) * MINUTE)
        assert entry is not None
        assert (entry.stage, entry.stages) == (number, STAGES)
        entries.append(entry)
    return known(Pages(("Tuesday",), tuple(entries)))[0].furthest


def test_what_was_jumped_to_is_not_reached_before_what_lies_between() -> None:
    names = [stage.name for stage in walkthrough_of(LANTERN).stages]
    second = names.index("Section 2, words on the count") + 1
    assert got_to(second) == got_to(second, second + 1) == 0
    assert got_to(STAGES, STAGES) == 0  # dancing all of it teaches none of it


def test_only_the_whole_dance_about_as_fast_as_it_is_counts_as_danced_through() -> None:
    def counts(entry: Taught) -> bool:
        return known(Pages(("Tuesday",), (entry,)))[0].whole

    one_wall, four = shipped_dance("lantern-row", 1), shipped_dance("lantern-row", 4)
    assert len(LANTERN.walls) == 7  # its last event is in wall 6
    assert [danced_now("Tuesday", dance, FULL, FULL, START).part for dance in (one_wall, four)] == ["1 wall", "4 walls"]
    assert not counts(danced_now("Tuesday", one_wall, FULL, FULL, START))
    assert not counts(danced_now("Tuesday", four, FULL, FULL, START))
    chalk = shipped_dance("chalk-line")
    assert len(chalk.walls) == 1  # of 16 counts: ten seconds of it are no dance
    assert not counts(danced_now("Tuesday", chalk, FULL, FULL, START))
    assert counts(danced_now("Tuesday", shipped_dance("chalk-line", 8), FULL, FULL, START))
    for share, whole in ((Fraction(1), True), (Fraction(9, 10), True), (Fraction(4, 5), False), (Fraction(6, 5), True)):
        assert counts(danced_now("Tuesday", LANTERN, FULL * share, FULL, START)) is whole
        running = danced_stages(begin(walkthrough_of(LANTERN)), STAGES)
        entry = taught_now("Tuesday", running, LANTERN, FULL * share, FULL, START)
        assert entry is not None
        assert counts(entry) is whole
        assert known(Pages(("Tuesday",), (entry,)))[0].slowly  # it can be run, all the same


def test_a_plan_of_three_stages_is_not_the_whole_dance_when_it_is_done() -> None:
    """As a teacher may save and edit one: its last stage is a section."""
    whole = walkthrough_of(LANTERN)
    words = [stage for stage in whole.stages if stage.kind is StageKind.WORDS][:3]
    running = danced_stages(begin(replace(whole, stages=tuple(words))), 1, 2, 3)
    entry = taught_now("Tuesday", running, LANTERN, FULL, FULL, START)
    assert entry is not None
    assert (entry.way, entry.stage, entry.stages) == ("walkthrough", 3, 3)
    assert not known(Pages(("Tuesday",), (entry,)))[0].whole


def test_a_loop_of_the_last_stage_and_fewer_walls_are_not_the_whole_dance() -> None:
    running = at_stage(begin(walkthrough_of(LANTERN)), 38)
    looped_part = danced_again(looped(running, Fraction(0), Fraction(16)))
    short = shipped_dance("lantern-row", 2)
    plan = walkthrough_of(short)
    few = danced_stages(begin(plan), len(plan.stages))
    for over, dance in ((looped_part, LANTERN), (few, short)):
        entry = taught_now("Tuesday", over, dance, FULL, FULL, START)
        assert entry is not None
        assert entry.way == "walkthrough"


def danced_again(running: Running) -> Running:
    goes = len(running.done)
    while len(running.done) == goes:
        running = next_stage(running, StageOutcome.DONE)
    return running


def test_nothing_danced_is_no_entry() -> None:
    running = next_stage(begin(walkthrough_of(LANTERN)), StageOutcome.DONE)
    assert taught_now("Tuesday", running, LANTERN, FULL, FULL, START) is None


def test_practice_at_home_is_remembered_with_how_fast_it_was() -> None:
    running = begin(practice_of(LANTERN))
    running = next_stage(next_stage(running, StageOutcome.DONE), StageOutcome.DONE)
    entry = taught_now(AT_HOME, running, LANTERN, Fraction(324, 5), FULL, START)
    assert entry is not None
    assert (entry.way, entry.stage, entry.stages, entry.part) == ("practice", 0, 0, "60%, from wall one")
    assert float(entry.tempo or 0) == 64.8


ENTRY = danced_now("Tuesday", LANTERN, FULL, FULL, START)


def test_what_is_danced_after_an_order_is_attended_at_once() -> None:
    assert Attendance().gone(ENTRY, 0) == (Attendance(), ENTRY)


def test_what_is_danced_after_a_telling_is_attended_once_somebody_answers() -> None:
    attendance, kept = Attendance().gone(ENTRY, 1)
    attendance, again = attendance.gone(ENTRY, 1)
    assert (kept.attended, again.attended) == (False, False)
    attendance, attended = attendance.answered(START + MINUTE)
    assert attended == (kept, again)
    assert attendance.answered(START + MINUTE) == (Attendance(), ())


def test_a_floor_that_stays_empty_is_no_lesson_though_somebody_comes_back_in_the_end() -> None:
    """Left alone, a lesson that is not to wait goes on through all its tellings."""
    attendance, _ = Attendance().gone(ENTRY, 1)
    attendance, third = attendance.gone(ENTRY, 2)
    assert not third.attended
    assert attendance.answered(START + MINUTE) == (Attendance(), ())
    attendance, _ = Attendance().gone(ENTRY, 1)
    assert attendance.answered(START + ANSWERS_WITHIN + MINUTE) == (Attendance(), ())


def test_what_comes_after_a_stage_that_nobody_attended_does_not_stand_for_it() -> None:
    first = replace(ENTRY, way="walkthrough", stage=3, stages=9)
    attendance, lost = Attendance().gone(first, 2)
    attendance, _ = attendance.answered(START + MINUTE)
    attendance, fourth = attendance.gone(replace(first, stage=4), 0)
    assert (lost.attended, fourth.since, fourth.attended) == (False, 4, True)
    other = attendance.gone(replace(first, routine="Chalk Line", stage=4), 0)[1]
    assert other.since == 1  # of another dance nothing was missed
    attendance, again = attendance.gone(first, 0)
    assert again.since == 1
    assert attendance.gone(replace(first, stage=5), 0)[1].since == 1


def in_turn(*outcomes: StageOutcome | int) -> tuple[int, int]:
    """The stages, from 1, that the entry of the next go stands for; a number is a stage that is jumped to."""
    running = begin(walkthrough_of(LANTERN))
    for outcome in outcomes:
        running = at_stage(running, outcome - 1) if isinstance(outcome, int) else next_stage(running, outcome)
    before = len(running.done)
    while len(running.done) == before:
        running = next_stage(running, StageOutcome.DONE)
    entry = taught_now("Tuesday", running, LANTERN, FULL, FULL, START)
    assert entry is not None
    return entry.since, entry.stage


def test_a_stage_stands_for_those_before_it_unless_some_were_left_out() -> None:
    stages = [stage.name for stage in walkthrough_of(LANTERN).stages]
    words, second = (stages.index(f"Section {n}, words on the count") + 1 for n in (1, 2))
    on = StageOutcome.ON
    assert in_turn() == (1, words)
    assert in_turn(*[on] * (words - 1)) == (1, words)  # only told, and the teacher has told enough
    assert in_turn(*[on] * (second - 1)) == (words + 1, second)  # section 1 was never danced
    assert in_turn(words) == (words, words)  # nor told, where it is jumped over
    assert in_turn(2, words, 2) == (2, words)
    there = [StageOutcome.DONE] * (words - 1)
    once = [*there, StageOutcome.DONE, StageOutcome.DONE]  # what is said first, and one go of it
    assert in_turn(*there, second) == (second, second)
    assert in_turn(*once, on)[0] == 1
    assert begin(walkthrough_of(LANTERN), 9).since == 9


def test_a_lesson_tells_how_long_nobody_has_answered() -> None:
    running = begin(walkthrough_of(LANTERN))
    while len(running.done) < 9:
        running = next_stage(running, StageOutcome.DONE)
    silent = [go.silent for go in running.done]
    assert silent == sorted(silent)
    assert (silent[0], silent[-1]) == (1, 3)  # two sections told, and a third one since
    running = answered(running)
    while len(running.done) < 10:
        running = next_stage(running, StageOutcome.DONE)
    assert running.done[-1].silent == 0


def test_a_dance_of_which_walls_were_left_out_is_a_drill_of_what_was_danced() -> None:
    entry = danced_now("Tuesday", LANTERN, Fraction(97), FULL, START, LANTERN.walls[2].at)
    assert (entry.way, entry.part, entry.tempo, entry.full) == ("drill", "from wall 3, to the end", 97, 108)
    assert not known(Pages(("Tuesday",), (entry,)))[0].whole


def test_an_entry_is_kept_to_the_second() -> None:
    at = START + timedelta(microseconds=700_000)
    running = danced_stages(begin(walkthrough_of(LANTERN)), STAGES)
    for entry in (
        danced_now("Tuesday", LANTERN, FULL, FULL, at),
        taught_now("Tuesday", running, LANTERN, FULL, FULL, at),
    ):
        assert entry is not None
        assert entry.at == START
