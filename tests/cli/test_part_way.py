"""A dance as far as it was taught (``--sections``), and one beside another (``--beside``), from the command line."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path

import pytest

from caller.book.lessons import danced_now
from caller.book.store import Book, book_path
from caller.cli import main
from caller.cli.evening_items import Items
from caller.cli.keeping import BookKeeping
from caller.dance.part_way import part_way
from caller.dance.shared_floor import CAUTION
from caller.dance.unroll import unroll
from caller.evening.plan import Item, Kind
from caller.session import WholeDance
from caller.teaching.running import Waits
from tests.session.classroom import lantern


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("DATA", "CONFIG", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))


def test_only_those_sections_are_called_for_as_long_as_a_song_lasts(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calls", "Lantern Row", "--sections", "1", "--json"]) == 0
    calls = json.loads(capsys.readouterr().out)
    assert {call["kind"] for call in calls["calls"]} <= {"step", "wall", "count-in"}
    assert {one["kind"] for one in calls["announcements"]} == {"wall"}
    last = max(call["ends"] for call in calls["calls"])
    assert 170 < last < 215
    assert main(["calls", "Lantern Row", "--sections", "1", "--walls", "3", "--json"]) == 0
    short = json.loads(capsys.readouterr().out)
    assert max(call["wall"] for call in short["calls"]) == 3


def test_more_sections_than_there_are_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calls", "Lantern Row", "--sections", "7"]) == 2
    assert "'Lantern Row': there is no section 7; there are 1 to 4" in capsys.readouterr().err


def test_the_screen_names_them_and_the_book_keeps_them_as_a_drill() -> None:
    dance = unroll(part_way(lantern().routine, 2), 12)
    whole = WholeDance.of(dance, Fraction(108))
    assert whole.facts.title == "Lantern Row, sections 1 to 2"
    assert not whole.all_of_it
    entry = danced_now("Tuesday", dance, Fraction(108), Fraction(108), datetime(2026, 3, 3, tzinfo=UTC))
    assert (entry.routine, entry.way, entry.part) == ("Lantern Row", "drill", "sections 1 to 2, 12 times")


def test_how_two_dances_stand_to_each_other_is_told_before_they_share_a_floor(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["walls", "Lantern Row", "--beside", "Chalk Line"]) == 0
    told = capsys.readouterr().out.splitlines()
    assert told[-6:] == [
        "Beside it Chalk Line:",
        "They face the same way on 30 of 100 counts, and opposite ways on 14: give each a side of the floor.",
        "They begin a wall together 3 times after the start, first after 32 counts, walls 2 and 3, "
        "facing 3:00 and 12:00, last after 192 counts, walls 7 and 13, both facing 12:00.",
        "Facing the same way first after 192 counts, walls 7 and 13, both facing 12:00.",
        "Longest face to face: from count 59 to 76.",
        CAUTION,
    ]
    assert main(["walls", "Lantern Row", "--beside", "Chalk Line", "--json"]) == 0
    beside = json.loads(capsys.readouterr().out)["beside"]
    assert (beside["title"], beside["mixed"], beside["meetings"][0]["walls"]) == ("Chalk Line", False, [2, 3])
    assert main(["walls", "Lantern Row", "--beside", "Slow Water"]) == 1
    assert "one is counted in 4, the other in 3: no song serves both" in capsys.readouterr().err


def test_an_evenings_run_may_have_another_beside_it_and_the_book_keeps_both(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    item = Item(Kind.RUN, routine="Lantern Row", beside="Chalk Line")
    slot = Items(Waits.NEVER).slot(item)
    assert "give each a side of the floor" in capsys.readouterr().err
    assert isinstance(slot.programme, WholeDance)
    assert slot.programme.other is not None
    assert slot.name == "Lantern Row, run beside Chalk Line"
    assert BookKeeping("Tuesday").danced_whole(slot.programme, Fraction(100), Fraction(100)) == ""
    with Book(book_path()) as book:
        assert [entry.routine for entry in book.pages().taught] == ["Lantern Row", "Chalk Line"]
