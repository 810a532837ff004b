"""``--sections``: a dance that is half taught, danced, listed and recorded as far as it was taught."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path

import pytest

from caller.book.lessons import danced_now
from caller.cli import main
from caller.dance.part_way import part_way
from caller.dance.unroll import unroll
from caller.session import WholeDance
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
