"""What is saved when things go wrong: kill -9 at random moments, a full disk, folders that may not be written, two
programs at once, a clock set back, bare surroundings, odd names.

Run: ``python -m tests.bench.bench_faults [--times 1000]``. Prints how often what happened, beside the plainest way of
saving (truncate and write) under the same kills; ends with status 1 where anything was lost or torn.
"""

from __future__ import annotations

import argparse
import os
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import timedelta
from fractions import Fraction
from pathlib import Path

from caller.book.entries import Taught
from caller.book.known import due, known
from caller.book.store import Book
from caller.rig.shelf import Shelf
from tests.bench import faults
from tests.bench.faults import KEEPERS, SHEET, START, Keeper

A_PLACE = 50  # trials in one folder
ODD = 'Tuesday\'s "late" class; $HOME 💃 née'
PLAIN = Keeper("plain.txt", lambda path, n: path.write_text(SHEET.format(n=n)), KEEPERS["sheets"].read)


def kills(folder: Path, times: int) -> bool:
    """Of every keeper, and of the plainest way beside them."""
    sound = True
    for name, keeper in (*KEEPERS.items(), ("(truncate and write)", PLAIN)):
        chance = random.Random(name)
        lost = torn = ahead = left = 0
        began = time.perf_counter()
        for n in range(times):
            place = folder / name / str(n // A_PLACE)  # a book that grows without end takes ever longer to be read
            place.mkdir(parents=True, exist_ok=True)
            path = place / keeper.name
            try:
                told, there = faults.killed(keeper, path, chance)
            except Exception:
                torn += 1
                path.unlink(missing_ok=True)
                continue
            lost += there < told
            ahead += there == told + 1
        for place in (folder / name).iterdir():
            path = place / keeper.name
            keeper.write(path, keeper.read(path) + 1)
            left += sum(not one.name.startswith(keeper.name) for one in place.iterdir())
        print(
            f"kill -9, {name:22} {times} times: {lost} lost, {torn} torn, {ahead} saved but not yet told, "
            f"{left} left behind, {time.perf_counter() - began:.0f} s",
            flush=True,
        )
        sound = sound and (keeper is PLAIN or not (lost or torn or left))
    return sound


def disks(folder: Path, times: int) -> bool:
    for name, keeper in KEEPERS.items():
        path, chance = folder / name / "0" / keeper.name, random.Random(name)
        most = max(path.stat().st_size, 4096) + 4096
        told = sum(faults.full_disk(keeper, path, chance.randrange(most)) for _ in range(times))
        faults.read_only(keeper, path)
        print(
            f"full disk, {name:22} {times} times: told {told} times, never torn; a read-only folder: told", flush=True
        )
    return True


def at_once(folder: Path, changes: int) -> bool:
    place = folder / "at once"
    place.mkdir()
    kept = faults.two_at_once(place, changes)
    print(f"two programs at once, {changes} changes each: {kept} of {2 * changes} kept", flush=True)
    return all(number == 2 * changes for number in kept.values())


def clock_set_back(folder: Path) -> bool:
    """By a year, between two lessons; and files that were used tomorrow."""
    with Book(folder / "clock.sqlite") as book:
        for n, days in enumerate((0, -365, 1)):
            book.add(
                Taught("Tuesday", START + timedelta(days=days), "Lantern Row", "dance", "7 walls", n, 0, Fraction(96))
            )
        (one,) = known(book.pages())
    shelf = Shelf(folder / "shelf", room_bytes=1_000)
    for n in range(3):
        shelf.put(str(n), {"n": n}, b"x" * 200)
        for path in (folder / "shelf").iterdir():
            os.utime(path, (time.time() + 1e6, time.time() + 1e6))
    shelf.tidy()
    kept = sum(shelf.get(str(n)) is not None for n in range(3))
    sound = (one.lessons, one.last) == (3, START + timedelta(days=1)) and len(due(book_pages(folder), START)) == 0
    print(f"clock set back: {one.lessons} lessons kept, {kept} of 3 kept on the shelf", flush=True)
    return sound and kept == 3


def book_pages(folder: Path) -> object:
    with Book(folder / "clock.sqlite") as book:
        return book.pages()


def surroundings(folder: Path) -> bool:
    """The commands with odd names for all that is read and written, where the system's language is C, and without a
    home that anything can be kept in (Linux lets nobody make anything in /sys)."""
    place = folder / ODD
    place.mkdir()
    at_home = {f"XDG_{kind}_HOME": str(place / kind) for kind in ("DATA", "CONFIG", "CACHE", "STATE")}
    bare = {"PATH": os.environ["PATH"], "LC_ALL": "C"}
    ascii_only = {**bare, "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    sound = True
    for what, environment, must in (
        ("odd names", {**os.environ, **at_home}, True),
        ("locale C", {**bare, **at_home}, True),
        ("locale C, nothing but ASCII", {**ascii_only, **at_home}, True),
        ("no HOME", {**bare, "HOME": "/proc/nowhere"}, False),
        ("a HOME that may not be written", {**bare, "HOME": "/sys"}, False),
    ):
        (place / what).mkdir()
        commands = commands_in(place / what)
        failed = [words for words in commands if not told_well(words, environment, must)]
        done = len(commands) - len(failed)
        print(f"{what}: {done} of {len(commands)} commands do, or say why not", *failed, flush=True)
        sound = sound and not failed
    return sound


def commands_in(place: Path) -> list[tuple[str, ...]]:
    sheet = place / f"{ODD}.txt"
    sheet.write_text("Title: Née → 💃\nTempo: 96\n\n1-4  Walk R, L, R, L\n5-8  Walk R, L, R, L\n", "utf-8")
    song, lesson, export = (str(place / f"{ODD}.{kind}") for kind in ("wav", "toml", "csv"))
    return [
        ("list",),
        *((command, str(sheet)) for command in ("check", "walls", "calls")),
        ("format", str(sheet), "--write"),
        ("record", str(sheet), "-o", song, "--over"),
        ("record", str(sheet), "-o", song, "--over"),
        ("takehome", str(sheet), "-o", str(place / "home"), "--cores", "1", "--over"),
        ("walkthrough", str(sheet), "--save", lesson, "--over"),
        ("walkthrough", str(sheet), "--from", lesson, "--list"),
        ("add", str(sheet), "--yes", "--to", str(place / "routines")),
        ("book", "note", ODD, ODD),
        ("book",),
        ("book", "list", ODD),
        ("book", "export", export),
        ("book", "import", export),
        ("book", "where"),
        ("voices",),
        ("doctor",),
        ("dance", str(sheet), "--plain", "--sound", "none", "--pedal", "none", "--class", ODD),
    ]


def told_well(words: tuple[str, ...], environment: dict[str, str], must: bool) -> bool:
    """No traceback, and nothing left in the folder that it was run in. must: it has to do what was asked, too."""
    with tempfile.TemporaryDirectory() as here:
        run = subprocess.run(
            [sys.executable, "-P", "-m", "caller", *words],
            env=environment,
            cwd=here,
            capture_output=True,
            timeout=120,
            stdin=subprocess.DEVNULL,
        )
        litter = os.listdir(here)
    well = b"Traceback" not in run.stderr and b"Error:" not in run.stderr and not litter
    if not well or (must and run.returncode != 0):
        print(run.returncode, litter, run.stderr.decode(errors="replace")[-1500:])
        return False
    return True


def main() -> int:
    asked = argparse.ArgumentParser()
    asked.add_argument("--times", type=int, default=1000)
    asked.add_argument("--no-kills", action="store_true", help="the other runs alone")
    words = asked.parse_args()
    times = words.times
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ["XDG_DATA_HOME"] = str(folder / "data")
        runs: list[Callable[[], bool]] = [
            lambda: kills(folder, 1 if words.no_kills else times),
            lambda: disks(folder, max(1, times // 10)),
            lambda: at_once(folder, max(1, times // 20)),
            lambda: clock_set_back(folder),
            lambda: surroundings(folder),
        ]
        results = [run() for run in runs]  # each, whatever came of the others
        return 0 if all(results) else 1


if __name__ == "__main__":
    raise SystemExit(main())
