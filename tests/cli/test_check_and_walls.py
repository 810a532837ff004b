"""The command line's promises for ``list``, ``check`` and ``walls``: status, JSON, a sentence for what is missing."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from caller.cli import main
from caller.cli.say import Refused
from caller.cli.sheets import find
from tests.intake.files_made import FOLDER

QUARTER = """Title: Copper Pan
Counts: 8
Walls: 4
Level: beginner
Tempo: 100

Section 1: All of it
1-3    Vine right
4      Touch L beside R
5-6    Step L forward, touch R beside L
7-8    Step R forward turning 1/4 right, step L beside R (3:00)
"""

TEN_FAULTS = """Title: Cracked Pot
Counts: 40
Walls: 2
Colour: red

Section 1: Everything wrong
1-2    Walk R, R (3:00)
3-4    Wobble L, touch R beside L
5-6    Step R forward, touch L beside R
7      Step L forward, touch R beside L
8      Hold
Section 2: More of it
1-2    Step R forward, touch L beside R (weight on L)
4      Step L forward
5-6    Rock R forward, recover L
6-8    Walk R, L, R
Tag: after wall 99 after 77 counts
1-4    Sway R, L, R, L
Option 1-2: stray
nonsense without counts
"""


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    file = tmp_path / "copper-pan.txt"
    file.write_text(QUARTER, encoding="utf-8")
    return file


def test_every_shipped_routine_is_listed_and_sound(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["list", "--json"]) == 0
    listed = json.loads(capsys.readouterr().out)
    assert {(r["counts"], r["walls"]) for r in listed} == {(16, 1), (32, 4), (48, 2)}
    assert all(r["ok"] for r in listed)
    assert all(set(r) == {"title", "path", "counts", "walls", "level", "tempo", "ok"} for r in listed)


def test_a_routine_is_found_by_its_title_whatever_the_case(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "lantern ROW", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)[0]["title"] == "Lantern Row"


def test_a_title_that_is_not_there_is_refused_with_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "Lantern Roe"]) == 2
    assert "'lantern row'" in capsys.readouterr().err


def test_a_sheet_that_can_be_danced_ends_with_status_0(sheet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(sheet)]) == 0
    assert "can be danced" in capsys.readouterr().out


def test_many_faults_are_all_told_each_with_its_line_and_a_caret(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "cracked.txt"
    file.write_text(TEN_FAULTS, encoding="utf-8")
    assert main(["check", str(file), "--json"]) == 1
    findings = json.loads(capsys.readouterr().out)[0]["findings"]
    wanted = {
        (7, "foot-weighted"),
        (7, "facing"),
        (8, "guess"),
        (10, "counts-mismatch"),
        (13, "weight"),
        (14, "counts-gap"),
        (16, "counts-overlap"),
        (17, "event-place"),
    }
    found = {(f["line"], f["code"]) for f in findings}
    assert wanted <= found
    assert all(f["line"] >= 1 and f["column"] >= 1 and f["message"] for f in findings)
    main(["check", str(file)])
    out = capsys.readouterr().out
    assert "    4      Step L forward\n    ^" in out


def test_walls_follow_from_each_other(sheet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["walls", str(sheet), "--walls", "5", "--movements", "--json"]) == 0
    walls = json.loads(capsys.readouterr().out)["walls"]
    assert [w["starts"] for w in walls] == ["12:00", "3:00", "6:00", "9:00", "12:00"]
    assert all(before["ends"] == after["starts"] for before, after in pairwise(walls))
    turning = walls[0]["movements"][-2]
    assert (turning["count"], turning["at"], turning["foot"], turning["turn"], turning["facing"]) == (
        "7",
        "6",
        "R",
        2,
        "3:00",
    )


def test_walls_name_a_movements_figure_as_the_sheet_does(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A shuffle that the sheet calls a polka step is one; steps that it writes out are told movement by movement."""
    path = tmp_path / "fence.txt"
    path.write_text(
        "GATE LATCH - 8 counts, 1 wall\n\nPOLKA STEPS\n1&2  polka step fwd R\n"
        "3&4  step L fwd, step R together, step L fwd\n"
        "5-6  step R side, cross L over R\n7-8  walk back R, L\n",
        encoding="utf-8",
    )
    assert main(["walls", str(path), "--walls", "1", "--movements", "--json", "--as-it-stands"]) == 0
    movements = json.loads(capsys.readouterr().out)["walls"][0]["movements"]
    named = [movement["figure"] for movement in movements]
    assert named[:6] == ["right polka step forward"] * 3 + ["left polka step forward"] * 3
    assert named[6:] == ["side, cross"] * 2 + ["walk back, walk back"] * 2
    assert main(["walls", str(path), "--walls", "1", "--movements", "--as-it-stands"]) == 0
    assert "left polka step forward" in capsys.readouterr().out


def test_a_file_that_is_not_there_ends_with_status_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["walls", "no/such/file.txt"]) == 2
    assert "no/such/file.txt" in capsys.readouterr().err


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"\x00\x01\x02" * 100,
        b"Title: x\n" * 2_000_000,
        b"\xff\xfe\x00",
        "Title: \x1b[31m[bold]\u202eabc\n1-2 Walk R, L".encode(),
    ],
)
def test_bytes_that_are_no_sheet_get_findings_and_nothing_but_plain_text(
    raw: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "odd.txt"
    file.write_bytes(raw)
    assert main(["check", str(file)]) in (0, 1)
    out = capsys.readouterr().out
    assert out
    assert not any(mark in out for mark in ("\x1b", "\u202e", "\x00"))


def test_checking_loads_neither_the_screen_nor_the_sound() -> None:
    """The layers proved at run time, beside the import contracts."""
    program = (
        "import sys; from caller.cli import main; status = main(['check', 'Lantern Row']);"
        "heavy = [m for m in ('textual', 'sounddevice', 'numpy', 'mido', 'pyttsx3', 'soundfile') if m in sys.modules];"
        "print(heavy); sys.exit(status)"
    )
    run = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, timeout=60, check=False)
    assert run.returncode == 0, run.stderr
    assert run.stdout.splitlines()[-1] == "[]"


@pytest.mark.skipif(os.name != "posix", reason="pipes with names are POSIX's")
@pytest.mark.parametrize("command", ["check", "format", "walls", "calls", "walkthrough"])
def test_a_pipe_or_a_folder_as_a_sheet_is_told_and_not_waited_on(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    os.mkfifo(tmp_path / "pipe")
    for name in ("pipe", "."):
        assert main([command, str(tmp_path / name)]) == 2
        error = capsys.readouterr().err
        assert "can't open" in error
        assert error.count("\n") == 1


@pytest.mark.parametrize("name", ["x" * 5000, "~nobody at all/sheet", "a" * 200 + "/" + "b" * 300, "\udcff\udcfe", ""])
def test_a_name_that_no_file_can_have_is_told(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", name]) == 2
    assert "no routine called" in capsys.readouterr().err or name == ""


EVENTS = """Title: Copper Pan
Counts: 8
Walls: 4
Tempo: 100
Intro: 16 counts
Level: improver

Section 1
1-4    Vine right, touch L beside R
5-6    Step L forward, touch R beside L
7-8    Step R forward turning 1/4 right, step L beside R
Tag: after walls 2 and 4
1-2    Sway R, L
Restart: wall 6 after 4 counts
S1 4   Step L beside R
Thank you.
"""


def test_the_document_tells_events_roles_and_what_the_header_says(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "copper-pan.txt"
    file.write_text(EVENTS, encoding="utf-8")
    main(["check", str(file), "--json"])
    (told,) = json.loads(capsys.readouterr().out)
    assert (told["meter"], told["tempo"], told["intro"], told["starts"], told["level"]) == (
        "4/4",
        100,
        16,
        "R",
        "improver",
    )
    events = [(e["kind"], e["wall"], e["after"], e["counts"], e["line"]) for e in told["events"]]
    assert events == [("tag", 2, None, 2, 12), ("tag", 4, None, 2, 12), ("restart", 6, 4, None, 14)]
    roles = {line["line"]: line["role"] for line in told["lines"]}
    assert set(roles) >= set(range(1, 17))
    assert [roles[n] for n in (1, 2, 7, 8, 9, 12, 13, 14)] == [
        "title", "header", "empty", "heading", "steps", "event", "steps", "event"
    ]  # fmt: skip


@pytest.mark.parametrize("name", ["slate-yard.pdf", "slate-yard.docx", "slate-yard.odt", "slate-yard.rtf"])
def test_any_command_takes_a_document_as_its_sheet(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["walls", str(FOLDER / name), "--json"]) == 0
    walls = json.loads(capsys.readouterr().out)["walls"]
    assert [(wall["starts"], wall["ends"]) for wall in walls[:2]] == [("12:00", "9:00"), ("9:00", "6:00")]
    assert [event["kind"] for event in walls[1]["events"]] == ["tag"]


def test_a_document_that_cant_be_read_is_a_finding_that_says_why(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(FOLDER / "scan.pdf"), "--json"]) == 1
    (told,) = json.loads(capsys.readouterr().out)
    assert [f["code"] for f in told["findings"]] == ["unreadable"]
    assert told["findings"][0]["message"].startswith("this PDF is a scan")


def test_text_in_an_older_code_is_read_and_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "pan.txt"
    file.write_bytes(EVENTS.replace("turning 1/4 right", "turning \u00bc right").encode("cp1252"))
    main(["check", str(file), "--json"])
    findings = json.loads(capsys.readouterr().out)[0]["findings"]
    assert [f["severity"] for f in findings if "Windows-1252" in f["message"]] == ["guess"]


def test_a_sheet_with_errors_goes_on_only_where_that_is_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "bad.txt"
    file.write_text("Bad One\n8 counts, 1 wall, 100 bpm\n1-2 Walk R, L\n3-4 Walk L, R\n5-8 Vine right, touch L\n")
    assert main(["walls", str(file)]) == 1
    assert "--as-it-stands" in capsys.readouterr().err
    assert main(["walls", str(file), "--as-it-stands"]) == 0


def test_a_line_that_nobody_can_read_does_not_end_the_class(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "unread.txt"
    file.write_text(
        "Made Up\n8 counts, 1 wall, 100 bpm\n1-2 Walk R, L\n3-4 Flibber the gunwale\n5-8 Vine left, touch R\n"
    )
    assert main(["check", str(file), "--json"]) == 0
    (told,) = json.loads(capsys.readouterr().out)
    assert [(f["line"], f["severity"], f["code"]) for f in told["findings"] if f["severity"] != "advice"] == [
        (4, "warning", "unread")
    ]
    assert told["lines"][3] == {"line": 4, "role": "unread"}
    assert main(["calls", str(file), "--json"]) == 0
    calls = json.loads(capsys.readouterr().out)["calls"]
    assert any(call["words"].startswith("Flibber") for call in calls)


def test_what_each_line_was_taken_for_is_told_where_it_is_asked_for(
    sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["check", str(sheet), "--lines"])
    out = capsys.readouterr().out
    assert "  1  Title: Copper Pan\n     = title\n" in out
    assert "     = section 1, 8 counts\n" in out
    assert "     = 7 step R forward turning 1/4 right, 8 step L beside R\n" in out
    main(["check", str(sheet)])
    assert "     = " not in capsys.readouterr().out


def test_a_part_of_a_title_means_it_where_no_other_title_has_it(monkeypatch: pytest.MonkeyPatch) -> None:
    assert find("lantern").title == find("row").title == "Lantern Row"
    for hardly in ("la", "antern"):
        with pytest.raises(Refused, match="no routine called"):
            find(hardly)
    one = find("lantern")
    header = replace(one.read.routine.header, title="Lantern Lane")
    lane = replace(one, read=replace(one.read, routine=replace(one.read.routine, header=header)), path=Path("lane.txt"))
    monkeypatch.setattr("caller.cli.sheets.loaded_on_hand", lambda _: [one, lane])
    with pytest.raises(Refused, match="part of several titles: 'Lantern Row', 'Lantern Lane'; type more of one"):
        find("lantern")
    assert find("lantern l").title == "Lantern Lane"
