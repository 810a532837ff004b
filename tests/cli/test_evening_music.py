"""The music of an evening: each item's own, and remembered."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from caller.cli import command_line
from caller.cli.evening_laid import lay
from caller.cli.evening_music import Playlist, keep_music, kept_music
from caller.transport.order import Order
from caller.transport.state import State
from tests.fakes.music import HandMusic
from tests.fakes.songs import song_of
from tests.session.evenings import FULL, Hall, evening_of, requested, rest, run, short

SHORT = short()


def music(*tempos: int) -> HandMusic:
    made = HandMusic(lambda tempos: song_of(FULL, tempos, seconds=60, first_seconds=Fraction(3, 5)))
    made.arrive(*tempos)
    return made


def test_each_dance_has_its_own_music_and_is_silent_without() -> None:
    lantern, chalk = music(108), music(120)
    playlist = Playlist({"Lantern Row": lambda: lantern, "Chalk Line": lambda: chalk})
    hall = Hall(evening_of(run(SHORT), requested(SHORT, "Chalk Line"), requested(SHORT, "Slow Water")), music=playlist)
    heard = []
    for _ in range(3):
        hall.order(Order.GO)
        take = hall.session.air.playout.parts[-1].piece
        heard.append({placed.clip.key for placed in take.score.placements if placed.kind == "music"})
        hall.comes_to(State.WAITING)
    assert heard == [{"clicks 108"}, {"clicks 120"}, set()]
    assert not chalk.wanted
    hall.session.close()
    assert lantern.closed
    assert chalk.closed


def test_what_is_next_is_being_made_ready_while_it_is_waited_for() -> None:
    opened: list[str] = []

    def opening(title: str) -> HandMusic:
        opened.append(title)
        return music(120)

    playlist = Playlist({title: lambda title=title: opening(title) for title in ("Chalk Line", "Slow Water")})  # type: ignore[misc]
    slots = (run(SHORT), requested(SHORT, "Chalk Line"), rest(SHORT), requested(SHORT, "Slow Water"))
    hall = Hall(evening_of(*slots), music=playlist)
    assert opened == []
    hall.order(Order.GO)
    assert opened == []
    hall.order(Order.NEXT_ITEM)
    assert opened == ["Chalk Line"]
    hall.order(Order.NEXT_ITEM)
    hall.order(Order.GO)
    assert opened == ["Chalk Line"]
    hall.comes_to(State.WAITING)  # the break, in which the next one is made ready
    assert opened == ["Chalk Line", "Slow Water"]


def test_the_recording_of_a_routine_is_remembered_while_it_is_there(tmp_path: Path) -> None:
    kept, song = tmp_path / "kept.json", tmp_path / "song.flac"
    song.write_bytes(b"")
    keep_music({"Lantern Row": str(song), "Chalk Line": str(tmp_path / "gone.flac")}, kept)
    keep_music({"Slow Water": str(song)}, kept)
    assert kept_music(kept) == {"Lantern Row": str(song), "Slow Water": str(song)}
    kept.write_text("no json")
    assert kept_music(kept) == {}


@pytest.mark.parametrize("content", [None, b"RIFF\x24\x00\x00\x00WAVEfmt nonsense", b"\x00" * 5000])
def test_a_recording_that_is_missing_or_damaged_costs_an_evening_one_sentence(
    content: bytes | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """It goes on with the count track; nor is such a recording remembered."""
    for name in ("DATA", "CONFIG", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    song, plan = tmp_path / "song.wav", tmp_path / "plan.toml"
    if content is not None:
        song.write_bytes(content)
    plan.write_text('starts = "19:00"\ncloses = "21:00"\n[[item]]\nroutine = "Chalk Line"\nmusic = "song.wav"\n')
    found = lay(command_line("evening").parse_args(["evening", str(plan)]))
    assert found.music == {}
    assert [slot.title for slot in found.slots] == ["Chalk Line"]
    error = capsys.readouterr().err
    assert str(song) in error
    assert error.rstrip().endswith("until then the count track goes on alone")
    assert error.count("\n") == 1
    assert kept_music() == {}
