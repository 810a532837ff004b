"""Which device is tried first, and what is said where none will do."""

from __future__ import annotations

import json
import sys

import pytest

from caller.rig import devices
from caller.rig.devices import NO_DEVICE, Device, candidates, wish_unmet


def device(number: int, name: str, host: str = "ALSA", default: bool = False) -> Device:
    return Device(number, name, host, 2, default)


LINUX = (
    device(0, "HDA Intel: ALC (hw:0,0)"),
    device(1, "default", default=True),
    device(2, "pulse"),
    device(3, "pipewire"),
)
WINDOWS = (
    device(0, "Speakers (USB)", "MME", default=True),
    device(1, "Speakers (USB)", "Windows DirectSound"),
    device(2, "Headphones", "Windows WASAPI"),
    device(3, "Speakers (USB)", "Windows WASAPI"),
)


def names(found: tuple[Device, ...]) -> list[str]:
    return [one.name for one in found]


def test_on_linux_the_sound_servers_come_before_the_bare_card() -> None:
    assert names(candidates(LINUX, "", "linux")) == ["pipewire", "pulse", "default", "HDA Intel: ALC (hw:0,0)"]


def test_elsewhere_the_systems_default_comes_first() -> None:
    mac = (device(0, "Built-in"), device(1, "USB", default=True))
    assert names(candidates(mac, "", "darwin")) == ["USB", "Built-in"]


@pytest.mark.parametrize(
    ("wish", "platform", "found"),
    [
        ("2", "linux", [2]),
        ("9", "linux", []),
        ("pulse", "linux", [2]),
        ("PULSE", "linux", [2]),
        ("intel", "linux", [0]),
        ("p", "linux", [2, 3]),
        ("nowhere", "linux", []),
        ("speakers", "win32", [3, 0, 1]),
    ],
)
def test_a_wish_is_a_number_a_name_or_a_part_of_one(wish: str, platform: str, found: list[int]) -> None:
    table = WINDOWS if platform == "win32" else LINUX
    assert [one.number for one in candidates(table, wish, platform)] == found


def test_a_name_in_full_beats_a_part_of_a_name() -> None:
    table = (device(0, "USB audio pro"), device(1, "USB audio"))
    assert [one.number for one in candidates(table, "usb audio", "darwin")] == [1, 0]


def test_what_is_said_names_the_wish_and_what_there_is() -> None:
    assert wish_unmet(LINUX[1:3], "tuba") == 'No sound device is called "tuba"; there are: default, pulse.'
    assert wish_unmet((), "tuba") == wish_unmet((), "") == NO_DEVICE


def test_a_report_says_which_device_is_best() -> None:
    rows = [{"number": 0, "name": "pulse", "host": "ALSA", "channels": 2, "default": False}]
    printed = json.dumps({"version": "V19", "devices": rows}).encode()
    report = devices._report(printed)
    assert (report.library, report.best, report.sentence) == ("V19", "pulse", "")


@pytest.mark.parametrize("printed", [b"", b'{"error": "no library"}', b'{"version": "V19", "devices": []}'])
def test_a_report_without_a_device_says_so_in_one_sentence(printed: bytes) -> None:
    report = devices._report(printed)
    assert report.sentence.endswith(".")
    assert report.best == ""


def test_the_report_lists_in_a_child_and_leaves_sounddevice_out_of_this_process(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("PULSE_SERVER", "unix:/nowhere")
    loaded = "sounddevice" in sys.modules
    report = devices.sound_report()
    assert bool(report.sentence) != bool(report.best)
    assert ("sounddevice" in sys.modules) == loaded
