"""``caller voices``: listed, tried, recorded, with no sound card and no synthesiser but a pretended one."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile

from caller.cli import main, voices
from caller.cli.dictation import walk_through
from caller.cli.running import open_voice
from caller.cli.say import Refused
from caller.rig.recorder import RecorderLost
from caller.rig.shelf import Shelf
from caller.rig.speech.lexicon import SilentLexicon, SpokenLexicon
from caller.rig.speech.own_voice import own_voice
from caller.rig.speech.recorded import recorded_files
from caller.rig.speech.voices import Voice, voice_folders
from tests.fakes.recorder import HandRecorder, room
from tests.fakes.speech import ToneSynthesiser
from tests.rig.speech.test_listening import quiet, voice

SPOKEN = np.concatenate([quiet(0.4), voice(0.5)]) + room(0.9, seed=9)
CLIPPED = np.concatenate([quiet(0.4), np.clip(voice(0.5, 3.0), -1, 1)])


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    own = voice_folders()[-1]
    own.mkdir(parents=True)
    return own


@pytest.fixture
def tones(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> ToneSynthesiser:
    made = ToneSynthesiser()

    def lexicon(voice: Voice) -> SpokenLexicon:
        return SpokenLexicon(voice, made, Shelf(tmp_path / "kept"))

    monkeypatch.setattr(voices, "_lexicon", lexicon)
    return made


def listed(capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    assert main(["voices", "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    return {row["name"]: row for row in rows}


def test_voices_are_listed_as_an_array_of_objects_with_what_is_wrong(
    own_folders: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (own_folders / "cracked.toml").write_text("rate = 1\npitch = 100", encoding="utf-8")
    (own_folders / "hill.toml").write_text('title = "Hill"\nlike = "standard"\nrate = 160', encoding="utf-8")
    rows = listed(capsys)
    keys = ["name", "title", "engine", "voice", "rate", "pitch", "gain_db", "recorded", "path", "own", "ready", "says"]
    assert all(list(row) == keys for row in rows.values())
    assert {"standard", "crisp", "low", "gentle", "natural", "cracked", "hill"} <= set(rows)
    assert (rows["hill"]["rate"], rows["hill"]["own"], rows["hill"]["ready"]) == (160, True, True)
    assert (rows["standard"]["own"], rows["cracked"]["ready"]) == (False, False)
    assert "cracked.toml, line 1: rate must be" in rows["cracked"]["says"]
    assert "line 2: pitch" in rows["cracked"]["says"]


def test_the_list_for_people_says_what_is_not_ready(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (own_folders / "cracked.toml").write_text("rate = 1", encoding="utf-8")
    assert main(["voices"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert any(line.startswith("cracked") and "NOT READY" in line for line in lines)
    assert any(line.startswith("standard") and "ready" in line for line in lines)


def test_a_voice_is_tried_into_a_file(tones: ToneSynthesiser, tmp_path: Path) -> None:
    file = tmp_path / "tried.wav"
    assert main(["voices", "try", "low", "half past seven", "-o", str(file)]) == 0
    assert [(request.text, request.rate) for request in tones.asked] == [("half past seven", 170)]
    samples, rate = soundfile.read(str(file))
    assert rate == 48_000
    assert np.abs(samples).max() > 0.05


@pytest.mark.parametrize(
    ("words", "status", "says"),
    [
        (["try", "nobody", "-o", "x.wav"], 2, 'no voice called "nobody"'),
        (["try", "standard", "walk", "-o", "x.xyz"], 1, "suffix"),
        (["try", "standard", "<>", "-o", "x.wav"], 1, "nothing in it that can be said"),
        (["try", "standard", "walk", "--sound", "none"], 1, "-o FILE writes it to a file instead"),
        (["record", "standard", "Chalk Line"], 2, "not a recorded one"),
        (["record", "An na", "Chalk Line"], 2, "small letters"),
        (["record", "anna", "No Such Dance"], 2, "No Such Dance"),
        (["record", "anna", "Chalk Line", "--manner", "loudly"], 2, "not 'loudly'"),
    ],
)
def test_what_can_not_be_done_is_one_sentence(
    words: list[str],
    status: int,
    says: str,
    tones: ToneSynthesiser,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["voices", *words]) == status
    err = capsys.readouterr().err
    assert says in err
    assert len(err.splitlines()) == 1


def test_without_speech_a_try_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(voices, "_lexicon", lambda voice: SilentLexicon("Speech needs this: pip install it"))
    assert main(["voices", "try", "standard", "-o", "x.wav"]) == 1
    assert "pip install it" in capsys.readouterr().err


def test_the_words_of_a_routine_are_asked_for_once_each_as_they_are_said() -> None:
    words = voices.words_of("Chalk Line", "ahead", own_voice("anna"))
    assert len(words) == len(set(words)) > 5
    assert words == sorted(words, key=lambda said: (len(said.split()), said))
    assert not any(sign.isdigit() for said in words for sign in said)
    with pytest.raises(Refused):
        voices.words_of("Chalk Line", "loudly", own_voice("anna"))


def record(orders: str, *hears: Any, phrases: tuple[str, ...] = ("walk", "rock back", "touch")) -> tuple[Any, ...]:
    anna, shown = own_voice("anna"), io.StringIO()
    microphone = HandRecorder(room(1.2), *hears)
    kept = walk_through(anna, phrases, microphone, io.StringIO(orders), shown)
    return kept, [file.stem for file in recorded_files(anna)], shown.getvalue(), microphone.listened


def test_each_phrase_is_recorded_in_turn() -> None:
    kept, files, shown, listened = record("\n\n\n\n", SPOKEN, SPOKEN, SPOKEN)
    assert (kept, files, listened) == (3, ["rock-back", "touch", "walk"], 4)
    assert "2/3  rock back" in shown


def test_a_phrase_that_will_not_do_is_asked_for_again_with_the_reason() -> None:
    kept, files, shown, _ = record("\n\n\n\n", CLIPPED, SPOKEN, SPOKEN, phrases=("walk", "touch"))
    assert (kept, files) == (2, ["touch", "walk"])
    assert "It is clipped" in shown
    assert shown.count("1/2  walk") == 2


def test_phrases_are_passed_over_and_the_rest_left_at_the_end_of_input() -> None:
    kept, files, _, listened = record("\ns\n\n", SPOKEN)
    assert (kept, files, listened) == (1, ["rock-back"], 2)
    assert record("\nq\n")[0] == 0
    assert record("q\n")[3] == 0


def test_a_microphone_that_is_lost_keeps_what_is_recorded() -> None:
    with pytest.raises(RecorderLost):
        record("\n\n\n\n", SPOKEN, None)
    assert [file.stem for file in recorded_files(own_voice("anna"))] == ["walk"]


def test_a_voice_that_is_not_there_does_not_stop_the_class(capsys: pytest.CaptureFixture[str]) -> None:
    lexicon = open_voice("nobody")
    lexicon.close()
    err = capsys.readouterr().err
    assert 'no voice called "nobody"' in err
    assert err.endswith('the voice "standard" speaks instead.\n')
    assert isinstance(lexicon, SpokenLexicon)
    assert lexicon.voice.name == "standard"
