"""What is kept is there and whole, whatever happens while it is saved. (``tests.bench.bench_faults`` tries each a
thousand times.)"""

from __future__ import annotations

import random
import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("kills and forks are POSIX's", allow_module_level=True)

from caller.rig.settings import Settings, read_settings, write_settings
from tests.bench.faults import KEEPERS, full_disk, killed, read_only, two_at_once


@pytest.mark.parametrize("kind", KEEPERS)
def test_a_kill_in_the_middle_of_saving_loses_nothing_and_tears_nothing(kind: str, tmp_path: Path) -> None:
    keeper, path, chance = KEEPERS[kind], tmp_path / KEEPERS[kind].name, random.Random(kind)
    for _ in range(5):
        told, there = killed(keeper, path, chance)
        assert told <= there <= told + 1


@pytest.mark.parametrize("kind", KEEPERS)
def test_no_room_and_no_right_to_write_are_told_and_what_was_there_stays(kind: str, tmp_path: Path) -> None:
    keeper, path = KEEPERS[kind], tmp_path / KEEPERS[kind].name
    keeper.write(path, 1)
    assert full_disk(keeper, path, 10)
    assert keeper.read(path) == 1
    read_only(keeper, path)
    assert keeper.read(path) == 1


def test_of_two_programs_at_once_neither_undoes_what_the_other_keeps(tmp_path: Path) -> None:
    assert two_at_once(tmp_path, 5) == {"book": 10, "grids": 10, "settings": 10, "sheets": 10}


def test_a_setting_changed_meanwhile_is_kept_where_it_is_not_ours(tmp_path: Path) -> None:
    file = tmp_path / "settings.toml"
    base = Settings()
    write_settings(file, Settings(count_db=-3.0))  # another class, left sooner
    write_settings(file, Settings(call_db=-1.0), base)
    assert read_settings(file) == (Settings(count_db=-3.0, call_db=-1.0), ())


def test_settings_that_can_not_be_read_are_not_written_over(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").mkdir()
    with pytest.raises(OSError, match="directory"):
        write_settings(tmp_path / "settings.toml", Settings(count_db=-3.0))
