"""The command line as a whole: each command loads itself alone, and what it has to say is not lost behind a screen."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import threading
import tomllib
from pathlib import Path

import pytest

from caller import cli
from caller.cli import COMMANDS, command_line, main
from caller.cli.say import warn, warnings_into

FAULTY = "Title: Cracked Pot\nCounts: 8\n\nSection 1: All\n1-2    Walk forward R, L\n3      Touch R beside L, wobble\n"


def test_before_a_screen_is_painted_nothing_of_the_dance_is_loaded() -> None:
    """It would be half of the wait; it comes on a thread, once the screen is up."""
    program = (
        "import sys; from caller.cli import command_line; command_line('dance').parse_args(['dance', 'Lantern Row']);"
        "import caller.cli.live, caller.screen.app, caller.screen.page.spool;"
        "later = ('routine', 'dance', 'calls', 'clock', 'sound', 'rig', 'session', 'teaching', 'book', 'takehome');"
        "later = (*(f'caller.{one}' for one in later), 'numpy', 'aiohttp', 'tomlkit', 'mido');"
        "print([one for one in sys.modules if one.startswith(later)])"
    )
    run = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, timeout=60, check=True)
    assert run.stdout.strip() == "[]"


def test_each_command_has_its_words_alone_and_among_all() -> None:
    listed = command_line().format_help()
    for name in COMMANDS:
        assert f"\n    {name}" in listed
        with pytest.raises(SystemExit) as left:
            command_line(name).parse_args([name, "--help"])
        assert left.value.code == 0
    modules = {path.stem for path in Path(cli.__file__).parent.glob("*.py") if "\ndef add(" in path.read_text()}
    assert set(COMMANDS.values()) == modules


@pytest.mark.parametrize("words", [[], ["--version"], ["waltz"], ["--bogus", "dance"]])
def test_what_names_no_command_is_told_of_all(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(words)
    told = "".join(capsys.readouterr())
    assert left.value.code == (0 if words == ["--version"] else 2)
    assert told.startswith("caller ") or "usage: caller" in told


def test_a_faulty_sheet_is_told_with_its_errors_above(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "cracked.txt"
    file.write_text(FAULTY)
    assert main(["walls", str(file)]) == 1
    told = capsys.readouterr().err.splitlines()
    assert told[0].startswith(f"{file}:")
    assert told[-1] == (
        "caller: 'Cracked Pot' can't be danced as it stands: mend the errors above first, "
        "or ask for it all the same with --as-it-stands"
    )


def test_warnings_behind_a_screen_are_kept_on_their_own_thread(capsys: pytest.CaptureFixture[str]) -> None:
    kept: list[str] = []

    def opening() -> None:
        with warnings_into(kept):
            warn("the voice is another")
        warn("printed again")

    thread = threading.Thread(target=opening)
    thread.start()
    thread.join()
    warn("printed as well")
    assert kept == ["the voice is another"]
    assert capsys.readouterr().err == "caller: printed again\ncaller: printed as well\n"


def test_doctor_names_all_that_the_caller_is_installed_with(capsys: pytest.CaptureFixture[str]) -> None:
    project = Path(__file__).parents[2] / "pyproject.toml"
    wanted = tomllib.loads(project.read_text(encoding="utf-8"))["project"]["dependencies"]
    names = {re.split(r"[<>=; ]", one, maxsplit=1)[0] for one in wanted if ";" not in one}
    assert main(["doctor", "--json"]) == 0
    packages = json.loads(capsys.readouterr().out)["versions"]["packages"]
    assert names <= packages.keys()
    assert "pytest" not in packages
    assert "missing" not in packages.values()
