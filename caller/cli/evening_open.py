"""An evening that was cut short: which one is meant, since when it is open, and the command that goes on with it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caller.cli.evening_plan import file_of, in_shell, only_class
from caller.cli.say import Refused
from caller.evening.plan import Kind, Plan
from caller.evening.written import PlanFault

if TYPE_CHECKING:
    from caller.cli.evening import EveningOptions
    from caller.cli.evening_place import EveningPlace


def open_ones(asked: EveningOptions, now: datetime) -> list[EveningPlace]:
    """The evenings that were cut short and may be meant: of the class that is named, or of the plan's file, else of the
    one class that the book has, else all."""
    from caller.book.spelling import same_name
    from caller.cli.evening_place import open_places

    there = [(place, plan) for place in open_places(now) if (plan := _plan_of(place)) is not None]
    if asked.class_name is not None:
        there = [(place, plan) for place, plan in there if same_name(plan.class_name, asked.class_name)]
    elif asked.file:
        there = [(place, plan) for place, plan in there if place.file == file_of(asked)]
    if len(there) > 1 and (own := only_class()):
        there = [(place, plan) for place, plan in there if same_name(plan.class_name, own)] or there
    return [place for place, _ in there]


def open_place(asked: EveningOptions, now: datetime) -> EveningPlace | None:
    """The one that is meant. Raises Refused where it may be one of several."""
    there = open_ones(asked, now)
    if len(there) > 1:
        names = ", ".join(repr(place.as_planned.class_name) for place in there)
        raise Refused(f"evenings of several classes were cut short: say --class, one of {names}; or --afresh")
    return there[0] if there else None


def open_of(class_name: str, now: datetime) -> EveningPlace | None:
    """The evening of that class that was cut short; None where none was."""
    from caller.book.spelling import same_name
    from caller.cli.evening_place import open_places

    planned = ((place, _plan_of(place)) for place in open_places(now))
    return next((place for place, plan in planned if plan is not None and same_name(plan.class_name, class_name)), None)


def changed_since(place: EveningPlace) -> bool:
    """Whether the file of its plan was changed after the evening had begun."""
    try:
        return bool(place.file and place.begun) and (
            Path(place.file).stat().st_mtime > datetime.fromisoformat(place.begun).timestamp() + 1
        )
    except OSError:
        return False


def open_words(place: EveningPlace) -> str:
    """ "an evening of 'Tuesday' is open since 19:02, at item 3 of 7, Slow Water, lesson: 'caller
    evening --class Tuesday' goes on with it, 'caller evening --class Tuesday --afresh' begins anew"."""
    plan = place.as_planned
    whose = f" of {plan.class_name!r}" if plan.class_name else ""
    since = f" since {_hour(place.begun)}" if place.begun else ""
    index = _index_of(place, plan)
    where = f"item {index + 1} of {len(plan.items)}, {plan.items[index].name}"
    named = f" --class {in_shell(plan.class_name)}" if plan.class_name else ""
    file = f" {in_shell(place.file)}" if place.file else ""
    command, anew = f"caller evening{named}", f"caller evening{file}{named} --afresh"
    return f"an evening{whose} is open{since}, at {where}: '{command}' goes on with it, '{anew}' begins anew"


def open_document(place: EveningPlace) -> dict[str, Any]:
    """The same for ``--json``."""
    plan = place.as_planned
    index = _index_of(place, plan)
    return {
        "class": plan.class_name or None,
        "since": place.begun or None,
        "left": place.at,
        "item": index + 1,
        "items": len(plan.items),
    }


def _index_of(place: EveningPlace, plan: Plan) -> int:
    """Of the item that it goes on with: the one that it waited for; a break goes on."""
    index = min(place.index, len(plan.items) - 1)
    resting = plan.items[index].kind is Kind.BREAK and place.ahead == place.index + 1
    return index if place.ahead is None or resting else min(place.ahead, len(plan.items) - 1)


def _plan_of(place: EveningPlace) -> Plan | None:
    try:
        return place.as_planned
    except PlanFault:
        return None


def _hour(at: str) -> str:
    return f"{datetime.fromisoformat(at):%H:%M}"
