"""``caller evening`` from the command line: planned, saved, run as plain lines, killed, and gone on with."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from functools import partial
from pathlib import Path

import pytest

from caller.book.entries import Mark, Standing, Taught
from caller.book.store import Book, book_path
from caller.cli import command_line, main
from caller.cli.evening_book import EveningBook
from caller.cli.evening_laid import PreparedEvening, lay
from caller.cli.evening_place import PlaceKeeping, kept_place, open_places, place_file
from caller.cli.evening_plan import midnight_of
from caller.cli.say import Refused
from caller.evening.plan import Item, Kind, Plan
from caller.session import TaughtProgramme as Lesson
from caller.session import View
from caller.session.evening import Evening
from caller.session.programme import ProgrammeEvent
from caller.teaching.walkthrough import walkthrough_of
from caller.transport.order import Order
from caller.transport.state import State
from tests.fakes.kept_speech import with_speech
from tests.session.evenings import Hall, evening_of, lesson, rest, run, short

CLASS = "Quarry Hall Tuesday"


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, speech: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("DATA", "CONFIG", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    with_speech(tmp_path / "cache", speech)
    monkeypatch.setenv("CALLER_ROUTINES", str(tmp_path / "routines"))
    return tmp_path


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["evening", *words]) == 0
    return capsys.readouterr().out


def had(routine: str, weeks_ago: int, stage: int = 28, stages: int = 28) -> None:
    at = datetime.now(UTC).replace(microsecond=0) - timedelta(weeks=weeks_ago)
    part = "The whole dance" if stage == stages else "a part"
    with Book(book_path()) as book:
        book.add(Taught(CLASS, at, routine, "walkthrough", part, stage, stages, Fraction(108), Fraction(108)))


def test_a_new_class_is_planned_for_and_the_plan_is_one_document(capsys: pytest.CaptureFixture[str]) -> None:
    hours = ("--starts", "19:00", "--closes", "20:00")
    lines = told(capsys, *hours, "--list").splitlines()
    document = json.loads(told(capsys, *hours, "--json"))
    assert lines[0] == "19:00  Chalk Line, lesson, 13 min (new)"
    assert (document["starts"], document["closes"], document["class"]) == ("19:00", "20:00", None)
    first = document["items"][0]
    assert (first["kind"], first["routine"], first["starts"], first["ends"]) == (
        "lesson",
        "Chalk Line",
        "19:00",
        "19:13",
    )
    assert document["spare_minutes"] == 60 - sum(item["minutes"] for item in document["items"])


def test_a_class_that_has_had_nothing_is_taught_the_easiest_dance_first_whatever_was_added_last(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    folder = tmp_path / "routines"
    folder.mkdir()
    waltz = "1-3 left basic waltz forward\n4-6 right basic waltz back turning 1/2 right\n"
    head = "24 counts, 2 walls, beginner/improver, 96 bpm, waltz"
    (folder / "moth.txt").write_text(f"MOTH AND MILL - {head}\n\n{waltz * 4}")
    lessons = [line for line in told(capsys, "--minutes", "75", "--list").splitlines() if "lesson" in line]
    assert "Chalk Line" in lessons[0]
    assert not any("MOTH" in line for line in lessons[:1])


def test_a_class_of_the_book_is_planned_for_by_what_it_knows(capsys: pytest.CaptureFixture[str]) -> None:
    had("Lantern Row", 1)
    had("Lantern Row", 2)
    had("Slow Water", 1, 9, 21)
    document = json.loads(told(capsys, "--closes", "23:59", "--starts", "21:00", "--json"))
    assert document["class"] == CLASS  # the only one of the book
    names = [item["name"] for item in document["items"]]
    assert names[:3] == [
        "Lantern Row, run at 90%", "Slow Water, recap as far as stage 15", "Slow Water, lesson from stage 16",
    ]  # fmt: skip
    before = sum(item["minutes"] for item in document["items"][: names.index("break")])
    assert 45 <= before <= 105  # of three hours
    assert document["items"][0]["manner"] == "prompts"
    # A run is as long as a song: 3 to 3.5 minutes of walls, and half a minute to get to one's place.
    assert document["items"][0]["minutes"] == 4


def test_a_short_evening_warms_up_and_says_how_far_its_lesson_comes(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    had("Chalk Line", 2)
    had("Lantern Row", 1)
    hours = ("--starts", "19:00", "--minutes", "20")
    assert told(capsys, *hours, "--list").splitlines()[:4] == [
        "19:00  Chalk Line, run at 90%, 4 min (to warm up, danced 2 weeks ago)",
        "19:04  Slow Water, lesson, 11 min (new, to section 3 of 4)",
        "19:15  Slow Water, run of sections 1 to 3 at 74%, 4 min (what was taught)",
        "19:19  ends; the hall closes at 19:20: 1 minute in hand",
    ]
    file = tmp_path / "plan.toml"
    told(capsys, *hours, "--save", str(file))
    for minutes, why in (("18", "new, all its sections, not yet up to tempo"), ("6", "new, to section 2 of 4")):
        text = file.read_text(encoding="utf-8").replace("minutes = 11", f"minutes = {minutes}")
        (tmp_path / "edited.toml").write_text(text, encoding="utf-8")
        assert f"Slow Water, lesson, {minutes} min ({why})" in told(capsys, str(tmp_path / "edited.toml"), "--list")


@pytest.mark.parametrize(
    ("shorter", "mark", "first"),
    [
        ("beginner", "learnt", "Short Shed"),
        ("high beginner", "learnt", "Long Loft"),
        ("absolute beginner", "learnt", "Short Shed"),
        ("absolute beginner", "shaky", "Long Loft"),
    ],
)
def test_the_easiest_is_of_the_lowest_level_then_of_the_fewest_counts_and_never_shaky(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, shorter: str, mark: Standing, first: str
) -> None:
    eight = "1-4 grapevine R, touch L\n5-8 grapevine L, touch R\n"
    folder = tmp_path / "routines"
    folder.mkdir()
    (folder / "short.txt").write_text(f"SHORT SHED - 16 counts, 1 wall, {shorter}, 100 bpm\n\n{eight * 2}")
    (folder / "long.txt").write_text(f"LONG LOFT - 32 counts, 1 wall, beginner, 100 bpm\n\n{eight * 4}")
    had("Short Shed" if first == "Long Loft" else "Long Loft", 1)
    had(first, 2)
    with Book(book_path()) as book:
        book.add(Mark(CLASS, datetime.now(UTC).replace(microsecond=0), "Short Shed", mark))
    line = told(capsys, "--starts", "19:00", "--minutes", "20", "--list").splitlines()[0]
    assert line.startswith(f"19:00  {first}, run at 90%")
    assert "(to warm up" in line


def test_a_run_as_far_as_the_class_has_it_is_planned_in_a_file(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "plan.toml"
    head = 'starts = "19:00"\ncloses = "20:00"\n[[item]]\nroutine = "Lantern Row"\n'
    file.write_text(f"{head}sections = 2\n", encoding="utf-8")
    assert main(["evening", str(file), "--list"]) == 0
    listed, warned = capsys.readouterr()
    assert listed.splitlines()[0] == "19:00  Lantern Row, run of sections 1 to 2, 4 min"
    assert "before each time round the class changes weight; with 1 or 4 sections it has not" in warned
    file.write_text(f"{head}sections = 9\n", encoding="utf-8")
    assert main(["evening", str(file), "--list"]) == 2
    assert "line 4: item 1: 'Lantern Row': there is no section 9; there are 1 to 4" in capsys.readouterr().err


def test_an_evening_may_be_told_by_its_minutes(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    made = json.loads(told(capsys, "--starts", "23:30", "--minutes", "75", "--json"))
    assert (made["starts"], made["closes"]) == ("23:30", "00:45")
    file = tmp_path / "plan.toml"
    file.write_text('starts = "19:00"\ncloses = "20:00"\n[[item]]\nkind = "break"\nminutes = 5\n', encoding="utf-8")
    assert json.loads(told(capsys, str(file), "--minutes", "75", "--json"))["closes"] == "20:15"
    file.write_text('[[item]]\nkind = "break"\nminutes = 5\n', encoding="utf-8")
    hours = json.loads(told(capsys, str(file), "--starts", "19:00", "--minutes", "20", "--json"))
    assert (hours["starts"], hours["closes"]) == ("19:00", "19:20")
    assert json.loads(told(capsys, str(file), "--minutes", "20", "--json"))["spare_minutes"] == 15
    with pytest.raises(SystemExit):
        main(["evening", "--minutes", "75", "--closes", "20:00"])
    assert "not allowed with argument" in capsys.readouterr().err


def test_what_begins_now_is_planned_from_when_everybody_stands(capsys: pytest.CaptureFixture[str]) -> None:
    before = datetime.now()
    starts = json.loads(told(capsys, "--json"))["starts"]
    soon = [datetime.now() + timedelta(minutes=2), before + timedelta(minutes=2)]
    assert starts in {f"{at:%H:%M}" for at in soon} | {"23:59"}


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
    spaced = tmp_path / "the tuesday.toml"
    assert f"items; 'caller evening \"{spaced}\"' runs it" in told(capsys, "--save", str(spaced))
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
    assert (first["kind"], first["routine"], first["minutes"]) == ("lesson", str(sheet), 13)
    plan.write_text('starts = "19:00"\ncloses = "20:00"\n[[item]]\nroutine = "hall.txt"\n', encoding="utf-8")
    assert json.loads(told(capsys, str(plan), "--json"))["items"][0]["routine"] == str(sheet)


def test_a_half_taught_dance_goes_on_where_it_was_though_its_stages_are_others_by_now(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The sheet was changed, or the level is another: by the name of the stage, else by how far it was."""
    from caller.cli.evening_items import Items
    from caller.teaching.running import Waits

    items = Items(Waits.NEVER)
    stages = [stage.name for stage in items.walkthrough(Item(Kind.LESSON, routine="Slow Water")).stages]
    lesson_at = Item(Kind.LESSON, routine="Slow Water", stage=10)
    assert items.goes_on_at(lesson_at, stages[4], len(stages)).stage == 10  # as many: the number holds
    assert items.goes_on_at(lesson_at, stages[4], 40).stage == 6
    assert items.goes_on_at(lesson_at, "A stage of old", 18).stage == len(stages) // 2 + 1
    assert items.goes_on_at(replace(lesson_at, stage=18), "A stage of old", 18).stage <= len(stages)
    assert items.goes_on_at(replace(lesson_at, stage=1), stages[4], 40).stage == 1


def test_a_recap_of_half_a_dance_goes_over_that_half_alone() -> None:
    from caller.cli.evening_items import Items
    from caller.teaching.running import Waits

    items = Items(Waits.NEVER)
    walkthrough = items.walkthrough(Item(Kind.LESSON, routine="Slow Water")).stages
    told_of_three = next(n for n, stage in enumerate(walkthrough, 1) if stage.name == "Section 3, 1-6, told")
    half, whole = (
        [stage.name for stage in items.slot(Item(Kind.RECAP, routine="Slow Water", stage=n)).programme.stages.stages]  # type: ignore[union-attr]
        for n in (told_of_three, 1)
    )
    assert half == [
        "Section 1, told", "Section 1, words on the count", "Section 2, told", "Section 2, words on the count",
        "From the top to section 2, three-quarter speed",
    ]  # fmt: skip
    assert any("3" in name or "wall" in name for name in whole)


def test_a_drill_gets_quicker_and_ends_by_itself_and_what_is_hardest_is_found() -> None:
    from caller.cli.evening_items import Items
    from caller.teaching.running import StageOutcome, Waits, next_stage

    items = Items(Waits.NEVER)
    (item,) = items.timed([Item(Kind.DRILL, routine="Lantern Row")])
    assert (item.place, item.name) == ("tag", "Lantern Row, drill of the tag")
    assert items.timed([Item(Kind.DRILL, routine="Chalk Line")])[0].place == "section 2"
    own = items.slot(replace(item, place="section 2")).programme
    assert isinstance(own, Lesson)
    running, speeds = next_stage(own.running, StageOutcome.DONE), []  # once it is announced
    while not running.over:
        speeds.append(running.speed)
        running = next_stage(running, StageOutcome.DONE)
    assert speeds == [Fraction(n, 10) for n in (6, 7, 8, 9, 10, 10)]
    with pytest.raises(Refused, match="'Lantern Row', drill of section 9: there is no section 9; there are: 1, 2"):
        items.slot(replace(item, place="section 9"))


def test_what_is_wrong_with_an_item_of_a_file_is_told_with_its_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "tuesday.toml"
    file.write_text('starts = "19:00"\ncloses = "21:00"\n[[item]]\nkind = "break"\n\n[[item]]\nroutine = "Nobody"\n')
    assert main(["evening", str(file), "--list"]) == 2
    assert f"{file}, line 7: item 2: there is no file and no routine called 'Nobody'" in capsys.readouterr().err


def test_a_plan_of_another_day_says_so_and_is_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "tuesday.toml"
    told(capsys, "--save", str(file))
    told(capsys, str(file), "--list")
    file.write_text('date = 2026-03-24\nstarts = "19:00"\ncloses = "21:00"\n[[item]]\nkind = "break"\nminutes = 5\n')
    assert main(["evening", str(file), "--list"]) == 0
    shown = capsys.readouterr()
    assert shown.err == (
        f"caller: {file} was planned for 24 March; 'caller evening' without a file plans what is due today\n"
    )
    assert shown.out.startswith("19:00  Break, 5 min")


def test_a_sheet_that_has_errors_by_now_is_told_for_what_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    had("Hall Line", 1)
    folder = tmp_path / "routines"
    folder.mkdir()
    (folder / "hall-line.txt").write_text(
        "HALL LINE - 8 counts, 1 wall\n\n1-4 walk fwd R, L, R, L\n5-6 walk back R, L\n"
    )
    told_of = json.loads(told(capsys, "--json"))["left_out"]
    assert told_of == [{"name": "Hall Line", "why": "its sheet has errors: 'caller check' tells which"}]


@pytest.mark.parametrize(
    ("words", "status", "sentence"),
    [
        (("nowhere.toml", "--list"), 2, "can't open nowhere.toml"),
        (("--new", "Nothing Of The Kind", "--list"), 2, "there is no file and no routine"),
        (("--starts", "19:00", "--closes", "19:02", "--list"), 1, "there is no time for anything from 19:00 to 19:02"),
        (
            ("--starts", "21:00", "--closes", "20:00", "--list"),
            2,
            "start at 21:00 and the hall close at 20:00 the next",
        ),
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


def test_requests_have_the_same_numbers_for_every_class_and_wherever_they_are_told(
    capsys: pytest.CaptureFixture[str],
) -> None:
    numbered = "1 Chalk Line, 2 Lantern Row, 3 Slow Water, 4 Tin Roof Swing"
    had("Slow Water", 1)  # which is proposed first, but is not number 1
    assert main(["book", "note", "Thursday", "new"]) == 0
    first = {}
    for name in (CLASS, "Thursday"):
        line = told(capsys, "--list", "--class", name).splitlines()[-1]
        assert line == f"/request and a number or name asks for: {numbered}"
        document = json.loads(told(capsys, "--json", "--class", name))
        assert ", ".join(f"{one['number']} {one['routine']}" for one in document["requests"]) == numbered
        found = laid("--class", name)
        first[name] = found.catalogue[0]
        assert Evening.of(found.plan, found.slots, found.catalogue).facts.plan[-1] == line
    assert [(slot.title, slot.number) for slot in first.values()] == [("Slow Water", 3), ("Chalk Line", 1)]


def test_a_class_that_the_book_has_not_is_begun_where_that_is_asked_and_told_once(
    capsys: pytest.CaptureFixture[str],
) -> None:
    had("Lantern Row", 1)
    with pytest.raises(Refused, match=f"near it: '{CLASS}'; --new-class begins one"):
        laid("--class", "Quarry Hall Tusday")
    assert laid("--class", "Quarry Hall Tusday", "--new-class").plan.class_name == "Quarry Hall Tusday"
    assert capsys.readouterr().err == (
        f"caller: the book has no class 'Quarry Hall Tusday' yet (near it: '{CLASS}'): it is a new one\n"
    )


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


def cut_short(name: str = "Tuesday", file: str = "", begun: datetime | None = None) -> None:
    """An evening of a class, left with its first item."""
    now = begun or datetime.now()
    evening = evening_of(run(short()), rest(short()))
    evening = replace(evening, plan=replace(evening.plan, class_name=name)).after(ProgrammeEvent(Order.GO))
    keeping = PlaceKeeping(file, now.replace(hour=0, minute=0), lambda: now, place_file(name))
    keeping.keep(evening, None)
    keeping.close()


def laid(*words: str) -> PreparedEvening:
    return lay(command_line("evening").parse_args(["evening", *words]))


def test_only_the_evening_of_that_class_is_gone_on_with_at_the_hours_that_are_said() -> None:
    cut_short()
    for words, goes_on in (((), True), (("--class", "Tuesday"), True), (("--class", "Thursday"), False)):
        found = laid("--closes", "23:45", *words)
        assert (found.place is not None) is goes_on
        assert found.plan.closes % (24 * 60) == 23 * 60 + 45
    assert laid("--afresh").place is None


def test_a_plan_that_was_changed_since_it_was_begun_is_gone_on_with_as_it_was_and_that_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "tuesday.toml"
    file.write_text(plan_of_now(), encoding="utf-8")
    hour_ago = datetime.now() - timedelta(hours=1)
    os.utime(file, (hour_ago.timestamp() - 60, hour_ago.timestamp() - 60))
    cut_short(file=str(file), begun=hour_ago)
    assert laid(str(file)).place is not None
    assert capsys.readouterr().err == ""
    os.utime(file)
    assert laid(str(file)).place is not None
    assert capsys.readouterr().err == (
        f"caller: {file} was changed since the evening began, which goes on as it was planned; --afresh takes it as it "
        "is now\n"
    )


def test_two_classes_on_one_machine_each_go_on_with_their_own(capsys: pytest.CaptureFixture[str]) -> None:
    cut_short("Tuesday")
    cut_short("Thursday")
    for name in ("Tuesday", "Thursday"):
        found = laid("--class", name)
        assert found.place is not None
        assert found.plan.class_name == name
    with pytest.raises(Refused, match="several classes were cut short: say --class"):
        laid()
    capsys.readouterr()
    assert main(["evening", "--list"]) == 0
    shown = capsys.readouterr().err
    assert [f"an evening of '{name}' is open" in shown for name in ("Tuesday", "Thursday")] == [True, True]


def test_an_evening_that_is_under_way_in_another_window_is_not_gone_on_with() -> None:
    """Nor is its place written over."""
    now = datetime.now()
    evening = evening_of(run(short())).after(ProgrammeEvent(Order.GO))
    first = PlaceKeeping("", now, path=place_file("Tuesday"))
    first.keep(evening, None)
    second = PlaceKeeping("", now, path=place_file("Tuesday"))
    assert (first.elsewhere, second.elsewhere) == (False, True)
    assert list(open_places(now)) == []
    before = place_file("Tuesday").read_bytes()
    second.keep(evening.after(ProgrammeEvent(Order.NEXT_ITEM)), None)
    assert place_file("Tuesday").read_bytes() == before
    first.close()
    assert len(list(open_places(now))) == 1
    assert not PlaceKeeping("", now, path=place_file("Tuesday")).elsewhere


def test_a_class_is_the_same_in_whatever_case_it_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    """Its book, its plan in a file, and its evening that was cut short."""
    with Book(book_path()) as book:
        book.add_class(CLASS)
        book.add_class("Thursday")
    for typed in (CLASS.lower(), CLASS.upper().replace(" ", "  ")):
        assert main(["evening", "--json", "--class", typed]) == 0
        shown = capsys.readouterr()
        assert (json.loads(shown.out)["class"], shown.err) == (CLASS, "")
        assert laid("--class", typed).plan.class_name == CLASS
    cut_short(CLASS)
    assert place_file(CLASS.lower()) == place_file(CLASS)
    found = laid("--class", CLASS.lower())
    assert found.place is not None
    assert laid("--class", "thursday", "--new", "Chalk Line").plan.class_name == "Thursday"


def test_that_an_evening_is_open_is_said_wherever_another_is_planned(
    capsys: pytest.CaptureFixture[str],
) -> None:
    now = datetime.now()
    cut_short(CLASS, begun=now)
    with Book(book_path()) as book:
        book.add_class(CLASS)
        book.add_class("Thursday")
    since = f"{now:%H:%M}"
    assert main(["evening", "--list", "--class", CLASS]) == 0
    shown = capsys.readouterr()
    assert shown.err == (
        f"caller: an evening of '{CLASS}' is open since {since}, at item 1 of 2, Lantern Row, run at "
        f"90%: 'caller evening --class \"{CLASS}\"' goes on with it, 'caller evening --class \"{CLASS}\" --afresh' "
        "begins anew\n"
    )
    assert "lesson" in shown.out  # the new plan all the same
    document = json.loads(told(capsys, "--json", "--class", CLASS))
    (one,) = document["open"]
    assert (one["item"], one["items"], one["class"]) == (1, 2, CLASS)
    assert json.loads(told(capsys, "--json", "--class", "Thursday"))["open"] == []
    assert laid("--class", CLASS, "--new", "Chalk Line").place is None
    assert "once this one has begun, that one is given up" in capsys.readouterr().err


def test_after_midnight_it_is_still_the_evening_before() -> None:
    plan = Plan("", 22 * 60, 24 * 60 + 30, (Item(Kind.BREAK, 10),))
    day = datetime(2026, 3, 31)
    assert midnight_of(plan, day.replace(hour=22)) == day
    assert midnight_of(plan, datetime(2026, 4, 1, 0, 20)) == day
    assert midnight_of(plan, datetime(2026, 4, 1, 0, 40)) == datetime(2026, 4, 1)
    assert midnight_of(replace(plan, closes=23 * 60), datetime(2026, 4, 1, 0, 20)) == datetime(2026, 4, 1)


def test_what_is_kept_of_an_evening_goes_with_its_class() -> None:
    for erased, left in (("Thursday", True), ("Tuesday", False)):
        cut_short()
        with Book(book_path()) as book:
            book.add_class(erased)
        assert main(["book", "erase", erased, "--yes"]) == 0
        assert place_file("Tuesday").exists() is left


def one_go_is_danced(hall: Hall, view: View) -> bool:
    own = hall.session.programme.own
    return isinstance(own, Lesson) and bool(own.running.done)


def test_a_lesson_that_was_cut_short_or_skipped_is_next_week_what_was_danced_of_it(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """From the class to its book to the plan: skipped before anything was danced it was never there; left after some of
    it, it is gone on with the same evening, without a recap."""
    dance = short()
    slot = replace(lesson(dance), programme=Lesson.of(walkthrough_of(dance), dance))
    for leaves, stages in ((State.TELLING, ()), (State.RUNNING, ()), (None, (6,))):
        hall = Hall(evening_of(slot, rest(dance)))
        kept = EveningBook(CLASS)
        hall.session._done, hall.session._ordered = kept.done, kept.ordered
        hall.order(Order.GO)
        hall.comes_to(leaves) if leaves else hall.until(partial(one_go_is_danced, hall))
        hall.order(Order.NEXT_ITEM)
        with Book(book_path()) as book:
            book.add_class(CLASS)
            taught = book.pages().taught
        assert sorted({entry.stage for entry in taught if entry.attended}) == list(stages)
    items = json.loads(told(capsys, "--json", "--class", CLASS))["items"]
    assert Kind.RECAP.value not in {item["kind"] for item in items}
    first = next(item for item in items if item["kind"] == "lesson")
    assert (first["routine"], first["stage"]) == ("Lantern Row", 7)


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


def plan_of_now() -> str:
    """The plan, with hours enough whenever the tests are run."""
    now = datetime.now()
    return f'starts = "{now:%H:%M}"\ncloses = "{now + timedelta(hours=4):%H:%M}"\n{PLAN}'


@pytest.mark.skipif(os.name != "posix", reason="kill -9 is POSIX's")
def test_an_evening_that_is_killed_goes_on_where_it_was(tmp_path: Path, processes: list[Process]) -> None:
    """kill -9 of a real process, in the second stage of the second item; nothing that was told of is lost."""
    file = tmp_path / "tuesday.toml"
    file.write_text(plan_of_now(), encoding="utf-8")
    first = Process(str(file))
    processes.append(first)
    first.until("Item 1 of 3: Chalk Line.")
    first.until("Dancing.")
    first.until("Done. Type")
    first.type("learnt")
    first.until("Note: Chalk Line: learnt.")
    first.type("go")
    first.until("Stage 1 of 42")
    first.type("stage 6")
    first.until("Section 1, words on the count, 1 of")
    first.type("x")
    first.until("Nothing is taken out")
    first.kill()
    assert place_file(CLASS).exists()
    with Book(book_path()) as book:
        pages = book.pages()
    assert [(entry.routine, entry.way, entry.tempo) for entry in pages.taught] == [("Chalk Line", "drill", 144)]
    assert [(mark.routine, mark.mark) for mark in pages.marks] == [("Chalk Line", "learnt")]

    again = Process(str(file))
    processes.append(again)
    assert "with Lantern Row, lesson; --afresh" in again.until("Goes on where it was cut short")
    again.until("Stage 6 of 42: Section 1, words on the count, 1 of")
    assert not any("Item 1 of 3" in line for line in again.lines)
    again.type("item 3")
    again.until("Done. Type")
    again.type("go")
    again.until('Said: "a break."')
    again.until("Done. Type")
    again.type("go")
    again.until("Finished.")
    assert again.process.wait(20) == 0
    assert not place_file(CLASS).exists()


def test_one_that_is_left_says_how_to_go_on(tmp_path: Path, processes: list[Process]) -> None:
    file = tmp_path / "tuesday.toml"
    file.write_text(plan_of_now(), encoding="utf-8")
    first = Process(str(file))
    processes.append(first)
    first.until("Said:")
    first.type("quit")
    told = first.until("Left before its end")
    assert f", at item 1 of 3, Chalk Line, run at 150%: 'caller evening --class \"{CLASS}\"' goes on with it" in told
    assert f"'caller evening {file} --class \"{CLASS}\" --afresh' begins anew." in told


def test_a_new_evening_is_begun_where_that_is_said(tmp_path: Path, processes: list[Process]) -> None:
    file = tmp_path / "tuesday.toml"
    file.write_text(plan_of_now(), encoding="utf-8")
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
