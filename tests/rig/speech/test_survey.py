"""What there is of speech, told as plain values even where there is none."""

from __future__ import annotations

import sys
from pathlib import Path

from caller.rig.speech.survey import silent_voices, survey_speech
from caller.rig.speech.synthesiser import WorkerSynthesiser
from caller.rig.speech.voices import Voice, VoiceFile
from tests.fakes import speech_worker
from tests.fakes.speech import ScriptedWorkers

FILES = tuple(
    VoiceFile(Path(f"{name}.toml"), Voice(name, name, ids={"linux": id}), ())
    for name, id in (("hill", "hill"), ("variant", "hill+m3"), ("english", "en"), ("own", ""), ("glen", "glen"))
)


def survey_of(mode: str) -> WorkerSynthesiser:
    return WorkerSynthesiser((sys.executable, "-I", speech_worker.__file__, mode))


def test_a_survey_tells_the_synthesiser_its_voices_and_those_written_down() -> None:
    found = survey_speech(survey_of("well"), FILES)
    assert (found.engine, found.version, found.fault) == ("pyttsx3", "pretend 1", "")
    assert [voice.id for voice in found.voices] == ["hill", "dale"]
    assert found.files == FILES
    assert silent_voices(found, "linux") == {"glen": "glen"}


def test_a_survey_without_speech_says_what_to_do() -> None:
    found = survey_speech(survey_of("voiceless"), FILES)
    assert (found.version, found.voices) == ("", ())
    assert found.fault == "No speech here: install some."
    assert found.files == FILES


def test_a_survey_of_a_worker_that_dies_is_one_sentence() -> None:
    found = survey_speech(survey_of("dies"), FILES)
    assert found.voices == ()
    assert found.fault.endswith(".")


def test_a_survey_ends_the_worker_that_it_started() -> None:
    workers = ScriptedWorkers({"version": "scripted"}, {"version": "scripted", "voices": []})
    survey_speech(WorkerSynthesiser(("none",), start=workers), ())
    assert [worker.ended for worker in workers.started] == ["closed"]
