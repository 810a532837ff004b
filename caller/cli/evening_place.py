"""Where an evening is, kept as it goes, so that one that was cut short goes on there: one file for each class, in the
data folder.

Conventions: what is kept is what an evening is made of anew: its plan as it stands, and a bookmark in it. It is written
at each change of item, stage, go and wall, whole or not at all; it is gone once the evening is over. While an evening
is under way a file beside it is locked, so that nobody else goes on with it meanwhile.
"""

from __future__ import annotations

import contextlib
import os
import time
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from fractions import Fraction
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import msgspec

from caller.outside import documents, numbers
from caller.storage.locks import locked
from caller.storage.whole import own_folder, write_bytes

if TYPE_CHECKING:
    from caller.evening.plan import Plan
    from caller.session.bookmarks import Bookmark
    from caller.session.evening import Evening

# An evening of another day is not gone on with.
LONGEST_HOURS = 6
FORM = 1
Index = Annotated[int, msgspec.Meta(ge=0, le=10_000)]
Exact = Annotated[str, msgspec.Meta(max_length=numbers.LONGEST)]


class EveningPlace(msgspec.Struct, forbid_unknown_fields=True):
    """form: of this file. file: the plan's own, "" where it was made. plan: as TOML. at: when it was written, in the
    machine's own time; begun: when the evening began, "" where that is not known; midnight: before it. The rest is a
    bookmark; numbers are exact, in strings."""

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
    begun: str = ""
    ease_full: Exact = "1"

    @property
    def as_planned(self) -> Plan:
        """The plan as it stands. Raises PlanFault."""
        from caller.evening.written import read_plan

        return read_plan(self.plan)

    def bookmark(self) -> Bookmark:
        """Raises ValueError."""
        from caller.session.bookmarks import Bookmark
        from caller.teaching.nudged import Nudged

        return Bookmark(
            self.index,
            self.ahead,
            self.stage,
            self.goes,
            Nudged(numbers.number(self.ease, Fraction(1, 10), 4), numbers.number(self.ease_full, Fraction(1, 10), 4)),
            numbers.number(self.count, 0, 1_000_000),
            numbers.number(self.since, 0, 1_000_000),
            None if self.tempo is None else numbers.number(self.tempo, 10, 800),
            None if self.began is None else numbers.number(self.began, 0, 1_000_000),
        )


def place_file(class_name: str = "") -> Path:
    """Of a class, in whatever case it is named, "" = of none that is named."""
    import platformdirs

    from caller.book.spelling import folded

    own = f"-{sha256(folded(class_name).encode('utf-8', 'replace')).hexdigest()[:16]}" if class_name else ""
    return platformdirs.user_data_path("caller") / f"evening{own}.json"


def kept_place(now: datetime, path: Path | None = None) -> EveningPlace | None:
    """Where an evening was left that was cut short, of this day; None where there is none, or it can't be read."""
    try:
        place = documents.json(documents.read_bytes(path or place_file()), EveningPlace)
        place.bookmark()
        recent = abs(now - datetime.fromisoformat(place.at)) <= timedelta(hours=LONGEST_HOURS)
    except (OSError, documents.Unreadable, ValueError, TypeError):
        return None
    return place if recent and place.form == FORM else None


def open_places(now: datetime) -> Iterator[EveningPlace]:
    """All that were cut short and that nobody has gone on with, the last one last."""
    files = [*place_file().parent.glob("evening*.json")]
    found = ((kept_place(now, file), file) for file in files)
    there = [place for place, file in found if place is not None and not _under_way(file)]
    yield from sorted(there, key=lambda place: place.at)


def forget_place(path: Path | None = None) -> None:
    with contextlib.suppress(OSError):
        (path or place_file()).unlink(missing_ok=True)


def forget_class(name: str | None) -> None:
    """What is kept of an evening of that class, None = of any."""
    for path in (place_file(name),) if name is not None else tuple(place_file().parent.glob("evening*.json")):
        forget_place(path)
        forget_place(_lock_of(path))


def _lock_of(path: Path) -> Path:
    return path.with_suffix(".lock")


def _under_way(path: Path) -> bool:
    """Whether an evening of that file is under way, in another window."""
    try:
        held = os.open(_lock_of(path), os.O_RDONLY)
    except OSError:
        return False
    try:
        return not locked(held, shared=True)
    finally:
        os.close(held)


class PlaceKeeping:
    """Keeps where an evening is. file: the plan's own. midnight: before the evening, of the machine's own time. begun:
    when it began, "" where it has not. Called at each tick: what hasn't changed costs a comparison. A place that can't
    be kept costs the class nothing; nor is one kept where an evening of the same class is under way in another window
    (elsewhere)."""

    def __init__(
        self,
        file: str,
        midnight: datetime,
        now: Callable[[], datetime] = datetime.now,
        path: Path | None = None,
        begun: str = "",
    ) -> None:
        self._file, self._midnight, self._now, self._path = file, midnight, now, path or place_file()
        self._kept: tuple[object, ...] | None = None
        self._begun, self._next_try, self._lock = begun, 0.0, -1
        self.elsewhere = not self._alone()

    def keep(self, evening: Evening, count: Fraction | None) -> None:
        """Where it is now. count: of what is danced."""
        if evening.began is None or self.elsewhere:
            return
        self._begun = self._begun or self._now().isoformat(timespec="seconds")
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
        """It is over."""
        if self._kept is not None:
            forget_place(self._path)
            self._kept = None

    @property
    def left(self) -> EveningPlace | None:
        """Where the evening was left, once it is; None where it never began, or is over."""
        return kept_place(self._now(), self._path) if self._kept is not None else None

    def _place(self, evening: Evening, place: Bookmark) -> EveningPlace:
        from caller.evening.written import plan_text

        return EveningPlace(
            FORM,
            self._file,
            plan_text(evening.replanned),
            self._now().isoformat(timespec="seconds"),
            self._midnight.isoformat(timespec="seconds"),
            place.index,
            place.ahead,
            place.stage,
            place.goes,
            str(place.nudged.slow),
            str(place.count),
            str(place.since),
            None if place.tempo is None else str(place.tempo),
            None if place.began is None else str(place.began),
            self._begun,
            str(place.nudged.full),
        )

    def _alone(self) -> bool:
        """Locks the place for as long as the program runs; False where another has. What can't be locked is taken to be
        free."""
        try:
            own_folder(self._path.parent)
            self._lock = os.open(_lock_of(self._path), os.O_RDWR | os.O_CREAT, 0o600)
        except OSError:
            return True
        if locked(self._lock):
            return True
        os.close(self._lock)
        return False

    def close(self) -> None:
        """Somebody else may go on with it."""
        if self._lock >= 0 and not self.elsewhere:
            os.close(self._lock)
            self._lock = -1
