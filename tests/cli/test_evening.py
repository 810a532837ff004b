"""``caller evening`` from the command line: planned, saved, run as plain lines, killed, and gone on with."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from caller.book.entries import Taught
from caller.book.store import Book, book_path
from caller.cli import command_line, main
from caller.cli.evening import lay
from caller.cli.evening_place import PlaceKeeping, kept_place, place_file
from caller.session.programme import ProgrammeEvent
from caller.transport.order import Order
from caller.transport.state import State
from tests.session.evenings import Hall, evening_of, lesson, rest, run, short

CLASS = "Quarry Hall Tuesday"


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("DATA", "CONFIG", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    monkeypatch.setenv("CALLER_ROUTINES", str(tmp_path / "routines"))
    return tmp_path


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["evening", *words]) == 0
    return capsys.readouterr().out


def had(routine: str, weeks_ago: int, stage: int = 28, stages: int = 28) -> None:
    at = datetime.now(UTC).replace(microsecond=0) - timedelta(weeks=weeks_ago)
    with Book(book_path()) as book:
        book.add(Taught(CLASS, at, routine, "walkthrough", "a part", stage, stages, Fraction(108), Fraction(108)))


def test_a_new_class_is_planned_for_and_the_plan_is_one_document(capsys: pytest.CaptureFixture[str]) -> None:
    hours = ("--starts", "19:00", "--closes", "20:00")
    lines = told(capsys, *hours, "--list").splitlines()
    document = json.loads(told(capsys, *hours, "--json"))
    assert lines[0] == "19:00  Chalk Line, lesson, 12 min (new)"
    assert (document["starts"], document["closes"], document["class"]) == ("19:00", "20:00", None)
    first = document["items"][0]
    assert (first["kind"], first["routine"], first["starts"], first["ends"]) == (
        "lesson",
        "Chalk Line",
        "19:00",
        "19:12",
    )
    assert document["spare_minutes"] == 60 - sum(item["minutes"] for item in document["items"])


def test_a_class_of_the_book_is_planned_for_by_what_it_knows(capsys: pytest.CaptureFixture[str]) -> None:
    had("Lantern Row", 1)
    had("Lantern Row", 2)
    had("Slow Water", 1, 9, 21)
    document = json.loads(told(capsys, "--closes", "23:59", "--starts", "21:00", "--json"))
    assert document["class"] == CLASS  # the only one of the book
    names = [item["name"] for item in document["items"]]
    assert names[:4] == [
        "Lantern Row, run at 90%", "Slow Water, recap", "Slow Water, lesson from stage 10", "break",
    ]  # fmt: skip
    assert document["items"][0]["manner"] == "prompts"
    # A run is as long as a song: 3 to 3.5 minutes of walls, and half a minute to get to one's place.
    assert document["items"][0]["minutes"] == 4


def test_the_minutes_of_a_lesson_are_those_of_its_walkthrough(capsys: pytest.CaptureFixture[str]) -> None:
    minutes = {}
    for level in ("beginner", "advanced"):
        words = ("--new", "Lantern Row", "--level", level, "--json")
        minutes[level] = json.loads(told(capsys, *words))["items"][0]["minutes"]
    assert minutes["beginner"] > minutes["advanced"] + 3


def test_a_plan_saved_and_edited_is_the_one_that_is_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "tuesday.toml"
    assert told(capsys, "--starts", "19:00", "--closes", "20:30", "--save", str(file)).startswith(f"{file}: ")
    same = told(capsys, str(file), "--json")
    assert (
        json.loads(same)["items"]
        == json.loads(told(capsys, "--starts", "19:00", "--closes", "20:30", "--json"))["items"]
    )
    text = file.read_text(encoding="utf-8")
    assert told(capsys, "--save", str(file)).startswith(f"{file}: ")  # as it was made: it may be made anew
    file.write_text(text + '[[item]]\nroutine = "tin-roof-swing"\ntempo = "80%"\n', encoding="utf-8")
    last = json.loads(told(capsys, str(file), "--json"))["items"][-1]
    assert (last["routine"], last["tempo"]) == ("tin-roof-swing", "80%")
    assert last["minutes"] > 2  # worked out, since none are told
    assert main(["evening", "--save", str(file)]) == 1
    assert "--over" in capsys.readouterr().err


def test_a_sheet_that_is_a_file_is_taught_from_where_it_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "sheets"
    folder.mkdir()
    sheet, plan = folder / "hall.txt", folder / "plan.toml"
    shipped = Path(__file__).parents[2] / "routines" / "chalk-line.txt"
    sheet.write_text(shipped.read_text(encoding="utf-8").replace("Chalk Line", "Hall Line"), encoding="utf-8")
    first = json.loads(told(capsys, "--new", str(sheet), "--json"))["items"][0]
    assert (first["kind"], first["routine"], first["minutes"]) == ("lesson", str(sheet), 12)
    plan.write_text('starts = "19:00"\ncloses = "20:00"\n[[item]]\nroutine = "hall.txt"\n', encoding="utf-8")
    assert json.loads(told(capsys, str(plan), "--json"))["items"][0]["routine"] == str(sheet)


@pytest.mark.parametrize(
    ("words", "status", "sentence"),
    [
        (("nowhere.toml", "--list"), 2, "can't open nowhere.toml"),
        (("--new", "Nothing Of The Kind", "--list"), 2, "there is no file and no routine"),
        (("--starts", "19:00", "--closes", "19:02", "--list"), 1, "there is no time for anything from 19:00 to 19:02"),
    ],
)
def test_what_can_not_be_done_is_told_in_one_sentence(
    words: tuple[str, ...], status: int, sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["evening", *words]) == status
    error = capsys.readouterr().err
    assert sentence in error
    assert error.count("\n") == 1


def test_whose_evening_is_asked_where_the_book_has_several(capsys: pytest.CaptureFixture[str]) -> None:
    had("Lantern Row", 1)
    with Book(book_path()) as book:
        book.add_class("Thursday")
    assert json.loads(told(capsys, "--json"))["class"] is None
    assert main(["evening", "--json", "--class", "Thursday"]) == 0
    assert json.loads(capsys.readouterr().out)["class"] == "Thursday"


# -- the place


def test_the_place_is_kept_at_each_change_and_is_gone_when_it_is_over(tmp_path: Path) -> None:
    now = datetime(2026, 3, 31, 19, 0)
    file = tmp_path / "evening.json"
    keeping = PlaceKeeping("", now.replace(hour=0), lambda: now, file)
    hall = Hall(evening_of(run(short()), lesson(short()), rest(short())))
    hall.session._placed = keeping.keep
    written = []
    for _ in range(3):
        hall.order(Order.GO)
        hall.until(lambda view: written.append(kept_place(now, file)) or view.state is State.WAITING)  # type: ignore[func-returns-value]
    places = list(dict.fromkeys((p.index, p.stage, p.goes, p.count, p.ahead) for p in written if p))
    assert places == [
        (0, 0, 0, "0", None), (0, 0, 0, "32", None), (0, 0, 0, "0", 1),
        (1, 0, 0, "0", None), (1, 1, 0, "0", None), (1, 1, 1, "0", None), (1, 2, 0, "0", 2),
        (2, 0, 0, "0", None), (2, 0, 0, "0", 3),
    ]  # fmt: skip
    assert kept_place(now + timedelta(hours=7), file) is None  # another evening
    hall.order(Order.GO)
    assert not file.exists()


def test_only_the_evening_of_that_class_is_gone_on_with_at_the_hours_that_are_said(
    capsys: pytest.CaptureFixture[str],
) -> None:
    now = datetime.now()
    PlaceKeeping("", now.replace(hour=0, minute=0)).keep(evening_of(run(short())).after(ProgrammeEvent(Order.GO)), None)
    for words, goes_on in (((), True), (("--class", "Tuesday"), True), (("--class", "Thursday"), False)):
        asked = command_line("evening").parse_args(["evening", "--closes", "23:45", *words])
        laid = lay(asked)
        assert (laid.place is not None) is goes_on
        assert laid.plan.closes % (24 * 60) == 23 * 60 + 45
    assert "it is of 'Tuesday'" in capsys.readouterr().err
    assert lay(command_line("evening").parse_args(["evening", "--afresh"])).place is None


def test_what_is_kept_of_an_evening_goes_with_its_class() -> None:
    now = datetime.now()
    for erased, left in (("Thursday", True), ("Tuesday", False)):
        PlaceKeeping("", now).keep(evening_of(run(short())).after(ProgrammeEvent(Order.GO)), None)
        with Book(book_path()) as book:
            book.add_class(erased)
        assert main(["book", "erase", erased, "--yes"]) == 0
        assert place_file().exists() is left


@pytest.mark.parametrize("text", ["", "{}", "no json", '{"form":1}', "[" * 50_000])
def test_a_damaged_place_is_none(text: str, tmp_path: Path) -> None:
    file = tmp_path / "evening.json"
    file.write_text(text)
    assert kept_place(datetime(2026, 3, 31), file) is None


class Process:
    """An evening in a process of its own, without sound or pedal; what it says, line by line."""

    def __init__(self, *words: str) -> None:
        command = [sys.executable, "-m", "caller", "evening", "--plain", "--sound", "none", "--pedal", "none", *words]
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, bufsize=1
        )
        self.lines: list[str] = []

    def until(self, words: str) -> str:
        """The first line from here on that has these words."""
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.lines.append(line.rstrip())
            if words in line:
                return self.lines[-1]
        raise AssertionError(f"{words!r} was never said: {self.lines}")

    def type(self, line: str) -> None:
        assert self.process.stdin is not None
        print(line, file=self.process.stdin, flush=True)

    def kill(self) -> None:
        os.kill(self.process.pid, signal.SIGKILL)
        self.process.wait()


@pytest.fixture
def processes() -> Iterator[list[Process]]:
    started: list[Process] = []
    yield started
    for one in started:
        if one.process.poll() is None:
            one.process.kill()
            one.process.wait()


PLAN = """\
class = "Quarry Hall Tuesday"
starts = "19:00"
closes = "23:00"
[[item]]
routine = "Chalk Line"
tempo = "150%"
walls = 1
[[item]]
kind = "lesson"
routine = "Lantern Row"
[[item]]
kind = "break"
minutes = 10
"""


@pytest.mark.skipif(os.name != "posix", reason="kill -9 is POSIX's")
def test_an_evening_that_is_killed_goes_on_where_it_was(tmp_path: Path, processes: list[Process]) -> None:
    """kill -9 of a real process, in the second stage of the second item; nothing that was told of is lost."""
    file = tmp_path / "tuesday.toml"
    file.write_text(PLAN, encoding="utf-8")
    first = Process(str(file))
    processes.append(first)
    first.until("Item 1 of 3: Chalk Line.")
    first.until("Dancing.")
    first.until("Done. Type")
    first.type("learnt")
    first.until("Note: Chalk Line: learnt.")
    first.type("go")
    first.until("Stage 1 of 28")
    first.type("stage 3")
    first.until("Section 1, words on the count, 1 of")
    first.type("x")
    first.until("Nothing is taken out")
    first.kill()
    assert place_file().exists()
    with Book(book_path()) as book:
        pages = book.pages()
    assert [(entry.routine, entry.way, entry.tempo) for entry in pages.taught] == [("Chalk Line", "dance", 144)]
    assert [(mark.routine, mark.mark) for mark in pages.marks] == [("Chalk Line", "learnt")]

    again = Process(str(file))
    processes.append(again)
    assert "with Lantern Row, lesson; --afresh" in again.until("Goes on where it was cut short")
    again.until("Stage 3 of 28: Section 1, words on the count, 1 of")
    assert not any("Item 1 of 3" in line for line in again.lines)
    again.type("item 3")
    again.until("Done. Type")
    again.type("go")
    again.until('Said: "a break."')
    again.until("Done. Type")
    again.type("go")
    again.until("Finished.")
    assert again.process.wait(20) == 0
    assert not place_file().exists()


def test_a_new_evening_is_begun_where_that_is_said(tmp_path: Path, processes: list[Process]) -> None:
    file = tmp_path / "tuesday.toml"
    file.write_text(PLAN, encoding="utf-8")
    first = Process(str(file))
    processes.append(first)
    first.until("Item 1 of 3")
    first.until("Said:")
    first.type("item 2")
    first.until("Done. Type")
    first.kill()
    afresh = Process(str(file), "--afresh")
    processes.append(afresh)
    afresh.until("Item 1 of 3")
    assert not any("cut short" in line for line in afresh.lines)
