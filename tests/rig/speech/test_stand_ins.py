"""Who speaks where a voice can't: one sentence, and the rest is said all the same."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from caller.children.lines import Hung
from caller.rig.shelf import Shelf
from caller.rig.speech import sources
from caller.rig.speech.lexicon import SpokenLexicon
from caller.rig.speech.recorded import keep_words
from caller.rig.speech.stand_ins import SYSTEM, Backed, cast_of, in_line, instead, voice_or_stand_in
from caller.rig.speech.synthesiser import Request, WorkerSynthesiser
from caller.rig.speech.voices import Voice, find_voice
from caller.rig.speech.voicing import Unspoken, Voiceless
from tests.fakes.speech import ScriptedWorkers, ToneSynthesiser, tone

HILL = Voice("hill", "Hill", "piper", rate=160, pitch=40, ids={"any": "hill"})
DALE = Voice("dale", "Dale", rate=200, pitch=60, ids={"any": "dale"}, says={"R": "right"})
WALKS = [(words, 1.0) for words in ("walk", "rock", "step")]


def lexicon(folder: Path, first: object, then: ToneSynthesiser) -> SpokenLexicon:
    speaker = Backed(HILL, first, Backed(DALE, then, None))  # type: ignore[arg-type]
    return SpokenLexicon(HILL, speaker, Shelf(folder))


def test_a_voice_whose_synthesiser_ends_is_stood_in_for_from_there_on_and_one_sentence_says_so(tmp_path: Path) -> None:
    first, then = ToneSynthesiser(ends_after=1), ToneSynthesiser(version="tones 2")
    prepared = lexicon(tmp_path, first, then).prepare(WALKS)
    assert (prepared.rendered, prepared.why, prepared.unsaid) == (3, "", {})
    assert prepared.note == 'The tones have ended; the voice "dale" speaks instead.'
    assert [request.text for request in then.asked] == ["rock", "step"]


def test_a_stand_in_speaks_as_itself_at_the_same_share_of_its_own_rate() -> None:
    then = ToneSynthesiser()
    speaker = Backed(HILL, ToneSynthesiser(ends_after=0), Backed(DALE, then, None))
    speaker.render(Request("touch R", "hill", 216, 40))  # 1.35 times 160
    assert then.asked == [Request("touch right", "dale", 270, 60)]


def test_a_voice_that_the_synthesiser_does_not_have_is_stood_in_for(tmp_path: Path) -> None:
    first, then = ToneSynthesiser(lacks=("hill",)), ToneSynthesiser(version="tones 2")
    prepared = lexicon(tmp_path, first, then).prepare(WALKS)
    assert prepared.rendered == 3
    assert 'no voice "hill"' in prepared.note
    assert len(first.asked) == 1  # asked once; never again


def test_a_phrase_that_can_not_be_said_is_not_handed_on(tmp_path: Path) -> None:
    """What one synthesiser makes nothing of is left out: two voices in one class would be worse."""
    first, then = ToneSynthesiser(refuses={"rock": "Not this one."}), ToneSynthesiser()
    prepared = lexicon(tmp_path, first, then).prepare(WALKS)
    assert prepared.unsaid == {"rock": "Not this one."}
    assert (prepared.note, then.asked) == ("", [])


def test_a_synthesiser_that_hangs_is_given_up_and_stood_in_for(tmp_path: Path) -> None:
    hangs = WorkerSynthesiser(("none",), start=ScriptedWorkers(*[Hung()] * 3), source="piper")
    prepared = lexicon(tmp_path, hangs, ToneSynthesiser()).prepare([*WALKS, ("touch", 1.0)])
    assert "does not answer" in prepared.note
    assert prepared.note.endswith('the voice "dale" speaks instead.')
    assert prepared.why == ""
    assert prepared.rendered == 3
    assert "fails at" in prepared.unsaid["walk"]  # it had its two tries before there was a verdict


def test_what_a_stand_in_said_is_kept_as_the_stand_ins(tmp_path: Path) -> None:
    lexicon(tmp_path, ToneSynthesiser(ends_after=0), ToneSynthesiser(version="tones 2")).prepare(WALKS)
    sound = ToneSynthesiser()
    assert lexicon(tmp_path, sound, ToneSynthesiser(version="tones 2")).prepare(WALKS).rendered == 3
    assert len(sound.asked) == 3


def test_with_nobody_left_the_last_ones_reason_is_told(tmp_path: Path) -> None:
    speaker = Backed(HILL, ToneSynthesiser(ends_after=0), Backed(DALE, ToneSynthesiser(ends_after=0), None))
    prepared = SpokenLexicon(HILL, speaker, Shelf(tmp_path)).prepare(WALKS)
    assert prepared.why == "The tones have ended."


def test_a_synthesiser_that_has_failed_does_not_stand_in_for_itself(tmp_path: Path) -> None:
    tones = ToneSynthesiser(ends_after=0)
    prepared = SpokenLexicon(HILL, Backed(HILL, tones, Backed(DALE, tones, None)), Shelf(tmp_path)).prepare(WALKS)
    assert (prepared.why, prepared.note) == ("The tones have ended.", "")


def test_closing_is_no_reason_to_stand_in() -> None:
    then = ToneSynthesiser()
    speaker = Backed(HILL, ToneSynthesiser(ends_after=0), Backed(DALE, then, None))
    speaker.close()
    with pytest.raises(Voiceless):
        speaker.render(Request("walk"))
    assert (speaker.note, then.asked, then.closed) == ("", [], 1)


def folder_of(path: Path, **texts: str) -> Path:
    for name, text in texts.items():
        (path / f"{name}.toml").write_text(text, encoding="utf-8")
    return path


def names(line: tuple[Voice, ...]) -> list[str]:
    return [voice.name for voice in line]


def test_stand_ins_come_in_turn_each_once_down_to_the_systems_own(tmp_path: Path) -> None:
    folder = folder_of(tmp_path, a='otherwise = "b"', b='otherwise = "a"', c='otherwise = "none"', standard="")
    assert names(in_line(find_voice("a", [folder]), [folder])) == ["a", "b", "standard", "system"]
    assert names(in_line(find_voice("c", [folder]), [folder])) == ["c", "standard", "system"]
    assert names(in_line(find_voice("standard", [folder]), [folder])) == ["standard", "system"]


def test_a_voice_of_a_package_that_is_not_installed_is_stood_in_for_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    absent = sources.Source("piper", "packaged:PiperDriver", ("no_such_module_here",), (), "piper-tts", "GPL")
    monkeypatch.setitem(sources.SOURCES, "piper", absent)
    folder = folder_of(tmp_path, warm='engine = "piper"', standard="")
    started: list[str] = []

    def start(source: str) -> ToneSynthesiser:
        started.append(source)
        return ToneSynthesiser()

    cast = cast_of(find_voice("warm", [folder]), [folder], start)
    assert cast.speaker is not None
    assert cast.speaker.voice.name == "standard"
    assert "pip install piper-tts" in cast.note
    assert cast.note.endswith('the voice "standard" speaks instead.')
    assert started == ["pyttsx3"]


def test_with_no_synthesiser_at_all_one_sentence_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(
        sources.SOURCES,
        "pyttsx3",
        sources.Source("pyttsx3", "drivers:EspeakDriver", ("no_such_module",), (), "pyttsx3", ""),
    )
    cast = cast_of(Voice("hill", "Hill"), [tmp_path], lambda source: ToneSynthesiser())
    assert cast.speaker is None
    assert cast.note == "A voice of pyttsx3 needs a package that isn't installed: pip install pyttsx3"


@pytest.mark.parametrize(("text", "says"), [(None, 'no voice called "hill"'), ("rate = 1", "hill.toml, line 1: rate")])
def test_a_voice_that_is_missing_or_faulty_leaves_the_standard_one_and_a_sentence(
    tmp_path: Path, text: str | None, says: str
) -> None:
    folder = folder_of(tmp_path, standard="rate = 150", **({"hill": text} if text else {}))
    voice, note = voice_or_stand_in("hill", [folder])
    assert voice.rate == 150
    assert says in note
    assert note.endswith('the voice "standard" speaks instead.')
    assert voice_or_stand_in("standard", [folder])[1] == ""


def test_where_the_standard_voice_is_faulty_too_the_system_speaks(tmp_path: Path) -> None:
    folder = folder_of(tmp_path, standard="rate = 1")
    voice, note = voice_or_stand_in("standard", [folder])
    assert voice == SYSTEM
    assert note == instead(note.split("; the voice")[0], SYSTEM)


def test_words_that_are_not_recorded_are_said_by_the_stand_in_equally_loud(tmp_path: Path) -> None:
    folder = folder_of(tmp_path, anna='engine = "recorded"', standard="")
    anna = find_voice("anna", [folder])
    assert anna.recordings == folder / "anna"
    keep_words(folder / "anna", "walk", tone(0.6, 48_000, level=0.02).samples)
    tones = ToneSynthesiser()
    cast = cast_of(anna, [folder], lambda source: tones)
    assert cast.speaker is not None
    lexicon = SpokenLexicon(anna, cast.speaker, Shelf(tmp_path / "kept"))
    assert lexicon.prepare(WALKS).unsaid == {}
    assert [request.text for request in tones.asked] == ["rock", "step"]
    levels = [float(np.sqrt(np.mean(lexicon.phrases[phrase].clip.samples ** 2))) for phrase in WALKS]
    assert max(levels) / min(levels) < 10 ** (1 / 20)  # within 1 dB: the recording was made far softer


def test_a_word_recorded_anew_is_heard_anew_and_the_rest_stays_kept(tmp_path: Path) -> None:
    folder = folder_of(tmp_path, anna='engine = "recorded"', standard="")
    anna, tones = find_voice("anna", [folder]), ToneSynthesiser()

    def made() -> SpokenLexicon:
        cast = cast_of(anna, [folder], lambda source: tones)
        assert cast.speaker is not None
        return SpokenLexicon(anna, cast.speaker, Shelf(tmp_path / "kept"))

    keep_words(folder / "anna", "walk", tone(0.6, 48_000).samples)
    assert made().prepare(WALKS).rendered == 3
    assert made().prepare(WALKS).kept == 3
    keep_words(folder / "anna", "walk", tone(0.9, 48_000).samples)
    again = made()
    told = again.prepare(WALKS)
    assert (told.rendered, told.kept) == (1, 2)
    assert again.phrases["walk", 1.0].clip.frames > 0.85 * 48_000


def test_a_damaged_recording_is_stood_in_for_and_named(tmp_path: Path) -> None:
    folder = folder_of(tmp_path, anna='engine = "recorded"', standard="")
    file = keep_words(folder / "anna", "walk", tone(0.6, 48_000).samples)
    file.write_bytes(b"no sound")
    tones = ToneSynthesiser()
    cast = cast_of(find_voice("anna", [folder]), [folder], lambda source: tones)
    assert cast.speaker is not None
    told = SpokenLexicon(cast.speaker.voice, cast.speaker, Shelf(tmp_path / "kept")).prepare(WALKS)
    assert told.unsaid == {}
    assert str(file) in told.note
    assert len(tones.asked) == 3


def test_a_refusal_names_the_phrase_not_the_voice() -> None:
    with pytest.raises(Unspoken, match="not recorded"):
        cast_of_nothing().render(Request("walk"))


def cast_of_nothing() -> Backed:
    from caller.rig.speech.recorded import RecordedWords

    voice = Voice("anna", "Anna", "recorded", recordings=Path("nowhere"))
    return Backed(voice, RecordedWords(voice), None)
