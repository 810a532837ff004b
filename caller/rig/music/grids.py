"""Where the counts of recordings are, kept between runs in one TOML file.

Conventions: the file is ``music.toml`` in the user's config folder, one table for each recording, named by the digest
of its samples. Tempo is counts a minute; first_seconds is where its count 1 is. Where the beats were found, and not
told by these two alone, they stand there, in thousandths of a second: the first, and how much later each of the others
is than the one before. first is which of them is count 1 (from 0), sure how sure each is, per cent; marks are stretches
that a teacher has said something of, in seconds; told is true where a person has set any of it.

    [3f0c...]
    file = "song.flac"          # as it was called then; for whoever reads this
    tempo = "104"
    first_seconds = "0.512"
    beats = [512, 577, 578, ...]
    first = 0
    sure = [67, 100, 100, ...]
    marks = [["break", "61.2", "65.9"]]
    told = true
"""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate, pairwise
from pathlib import Path
from typing import Any

from caller.clock.grid import BREAK, SLOWING, Grid, GridMark
from caller.outside import documents, numbers
from caller.storage.locks import alone
from caller.storage.whole import own_folder, write_text

FILE_NAME = "music.toml"
SLOWEST, FASTEST = 20, 400
LATEST_SECONDS = 20 * 60
MOST_BEATS = 10_000


class GridsFault(Exception):
    """The file can't be read or written: one sentence."""


def grids_file() -> Path:
    import platformdirs

    return platformdirs.user_config_path("caller") / FILE_NAME


def grid_of(file: Path, digest: str) -> Grid | None:
    """Where a recording's counts are, None where that isn't known. Raises GridsFault."""
    try:
        table = documents.toml(documents.read_text(file)).get(digest)
        if table is None:
            return None
        grid = _grid(table)
    except FileNotFoundError:
        return None
    except OSError as fault:
        raise GridsFault(f"{file} can't be read ({fault.strerror}).") from fault
    except documents.Unreadable as fault:
        raise GridsFault(f"{file} is damaged ({fault}): mend or delete it.") from fault
    except (KeyError, ValueError, TypeError, AttributeError, IndexError) as fault:
        raise GridsFault(
            f"{file}: [{digest}] needs a tempo from {SLOWEST} to {FASTEST} and first_seconds from 0 to "
            f'{LATEST_SECONDS}, as in tempo = "104", and beats, where there are any, in order.'
        ) from fault
    return grid


def keep_grid(file: Path, digest: str, name: str, grid: Grid) -> None:
    """Keeps it beside the others. Raises GridsFault."""
    from tomlkit.exceptions import TOMLKitError

    try:
        own_folder(file.parent)
        with alone(file):
            write_text(file, _with(file, digest, name, grid), private=True)
    except (TOMLKitError, documents.Unreadable) as fault:
        raise GridsFault(f"{file} is damaged ({fault}): mend or delete it.") from fault
    except OSError as fault:
        raise GridsFault(f"{file} can't be written ({fault.strerror or fault}).") from fault


def _with(file: Path, digest: str, name: str, grid: Grid) -> str:
    """The file's text with one table more, or another in its place."""
    import tomlkit

    document = tomlkit.document()
    if file.exists():
        text = documents.read_text(file)
        documents.toml(text)  # the bounds of what tomlkit is given
        document = tomlkit.parse(text)
    table = tomlkit.table()
    table.update(_table(name, grid))
    document[digest] = table
    return tomlkit.dumps(document)


def _decimal(exact: Fraction) -> str:
    return f"{float(exact):.6f}".rstrip("0").rstrip(".")


def _grid(table: dict[str, Any]) -> Grid:
    """Raises ValueError, TypeError, KeyError for what is none."""
    tempo = numbers.number(table["tempo"], SLOWEST, FASTEST)
    first_seconds = numbers.number(table["first_seconds"], 0, LATEST_SECONDS)
    marks = tuple(GridMark(kind, _seconds(first), _seconds(last)) for kind, first, last in table.get("marks", []))
    steps = [numbers.whole(step, -1000, 1000 * LATEST_SECONDS) for step in table.get("beats", [])[:MOST_BEATS]]
    sure = tuple(numbers.whole(one, 0, 100) for one in table.get("sure", [])[:MOST_BEATS])
    beats = tuple(Fraction(at, 1000) for at in accumulate(steps))
    first = numbers.whole(table.get("first", 0), 0, max(len(beats) - 1, 0))
    if any(step <= 0 for step in steps[1:]) or len(sure) not in (0, len(beats)):
        raise ValueError
    if any(mark.kind not in (BREAK, SLOWING) or mark.first >= mark.last for mark in marks):
        raise ValueError
    return Grid(tempo, first_seconds, beats, first, sure, marks, table.get("told") is True)


def _seconds(met: object) -> Fraction:
    return numbers.number(met, 0, LATEST_SECONDS)


def _table(name: str, grid: Grid) -> dict[str, Any]:
    table: dict[str, Any] = {
        "file": name,
        "tempo": _decimal(grid.tempo),
        "first_seconds": _decimal(grid.first_seconds),
    }
    if grid.beats:
        places = [round(at * 1000) for at in grid.beats]
        table["beats"] = [places[0], *(later - sooner for sooner, later in pairwise(places))]
        table["first"] = grid.first
    if grid.sure:
        table["sure"] = list(grid.sure)
    if grid.marks:
        table["marks"] = [[mark.kind, _decimal(mark.first), _decimal(mark.last)] for mark in grid.marks]
    if grid.told:
        table["told"] = True
    return table
