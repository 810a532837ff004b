"""A plan as text to edit (TOML), and as a document for ``--json``.

Conventions: times as "19:05", minutes whole, tempo in per cent of the routine's own. What is left out has the value
that an item has without it. tomlkit is imported when first needed; reading is the standard library's."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction
from typing import Any

from caller.calls.plan import Manner
from caller.evening.plan import A_DAY, LONGEST_MINUTES, MOST_ITEMS, Item, Kind, Plan, clock
from caller.outside import documents, numbers

_HEAD = """\
An evening: items run from the top. Change, move, add or take out items as you like.
kind: run (danced through), lesson, recap (gone over once), drill (one place over and over), request, break.
minutes: what it is given; left out, as many as it takes. keep = true: never proposed to be taken out.
Of a run: tempo (per cent of the routine's own), manner (ahead, on-count, counts, prompts, quiet), walls, sections (the
first so many by themselves, over and over: what the class has of a dance that is half taught), beside (another routine,
danced on the same floor by those for whom the first is too much).
music: a recording to dance to, a file's name (of a lesson, for its last stages).
Of a lesson: stage (where it begins, as 'caller walkthrough SHEET --list' shows), level; of a recap, the stage before
which it ends. Of a drill: place (section 2, part B section 1, tag, restart, change, ending).
starts, closes: left out, it starts when it is run, and has the usual time; --starts, --closes and --minutes come first.
date: the day that it was made for; left out, it is for any."""
_PLACE = re.compile(r"(?:(?:part \S{1,20} )?section \d{1,3}|tag|restart|change|ending)?", re.IGNORECASE)
_CLOCK = re.compile(r"(\d{1,2})[:.](\d{2})")
_TEMPO = re.compile(r"(\d{1,3}) ?%")
_KEYS = (
    *("kind", "routine", "minutes", "tempo", "manner", "walls", "sections", "beside"),
    *("stage", "level", "place", "music", "why", "keep"),
)
_ITEM_LINE = re.compile(r"\s*\[\[\s*[\"']?item[\"']?\s*\]\]")
# Which key a fault is about, as faults tell it.
_KEY_TOLD = re.compile(r"(?:item \d+|the head): (\w+)|(?:item \d+|the head) has '([^']*)'")
LEVELS = ("", "absolute", "beginner", "improver", "intermediate", "advanced")
LONGEST_WORDS, LONGEST_FILE = 200, 1_000
LEAST_TEMPO, MOST_TEMPO = 25, 150
MOST_WALLS = 200
MOST_SECTIONS = 100


class PlanFault(Exception):
    """A plan that can't be read: one sentence on which line and item, what, and what would do."""


def minutes_of(text: str) -> int:
    """ "19:05" in minutes since midnight. Raises ValueError."""
    found = _CLOCK.fullmatch(text.strip())
    if not found or int(found[1]) > 24 or int(found[2]) > 59:
        raise ValueError(f"a time such as 19:05, not {numbers.shown(text)}")
    return int(found[1]) % 24 * 60 + int(found[2])


def closing_after(starts: int, closes: int) -> int:
    """When it closes, in minutes of the day it starts on; a hall may close after midnight."""
    return closes if closes > starts else closes + A_DAY


def plan_text(plan: Plan) -> str:
    """The plan as TOML."""
    import tomlkit

    text = tomlkit.document()
    for line in _HEAD.splitlines():
        text.add(tomlkit.comment(line))
    for key, value in (("class", plan.class_name), ("starts", clock(plan.starts)), ("closes", clock(plan.closes))):
        text.add(key, value)
    if plan.date is not None:
        text.add("date", plan.date)
    items = tomlkit.aot()
    for item in plan.items:
        table = tomlkit.table()
        for key, value in _row(item).items():
            table.add(key, value)
        items.append(table)
    text.add("item", items)
    return tomlkit.dumps(text)


def plan_document(plan: Plan, requests: Iterable[tuple[int, str]] = ()) -> dict[str, Any]:
    """The plan for ``--json``: every item with every value, and when it begins and ends; what may be asked for."""
    return {
        "class": plan.class_name or None,
        "starts": clock(plan.starts),
        "ends": clock(plan.ends),
        "closes": clock(plan.closes),
        "spare_minutes": plan.closes - plan.ends,
        "free_why": plan.free or None,
        "items": [
            {**_row(item, every=True), "name": item.name, "starts": clock(at), "ends": clock(at + item.minutes)}
            for item, at in plan.timed()
        ],
        "left_out": [{"name": name, "why": why} for name, why in plan.left_out],
        "requests": [{"number": number, "routine": title} for number, title in sorted(requests)],
    }


@dataclass(frozen=True, slots=True)
class Hours:
    """What holds for a plan that doesn't say when it starts or closes. told: when it starts, whatever the plan says,
    None = as it says; now: when it starts where nobody says; minutes: how long it has."""

    told: int | None
    now: int
    minutes: int


def read_plan(text: str, hours: Hours | None = None) -> Plan:
    """A plan from its TOML; minutes that are left out are 0. hours: None where it has to say them itself. Raises
    PlanFault."""
    try:
        document = documents.toml(text)
    except documents.Unreadable as error:
        raise PlanFault(str(error)) from error
    rows = document.get("item", [])
    if not isinstance(rows, list) or not 1 <= len(rows) <= MOST_ITEMS:
        many = len(rows) if isinstance(rows, list) and rows else "no"
        raise PlanFault(f"it has {many} items: 1 to {MOST_ITEMS} tables headed [[item]] are wanted")
    with _lined(text, 0):
        plan = _head(document, hours)
    items = []
    for n, row in enumerate(rows, 1):
        with _lined(text, n):
            items.append(_item(row, f"item {n}"))
    return replace(plan, items=tuple(items))


def line_of(text: str, item: int, key: str = "") -> int:
    """The line, from 1, on which a plan's text has a key of an item (0 = the head), or the item; 0 where it has
    none."""
    number = here = 0
    for n, line in enumerate(text.splitlines(), 1):
        if _ITEM_LINE.match(line):
            number += 1
            here = n if number == item else here
        elif number == item and key and re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*=", line):
            return n
    return here


@contextlib.contextmanager
def _lined(text: str, item: int) -> Iterator[None]:
    """Whatever is wrong with an item within is told with its line."""
    try:
        yield
    except PlanFault as fault:
        key = _KEY_TOLD.search(str(fault))
        line = line_of(text, item, (key[1] or key[2]) if key else "")
        raise PlanFault(f"line {line}: {fault}" if line else str(fault)) from fault


def _head(document: Mapping[str, Any], hours: Hours | None) -> Plan:
    _known(document, ("class", "starts", "closes", "date", "item"), "the head")
    starts, closes = _hours(document, hours)
    name = _words(document.get("class", ""), "the head: class")
    return Plan(name, starts, closes, (), date=_day(document.get("date")))


def _hours(document: Mapping[str, Any], hours: Hours | None) -> tuple[int, int]:
    """When it starts and closes."""
    times = {
        key: _time(document.get(key, ""), f"the head: {key}")
        for key in ("starts", "closes")
        if hours is None or key in document
    }
    if hours is None:
        return times["starts"], closing_after(times["starts"], times["closes"])
    starts = times.get("starts", hours.now) if hours.told is None else hours.told
    closes = closing_after(starts, times["closes"]) if "closes" in times else starts + hours.minutes
    return starts, closes


# -- out


def _row(item: Item, every: bool = False) -> dict[str, Any]:
    plain = Item(item.kind)
    values: dict[str, tuple[object, object, Any]] = {
        "routine": (item.routine, plain.routine, item.routine),
        "minutes": (item.minutes, plain.minutes, item.minutes),
        "tempo": (item.tempo, plain.tempo, f"{round(100 * item.tempo)}%"),
        "manner": (item.manner, plain.manner, item.manner.value),
        "walls": (item.walls, plain.walls, item.walls),
        "sections": (item.sections, plain.sections, item.sections),
        "beside": (item.beside, plain.beside, item.beside),
        "stage": (item.stage, plain.stage, item.stage),
        "level": (item.level, plain.level, item.level),
        "place": (item.place, plain.place, item.place),
        "music": (item.music, plain.music, item.music),
        "why": (item.why, plain.why, item.why),
        "keep": (item.keep, plain.keep, item.keep),
    }
    told = {key: said for key, (value, usual, said) in values.items() if every or value != usual}
    return {"kind": item.kind.value, **told}


# -- in


def _item(row: Any, where: str) -> Item:
    if not isinstance(row, Mapping):
        raise PlanFault(f"{where} is no table")
    _known(row, _KEYS, where)
    kind = _one_of(Kind, row.get("kind", "run"), f"{where}: kind")
    routine = _words(row.get("routine", ""), f"{where}: routine")
    if not routine and kind not in (Kind.REQUEST, Kind.BREAK):
        raise PlanFault(f"{where} is a {kind.value} of no routine; give it routine, a title that 'caller list' shows")
    level = _words(row.get("level", ""), f"{where}: level")
    if level not in LEVELS:
        raise PlanFault(f"{where}: level is one of {', '.join(LEVELS[1:])}, not {numbers.shown(level)}")
    place = _words(row.get("place", ""), f"{where}: place").lower()
    if not _PLACE.fullmatch(place):
        raise PlanFault(f"{where}: place is section 2, part B section 1, tag, restart, change or ending, not {place!r}")
    return Item(
        kind,
        _whole(row.get("minutes", 0), 0, LONGEST_MINUTES, f"{where}: minutes"),
        routine,
        _words(row.get("why", ""), f"{where}: why"),
        _share(row.get("tempo", "100%"), f"{where}: tempo"),
        _one_of(Manner, row.get("manner", "ahead"), f"{where}: manner"),
        _whole(row["walls"], 1, MOST_WALLS, f"{where}: walls") if "walls" in row else None,
        _whole(row.get("stage", 1), 1, 500, f"{where}: stage"),
        level,
        place,
        _words(row.get("music", ""), f"{where}: music", LONGEST_FILE),
        _yes_or_no(row.get("keep", False), f"{where}: keep"),
        _whole(row["sections"], 1, MOST_SECTIONS, f"{where}: sections") if "sections" in row else None,
        _words(row.get("beside", ""), f"{where}: beside"),
    )


def _known(row: Mapping[str, Any], keys: tuple[str, ...], where: str) -> None:
    for key in row:
        if key not in keys:
            raise PlanFault(f"{where} has {numbers.shown(key)}, which means nothing here; there are: {', '.join(keys)}")


def _time(value: Any, where: str) -> int:
    try:
        return minutes_of(value if isinstance(value, str) else str(value)[:LONGEST_WORDS])
    except ValueError as fault:
        raise PlanFault(f"{where} is {fault}") from fault


def _day(value: Any) -> date | None:
    if value is not None and (not isinstance(value, date) or isinstance(value, datetime)):
        raise PlanFault(f"the head: date is a day such as 2026-03-31, not {numbers.shown(str(value))}")
    return value


def _words(value: Any, where: str, longest: int = LONGEST_WORDS) -> str:
    from caller.routine.layout.lines import plain_line

    if not isinstance(value, str):
        raise PlanFault(f"{where} is words, not {numbers.shown(value)}")
    plain = " ".join(plain_line(value[: 2 * longest]).split())
    if len(plain) > longest:
        raise PlanFault(f"{where} has more than {longest} characters")
    return plain


def _whole(value: Any, least: int, most: int, where: str) -> int:
    try:
        if isinstance(value, str):
            raise numbers.NotInRange(f"a whole number from {least} to {most}, not {numbers.shown(value)}")
        return numbers.whole(value, least, most)
    except numbers.NotInRange as fault:
        raise PlanFault(f"{where} is {fault}") from fault


def _share(value: Any, where: str) -> Fraction:
    if isinstance(value, int) and not isinstance(value, bool):
        value = f"{value}%"
    found = _TEMPO.fullmatch(value.strip()) if isinstance(value, str) else None
    if not found or not LEAST_TEMPO <= int(found[1]) <= MOST_TEMPO:
        told = numbers.shown(value)
        raise PlanFault(f'{where} is per cent from {LEAST_TEMPO} to {MOST_TEMPO}, such as "90%", not {told}')
    return Fraction(int(found[1]), 100)


def _one_of(kind: Any, value: Any, where: str) -> Any:
    try:
        return kind(value)
    except ValueError as error:
        told = ", ".join(one.value for one in kind)
        raise PlanFault(f"{where} is one of {told}, not {numbers.shown(value)}") from error


def _yes_or_no(value: Any, where: str) -> bool:
    if not isinstance(value, bool):
        raise PlanFault(f"{where} is true or false, not {numbers.shown(value)}")
    return value
