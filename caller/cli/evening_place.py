"""Where an evening is, kept as it goes, so that one that was cut short goes on there: one file in the data folder.

Conventions: what is kept is what an evening is made of anew: its plan as it stands, and a bookmark in it. It is written
at each change of item, stage, go and wall, whole or not at all; it is gone once the evening is over or is left.
"""

from __future__ import annotations

import contextlib
import time
from collections.abc import Callable
from datetime import datetime, timedelta
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import msgspec

from caller.outside import documents, numbers
from caller.storage.whole import own_folder, write_bytes

if TYPE_CHECKING:
    from caller.session.bookmarks import Bookmark
    from caller.session.evening import Evening

# An evening of another day is not gone on with.
LONGEST_HOURS = 6
FORM = 1
Index = Annotated[int, msgspec.Meta(ge=0, le=10_000)]
Exact = Annotated[str, msgspec.Meta(max_length=numbers.LONGEST)]


class Place(msgspec.Struct, forbid_unknown_fields=True):
    """form: of this file. file: the plan's own, "" where it was made. plan: as TOML. at: when it was written, in the
    machine's own time; midnight: before the evening. The rest is a bookmark; numbers are exact, in strings."""

    form: int
    file: str
    plan: str
    at: str
    midnight: str
    index: Index
    ahead: Index | None
    stage: Index
    goes: Index
    ease: Exact
    count: Exact
    since: Exact
    tempo: Exact | None
    began: Exact | None

    def bookmark(self) -> Bookmark:
        """Raises ValueError."""
        from caller.session.bookmarks import Bookmark

        return Bookmark(
            self.index,
            self.ahead,
            self.stage,
            self.goes,
            numbers.number(self.ease, Fraction(1, 10), 4),
            numbers.number(self.count, 0, 1_000_000),
            numbers.number(self.since, 0, 1_000_000),
            None if self.tempo is None else numbers.number(self.tempo, 10, 800),
            None if self.began is None else numbers.number(self.began, 0, 1_000_000),
        )


def place_file() -> Path:
    import platformdirs

    return platformdirs.user_data_path("caller") / "evening.json"


def kept_place(now: datetime, path: Path | None = None) -> Place | None:
    """Where an evening was left that was cut short, of this day; None where there is none, or it can't be read."""
    try:
        place = documents.json(documents.read_bytes(path or place_file()), Place)
        place.bookmark()
        recent = abs(now - datetime.fromisoformat(place.at)) <= timedelta(hours=LONGEST_HOURS)
    except (OSError, documents.Unreadable, ValueError, TypeError):
        return None
    return place if recent and place.form == FORM else None


def forget_place(path: Path | None = None) -> None:
    with contextlib.suppress(OSError):
        (path or place_file()).unlink(missing_ok=True)


def forget_class(name: str | None) -> None:
    """What is kept of an evening of that class, None = of any."""
    from caller.evening.written import PlanFault, read_plan

    try:
        place = documents.json(documents.read_bytes(place_file()), Place)
        theirs = name is None or read_plan(place.plan).class_name == name
    except (OSError, documents.Unreadable, PlanFault):
        theirs = name is None
    if theirs:
        forget_place()


class PlaceKeeping:
    """Keeps where an evening is. file: the plan's own. midnight: before the evening, of the machine's own time. Called
    at each tick: what hasn't changed costs a comparison. A place that can't be kept costs the class nothing."""

    def __init__(
        self,
        file: str,
        midnight: datetime,
        now: Callable[[], datetime] = datetime.now,
        path: Path | None = None,
    ) -> None:
        self._file, self._midnight, self._now, self._path = file, midnight, now, path or place_file()
        self._kept: tuple[object, ...] | None = None
        self._next_try = 0.0

    def keep(self, evening: Evening, count: Fraction | None) -> None:
        """Where it is now. count: of what is danced."""
        if evening.began is None:
            return
        if evening.over:
            self.forget()
            return
        place = evening.bookmark(count)
        asked = (place, id(evening.slots))
        if asked == self._kept or time.monotonic() < self._next_try:
            return
        try:
            own_folder(self._path.parent)
            write_bytes(self._path, msgspec.json.encode(self._place(evening, place)), private=True)
            self._kept = asked
        except OSError:
            self._next_try = time.monotonic() + 60

    def forget(self) -> None:
        """It is over, or left by whoever leads it."""
        if self._kept is not None:
            forget_place(self._path)
            self._kept = None

    def _place(self, evening: Evening, place: Bookmark) -> Place:
        from caller.evening.written import plan_text

        return Place(
            FORM,
            self._file,
            plan_text(evening.replanned),
            self._now().isoformat(timespec="seconds"),
            self._midnight.isoformat(timespec="seconds"),
            place.index,
            place.ahead,
            place.stage,
            place.goes,
            str(place.ease),
            str(place.count),
            str(place.since),
            None if place.tempo is None else str(place.tempo),
            None if place.began is None else str(place.began),
        )
