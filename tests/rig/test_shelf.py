"""The shelf: whole items or none, whatever happens to its folder."""

from __future__ import annotations

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caller.rig.shelf import Shelf

KEY = '["speech", 1, "walk, walk"]'
HEADER: dict[str, str | int | float] = {"beat": 1200, "words": "rück, ½"}


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "kept")


def items_in(shelf: Shelf) -> list[Path]:
    return sorted(shelf.folder.glob("*.item"))


def test_what_is_put_is_got_back_by_the_next_program(shelf: Shelf) -> None:
    shelf.put(KEY, HEADER, b"\x00\x01sound")
    item = Shelf(shelf.folder).get(KEY)
    assert item is not None
    assert (dict(item.header), item.body) == (HEADER, b"\x00\x01sound")
    assert shelf.fault == ""


def test_what_was_never_put_is_not_there(shelf: Shelf) -> None:
    shelf.put(KEY, HEADER, b"x")
    assert shelf.get(KEY + "!") is None


def test_an_item_put_again_takes_the_place_of_the_old_one(shelf: Shelf) -> None:
    shelf.put(KEY, HEADER, b"old")
    shelf.put(KEY, HEADER, b"new")
    item = shelf.get(KEY)
    assert item is not None
    assert item.body == b"new"
    assert len(items_in(shelf)) == 1


@given(where=st.integers(0, 10_000), change=st.integers(1, 255))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
def test_an_item_with_any_byte_changed_is_thrown_away(shelf: Shelf, where: int, change: int) -> None:
    shelf.put(KEY, HEADER, b"sound" * 20)
    (path,) = items_in(shelf)
    written = bytearray(path.read_bytes())
    written[where % len(written)] ^= change
    path.write_bytes(written)
    assert shelf.get(KEY) is None
    assert items_in(shelf) == []


@given(length=st.integers(0, 10_000))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=40)
def test_an_item_cut_short_is_thrown_away(shelf: Shelf, length: int) -> None:
    shelf.put(KEY, HEADER, b"sound" * 20)
    (path,) = items_in(shelf)
    written = path.read_bytes()
    path.write_bytes(written[: length % len(written)])
    assert shelf.get(KEY) is None
    assert items_in(shelf) == []


def test_an_item_under_another_items_name_does_not_pass_for_it(shelf: Shelf) -> None:
    shelf.put(KEY, HEADER, b"one")
    (path,) = items_in(shelf)
    shelf.put("other", HEADER, b"two")
    (other,) = set(items_in(shelf)) - {path}
    os.replace(other, path)
    assert shelf.get(KEY) is None


def test_two_callers_at_once_see_only_whole_items(shelf: Shelf) -> None:
    bodies = [bytes([n]) * 50_000 for n in range(8)]
    second = Shelf(shelf.folder)
    shelf.put(KEY, HEADER, bodies[0])

    def write_and_read(body: bytes) -> bytes | None:
        shelf.put(KEY, HEADER, body)
        item = second.get(KEY)
        return item.body if item else None

    with ThreadPoolExecutor(4) as pool:
        read = list(pool.map(write_and_read, bodies * 4))
    assert None not in read
    assert set(read) <= set(bodies)
    assert [path.name for path in shelf.folder.iterdir()] == [path.name for path in items_in(shelf)]


def test_a_folder_that_cannot_be_made_leaves_a_shelf_without_effect_and_one_sentence(tmp_path: Path) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    shelf = Shelf(in_the_way / "kept")
    shelf.put(KEY, HEADER, b"x")
    fault = shelf.fault
    assert str(shelf.folder) in fault
    assert fault.endswith(".")
    in_the_way.unlink()
    shelf.put(KEY, HEADER, b"x")  # not tried again: one sentence is enough
    assert shelf.get(KEY) is None
    assert shelf.fault == fault


def test_tidying_throws_away_what_was_used_least_lately(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path, room_bytes=2_500)
    for age, key in ((300, "oldest"), (200, "older"), (100, "newest")):
        before = set(items_in(shelf))
        shelf.put(key, {}, bytes(1_000))
        (path,) = set(items_in(shelf)) - before
        then = path.stat().st_mtime - age
        os.utime(path, (then, then))
    assert shelf.get("oldest") is not None  # used just now
    shelf.tidy()
    assert shelf.get("older") is None
    assert shelf.get("oldest") is not None
    assert shelf.get("newest") is not None


# A caller in a process of its own: the same keys in another order, over and over, each read checked.
CALLER = """
import sys
from pathlib import Path
from caller.rig.shelf import Shelf
shelf, seed = Shelf(Path(sys.argv[1])), int(sys.argv[2])
print("up", flush=True)
sys.stdin.readline()
broken = 0
for turn in range(60):
    for n in range(8):
        key = str((n * 3 + seed + turn) % 8)
        shelf.put(key, {"n": int(key)}, key.encode() * 40_000)
        item = shelf.get(key)
        broken += item is not None and (dict(item.header) != {"n": int(key)} or item.body != key.encode() * 40_000)
        broken += item is None
print(broken, shelf.fault or "well", flush=True)
"""


def test_two_processes_at_once_see_only_whole_items(tmp_path: Path) -> None:
    root = str(Path(__file__).resolve().parents[2])
    callers = [
        subprocess.Popen(
            [sys.executable, "-c", CALLER, str(tmp_path / "kept"), str(seed)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONPATH": root},
        )
        for seed in (0, 5)
    ]
    for caller in callers:
        assert caller.stdout is not None
        assert caller.stdout.readline() == "up\n"
    for caller in callers:  # both begin at once, once both are up
        assert caller.stdin is not None
        caller.stdin.write("go\n")
        caller.stdin.flush()
    assert [caller.communicate(timeout=120)[0] for caller in callers] == ["0 well\n"] * 2
    shelf = Shelf(tmp_path / "kept")
    assert len(items_in(shelf)) == 8
    assert sorted(path.suffix for path in shelf.folder.iterdir()) == [".item"] * 8
