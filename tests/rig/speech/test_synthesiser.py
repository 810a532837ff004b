"""The parent's side of speech, against workers that misbehave.

The workers are real processes (``tests/fakes/speech_worker.py``); what must be waited for is a limit of a few
hundredths of a second, and no test depends on how long anything takes.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

import caller.rig.speech.synthesiser as synthesiser_module
from caller.children.lines import Gone, Hung
from caller.rig.speech.sources import installed_version
from caller.rig.speech.synthesiser import Request, WorkerSynthesiser, is_full
from caller.rig.speech.voicing import Unspoken, VoiceFound, Voiceless
from tests.fakes import speech_worker
from tests.fakes.speech import Act, ScriptedWorkers

WORKER = Path(speech_worker.__file__)
AMPLE = 30.0
SHORT = 0.05
WALK = Request("walk, walk")


class Workers:
    """Synthesisers by mode, closed when the test is over."""

    def __init__(self) -> None:
        self.made: list[WorkerSynthesiser] = []

    def __call__(self, mode: str, phrase: float = AMPLE, start: float = AMPLE) -> WorkerSynthesiser:
        made = WorkerSynthesiser((sys.executable, "-I", str(WORKER), mode), phrase, start)
        self.made.append(made)
        return made


@pytest.fixture
def workers() -> Iterator[Workers]:
    made = Workers()
    yield made
    for synthesiser in made.made:
        synthesiser.close()


def test_a_phrase_comes_back_as_sound(workers: Workers) -> None:
    recording, _ = workers("well").render(WALK)
    assert recording.rate == speech_worker.RATE
    assert recording.samples.shape == (speech_worker.FRAMES,)
    assert recording.samples.dtype == np.float32
    assert np.abs(recording.samples).max() == pytest.approx(9000 / 32768, rel=0.01)


def test_one_worker_renders_many_phrases_and_leaves_no_file(workers: Workers) -> None:
    synthesiser = workers("well")
    for number in range(20):
        synthesiser.render(Request(f"phrase {number}"))
    assert synthesiser.workers_started == 1
    assert synthesiser.folder is not None
    assert list(synthesiser.folder.iterdir()) == []


def test_no_worker_is_started_before_the_first_phrase(workers: Workers) -> None:
    synthesiser = workers("well")
    assert synthesiser.workers_started == 0
    assert synthesiser.folder is None


def test_a_worker_that_was_woken_renders_the_first_phrase(workers: Workers) -> None:
    synthesiser = workers("well")
    synthesiser.wake()
    synthesiser.wake()
    assert synthesiser.workers_started == 1
    synthesiser.render(WALK)
    assert synthesiser.workers_started == 1


def test_what_fails_at_waking_is_told_by_the_phrase(workers: Workers) -> None:
    hung, speechless, closed = workers("hangs", start=SHORT), workers("voiceless"), workers("well")
    closed.close()
    for synthesiser in (hung, speechless, closed):
        synthesiser.wake()
        with pytest.raises((Voiceless, Unspoken)):
            synthesiser.render(WALK)
    assert closed.workers_started == 0


def test_a_worker_that_hangs_is_replaced_twice_and_then_given_up(workers: Workers) -> None:
    synthesiser = workers("hangs", start=SHORT)
    with pytest.raises(Unspoken):
        synthesiser.render(WALK)
    with pytest.raises(Voiceless, match="does not answer") as told:
        synthesiser.render(WALK)
    assert synthesiser.workers_started == 3
    with pytest.raises(Voiceless) as again:
        synthesiser.render(WALK)
    assert str(again.value) == str(told.value)
    assert synthesiser.workers_started == 3


@pytest.mark.parametrize("mode", ["dies", "rubbish", "stranger"])
def test_a_worker_that_can_not_be_trusted_is_replaced_twice_and_then_given_up(workers: Workers, mode: str) -> None:
    synthesiser = workers(mode)
    with pytest.raises(Unspoken, match="walk, walk"):
        synthesiser.render(WALK)
    with pytest.raises(Voiceless, match="keeps failing"):
        synthesiser.render(WALK)
    assert synthesiser.workers_started == 3


HELLO = {"version": "scripted"}


def scripted(*acts: Act) -> tuple[WorkerSynthesiser, ScriptedWorkers]:
    started = ScriptedWorkers(*acts)
    return WorkerSynthesiser(("none",), phrase_seconds=5, start_seconds=15, start=started), started


def recorded(folder: Path) -> Act:
    speech_worker.tone(folder / "sound.wav")
    return {"file": str(folder / "sound.wav")}


def test_a_phrase_that_fails_once_is_said_by_the_next_worker(tmp_path: Path) -> None:
    synthesiser, workers = scripted(HELLO, Hung(), HELLO, recorded(tmp_path))
    assert len(synthesiser.render(WALK)[0].samples) == speech_worker.FRAMES
    assert [worker.ended for worker in workers.started] == ["killed", ""]


def test_a_worker_has_longer_to_start_than_for_a_phrase(tmp_path: Path) -> None:
    synthesiser, workers = scripted(HELLO, recorded(tmp_path))
    synthesiser.render(WALK)
    assert workers.started[0].limits == [15, 5]


def test_a_phrase_that_hangs_the_synthesiser_is_left_out_and_the_rest_is_said(tmp_path: Path) -> None:
    synthesiser, workers = scripted(HELLO, Hung(), HELLO, Hung(), HELLO, recorded(tmp_path))
    with pytest.raises(Unspoken, match='"poison"'):
        synthesiser.render(Request("poison"))
    assert len(synthesiser.render(WALK)[0].samples) == speech_worker.FRAMES
    assert [worker.ended for worker in workers.started] == ["killed", "killed", ""]


def test_a_phrase_well_said_wipes_out_earlier_failures(tmp_path: Path) -> None:
    acts: list[Act] = [HELLO]
    for name in "abc":
        (tmp_path / name).mkdir()
        acts += [Hung(), HELLO, Gone(), HELLO, recorded(tmp_path / name)]
    synthesiser, workers = scripted(*acts)
    for _ in "abc":
        with pytest.raises(Unspoken):
            synthesiser.render(Request("poison"))
        synthesiser.render(WALK)
    assert len(workers.started) == 7


def test_a_worker_that_hangs_at_its_start_is_replaced_twice_and_no_more() -> None:
    synthesiser, workers = scripted(Hung(), Hung(), Hung())
    with pytest.raises(Unspoken):
        synthesiser.render(WALK)
    with pytest.raises(Voiceless):
        synthesiser.render(WALK)
    assert [worker.ended for worker in workers.started] == ["killed"] * 3


def test_a_synthesiser_that_hangs_or_makes_nothing_in_turn_is_given_up(tmp_path: Path) -> None:
    """As espeak's does where no file may grow."""
    empty = tmp_path / "empty.wav"
    answers: list[Act] = [HELLO]
    for _ in range(3):
        answers += [{"file": str(empty)}, Hung(), HELLO]
    synthesiser, _ = scripted(*answers)
    for _ in range(3):
        with pytest.raises(Unspoken):
            synthesiser.render(WALK)
    with pytest.raises(Voiceless, match="does not answer"):
        synthesiser.render(WALK)


def test_a_full_disk_is_told_at_the_first_phrase(workers: Workers, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(synthesiser_module, "is_full", lambda folder: True)
    synthesiser = workers("empty")
    with pytest.raises(Unspoken):
        synthesiser.render(WALK)
    with pytest.raises(Voiceless, match="no room in"):
        synthesiser.render(WALK)


def test_how_full_a_disk_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert not is_full(tmp_path)
    assert not is_full(tmp_path / "no such folder")
    left = shutil.disk_usage(tmp_path)
    monkeypatch.setattr(shutil, "disk_usage", lambda folder: left._replace(free=4_096))
    assert is_full(tmp_path)


@pytest.mark.parametrize("line", ["", "null", "[]", "{}", "7", '{"id": 2}', '{"id": 99, "file": "x"}', "\ufffd" * 9])
def test_a_line_that_is_no_reply_ends_the_worker(line: str) -> None:
    synthesiser, workers = scripted(HELLO, line, HELLO, {"unspoken": "Said on the second try."})
    with pytest.raises(Unspoken, match="second try"):
        synthesiser.render(WALK)
    assert [worker.ended for worker in workers.started] == ["killed", ""]


@pytest.mark.parametrize(
    ("mode", "says"),
    [
        ("empty", "an empty sound file"),
        ("frameless", "an empty sound file"),
        ("text", "neither WAVE nor AIFF"),
        ("nothing", "no sound file"),
        ("unspoken", "Not this one."),
    ],
)
def test_a_phrase_without_sound_is_unspoken_and_the_worker_goes_on(workers: Workers, mode: str, says: str) -> None:
    synthesiser = workers(mode)
    for _ in range(4):
        with pytest.raises(Unspoken, match=says):
            synthesiser.render(WALK)
    assert synthesiser.workers_started == 1


def test_a_worker_without_speech_is_given_up_at_once(workers: Workers) -> None:
    synthesiser = workers("voiceless")
    for _ in range(2):
        with pytest.raises(Voiceless, match=r"No speech here: install some\."):
            synthesiser.render(WALK)
    assert synthesiser.workers_started == 1


def test_a_worker_that_can_not_be_started_is_given_up_at_once(tmp_path: Path) -> None:
    synthesiser = WorkerSynthesiser((str(tmp_path / "no-such-program"),))
    with pytest.raises(Voiceless, match="can't be started"):
        synthesiser.render(WALK)


def test_the_synthesisers_voices_are_told(workers: Workers) -> None:
    version, voices = workers("well").voices()
    assert version == "pretend 1"
    assert voices == (VoiceFound("hill", "Hill", ("en",)), VoiceFound("dale", "Dale", ()))


def test_closing_ends_the_worker_and_clears_its_folder_away(workers: Workers) -> None:
    synthesiser = workers("well")
    synthesiser.render(WALK)
    folder = synthesiser.folder
    assert folder is not None
    synthesiser.close()
    assert not folder.exists()
    with pytest.raises(Voiceless, match="closed"):
        synthesiser.render(WALK)
    assert synthesiser.workers_started == 1


def test_closing_does_not_wait_for_a_phrase_that_hangs(workers: Workers) -> None:
    synthesiser = workers("hangs")
    with ThreadPoolExecutor(1) as other:
        waiting = other.submit(synthesiser.render, WALK)
        synthesiser.close()
        assert isinstance(waiting.exception(AMPLE / 2), Voiceless)


def test_the_version_names_the_packages_without_loading_them() -> None:
    assert "pyttsx3 " in installed_version()
    assert not loaded_by("from caller.rig.speech.sources import installed_version; installed_version()")


def test_nothing_heavy_is_loaded_with_the_modules() -> None:
    assert not loaded_by("import caller.rig.speech.lexicon, caller.rig.speech.survey, caller.rig.speech.worker")


def loaded_by(code: str) -> set[str]:
    """Those of the heavy libraries that a fresh Python has loaded after ``code``."""
    told = subprocess.run(
        [sys.executable, "-c", f"import sys; {code}; print(*sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[3],
    )
    heavy = {"pyttsx3", "espeakng_loader", "soundfile", "soxr", "platformdirs", "scipy"}
    return heavy & set(told.stdout.split())
