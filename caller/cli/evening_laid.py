"""An evening laid ready to be run: a new one, or the one that was cut short, with what each item is run by."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from caller.cli.evening_open import changed_since, open_of, open_place, open_words
from caller.cli.evening_plan import at_hours, file_of, midnight_of, planned, titles_known
from caller.cli.say import Refused, warn
from caller.evening.written import PlanFault

if TYPE_CHECKING:
    from caller.cli.evening import EveningOptions
    from caller.cli.evening_items import Items
    from caller.cli.evening_place import EveningPlace
    from caller.evening.plan import Plan
    from caller.session.desk import Music
    from caller.session.slots import Slot


@dataclass(frozen=True, slots=True)
class PreparedEvening:
    """An evening, ready to be run. place: where it goes on, None at its start. midnight: before it, of the machine's
    own time."""

    plan: Plan
    slots: tuple[Slot, ...]
    catalogue: tuple[Slot, ...]
    midnight: datetime
    music: Mapping[str, Callable[[], Music]]
    place: EveningPlace | None = None


def items_of(asked: EveningOptions) -> Items:
    """What makes the items of a plan into what is run, as the command line asks."""
    from caller.cli.evening_items import Items
    from caller.teaching.running import Waits

    return Items(Waits(asked.wait), asked.as_it_stands)


def lay(asked: EveningOptions) -> PreparedEvening:
    """The evening that the command line asks for, or the one that was cut short. Raises Refused."""
    items, now = items_of(asked), datetime.now()
    place, given_up = (None, False) if asked.afresh else (open_place(asked, now), True)
    if place is not None and not asked.new and file_of(asked) in ("", place.file):  # its plan may be of a file
        try:
            plan = at_hours(asked, place.as_planned)
            slots, catalogue = items.slots(plan), items.catalogue(titles_known(plan.class_name))
        except (PlanFault, Refused) as fault:
            warn(f"the evening that was cut short can't be gone on with ({fault}); a new one is begun")
            given_up = False
        else:
            if changed_since(place):
                as_it_was = "was changed since the evening began, which goes on as it was planned"
                warn(f"{place.file} {as_it_was}; --afresh takes it as it is now")
            midnight = datetime.fromisoformat(place.midnight)
            return PreparedEvening(plan, slots, catalogue, midnight, items.music(plan, catalogue), place)
    plan = planned(asked, items)
    if given_up and (other := open_of(plan.class_name, now)) is not None:
        warn(f"{open_words(other)}; once this one has begun, that one is given up")
    slots, catalogue = items.slots(plan), items.catalogue(titles_known(plan.class_name))
    return PreparedEvening(plan, slots, catalogue, midnight_of(plan, now), items.music(plan, catalogue))
