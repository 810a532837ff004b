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

import tomllib
from fractions import Fraction
from itertools import accumulate, pairwise
from pathlib import Path
from typing import Any

from caller.clock.grid import BREAK, SLOWING, Grid, Mark
from caller.rig.settings import write_whole

FILE_NAME = "music.toml"
MOST_BEATS = 10_000


class GridsFault(Exception):
    """The file can't be read or written: one sentence."""


def grids_file() -> Path:
    import platformdirs

    return platformdirs.user_config_path("caller") / FILE_NAME


def grid_of(file: Path, digest: str) -> Grid | None:
    """Where a recording's counts are, None where that isn't known. Raises GridsFault."""
    try:
        table = tomllib.loads(file.read_text(encoding="utf-8")).get(digest)
        if table is None:
            return None
        grid = _grid(table)
    except FileNotFoundError:
        return None
    except OSError as fault:
        raise GridsFault(f"{file} can't be read ({fault.strerror}).") from fault
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as fault:
        raise GridsFault(f"{file} is damaged ({fault}): mend or delete it.") from fault
    except (KeyError, ValueError, TypeError, ZeroDivisionError, AttributeError, IndexError) as fault:
        raise GridsFault(f'{file}: [{digest}] needs a tempo and first_seconds, as in tempo = "104".') from fault
    return grid


def keep_grid(file: Path, digest: str, name: str, grid: Grid) -> None:
    """Keeps it beside the others. Raises GridsFault."""
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        document = tomlkit.parse(file.read_text(encoding="utf-8")) if file.exists() else tomlkit.document()
        table = tomlkit.table()
        table.update(_table(name, grid))
        document[digest] = table
        write_whole(file, tomlkit.dumps(document))
    except (TOMLKitError, UnicodeDecodeError) as fault:
        raise GridsFault(f"{file} is damaged ({fault}): mend or delete it.") from fault
    except OSError as fault:
        raise GridsFault(f"{file} can't be written ({fault.strerror or fault}).") from fault


def _decimal(exact: Fraction) -> str:
    return f"{float(exact):.6f}".rstrip("0").rstrip(".")


def _grid(table: dict[str, Any]) -> Grid:
    """Raises ValueError, TypeError, KeyError for what is none."""
    tempo, first_seconds = Fraction(table["tempo"]), Fraction(table["first_seconds"])
    marks = tuple(Mark(kind, Fraction(first), Fraction(last)) for kind, first, last in table.get("marks", []))
    steps, sure, told = table.get("beats", []), tuple(table.get("sure", [])), bool(table.get("told", False))
    beats = tuple(Fraction(at, 1000) for at in accumulate(steps))
    first = int(table.get("first", 0))
    ascending = all(later > sooner for sooner, later in pairwise(beats))
    numbers = all(isinstance(one, int) for one in (*steps, *sure))
    known = all(mark.kind in (BREAK, SLOWING) and mark.first < mark.last for mark in marks)
    if tempo <= 0 or first_seconds < 0 or not (ascending and numbers and known) or len(beats) > MOST_BEATS:
        raise ValueError
    if (beats and not 0 <= first < len(beats)) or len(sure) not in (0, len(beats)):
        raise ValueError
    return Grid(tempo, first_seconds, beats, first, sure, marks, told)


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
