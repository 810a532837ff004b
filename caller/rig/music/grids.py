"""Where the counts of recordings are, kept between runs in one TOML file.

Conventions: the file is ``music.toml`` in the user's config folder, one table for each recording, named by the digest
of its samples. Tempo is counts a minute, one throughout; first_seconds is where its count 1 is.

    [3f0c...]
    file = "song.flac"          # as it was called then; for whoever reads this
    tempo = "104"
    first_seconds = "0.512"
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from caller.rig.settings import write_whole

FILE_NAME = "music.toml"


@dataclass(frozen=True, slots=True)
class Grid:
    """tempo: counts a minute. first_seconds: from the recording's beginning to its count 1."""

    tempo: Fraction
    first_seconds: Fraction


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
        grid = Grid(Fraction(table["tempo"]), Fraction(table["first_seconds"]))
        if grid.tempo <= 0 or grid.first_seconds < 0:
            raise ValueError
    except FileNotFoundError:
        return None
    except OSError as fault:
        raise GridsFault(f"{file} can't be read ({fault.strerror}).") from fault
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as fault:
        raise GridsFault(f"{file} is damaged ({fault}): mend or delete it.") from fault
    except (KeyError, ValueError, TypeError, ZeroDivisionError, AttributeError) as fault:
        raise GridsFault(f'{file}: [{digest}] needs a tempo and first_seconds, as in tempo = "104".') from fault
    return grid


def keep_grid(file: Path, digest: str, name: str, grid: Grid) -> None:
    """Keeps it beside the others. Raises GridsFault."""
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        document = tomlkit.parse(file.read_text(encoding="utf-8")) if file.exists() else tomlkit.document()
        table = tomlkit.table()
        table["file"], table["tempo"], table["first_seconds"] = name, _decimal(grid.tempo), _decimal(grid.first_seconds)
        document[digest] = table
        write_whole(file, tomlkit.dumps(document))
    except (TOMLKitError, UnicodeDecodeError) as fault:
        raise GridsFault(f"{file} is damaged ({fault}): mend or delete it.") from fault
    except OSError as fault:
        raise GridsFault(f"{file} can't be written ({fault.strerror or fault}).") from fault


def _decimal(exact: Fraction) -> str:
    return f"{float(exact):.6f}".rstrip("0").rstrip(".")
