"""Figures of the user's own, as the README tells of them: its example is read, checked and called."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from caller.cli import main

README = Path(__file__).parents[2] / "README.md"
SHEET = (
    "Title: Own\nCounts: 4\nWalls: 4\nTempo: 100\nIntro: 16\nLevel: improver\nStarts: right\n\n"
    "Section 1: Walks\n1-2 Walk R, L\n3&4 R lamplighter turning 1/4 right\n"
)


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    (tmp_path / "caller").mkdir()
    return tmp_path / "caller" / "vocabulary.toml"


def in_the_readme() -> str:
    told = README.read_text(encoding="utf-8").split("### Figures of your own", 1)[1]
    block = re.search(r"(?m)(?:^    .*\n)+", told)
    assert block is not None
    return "\n".join(line[4:] for line in block.group().splitlines()) + "\n"


def checked(sheet: Path, capsys: pytest.CaptureFixture[str]) -> list[str]:
    main(["check", str(sheet), "--json"])
    ((*_, found),) = [list(one.values()) for one in json.loads(capsys.readouterr().out)]
    return [finding["code"] for finding in found]


def test_the_figure_in_the_readme_is_read_checked_and_called_by_its_name(
    tmp_path: Path, own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = tmp_path / "own.txt"
    sheet.write_text(SHEET, encoding="utf-8")
    assert checked(sheet, capsys) != []
    own.write_text(in_the_readme(), encoding="utf-8")
    assert checked(sheet, capsys) == []
    assert main(["walls", str(sheet), "--movements", "--json"]) == 0
    movements = json.loads(capsys.readouterr().out)["walls"][0]["movements"]
    assert [(one["foot"], one["action"], one["turn"]) for one in movements[-3:]] == [
        ("R", "cross", 0),
        ("L", "step", 0),
        ("R", "touch", 2),
    ]
    assert main(["calls", str(sheet), "--json"]) == 0
    calls = json.loads(capsys.readouterr().out)["calls"]
    assert any("lamplighter" in call["full_words"] for call in calls)


def test_a_mistake_in_it_is_refused_with_its_line(
    tmp_path: Path, own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = tmp_path / "own.txt"
    sheet.write_text(SHEET, encoding="utf-8")
    own.write_text(in_the_readme().replace("step L side", "hover L side"), encoding="utf-8")
    assert main(["check", str(sheet)]) == 1
    told = capsys.readouterr().err
    assert "line 2: figure 'lamplighter': no verb begins 'hover L side'" in told
    assert "mend it or move it away" in told
