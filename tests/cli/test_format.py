"""``caller format``: the standard layout, printed, or written over the file wholly or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from caller.cli import main
from caller.routine.notation.read import read_sheet
from tests.intake.files_made import made

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
    broken = UNTIDY.replace("5 - 6 rock", "5 rock")
    sheet.write_text(broken, encoding="utf-8")
    assert main(["format", str(sheet), "--write"]) == 1
    assert "5 rock fwd" in capsys.readouterr().err
    assert sheet.read_text(encoding="utf-8") == broken


def test_what_was_assumed_is_told_when_it_is_written_out(sheet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sheet.write_text(UNTIDY.replace("rock fwd", "rok fwd"), encoding="utf-8")
    assert main(["format", str(sheet)]) == 0
    told = capsys.readouterr()
    assert "guess" in told.err
    assert "rok fwd" in told.out  # its author's word


def test_only_plain_text_is_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    printed = tmp_path / "slate-yard.pdf"
    printed.write_bytes(made("slate-yard.pdf"))
    assert main(["format", str(printed), "--write"]) == 1
    assert "is a PDF and is left as it is" in capsys.readouterr().err
    assert printed.read_bytes() == made("slate-yard.pdf")


def test_text_in_an_older_code_is_written_back_as_utf_8(sheet: Path) -> None:
    sheet.write_bytes(UNTIDY.replace("# kept", "# Chassé kept").encode("cp1252"))
    assert main(["format", str(sheet), "--write"]) == 0
    assert "# Chassé kept" in sheet.read_text(encoding="utf-8")
