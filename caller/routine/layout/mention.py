"""One event as a sentence tells it."""

from __future__ import annotations

from dataclasses import dataclass

from caller.routine.facing import Facing

TAG, RESTART, CHANGE, ENDING = "tag", "restart", "change", "ending"


@dataclass(slots=True)
class Mention:
    """One event as a sentence tells it. walls: as numbered; every: "odd", "even" or "all" walls; after: counts into the
    wall; left_out: so many before its end; section, within: after count ``within`` of that section (None: at its end); ends: at the end of the wall; here:
    at the place where it is written; long: its length; facing: as told with it; facing_walls: on each wall that starts
    facing there, or with ends_there ends so; times: danced so often; none: said that there is none of the kind; first: its first so many counts."""

    kind: str
    name: str = ""
    walls: tuple[int, ...] = ()
    every: str = ""
    after: int | None = None
    left_out: int = 0
    section: int | None = None
    within: int | None = None
    ends: bool = False
    here: bool = False
    long: int | None = None
    facing: Facing | None = None
    facing_walls: Facing | None = None
    times: int = 1
    first: int | None = None
    ends_there: bool = False
    often: int = 0  # of such walls only the first so many, 0 = all
    nth_facing: int = 0  # of the walls that start facing there only this one, counted from 1
    none: bool = False
    last_wall: bool = False
    assumed: bool = False  # its kind is that of the event before it, no word of its own
    after_change: bool = False  # it comes right after the steps that change
    sure: bool = False  # the facing is of the event itself, not of where its wall begins
    start: int = 0  # where it begins in the text
    place_end: int = 0  # where its place is told, up to there
    end: int = 0

    @property
    def told(self) -> bool:
        """Whether it says of which walls it is."""
        return bool(self.walls or self.every or self.facing_walls is not None or self.last_wall)

    @property
    def placed(self) -> bool:
        return self.after is not None or self.left_out > 0 or self.section is not None or self.ends or self.here

    def stand_where(self, other: Mention) -> None:
        """On the walls of another event of the same sentence, and at its place where this has none."""
        self.walls, self.every = other.walls, other.every
        if not self.placed:
            self.after, self.section, self.here = other.after, other.section, other.here

    def take(self, loose: Mention) -> None:
        """What was told before the kind of event was."""
        for slot in _LOOSE:
            value = getattr(loose, slot)
            if value not in (None, (), "", False):
                setattr(self, slot, value)
        if loose.start:
            self.start = loose.start


_LOOSE = (
    "walls",
    "every",
    "after",
    "left_out",
    "section",
    "within",
    "ends",
    "here",
    "long",
    "facing",
    "facing_walls",
    "ends_there",
    "nth_facing",
    "first",
    "last_wall",
    "place_end",
)
