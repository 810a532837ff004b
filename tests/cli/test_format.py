"""``caller format``: the standard layout, printed, or written over the file wholly or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from caller.cli import main
from caller.routine.notation.read import read_sheet

UNTIDY = """title: copper pan
counts:8
Wall: 1
TEMPO: 100
# kept where it stands
S1 - there and back
1,2 walk fwd R, L
3&4: shuffle fwd RLR
5 - 6 rock fwd on L, recover
7-8 step L back, touch R next to L (12 o'clock)
"""


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    file = tmp_path / "copper-pan.txt"
    file.write_text(UNTIDY, encoding="utf-8")
    return file


def test_the_standard_layout_is_printed_and_the_file_left_alone(
    sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["format", str(sheet)]) == 0
    printed = capsys.readouterr().out
    assert "Title: copper pan\n" in printed
    assert "# kept where it stands\n" in printed
    assert read_sheet(printed).routine == read_sheet(UNTIDY).routine
    assert sheet.read_text(encoding="utf-8") == UNTIDY


def test_written_back_it_is_the_same_routine_and_stays_so(sheet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sheet.chmod(0o640)
    assert main(["format", str(sheet), "--write"]) == 0
    once = sheet.read_text(encoding="utf-8")
    assert read_sheet(once).routine == read_sheet(UNTIDY).routine
    assert main(["format", str(sheet), "--write"]) == 0
    assert sheet.read_text(encoding="utf-8") == once
    assert sheet.stat().st_mode & 0o777 == 0o640
    assert [p.name for p in sheet.parent.iterdir()] == [sheet.name]


def test_a_link_stays_a_link(sheet: Path) -> None:
    link = sheet.with_name("link.txt")
    link.symlink_to(sheet)
    assert main(["format", str(link), "--write"]) == 0
    assert link.is_symlink()
    assert sheet.read_text(encoding="utf-8") != UNTIDY


def test_a_sheet_with_errors_is_never_written_over(sheet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    broken = UNTIDY.replace("rock fwd", "rok fwd")
    sheet.write_text(broken, encoding="utf-8")
    assert main(["format", str(sheet), "--write"]) == 1
    assert "rok" in capsys.readouterr().err
    assert sheet.read_text(encoding="utf-8") == broken
