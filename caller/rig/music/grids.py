"""Where the counts of recordings are, kept between runs in one TOML file.

Conventions: the file is ``music.toml`` in the user's config folder, one table for each recording, named by the digest
of its samples. Tempo is counts a minute, one throughout; first_seconds is where its count 1 is.

    [3f0c...]
    file = "song.flac"          # as it was called then; for whoever reads this
    tempo = "104"
    first_seconds = "0.512"
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from caller.outside import documents, numbers
from caller.storage.locks import alone
from caller.storage.whole import own_folder, write_text

FILE_NAME = "music.toml"
SLOWEST, FASTEST = 20, 400
LATEST_SECONDS = 20 * 60


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
        table = documents.toml(documents.read_text(file)).get(digest)
        if table is None:
            return None
        grid = Grid(
            numbers.number(table["tempo"], SLOWEST, FASTEST), numbers.number(table["first_seconds"], 0, LATEST_SECONDS)
        )
    except FileNotFoundError:
        return None
    except OSError as fault:
        raise GridsFault(f"{file} can't be read ({fault.strerror}).") from fault
    except documents.Unreadable as fault:
        raise GridsFault(f"{file} is damaged ({fault}): mend or delete it.") from fault
    except (KeyError, ValueError, TypeError, AttributeError) as fault:
        raise GridsFault(
            f"{file}: [{digest}] needs a tempo from {SLOWEST} to {FASTEST} and first_seconds from 0 to "
            f'{LATEST_SECONDS}, as in tempo = "104".'
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
    table["file"], table["tempo"], table["first_seconds"] = name, _decimal(grid.tempo), _decimal(grid.first_seconds)
    document[digest] = table
    return tomlkit.dumps(document)


def _decimal(exact: Fraction) -> str:
    return f"{float(exact):.6f}".rstrip("0").rstrip(".")
