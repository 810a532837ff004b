"""Voices: the text is the input, the complaints say where and what."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.calls.wording import spoken_facing
from caller.rig.speech.speakable import speakable
from caller.rig.speech.voices import NoSuchVoice, Voice, find_voice, parse_voice, voice_folders, voices_on_hand
from caller.routine.facing import EIGHTHS, Facing

GOOD = """
title = "Hill"
engine = "pyttsx3"
rate = 160
pitch = 40
gain_db = -2

[voice]
linux = "gmw/en-gb"
macos = "en"

[says]
"1/4" = "a quarter"
"1 1/4" = "one and a quarter"
"7:30" = "half past seven"
"R" = "right"
"""


def voice_from(text: str) -> Voice:
    voice, complaints = parse_voice(text, "hill")
    assert complaints == ()
    assert voice is not None
    return voice


def test_a_voice_is_what_its_file_says() -> None:
    voice = voice_from(GOOD)
    assert (voice.name, voice.title, voice.engine, voice.rate, voice.pitch) == ("hill", "Hill", "pyttsx3", 160, 40)
    assert voice.gain_db == -2.0
    assert (voice.id_on("linux"), voice.id_on("darwin"), voice.id_on("win32")) == ("gmw/en-gb", "en", "")


def test_an_empty_file_is_the_system_voice_at_a_middle_rate() -> None:
    voice = voice_from("")
    assert (voice.title, voice.id_on("linux"), voice.rate, voice.pitch, voice.gain_db) == ("hill", "", 175, 50, 0.0)


@pytest.mark.parametrize(
    ("written", "spoken"),
    [
        ("pivot 1/4 R", "pivot a quarter right"),
        ("turn 1 1/4", "turn one and a quarter"),
        ("face 7:30", "face half past seven"),
        ("r, Right", "right, Right"),
        ("Rock R-R", "Rock right-right"),
        ("11/4 at 17:30", "11/4 at 17:30"),
        ("1/4/4", "1/4/4"),
        ("rRr", "rRr"),
        ("<b>R</b>", "b right /b"),
    ],
)
def test_words_are_spoken_as_the_voice_says_them(written: str, spoken: str) -> None:
    assert voice_from(GOOD).spoken(written) == spoken


def test_spoken_words_are_not_looked_up_again() -> None:
    voice = voice_from('[says]\n"a" = "b"\n"b" = "c"')
    assert voice.spoken("a b") == "b c"


def test_a_word_that_only_looks_like_another_is_left_as_written() -> None:
    voice = voice_from('[says]\n"mix" = "blend"')
    assert voice.spoken("MIX m\u0131x m\u0130x") == "blend m\u0131x m\u0130x"


@given(st.text())
def test_whatever_is_written_comes_out_plain(words: str) -> None:
    spoken = voice_from(GOOD).spoken(words)
    assert spoken == speakable(spoken)


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("rate = 400", 1, "rate must be a whole number from 80 to 260, not 400"),
        ("\nrate = 170.5", 2, "whole number"),
        ("rate = true", 1, "not True"),
        ("pitch = -1", 1, "from 0 to 99"),
        ('gain_db = "loud"', 1, "from -12 to 12, not 'loud'"),
        ('engine = "steam"', 1, "must be one of pyttsx3, nanotts, hibari, piper, recorded, not 'steam'"),
        ("title = 3", 1, "must be words in quotes"),
        ("tempo = 3", 1, '"tempo" means nothing here; known: title'),
        ("voice = 3", 1, "[voice]"),
        ('[voice]\nbeos = "x"', 2, "known: linux, macos, windows, any"),
        ("[voice]\nlinux = 4", 2, "must be words in quotes, not 4"),
        ('[says]\n"x" = "<>"', 2, "needs words that can be said"),
        ('[says]\n"" = "x"', 2, "needs words that can be said"),
        ('like = "nobody"', 1, "no sound voice 'nobody'"),
        ("title = \nrate = 3", 1, "no TOML"),
        ("title = 'x'\nrate = = 3", 2, "no TOML"),
    ],
)
def test_a_complaint_says_where_and_what(text: str, line: int, says: str) -> None:
    voice, complaints = parse_voice(text, "hill")
    assert voice is None
    assert [complaint.place.line for complaint in complaints] == [line]
    assert says in str(complaints[0])
    assert str(complaints[0]).startswith(f"hill.toml, line {line}: ")


def test_every_fault_is_told_at_once() -> None:
    _, complaints = parse_voice("rate = 1\npitch = 100\nfoo = 1", "hill")
    assert {complaint.place.line for complaint in complaints} == {1, 2, 3}


@given(st.text())
def test_reading_never_raises(text: str) -> None:
    voice, complaints = parse_voice(text, "hill")
    assert (voice is None) == bool(complaints)


def folder_of(path: Path, **texts: str) -> Path:
    path.mkdir()
    for name, text in texts.items():
        (path / f"{name}.toml").write_text(text, encoding="utf-8")
    return path


def test_the_teachers_own_voice_hides_a_shipped_one_of_its_name(tmp_path: Path) -> None:
    shipped = folder_of(tmp_path / "shipped", hill="rate = 150", dale="rate = 150")
    own = folder_of(tmp_path / "own", hill="rate = 190")
    folders = (shipped, own, tmp_path / "missing")
    assert [(file.path.stem, file.voice and file.voice.rate) for file in voices_on_hand(folders)] == [
        ("dale", 150),
        ("hill", 190),
    ]
    assert find_voice("hill", folders).rate == 190


def test_a_voice_like_another_tells_only_what_differs(tmp_path: Path) -> None:
    folder = folder_of(tmp_path / "voices", hill=GOOD, dale='like = "hill"\nrate = 120\n[says]\n"L" = "left"')
    dale = find_voice("dale", [folder])
    assert (dale.title, dale.rate, dale.pitch, dale.id_on("linux")) == ("dale", 120, 40, "gmw/en-gb")
    assert dale.spoken("R L") == "right left"


def test_voices_like_each_other_are_complained_of(tmp_path: Path) -> None:
    folder = folder_of(tmp_path / "voices", hill='like = "dale"', dale='like = "hill"')
    assert [file.voice for file in voices_on_hand([folder])] == [None, None]


def test_a_voice_that_is_not_there_is_told_with_those_that_are(tmp_path: Path) -> None:
    folder = folder_of(tmp_path / "voices", hill=GOOD, dale="")
    with pytest.raises(NoSuchVoice, match=r'no voice called "glen"; those on hand: dale, hill\.'):
        find_voice("glen", [folder])


def test_a_faulty_voice_is_told_by_its_fault(tmp_path: Path) -> None:
    folder = folder_of(tmp_path / "voices", hill="rate = 1")
    with pytest.raises(NoSuchVoice, match=r"hill\.toml, line 1: rate must be"):
        find_voice("hill", [folder])


def test_a_file_that_is_no_text_is_a_complaint(tmp_path: Path) -> None:
    (tmp_path / "hill.toml").write_bytes(b"\xff\xfe\x00")
    (file,) = voices_on_hand([tmp_path])
    assert file.voice is None
    assert "UTF-8" in str(file.complaints[0])


def test_a_file_saved_with_a_byte_order_mark_reads_like_any_other(tmp_path: Path) -> None:
    (tmp_path / "hill.toml").write_bytes(b"\xef\xbb\xbfrate = 150\r\n")
    assert find_voice("hill", [tmp_path]).rate == 150


SHIPPED = {file.path.stem: file for file in voices_on_hand(voice_folders()[:1])}


def test_several_voices_are_shipped_and_sound() -> None:
    assert {"standard", "crisp", "low"} <= set(SHIPPED)
    assert [file.complaints for file in SHIPPED.values() if file.complaints] == []


@pytest.mark.parametrize("name", sorted(SHIPPED))
def test_a_shipped_voice_says_every_facing_as_the_calls_do(name: str) -> None:
    voice = SHIPPED[name].voice
    assert voice is not None
    for eighths in range(EIGHTHS):
        facing = Facing(eighths)
        assert voice.spoken(f"({facing})") == spoken_facing(facing)
    assert voice.spoken("1/4 & 12:00") == "a quarter and twelve o'clock"


@pytest.mark.parametrize("name", sorted(SHIPPED))
def test_a_shipped_voice_at_its_quickest_is_still_understood(name: str) -> None:
    # Foulke and Sticht 1969 (second hand): understanding falls faster beyond about 275 words a minute.
    voice = SHIPPED[name].voice
    assert voice is not None
    assert voice.rate * 1.35 <= 275
