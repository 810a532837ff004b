"""Choosing among a system's voices, and its data where espeak can find it."""

from __future__ import annotations

import inspect
import re
import tomllib
from pathlib import Path

import pytest

from caller.rig.speech import drivers, packaged
from caller.rig.speech.drivers import choose_voice, driver_class, short_path
from caller.rig.speech.sources import SOURCES, Source
from caller.rig.speech.voicing import Driver, VoiceFound, VoiceMissing

VOICES = (
    VoiceFound("sys.anna", "Anna", ("de_DE",)),
    VoiceFound("sys.daniel", "Daniel (English)", ("en_GB",)),
    VoiceFound("sys.zoe", "Zoe", ("en-US", "en")),
)


@pytest.mark.parametrize(
    ("wanted", "own", "chosen"),
    [
        ("", "sys.anna", "sys.anna"),
        ("sys.zoe", "sys.anna", "sys.zoe"),
        ("en", "sys.anna", "sys.daniel"),
        ("en", "sys.zoe", "sys.zoe"),
        ("en-us", "sys.anna", "sys.zoe"),
        ("EN_GB", "sys.zoe", "sys.daniel"),
        ("zoe", "sys.anna", "sys.zoe"),
    ],
)
def test_a_voice_is_chosen_by_id_then_language_then_name(wanted: str, own: str, chosen: str) -> None:
    assert choose_voice(wanted, VOICES, own) == chosen


@pytest.mark.parametrize("wanted", ["fr", "sys.none", "e"])
def test_a_voice_that_is_not_there_is_said_by_name(wanted: str) -> None:
    with pytest.raises(VoiceMissing, match=f'no voice "{wanted}"'):
        choose_voice(wanted, VOICES[:1], "sys.anna")


def test_a_long_path_is_shortened_by_a_link_and_a_short_one_left(tmp_path: Path) -> None:
    long = tmp_path.joinpath("d" * 80, "e" * 80)
    long.mkdir(parents=True)
    (long / "phontab").touch()
    assert short_path(Path("/usr/share"), tmp_path) == Path("/usr/share")
    for _ in range(2):
        link = short_path(long, tmp_path)
        assert link == tmp_path / "espeak"
        assert (link / "phontab").exists()


def test_every_source_has_a_driver_of_its_own() -> None:
    classes = {source: driver_class(source) for source in SOURCES}
    assert len(set(classes.values())) == len(SOURCES)
    for made in classes.values():
        assert all(callable(getattr(made, name)) for name in ("voices", "save"))
        assert list(inspect.signature(made.save).parameters) == list(inspect.signature(Driver.save).parameters)


def test_every_driver_speaks_for_a_source() -> None:
    """One without a row could never be asked for. Which of drivers' two speaks hangs on the system."""
    made = {
        name
        for module in (drivers, packaged)
        for name, one in vars(module).items()
        if inspect.isclass(one) and one.__module__ == module.__name__ and name.endswith("Driver")
    }
    rows = {source.driver.partition(":")[2] for source in SOURCES.values()}
    assert made - rows <= {"EspeakDriver", "SystemDriver"}


@pytest.mark.parametrize(
    "source", [source for source in SOURCES.values() if source.fetched_mb], ids=lambda one: one.name
)
def test_what_a_source_needs_can_be_installed_with_this_program(source: Source) -> None:
    project = tomllib.loads((Path(__file__).parents[3] / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = [{re.split(r"[^\w-]", words)[0] for words in extra} for extra in project["optional-dependencies"].values()]
    assert set(source.install.split()) in extras
