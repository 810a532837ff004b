"""Settings, kept: written whole or not at all, and nothing of the teacher's lost. The files are read back with Python's
own TOML reader."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.calls.plan import Manner
from caller.rig.settings import LATEST_MS, SOONEST_MS, Settings, read_settings, write_settings
from caller.transport.expression import LEAST_APART_PERCENT, LEAST_PERCENT, MOST_PERCENT, Limits
from caller.transport.foot import Gesture
from caller.transport.footing import PEDAL_ORDERS
from caller.transport.levels import LOUDEST_DB, SOFTEST_DB
from caller.transport.order import Order
from caller.transport.state import GoOn

names = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=20)
decibels = st.floats(SOFTEST_DB, LOUDEST_DB)
percents = st.integers(LEAST_PERCENT, MOST_PERCENT)
limits = st.tuples(percents, percents).filter(lambda ends: abs(ends[0] - ends[1]) >= LEAST_APART_PERCENT)
limits = limits.map(lambda ends: Limits(*ends))
gestures = st.dictionaries(st.sampled_from(Gesture), st.sampled_from(PEDAL_ORDERS) | st.none())
settings = st.builds(
    Settings,
    names,
    st.dictionaries(names, st.floats(SOONEST_MS, LATEST_MS), max_size=3),
    names,
    st.sampled_from(Manner),
    st.sampled_from(GoOn),
    decibels,
    decibels,
    limits=limits,
    gestures=gestures,
    second=gestures,
)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "caller" / "settings.toml"


def test_without_a_file_the_usual_settings_hold(file: Path) -> None:
    assert read_settings(file) == (Settings(), ())
    assert not file.exists()


@given(settings, settings)
def test_what_is_written_is_read_again(
    tmp_path_factory: pytest.TempPathFactory, first: Settings, then: Settings
) -> None:
    file = tmp_path_factory.mktemp("kept") / "settings.toml"
    write_settings(file, first)
    assert read_settings(file) == (first, ())
    later = Settings(
        **{n: getattr(then, n) for n in Settings.__slots__}
        | {n: {**getattr(first, n), **getattr(then, n)} for n in ("offset_ms", "gestures", "second")}
    )
    write_settings(file, later)
    assert read_settings(file) == (later, ())
    tomllib.loads(file.read_text("utf-8"))


OWN = """# mine
[sound]
device = "USB Audio"  # the box on the left
colour = "red"

[sound.offset_ms]
"Radio speaker" = 180  # measured

[lights]
on = true
"""


def test_comments_and_keys_that_are_not_known_are_kept(file: Path) -> None:
    file.parent.mkdir()
    file.write_text(OWN)
    found, told = read_settings(file)
    assert (found.device, found.offset_of("Radio speaker"), told) == ("USB Audio", 180.0, ())
    write_settings(file, found.with_offset("Radio speaker", 200).with_offset("Hall", 20))
    written = file.read_text()
    for kept in ("# mine", "# the box on the left", 'colour = "red"', "on = true"):
        assert kept in written
    assert tomllib.loads(written)["sound"]["offset_ms"] == {"Radio speaker": 200.0, "Hall": 20.0}


def test_only_what_was_set_is_written(file: Path) -> None:
    write_settings(file, Settings(manner=Manner.PROMPTS))
    assert tomllib.loads(file.read_text()) == {"calls": {"manner": "prompts"}}


@pytest.mark.parametrize("damage", [b"[sound\ndevice = ", b"\xff\xfe", b'[sound]\ndevice = "a"\ndevice = "b"\n'])
def test_a_damaged_file_is_set_aside_and_told(file: Path, damage: bytes) -> None:
    file.parent.mkdir()
    file.write_bytes(damage)
    found, (told,) = read_settings(file)
    aside = file.with_name("settings.damaged-1.toml")
    assert found == Settings()
    assert str(aside) in told
    assert aside.read_bytes() == damage
    file.write_bytes(damage)
    assert str(file.with_name("settings.damaged-2.toml")) in read_settings(file)[1][0]


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("[levels]\ncount_db = 60\n", "levels.count_db must be a number of dB from -20 to 6"),
        ("[levels]\ncall_db = true\n", "levels.call_db must be"),
        ('[calls]\nmanner = "loud"\n', "calls.manner must be ahead, on-count, counts, prompts, quiet"),
        ('[calls]\ngo_on = "top"\n', "calls.go_on must be bar, section, wall"),
        ("[sound]\ndevice = 3\n", "sound.device must be a name in quotes"),
        ('[sound.offset_ms]\n"x" = 5000\n', "sound.offset_ms must be milliseconds from -50 to 500"),
        ("[sound]\noffset_ms = 5\n", "sound.offset_ms must be"),
        ("pedal = 1\n", "pedal must be a table, [pedal]"),
        ("[pedal]\nlimits = [50, 52]\n", "pedal.limits must be two whole numbers of % from 25 to 100, 4 or more apart"),
        ("[pedal]\nlimits = [50.5, 100]\n", "pedal.limits must be"),
        ("[pedal]\nlimits = [true, 100]\n", "pedal.limits must be"),
        ("[pedal]\nlimits = [50]\n", "pedal.limits must be"),
        (
            '[pedal]\ngestures = "go"\n',
            "pedal.gestures must be tap, double_tap, hold, long_hold, release, long_release, tap_and_hold, tap_and_rel",
        ),
        ("[pedal.second]\ntap = 5\n", "pedal.second must be"),
    ],
)
def test_one_slip_costs_one_setting_and_is_told(file: Path, written: str, told: str) -> None:
    file.parent.mkdir()
    file.write_text(written + "[fine]\nx = 1\n")
    found, (sentence,) = read_settings(file)
    assert found == Settings()
    assert told in sentence
    assert file.exists()


def test_what_a_gesture_orders_may_be_set_and_what_is_not_known_is_told_and_left_out(file: Path) -> None:
    file.parent.mkdir()
    file.write_text(
        '[pedal.gestures]\ntap = "go"\ndouble_tap = "nothing"\ntriple_tap = "go"\nhold = "quit"\n'
        '[pedal.second]\nlong_hold = "stop-at-eight"\n'
    )
    found, (sentence,) = read_settings(file)
    assert found.gestures == {Gesture.TAP: Order.GO, Gesture.DOUBLE_TAP: None}
    assert found.second == {Gesture.LONG_HOLD: Order.STOP_AT_EIGHT}
    assert sentence.startswith(f"{file}: pedal.gestures must be tap, double_tap, hold,")
    assert sentence.endswith("; ignored: triple_tap, hold.")
    assert all(order.value in sentence for order in PEDAL_ORDERS)
    assert "nothing" in sentence
    assert "quit" not in sentence


def test_what_cannot_be_written_leaves_the_old_file_whole(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_settings(file, Settings(device="old"))
    before = file.read_bytes()

    def full(number: int) -> None:
        raise OSError("No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_settings(file, Settings(device="new"))
    assert file.read_bytes() == before
    assert [path.name for path in file.parent.iterdir()] == [file.name]


def test_an_offset_is_kept_within_reach() -> None:
    assert Settings().with_offset("x", 9_000).offset_of("x") == LATEST_MS
    assert Settings().offset_of("y") == 0
