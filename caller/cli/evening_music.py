"""The music of an evening: a recording a routine, made ready as its item comes near; and which recording that was, kept
for the next evening.

Conventions: called from the class's own thread; nothing waits. Recordings are named by their files.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from caller.outside import documents
from caller.storage.whole import own_folder, write_bytes

if TYPE_CHECKING:
    from caller.calls.music import Song
    from caller.session.desk import Music

MOST_KEPT = 2_000


class Playlist:
    """The music of what is danced now, or next. openings: by the routine's title, what begins to make its versions."""

    def __init__(self, openings: Mapping[str, Callable[[], Music]]) -> None:
        self._openings = dict(openings)
        self._opened: dict[str, Music] = {}
        self._now: Music | None = None

    def turn_to(self, title: str) -> None:
        """What is danced now, or next; "" for nothing."""
        if title in self._openings and title not in self._opened:
            self._opened[title] = self._openings[title]()
        self._now = self._opened.get(title)

    @property
    def song(self) -> Song | None:
        return None if self._now is None else self._now.song

    @property
    def ready(self) -> bool:
        return self._now is None or self._now.ready

    @property
    def says(self) -> str:
        return "" if self._now is None else self._now.says

    def want(self, tempo: Fraction, at_seconds: Fraction = Fraction(0)) -> None:
        if self._now is not None:
            self._now.want(tempo, at_seconds)

    def close(self) -> None:
        for opened in self._opened.values():
            opened.close()


def kept_file() -> Path:
    import platformdirs

    return platformdirs.user_data_path("caller") / "music-of-routines.json"


def kept_music(path: Path | None = None) -> dict[str, str]:
    """Which recording each routine was last danced to, of those that are still there."""
    try:
        found = documents.json(documents.read_bytes(path or kept_file()), dict[str, str])
    except (OSError, documents.Unreadable):
        return {}
    return {title: file for title, file in found.items() if Path(file).is_file()}


def keep_music(found: Mapping[str, str], path: Path | None = None) -> None:
    """These too. Without effect where nothing can be kept."""
    import msgspec

    path, before = path or kept_file(), kept_music(path)
    if not found or {**before, **found} == before:
        return
    newest = list({**before, **found}.items())[-MOST_KEPT:]
    with contextlib.suppress(OSError):
        own_folder(path.parent)
        write_bytes(path, msgspec.json.encode(dict(newest)), private=True)
