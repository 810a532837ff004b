"""What ``caller dance`` takes from the user's settings, and what it leaves in them."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from caller.calls.plan import Manner
from caller.cli import command_line
from caller.cli.batches import BATCH, COVER_SECONDS, in_batches, telling_in_batches
from caller.cli.dance import DanceOptions, openings, phrases_of
from caller.cli.live import Begun, keep, run_live, settings_of
from caller.cli.options import read
from caller.cli.say import Refused
from caller.rig.settings import settings_file
from caller.rig.speech.lexicon import SilentLexicon
from caller.session import Live
from caller.teaching.play import reading_seconds
from caller.transport.order import Order
from tests.fakes.speaker import HandSpeaker
from tests.session.classroom import Class, looked


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))


def asked(*words: str) -> DanceOptions:
    return read(DanceOptions, command_line().parse_args(["dance", "Lantern Row", *words]))


def write(text: str) -> None:
    settings_file().parent.mkdir(parents=True, exist_ok=True)
    settings_file().write_text(text)


def kept() -> dict[str, object]:
    return tomllib.loads(settings_file().read_text()) if settings_file().exists() else {}


def test_the_command_line_comes_before_what_is_set() -> None:
    write('[sound]\ndevice = "Hall"\n[pedal]\nport = "Sole"\n[calls]\nmanner = "prompts"\n')
    found = settings_of(asked())
    assert (found.device, found.port, found.manner) == ("Hall", "Sole", Manner.PROMPTS)
    said = settings_of(asked("--sound", "none", "--manner", "ahead"))
    assert (said.device, said.port, said.manner) == ("none", "Sole", Manner.AHEAD)


def test_what_is_wrong_with_the_file_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    write('[calls]\nmanner = "loud"\n')
    settings_of(asked())
    assert "calls.manner must be ahead" in capsys.readouterr().err


def test_a_class_that_changed_nothing_leaves_nothing() -> None:
    words = asked("--sound", "none", "--manner", "counts")
    room = Class()
    looked(room.session)
    settings = settings_of(words)
    room.order(Order.MANNER, Order.MANNER)
    assert room.session.manner is settings.manner
    keep(settings, words, room.session, keeps_manner=True)
    assert kept() == {}


def test_levels_and_the_way_of_calling_are_kept_as_the_class_left_them() -> None:
    words, room = asked(), Class()
    looked(room.session)
    settings = settings_of(words)
    room.order(Order.COUNT_SOFTER, Order.MANNER)
    keep(settings, words, room.session, keeps_manner=True)
    assert kept() == {"calls": {"manner": "on-count"}, "levels": {"count_db": -2.0}}


def test_an_offset_is_kept_for_the_device_that_played() -> None:
    words, room = asked("--offset", "180"), Class()
    looked(room.session)
    keep(settings_of(words), words, room.session, keeps_manner=True)
    assert kept() == {"sound": {"offset_ms": {"a speaker driven by hand": 180.0}}}
    assert settings_of(asked()).offset_of("a speaker driven by hand") == 180


def test_the_voice_is_made_ready_for_whatever_may_be_ordered() -> None:
    """All ways of calling and the easier way; what is said first comes first, and nothing twice."""
    room = Class()
    phrases = phrases_of(room.session.dance, Manner.COUNTS)
    assert len(phrases) == len(set(phrases))
    words = {words for words, _ in phrases}
    assert {"walk, walk", "restart"} <= words
    assert phrases[0][0] not in {"walk, walk", "restart"}


def test_what_is_said_first_is_few_and_every_other_phrase_is_in_a_batch() -> None:
    dance = Class().session.dance
    opening, phrases = openings(dance, Manner.AHEAD), phrases_of(dance, Manner.AHEAD)
    batches = in_batches([opening[:3], opening[3:]], phrases)
    assert {"five", "six"} <= {words for words, _ in opening}
    assert len(opening) < len(phrases) / 10
    flat = [phrase for batch in batches for phrase in batch]
    assert len(flat) == len(set(flat))
    assert set(flat) == set(phrases) - set(opening)
    assert all(0 < len(batch) <= BATCH for batch in batches)


def test_of_a_telling_so_much_is_made_ready_first_as_covers_the_rest() -> None:
    said = [("Lantern Row.", 1.0), ("thirty-two counts, four walls.", 1.0), ("the right foot.", 1.0), ("five.", 1.0)]
    first, *later = telling_in_batches([*said, said[0]])
    assert first + [phrase for batch in later for phrase in batch] == said
    assert [len(batch) for batch in later] == [1] * len(later)
    covers = [sum(reading_seconds(words) for words, _ in first[:n]) for n in range(len(first) + 1)]
    assert covers[-1] >= COVER_SECONDS > covers[-2]
    assert telling_in_batches(said[:1]) == [said[:1]]
    assert telling_in_batches(()) == [[]]


def test_what_was_begun_for_a_class_that_comes_to_nothing_is_closed(monkeypatch: pytest.MonkeyPatch) -> None:
    class Voice(SilentLexicon):
        closed = 0

        def close(self) -> None:
            self.closed += 1

    voice, speaker = Voice("none"), HandSpeaker()
    monkeypatch.setattr(Begun, "of", lambda *_: Begun(speaker, voice))

    def refuses(*_: object) -> Live:
        raise Refused("no such sheet")

    with pytest.raises(Refused):
        run_live(refuses, asked("--plain"))
    assert (voice.closed, speaker.closed) == (1, True)
