"""``caller evening`` where several sheets on hand have one title: what a teacher names is asked back, what is planned
by itself is the newest, and that is told."""

from __future__ import annotations

import os
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from caller.book.entries import Taught
from caller.book.store import Book, book_path
from caller.cli import main

STEPS = "1-3 Vine right\n4 Touch L beside R\n5-7 Vine left\n8 Touch R beside L\n"
SHEET = f"Copper Pan - 8 counts, 1 wall, beginner, 100 bpm\n\n{STEPS}"
HEAD = 'starts = "19:00"\ncloses = "20:00"\n\n[[item]]\nkind = "run"\n'
MENDED = SHEET.replace("Vine left", "Walk back L, R, L")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("DATA", "CONFIG", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    own = tmp_path / "routines"
    own.mkdir()
    monkeypatch.setenv("CALLER_ROUTINES", str(own))
    faulty = SHEET.replace("8 counts", "9 counts")
    for age, name, text in ((3, "copper-pan", faulty), (2, "pan", SHEET), (1, "b", MENDED)):
        (own / f"{name}.txt").write_text(text)
        at = datetime.now().timestamp() - 3600 * age
        os.utime(own / f"{name}.txt", (at, at))
    return own


def test_a_title_that_is_named_and_means_several_is_refused_with_their_files(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["evening", "--new", "copper pan", "--list"]) == 1
    refused = "3 routines are called 'copper pan': name one by its file, b.txt of "
    assert refused in capsys.readouterr().err
    plan = tmp_path / "plan.toml"
    for named in ('routine = "Copper Pan"', 'routine = "Chalk Line"\nbeside = "Copper Pan"'):
        plan.write_text(f"{HEAD}{named}\n")
        assert main(["evening", str(plan), "--list"]) == 1
        told = capsys.readouterr().err
        assert f"{plan}, line 6: item 1: 3 routines are called 'Copper Pan'" in told
    plan.write_text(f'{HEAD}routine = "pan.txt"\n')
    assert main(["evening", str(plan), "--list"]) == 0


def test_what_the_class_knows_is_planned_once_as_the_newest_that_can_be_danced_and_that_is_told(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with Book(book_path()) as book:
        for weeks in (1, 2):
            at = datetime.now(UTC).replace(microsecond=0) - timedelta(weeks=weeks)
            book.add(Taught("Tuesday", at, "COPPER PAN", "dance", "4 walls"))
    assert main(["evening", "--starts", "19:00", "--closes", "20:30", "--list"]) == 0
    told = capsys.readouterr()
    assert told.err.count("3 routines are called 'Copper Pan': name one by its file, b.txt of ") == 1
    assert "; b.txt is danced, the newest that can be" in told.err
    lessons = [line for line in told.out.splitlines() if "lesson" in line]
    assert not any("copper pan" in line.lower() for line in lessons)
    assert "copper pan" in told.out.lower()
