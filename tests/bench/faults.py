"""What is saved, and what may happen to it meanwhile: the parts of the fault runs, which tests use as well.

Conventions: a keeper writes version 1, 2, 3 ... of what it keeps and reads back which one is there; a trial runs in a
forked process, so that a thousand of them take a minute. POSIX alone.
"""

from __future__ import annotations

import contextlib
import os
import random
import resource
import select
import signal
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import numpy as np

from caller.book.entries import Taught
from caller.book.store import Book, BookFault
from caller.cli.adding import keep
from caller.rig.music.grids import Grid, grid_of, keep_grid
from caller.rig.pedal.kept import keep_settings, kept_settings
from caller.rig.settings import Settings, read_settings, write_settings
from caller.sound.score import Clip, Placement, Score
from caller.storage.whole import write_text
from caller.takehome.recording import record
from caller.transport.switch import Setting, Switch, SwitchKind
from caller.transport.unit import Unit

START = datetime(2026, 3, 31, 18, 45, tzinfo=UTC)
DIGEST = "3f0c"
SHEET = "Title: Chalk Line\n# version {n}\n" + "1-4    Walk forward R, L, R, L\n" * 400 + "# {n}\n"


@dataclass(frozen=True, slots=True)
class Keeper:
    """name: of the file. write: a version; read: which one is there, 0 for none. Raises where it is torn."""

    name: str
    write: Callable[[Path, int], object]
    read: Callable[[Path], int]


def _add_to_book(path: Path, version: int) -> None:
    with Book(path) as book:
        at = START + timedelta(minutes=version)
        book.add(Taught("Tuesday", at, "Lantern Row", "drill", f"part {version}", version, 0, Fraction(96)))


def _in_book(path: Path) -> int:
    """All that were written before the last are there, too."""
    if not path.exists():
        return 0
    with Book(path) as book:
        stages = [entry.stage for entry in book.pages().taught]
        assert book.unread == 0
    assert stages == list(range(1, len(stages) + 1)), stages
    return len(stages)


def _in_settings(path: Path) -> int:
    settings, told = read_settings(path)
    assert told == (), told
    return int(settings.device or 0)


def _unit(version: int) -> Unit:
    return Unit(Setting((Switch(SwitchKind.CONTROL, version % 128),), None, False))


def _keep_pedals(path: Path, version: int) -> None:
    keep_settings(path, {f"Sole {version}": _unit(version), "Other": _unit(1)})


def _in_pedals(path: Path) -> int:
    units, told = kept_settings(path)
    assert told == "", told
    assert not units or len(units) == 2
    return max((int(name.split()[1]) for name in units if name != "Other"), default=0)


def _in_grids(path: Path) -> int:
    grid = grid_of(path, DIGEST)
    return 0 if grid is None else int(grid.first_seconds * 100)


def _record(path: Path, version: int) -> None:
    clip = Clip("click", np.full(480, 0.25, np.float32))
    record(Score.holding([Placement(0, clip, 1.0, "count")], 4_800 + version), path, over=True)


def _in_recording(path: Path) -> int:
    import soundfile

    if not path.exists():
        return 0
    samples, rate = soundfile.read(path)
    assert rate == 48_000
    assert samples[:480].min() > 0.2
    return len(samples) - 4_800


def _in_sheet(path: Path) -> int:
    if not path.exists():
        return 0
    text = path.read_text()
    version = int(text.rsplit("# ", 1)[1])
    assert text == SHEET.format(n=version)
    return version


KEEPERS = {
    "book": Keeper("class-book.sqlite", _add_to_book, _in_book),
    "settings": Keeper("settings.toml", lambda path, n: write_settings(path, Settings(device=str(n))), _in_settings),
    "pedals": Keeper("pedals.json", _keep_pedals, _in_pedals),
    "grids": Keeper(
        "music.toml",
        lambda path, n: keep_grid(path, DIGEST, "song", Grid(Fraction(104), Fraction(n, 100))),
        _in_grids,
    ),
    "recordings": Keeper("take.wav", _record, _in_recording),
    "sheets": Keeper("chalk-line.txt", lambda path, n: write_text(path, SHEET.format(n=n)), _in_sheet),
}


@contextlib.contextmanager
def forked(do: Callable[[int], object]) -> Iterator[tuple[int, int]]:
    """A process that does it, and the pipe that it writes its word to: process and pipe."""
    reading, writing = os.pipe()
    process = os.fork()
    if process == 0:
        os.close(reading)
        status = 1
        try:
            do(writing)
            status = 0
        except BaseException as fault:
            print(f"{type(fault).__name__}: {fault}", file=sys.stderr)
        os._exit(status)
    os.close(writing)
    try:
        yield process, reading
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.kill(process, signal.SIGKILL)
        with contextlib.suppress(ChildProcessError):
            os.waitpid(process, 0)
        os.close(reading)


def killed(keeper: Keeper, path: Path, chance: random.Random, most_seconds: float = 0.03) -> tuple[int, int]:
    """One kill at a random moment of saving: the last version that was told as saved, and the one that is there."""
    first = keeper.read(path) + 1

    def write_on(pipe: int) -> None:
        for version in range(first, first + 100_000):
            keeper.write(path, version)
            os.write(pipe, version.to_bytes(4, "big"))

    with forked(write_on) as (process, pipe):
        # From its first word on: what comes before that is no saving.
        select.select([pipe], [], [], 20)
        time.sleep(chance.random() * most_seconds)
        os.kill(process, signal.SIGKILL)
        os.waitpid(process, 0)
        told = first - 1
        while word := os.read(pipe, 4):
            told = int.from_bytes(word, "big")
    return told, keeper.read(path)


def full_disk(keeper: Keeper, path: Path, most_bytes: int) -> bool:
    """One saving with no more room in any file than so many bytes; whether it was told as failed. Raises where it ended
    in another way than an OSError or a fault of ours, told in a sentence."""
    version = keeper.read(path) + 1

    def write(pipe: int) -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, most_bytes))
        try:
            keeper.write(path, version)
            os.write(pipe, b"w")
        except (OSError, BookFault, *told_faults()):
            os.write(pipe, b"f")

    with forked(write) as (process, pipe):
        word = os.read(pipe, 1)
        os.waitpid(process, 0)
    assert word in (b"w", b"f"), f"saving ended untold with {most_bytes} bytes of room"
    there = keeper.read(path)
    assert there == (version if word == b"w" else version - 1), (there, version, word)
    return word == b"f"


def told_faults() -> tuple[type[Exception], ...]:
    from caller.cli.say import Refused
    from caller.rig.music.grids import GridsFault
    from caller.takehome.recording import RecordingFailed

    return Refused, GridsFault, RecordingFailed


def read_only(keeper: Keeper, path: Path) -> None:
    """One saving by a user who may write nothing there. Raises where it is not told, or anything changes."""
    before = path.read_bytes()
    version = keeper.read(path) + 1

    def write(pipe: int) -> None:
        if os.getuid() == 0:
            os.setgroups([])
            os.setgid(65_534)
            os.setuid(65_534)
        try:
            keeper.write(path, version)
        except (OSError, BookFault, *told_faults()):
            os.write(pipe, b"f")

    path.parent.chmod(0o555)
    path.chmod(0o444)
    try:
        with forked(write) as (process, pipe):
            word = os.read(pipe, 1)
            os.waitpid(process, 0)
    finally:
        path.parent.chmod(0o755)
        path.chmod(0o644)
    assert word == b"f", "saving where nothing may be written was not told"
    assert path.read_bytes() == before


def two_at_once(folder: Path, changes: int) -> dict[str, int]:
    """Two programs that each change what is theirs in the same files; how many of all changes are there afterwards."""

    def change(who: int) -> Callable[[int], object]:
        def do(pipe: int) -> None:
            for n in range(changes):
                keep_grid(folder / "music.toml", f"d{who}-{n}", "song", Grid(Fraction(104), Fraction(n)))
                file = folder / "settings.toml"
                base, _ = read_settings(file)
                write_settings(file, base.with_offset(f"speaker {who} {n}", n % 500), base)
                with Book(folder / "book.sqlite") as book:
                    book.add(Taught(f"class {who}", START, "Lantern Row", "drill", f"part {n}", n, 0))
                keep(f"Title: Mine {who} {n}\n", "Mine", folder / "routines")

        return do

    with forked(change(0)) as (one, _), forked(change(1)) as (other, _):
        for process in (one, other):
            _, status = os.waitpid(process, 0)
            assert status == 0
    with Book(folder / "book.sqlite") as book:
        entries = len(book.pages().taught)
    grids = sum(grid_of(folder / "music.toml", f"d{who}-{n}") is not None for who in (0, 1) for n in range(changes))
    settings, told = read_settings(folder / "settings.toml")
    assert told == ()
    sheets = {path.read_text() for path in (folder / "routines").glob("*.txt")}
    return {"book": entries, "grids": grids, "settings": len(settings.offset_ms), "sheets": len(sheets)}
