"""The lexicon: prepared once, then only looked up; warm from the shelf."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from caller.calls.plan import Lexicon, Utterance
from caller.calls.sayings import SPEEDS
from caller.rig.shelf import Shelf
from caller.rig.speech.lexicon import Prepared, SilentLexicon, SpokenLexicon
from caller.rig.speech.recording import Recording
from caller.rig.speech.synthesiser import Request
from caller.rig.speech.voices import Voice
from caller.sound.score import RATE, Clip
from tests.fakes.speech import SILENCE_SECONDS, ToneSynthesiser

HILL = Voice("hill", "Hill", rate=160, pitch=40, ids={"linux": "gmw/en-gb"}, says={"R": "right"})
WALKS = [("walk, walk", speed) for speed in SPEEDS]
Make = Callable[..., SpokenLexicon]


@pytest.fixture
def tones() -> ToneSynthesiser:
    return ToneSynthesiser()


@pytest.fixture
def make(tones: ToneSynthesiser, tmp_path: Path) -> Make:
    def made(voice: Voice = HILL, synthesiser: ToneSynthesiser = tones, folder: Path = tmp_path) -> SpokenLexicon:
        return SpokenLexicon(voice, synthesiser, Shelf(folder), platform="linux")

    return made


def test_what_is_prepared_is_there_at_each_speed_and_nothing_else_is(make: Make) -> None:
    lexicon: Lexicon = (made := make())
    assert lexicon.utterance("walk, walk", 1.0) is None
    assert made.prepare(WALKS) == Prepared(rendered=3, kept=0, unsaid={})
    for words, speed in WALKS:
        utterance = lexicon.utterance(words, speed)
        assert utterance is not None
        assert (utterance.words, utterance.speed) == (words, speed)
    assert lexicon.utterance("walk, walk", 1.2) is None
    assert made.clip("walk, walk", 1.2) is None
    assert made.clip("walk", 1.0) is None


def test_an_utterance_measures_its_clip(make: Make) -> None:
    lexicon = make()
    lexicon.prepare(WALKS)
    for words, speed in WALKS:
        utterance, clip = lexicon.utterance(words, speed), lexicon.clip(words, speed)
        assert utterance is not None
        assert clip is not None
        assert utterance.frames == clip.frames
        assert 0 <= utterance.beat < utterance.frames
        assert clip.samples.dtype == np.float32


def test_a_quicker_phrase_is_asked_of_the_synthesiser_at_a_quicker_rate(make: Make, tones: ToneSynthesiser) -> None:
    make().prepare(WALKS)
    assert [request.rate for request in tones.asked] == [160, 184, 216]


def test_the_voice_decides_what_is_asked(make: Make, tones: ToneSynthesiser) -> None:
    make().prepare([("touch R <b>", 1.0)])
    assert tones.asked == [Request("touch right b", "gmw/en-gb", 160, 40)]


def test_the_silence_around_a_phrase_is_cut_and_its_length_kept(make: Make) -> None:
    lexicon = make()
    words = "a" * 20  # four words of five letters: 1.5 s at 160 words a minute
    lexicon.prepare([(words, 1.0)])
    utterance = lexicon.utterance(words, 1.0)
    assert utterance is not None
    assert utterance.frames / RATE == pytest.approx(1.5, abs=SILENCE_SECONDS / 2)


def test_a_second_run_finds_all_on_the_shelf_and_the_same_to_the_sample(make: Make, tones: ToneSynthesiser) -> None:
    cold, warm = make(), make()
    cold.prepare(WALKS)
    asked = len(tones.asked)
    assert warm.prepare(WALKS) == Prepared(rendered=0, kept=3, unsaid={})
    assert len(tones.asked) == asked
    for phrase in WALKS:
        first, second = cold.clip(*phrase), warm.clip(*phrase)
        assert first is not None
        assert second is not None
        assert first.key == second.key
        np.testing.assert_array_equal(first.samples, second.samples)
        assert cold.utterance(*phrase) == warm.utterance(*phrase)


@pytest.mark.parametrize(
    "other",
    [
        Voice("hill", "Hill", rate=161, pitch=40, ids={"linux": "gmw/en-gb"}),
        Voice("hill", "Hill", rate=160, pitch=41, ids={"linux": "gmw/en-gb"}),
        Voice("hill", "Hill", rate=160, pitch=40, ids={"linux": "gmw/en-us"}),
        Voice("hill", "Hill", rate=160, pitch=40, gain_db=1.0, ids={"linux": "gmw/en-gb"}),
        Voice("hill", "Hill", rate=160, pitch=40, ids={"linux": "gmw/en-gb"}, says={"walk": "stroll"}),
    ],
)
def test_another_voice_is_rendered_anew(make: Make, other: Voice) -> None:
    make().prepare(WALKS[:1])
    assert make(voice=other).prepare(WALKS[:1]).rendered == 1


def test_another_version_of_the_synthesiser_is_rendered_anew(make: Make) -> None:
    make().prepare(WALKS[:1])
    assert make(synthesiser=ToneSynthesiser(version="tones 2")).prepare(WALKS[:1]).rendered == 1


def test_a_damaged_entry_is_rendered_again(make: Make, tmp_path: Path) -> None:
    make().prepare(WALKS)
    damaged = sorted(tmp_path.glob("*.item"))[1]
    damaged.write_bytes(damaged.read_bytes()[:-1])
    assert make().prepare(WALKS) == Prepared(rendered=1, kept=2, unsaid={})
    assert make().prepare(WALKS).kept == 3


def test_a_whole_entry_that_makes_no_sense_is_rendered_again(make: Make, tmp_path: Path) -> None:
    lexicon = make()
    shelf = Shelf(tmp_path)
    lexicon.prepare(WALKS[:1])
    (path,) = tmp_path.glob("*.item")
    key = lexicon.key_of(WALKS[0])
    for header, body in (({}, b"\0\0" * 9), ({"beat": 99}, b"\0\0" * 9), ({"beat": 0}, b"\0\0\0"), ({"beat": 0}, b"")):
        shelf.put(key, header, body)
        assert path.exists()
        assert make().prepare(WALKS[:1]).rendered == 1


def test_without_a_folder_all_is_rendered_and_one_sentence_says_so(make: Make, tmp_path: Path) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    lexicon = make(folder=in_the_way)
    assert lexicon.shelf_fault == ""
    assert lexicon.prepare(WALKS).rendered == 3
    assert str(in_the_way) in lexicon.shelf_fault
    assert lexicon.utterance(*WALKS[0]) is not None


def test_a_phrase_asked_for_twice_is_rendered_once(make: Make, tones: ToneSynthesiser) -> None:
    lexicon = make()
    lexicon.prepare([*WALKS, *WALKS])
    lexicon.prepare(WALKS)
    assert len(tones.asked) == 3


def test_what_can_not_be_said_is_left_out_with_the_reason_and_not_tried_again(
    make: Make, tones: ToneSynthesiser
) -> None:
    tones.refuses = {"rock": "Not this one."}
    lexicon = make()
    phrases = [("rock", 1.0), ("!?", 1.0), ("walk", 1.0)]
    assert lexicon.prepare(phrases).unsaid == {
        "rock": "Not this one.",
        "!?": "There is nothing in it that can be said.",
    }
    assert [lexicon.utterance(*phrase) is None for phrase in phrases] == [True, True, False]
    lexicon.prepare(phrases)
    assert [request.text for request in tones.asked] == ["rock", "walk"]


class SilentTones(ToneSynthesiser):
    def render(self, request: Request) -> tuple[Recording, str]:
        _, identity = super().render(request)
        return Recording(np.zeros(4000, np.float32), 22_050), identity


def test_silence_is_no_speech(make: Make) -> None:
    lexicon = make(synthesiser=SilentTones())
    assert "silence" in lexicon.prepare(WALKS[:1]).unsaid["walk, walk"]


def test_when_speech_ends_what_is_finished_stays(make: Make, tones: ToneSynthesiser) -> None:
    tones.ends_after = 2
    lexicon = make()
    assert lexicon.prepare(WALKS) == Prepared(rendered=2, kept=0, unsaid={}, why="The tones have ended.")
    assert lexicon.why == "The tones have ended."
    assert [lexicon.utterance(*phrase) is None for phrase in WALKS] == [False, False, True]


def test_a_voice_that_can_say_nothing_says_why(make: Make, tones: ToneSynthesiser) -> None:
    tones.refuses = {"walk, walk": "The synthesiser has no such voice."}
    lexicon = make()
    lexicon.prepare(WALKS)
    assert lexicon.why == "The synthesiser has no such voice."


def test_progress_is_told_up_to_the_end(make: Make) -> None:
    told: list[tuple[int, int]] = []
    make().prepare(WALKS[:2])
    make().prepare([*WALKS, ("!?", 1.0)], lambda done, total: told.append((done, total)))
    assert told == [(2, 4), (3, 4), (4, 4)]


def test_a_reader_sees_finished_phrases_while_the_rest_is_made(make: Make) -> None:
    lexicon = make()
    phrases = [(f"step {n}", 1.0) for n in range(6)]
    seen: list[int] = []

    def count(done: int, total: int) -> None:
        seen.append(sum(lexicon.utterance(*phrase) is not None for phrase in phrases))

    thread = threading.Thread(target=lexicon.prepare, args=(phrases, count))
    thread.start()
    thread.join()
    assert seen == [1, 2, 3, 4, 5, 6]


def test_a_lookup_made_before_a_phrase_is_finished_is_never_changed(make: Make) -> None:
    lexicon = make()
    lexicon.prepare([("step", 1.0)])
    before = lexicon.phrases
    lexicon.prepare([("touch", 1.0)])
    assert list(before) == [("step", 1.0)]
    assert list(lexicon.phrases) == [("step", 1.0), ("touch", 1.0)]


def test_two_that_prepare_at_once_render_each_phrase_once(make: Make, tones: ToneSynthesiser) -> None:
    lexicon = make()
    phrases = [(f"step {n}", 1.0) for n in range(30)]
    threads = [threading.Thread(target=lexicon.prepare, args=(phrases,)) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(tones.asked) == len(phrases)
    assert set(lexicon.phrases) == set(phrases)


def test_closing_ends_the_synthesiser_and_keeps_what_is_prepared(make: Make, tones: ToneSynthesiser) -> None:
    lexicon = make()
    lexicon.prepare(WALKS)
    lexicon.close()
    assert tones.closed == 1
    assert isinstance(lexicon.utterance(*WALKS[0]), Utterance)
    assert isinstance(lexicon.clip(*WALKS[0]), Clip)


def test_no_voice_says_nothing_and_why() -> None:
    silent = SilentLexicon("Speech needs the pyttsx3 package.")
    assert silent.prepare(WALKS) == Prepared(0, 0, {}, "Speech needs the pyttsx3 package.")
    assert silent.utterance("walk", 1.0) is None
    assert silent.clip("walk", 1.0) is None
    silent.close()
