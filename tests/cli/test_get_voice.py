"""``caller voices get`` and ``use``: nothing is installed without a yes, and what was chosen calls from then on."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from caller.cli import main
from caller.cli.get_voice import GetOptions, run_get
from caller.cli.running import open_voice
from caller.cli.say import Refused
from caller.rig.settings import read_settings, settings_file
from caller.rig.speech import sources
from caller.rig.speech.lexicon import SpokenLexicon
from tests.fakes.pip import ScriptedPip, row


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


@pytest.fixture
def installed(monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """Sources that are installed, by name; more may be added."""
    there = {"pyttsx3"}

    def missing(name: str) -> str:
        return "" if name in there else f"A voice of {name} is not here"

    monkeypatch.setattr(sources, "missing", missing)
    return there


def voice_set() -> str:
    return read_settings(settings_file())[0].voice


def get(pip: ScriptedPip, answer: str, yes: bool = False) -> int:
    return run_get(GetOptions(name="natural", yes=yes, json=False, ids=False), pip, io.StringIO(answer))


@pytest.mark.parametrize("answer", ["", "\n", "n\n", "perhaps\n"])
def test_nothing_is_installed_without_a_yes(
    answer: str, installed: set[str], capsys: pytest.CaptureFixture[str]
) -> None:
    pip = ScriptedPip([row("hibari-tts", "0.2.1", license="Apache-2.0")])
    with pytest.raises(Refused, match="Nothing was installed"):
        get(pip, answer)
    shown = capsys.readouterr().out
    assert "hibari-tts 0.2.1 (Apache-2.0)" in shown
    assert "42 MB to download, 97 MB on disk" in shown
    assert "Apache-2.0; onnxruntime MIT" in shown
    assert all("--dry-run" in arguments for arguments in pip.asked)
    assert voice_set() == ""


@pytest.mark.parametrize(("answer", "yes"), [("y\n", False), ("Yes\n", False), ("", True)])
def test_after_a_yes_it_is_installed_and_calls_from_then_on(
    answer: str, yes: bool, installed: set[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert get(ScriptedPip(installs=lambda: installed.add("hibari")), answer, yes) == 0
    assert voice_set() == "natural"
    assert "caller voices use standard" in capsys.readouterr().out


def test_what_pip_claims_is_looked_at(installed: set[str]) -> None:
    with pytest.raises(Refused, match="isn't found"):
        get(ScriptedPip(), "y\n")
    assert voice_set() == ""


def test_a_failure_of_pips_is_told_and_nothing_is_set(installed: set[str]) -> None:
    with pytest.raises(Refused, match="No space left"):
        get(ScriptedPip(fails="ERROR: No space left on device"), "y\n")
    assert voice_set() == ""


def test_what_is_installed_already_is_used_without_a_question(installed: set[str]) -> None:
    installed.add("hibari")
    pip = ScriptedPip()
    assert get(pip, "") == 0
    assert (pip.asked, voice_set()) == ([], "natural")


def test_a_voice_set_is_the_one_that_opens_and_the_command_lines_own_comes_first(installed: set[str]) -> None:
    assert main(["voices", "use", "low"]) == 0
    assert voice_set() == "low"
    for asked, opened in (("", "low"), ("crisp", "crisp")):
        voice = open_voice(asked)
        try:
            assert isinstance(voice, SpokenLexicon)
            assert voice.voice.name == opened
        finally:
            voice.close()


def test_a_voice_set_that_is_gone_leaves_the_standard_one_and_says_so(
    capsys: pytest.CaptureFixture[str],
) -> None:
    file = settings_file()
    file.parent.mkdir(parents=True)
    file.write_text('[calls]\nvoice = "gone"\n', encoding="utf-8")
    open_voice("").close()
    assert 'no voice called "gone"' in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "status", "says"),
    [
        (["use", "natural"], 1, "not installed yet: caller voices get natural"),
        (["use", "nobody"], 2, 'no voice called "nobody"'),
        (["get", "nobody"], 2, 'no voice called "nobody"'),
    ],
)
def test_what_can_not_be_done_is_one_sentence(
    words: list[str], status: int, says: str, installed: set[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["voices", *words]) == status
    assert says in capsys.readouterr().err
