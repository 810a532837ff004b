"""Our own files with anything in them: told in a sentence, soon, and never the end of a class."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from caller.cli.say import Refused
from caller.cli.sheets import vocabulary
from caller.rig.music.grids import Grid, GridsFault, grid_of, keep_grid
from caller.rig.music.workshop import Workshop
from caller.rig.pedal.kept import kept_settings
from caller.rig.settings import Settings, read_settings, write_settings
from caller.rig.shelf import Shelf
from caller.rig.speech.voices import parse_voice, read_voice
from caller.teaching.written import read_programme
from caller.teaching.written_values import ProgrammeFault
from tests.outside.test_documents import HOSTILE_JSON, HOSTILE_TOML
from tests.teaching.test_written import LANTERN


@pytest.fixture(autouse=True)
def soon() -> Any:
    began = time.perf_counter()
    yield
    assert time.perf_counter() - began < 5


@pytest.mark.parametrize("kind", HOSTILE_TOML)
def test_settings_are_set_aside_and_the_usual_ones_hold(kind: str, tmp_path: Path) -> None:
    file = tmp_path / "settings.toml"
    file.write_text(HOSTILE_TOML[kind])
    settings, (told,) = read_settings(file)
    assert settings == Settings()
    assert len(told) < 700
    assert "set aside" in told or "can't be read" in told
    write_settings(file, Settings(count_db=-2.0))
    assert read_settings(file) == (Settings(count_db=-2.0), ())


@pytest.mark.parametrize(
    "text",
    [
        "[levels]\ncount_db = nan\n", "[levels]\ncount_db = inf\n", "[levels]\ncount_db = 1e300\n",
        '[levels]\ncount_db = "-2"\n', '[sound.offset_ms]\n"Radio" = nan\n', '[sound.offset_ms]\n"Radio" = 1e9\n',
        "[pedal]\nlimits = [1, 99999999999]\n", "[pedal]\nlimits = [nan, inf]\n", "[pedal]\nlimits = []\n",
        "[pedal]\ngestures = 5\n", "[calls]\nmanner = ['ahead']\n", "[calls]\nmanner = {a = 1}\n",
    ],
)  # fmt: skip
def test_a_setting_beyond_its_range_is_told_and_left_out(text: str, tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text(text)
    settings, told = read_settings(tmp_path / "settings.toml")
    assert settings == Settings()
    assert len(told) == 1


@pytest.mark.parametrize("kind", HOSTILE_TOML)
def test_a_programme_a_voice_and_a_vocabulary(kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = HOSTILE_TOML[kind]
    with pytest.raises(ProgrammeFault):
        read_programme(text, LANTERN)
    assert parse_voice(text, "mine")[0] is None
    (tmp_path / "caller").mkdir()
    (tmp_path / "caller" / "vocabulary.toml").write_text(text)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    with pytest.raises(Refused, match="vocabulary of your own"):
        vocabulary()


def test_a_programme_with_a_title_of_150000_characters_is_told() -> None:
    head = 'title = "{}"\n[[stage]]\nsaid = "a"\n'
    for text in (head, '[[stage]]\nname = "{}"\nsaid = "a"', '[[stage]]\nsaid = "{}"\n'):
        with pytest.raises(ProgrammeFault, match="more than"):
            read_programme(text.format("very " * 30_000), LANTERN)


def test_voices_that_are_like_one_another_in_a_long_row_are_told(tmp_path: Path) -> None:
    paths = {f"v{n}": tmp_path / f"v{n}.toml" for n in range(3000)}
    for n, path in enumerate(paths.values()):
        path.write_text(f'like = "v{n + 1}"\n')
    assert read_voice(paths["v0"], paths).voice is None


@pytest.mark.parametrize("kind", HOSTILE_TOML)
def test_where_the_beats_are(kind: str, tmp_path: Path) -> None:
    file = tmp_path / "music.toml"
    file.write_text(HOSTILE_TOML[kind])
    with pytest.raises(GridsFault):
        grid_of(file, "3f0c")
    with pytest.raises(GridsFault):
        keep_grid(file, "3f0c", "song", Grid(Fraction(104), Fraction(0)))
    assert file.read_text() == HOSTILE_TOML[kind]  # nothing that may still be mended is lost


@pytest.mark.parametrize("tempo", ['"1e4000"', '"nan"', "nan", "1e300", '"-104"', '"0"', "[]", '"' + "9" * 5000 + '"'])
def test_a_beat_beyond_any_dance_is_told(tempo: str, tmp_path: Path) -> None:
    file = tmp_path / "music.toml"
    file.write_text(f'[3f0c]\ntempo = {tempo}\nfirst_seconds = "0.5"\n')
    with pytest.raises(GridsFault, match="20 to 400"):
        grid_of(file, "3f0c")


@pytest.mark.parametrize("kind", HOSTILE_JSON)
def test_what_was_learnt_of_pedals_and_what_was_read_of_music(kind: str, tmp_path: Path) -> None:
    (tmp_path / "pedals.json").write_text(HOSTILE_JSON[kind])
    units, told = kept_settings(tmp_path / "pedals.json")
    assert units == {}
    assert "can't be read" in told


@pytest.mark.parametrize(
    "change",
    [
        lambda row: row.update(switches=[]), lambda row: row.update(latching="no"), lambda row: row.pop("inverted"),
        lambda row: row["switches"][0].update(number=128), lambda row: row["switches"][0].update(number=-1),
        lambda row: row["switches"][0].update(number=True), lambda row: row["switches"][0].update(number=64.5),
        lambda row: row["switches"][0].update(kind="lever"), lambda row: row.update(second={}),
        lambda row: row.update(expression={"number": 11, "heel": 0, "toe": 1e99}), lambda row: row.update(second=5),
    ],
)  # fmt: skip
def test_a_pedal_that_can_not_be_is_learnt_anew(change: Callable[[dict[str, Any]], object], tmp_path: Path) -> None:
    row: dict[str, Any] = {"switches": [{"kind": "control", "number": 64}], "latching": None, "inverted": False}
    file = tmp_path / "pedals.json"
    file.write_text(json.dumps({"Sole": row}))
    assert kept_settings(file)[1] == ""
    change(row)
    file.write_text(json.dumps({"Sole": row}))
    assert kept_settings(file)[0] == {}


def test_a_cache_with_anything_in_it_counts_as_empty(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    shelf.put("key", {"beat": 1}, b"body")
    (item,) = tmp_path.iterdir()
    whole = item.read_bytes()
    for spoilt in (b"", whole[:40], whole[:-1], b"[" * 100_000):
        item.write_bytes(spoilt)
        assert shelf.get("key") is None
    workshop, song = Workshop(tmp_path), tmp_path / "song.wav"
    song.write_bytes(b"no music")
    for text in HOSTILE_JSON.values():
        for told in tmp_path.glob("*.json"):
            told.write_text(text)
    with pytest.raises(Exception, match=r"song\.wav"):
        workshop.read(song)
