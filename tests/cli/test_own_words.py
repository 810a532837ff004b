"""A teacher's own words for figures, as the README tells of them: kept once, for calls, telling and on the count."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path

import pytest

from caller.cli import main

README = Path(__file__).parents[2] / "README.md"
SHEET = (
    "Title: Own\nCounts: 16\nWalls: 1\nTempo: 100\nIntro: 16\nLevel: advanced\nStarts: right\n\n"
    "Section 1: Chasse, rock\n1&2 Chasse R\n3-4 Rock back L, recover\n5&6 Shuffle fwd L\n7-8 Rock fwd R, recover\n\n"
    "Section 2: Back\n1&2 Shuffle back R\n3-4 Rock back L, recover\n5&6 Step L side, step R together, step L side\n"
    "7-8 Touch R, hold\n"
)


@pytest.fixture
def sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    file = tmp_path / "own.txt"
    file.write_text(SHEET, encoding="utf-8")
    return str(file)


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(words) == 0
    return capsys.readouterr().out


def in_the_readme() -> list[list[str]]:
    after = README.read_text(encoding="utf-8").split("### Your own words for a figure", 1)[1]
    block = re.search(r"(?m)(?:^    caller words .*\n)+", after)
    assert block is not None
    return [shlex.split(line)[1:] for line in block.group().splitlines()]


def steps_called(capsys: pytest.CaptureFixture[str], sheet: str, *words: str) -> list[str]:
    document = json.loads(told(capsys, "calls", sheet, "--json", *words))
    return [call["full_words"] for call in document["calls"] if call["kind"] == "step"]


def test_what_the_readme_keeps_is_called_told_and_counted(sheet: str, capsys: pytest.CaptureFixture[str]) -> None:
    usual = steps_called(capsys, sheet)
    assert any("chasse" in words for words in usual)
    assert any("shuffle" in words for words in usual)
    for words in in_the_readme():
        told(capsys, *words)
    called = steps_called(capsys, sheet)
    assert "chasse" not in " ".join(called)
    assert {"side shuffle right", "side shuffle left"} <= {*called}  # by its name, and written out step by step
    assert {"left triple forward", "right triple back"} <= {*called}
    lesson = told(capsys, "walkthrough", sheet, "--json")
    assert "hasse" not in lesson.replace("Chasse, rock", "")
    said = " ".join(sentence for stage in json.loads(lesson)["stages"] for sentence in stage["said"])
    assert "section one, side shuffle, rock." in said.lower()
    assert "side shuffle right: right to the side, left together, right to the side." in said
    assert "left triple forward: left forward, right together, left forward." in said
    on_count = steps_called(capsys, sheet, "--manner", "on-count", "--tempo", "60")
    assert on_count[:3] == ["side", "close", "side"]


def test_they_are_listed_with_where_they_are_kept_and_taken_back(
    sheet: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = steps_called(capsys, sheet)
    assert told(capsys, "words").startswith("none yet")
    for words in in_the_readme():
        told(capsys, *words)
    file = tmp_path / "caller" / "vocabulary.toml"
    assert told(capsys, "words").splitlines() == [
        "chasse: side shuffle; on its counts: side, close, side",
        "shuffle: triple",
        f"kept in {file}",
    ]
    assert json.loads(told(capsys, "words", "--json")) == [
        {"figure": "chasse", "words": "side shuffle", "each": ["side", "close", "side"]},
        {"figure": "shuffle", "words": "triple", "each": None},
    ]
    told(capsys, "words", "Shuffle", "trip step")  # said anew: still once
    assert len(json.loads(told(capsys, "words", "--json"))) == 2
    told(capsys, "words", "shuffle", "--usual")
    told(capsys, "words", "CHASSE", "--usual")
    assert steps_called(capsys, sheet) == before
    assert main(["words", "chasse", "--usual"]) == 1
    assert "no words of your own for 'chasse'" in capsys.readouterr().err


def test_what_else_stands_in_the_file_stays(sheet: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "caller" / "vocabulary.toml"
    file.parent.mkdir()
    kept = '# ours\n[words]\nforward = ["onward"]  # the club\'s\n'
    file.write_text(kept, encoding="utf-8")
    told(capsys, "words", "vine", "grapevine")
    assert file.read_text(encoding="utf-8").startswith(kept)
    told(capsys, "words", "vine", "--usual")
    assert file.read_text(encoding="utf-8").strip() == kept.strip()


def test_one_way_may_have_words_of_its_own(sheet: str, capsys: pytest.CaptureFixture[str]) -> None:
    told(capsys, "words", "shuffle back", "back triple", "--each", "back, and, back")
    told(capsys, "words", "shuffle", "triple")
    called = steps_called(capsys, sheet)
    assert "right back triple" in called
    assert "left triple forward" in called
    assert "back and back" in " ".join(steps_called(capsys, sheet, "--manner", "on-count", "--tempo", "60"))


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("vine", "rolling vine"), "'rolling vine' is another figure, of other steps"),
        (("chasse", "coaster"), "'coaster' is another figure"),
        (("chasse", "--each", "side, behind, side"), "its movement 2 is 'together', and 'behind' is another one"),
        (("chasse", "--each", "side, kick, side"), "'kick' is another one"),
        (("chasse", "--each", "side, close"), "one word for each of its 3 movements"),
        (("chasse", "4 shuffle"), "can't be said"),
        (("lamplighter", "lamp"), "no figure is called so"),
        (("sailer", "sail"), "near it: 'sailor'"),
    ],
)
def test_what_would_be_danced_otherwise_is_refused_and_nothing_is_kept(
    words: tuple[str, ...], why: str, sheet: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["words", *words]) == 1
    fault = capsys.readouterr().err
    assert why in fault
    assert fault.count("\n") == 1
    assert told(capsys, "words").startswith("none yet")


@pytest.mark.parametrize("words", [("chasse",), ("--usual",), ("--each", "a, b")])
def test_half_of_what_has_to_be_said_is_asked_for(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["words", *words]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_a_mistake_by_hand_is_told_with_its_line(
    sheet: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "caller" / "vocabulary.toml"
    file.parent.mkdir()
    file.write_text('[[say]]\nname = "vine"\nwords = "grapevine"\n\n[[say]]\nname = "chasse"\n', encoding="utf-8")
    assert main(["check", sheet]) == 1
    assert "line 5: say 'chasse': it needs 'words'" in capsys.readouterr().err
