"""``caller sound``: which device, what is said without one, and what is kept."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path

import pytest

from caller.cli import command_line, main
from caller.cli.say import Refused
from caller.cli.sound import keep, missing, names
from caller.rig.devices import NO_DEVICE, SOUND_MISSING, Device, SoundReport
from caller.rig.settings import Settings, read_settings, settings_file, write_settings
from caller.screen.lateness import Offset

DEVICES = (
    Device(0, "pulse", "ALSA", 2, True),
    Device(1, "Hall", "ALSA", 2, False),
    Device(2, "pulse", "OSS", 2, False),
)
REPORT = SoundReport("V19", DEVICES, "pulse", "")


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))


@pytest.mark.parametrize(
    ("wish", "why"),
    [
        ("", ""),
        ("hall", ""),
        ("none", "Sound is off, as asked or set: name a device with --sound."),
        ("tuba", 'No sound device is called "tuba"; there are: pulse, Hall.'),
    ],
)
def test_what_can_not_be_heard_is_told_in_one_sentence(wish: str, why: str) -> None:
    assert missing(REPORT, wish) == why


@pytest.mark.parametrize("sentence", [NO_DEVICE, SOUND_MISSING])
def test_a_machine_without_sound_says_what_it_lacks(sentence: str) -> None:
    assert missing(replace(REPORT, devices=(), best="", sentence=sentence), "hall") == sentence


def test_sound_that_is_off_is_refused_before_any_screen(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sound", "--sound", "none", "--plain"]) == 1
    assert capsys.readouterr().err == "caller: Sound is off, as asked or set: name a device with --sound.\n"


def test_a_device_listed_twice_is_named_once() -> None:
    assert names(REPORT) == ["pulse", "Hall"]


def test_what_is_set_is_kept_beside_other_devices(capsys: pytest.CaptureFixture[str]) -> None:
    write_settings(settings_file(), Settings(device="Hall", offset_ms={"Hall": 20.0}))
    keep(Offset("Radio", 180.0))
    settings, told = read_settings(settings_file())
    assert (settings, told) == (Settings(device="Hall", offset_ms={"Hall": 20.0, "Radio": 180.0}), ())
    assert capsys.readouterr().out == "Kept for Radio: +180 ms.\n"


def test_settings_that_can_not_be_written_are_told(tmp_path: Path) -> None:
    (tmp_path / "caller").write_text("a file where the folder should be")
    with pytest.raises(Refused, match=r"the offset can't be kept \(.*settings\.toml: "):
        keep(Offset("Radio", 180.0))


def test_it_takes_a_device_and_plain_lines() -> None:
    asked: argparse.Namespace = command_line().parse_args(["sound", "--sound", "Hall", "--plain"])
    assert (asked.sound, asked.plain, asked.look) == ("Hall", True, "dark")
