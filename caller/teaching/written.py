"""A programme as text to edit (TOML), and as a document for ``--json``.

Conventions: places are told as a teacher tells them, "wall 2 count 25", counts from 1 in their wall and both ends
included; speeds in per cent of the full tempo. What is left out has the value that a stage has without it. tomlkit is
imported when first needed; reading is the standard library's.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from caller.calls.places import wall_at
from caller.calls.plan import Manner
from caller.dance.walls import Dance
from caller.outside import documents
from caller.outside.numbers import shown
from caller.teaching.dosage import with_floors
from caller.teaching.floors import Floors
from caller.teaching.stage import LessonPlan, MovesOn, Stage, StageKind
from caller.teaching.standing import starts_and_ends
from caller.teaching.walkthrough import USUAL_TEMPO
from caller.teaching.written_values import (
    LONGEST_NAME,
    MOST_STAGES,
    ProgrammeFault,
    all_manners,
    all_sections,
    all_words,
    in_range,
    one_of,
    plain_number,
    seconds_told,
    share_of,
    whole_number,
    words_told,
    yes_or_no,
)

_PLACE = re.compile(r"wall (\d{1,3}) count (\d{1,4})")
_HEAD = """\
A programme: stages run from the top. Change, move or take out stages as you like.
from, to: the part that is danced, both counts included; a stage without them is told, to a class that stands as
before the count that it is told at (at).
speed: per cent of the full tempo. times: how often (0 = until somebody moves it on).
manner: ahead, on-count, counts, prompts or quiet; a list fades from one to the next.
said: what is said first; brief: with the foot alone, not where to face.
moves-on: itself, pause (of so many seconds) or pedal."""


def programme_text(programme: LessonPlan, dance: Dance) -> str:
    """The programme as TOML."""
    import tomlkit

    text = tomlkit.document()
    for line in _HEAD.splitlines():
        text.add(tomlkit.comment(line))
    for key, value in (
        ("title", programme.title),
        ("way", programme.way),
        ("tempo", plain_number(programme.tempo)),
        ("walls", programme.walls),
    ):
        text.add(key, value)
    stages = tomlkit.aot()
    for stage in programme.stages:
        table = tomlkit.table()
        for key, value in _row(stage, dance).items():
            item = tomlkit.item(value)
            if key == "said":
                item = tomlkit.array()
                item.extend(value)
                item.multiline(len(value) > 1)
            table.add(key, item)
        stages.append(table)
    text.add("stage", stages)
    return tomlkit.dumps(text)


def programme_document(programme: LessonPlan, dance: Dance) -> dict[str, Any]:
    """The programme for ``--json``: every stage with every value, ``tempo`` worked out."""
    stages, floors = [], Floors.of(dance)
    for stage in programme.stages:
        row = _row(stage, dance, every=True)
        stages.append({key.replace("-", "_"): value for key, value in row.items()})
        stages[-1]["tempo"] = plain_number(programme.tempo * stage.speed)
        facings = starts_and_ends(floors.of_stage(stage), stage)
        stages[-1] |= dict(zip(("starts", "ends"), map(str, facings) if facings else (None, None), strict=True))
    return {
        "title": programme.title,
        "way": programme.way,
        "tempo": plain_number(programme.tempo),
        "walls": programme.walls,
        "stages": stages,
    }


def read_programme(text: str, dance: Dance) -> LessonPlan:
    """A programme from its TOML, against the dance it is for. Raises ProgrammeFault."""
    try:
        document = documents.toml(text)
    except documents.Unreadable as error:
        raise ProgrammeFault(str(error)) from error
    rows = document.get("stage", [])
    if not isinstance(rows, list) or not rows or len(rows) > MOST_STAGES:
        raise ProgrammeFault(f"it has no stages: 1 to {MOST_STAGES} tables headed [[stage]] are wanted")
    _known(document, {"title", "way", "tempo", "walls", "stage"}, "the head")
    stages = tuple(_stage(row, f"stage {n}", dance) for n, row in enumerate(rows, 1))
    usual = dance.routine.header.tempo or USUAL_TEMPO
    tempo = in_range(document.get("tempo", plain_number(usual)), Fraction(20), Fraction(400), "the head: tempo")
    title = words_told(document.get("title", dance.routine.header.title) or " ", "the head: title", LONGEST_NAME)
    way = document.get("way", "walkthrough")
    if way not in ("walkthrough", "drill", "practice"):
        raise ProgrammeFault("the head: way is walkthrough, drill or practice")
    if way == "walkthrough":
        stages = tuple(with_floors(dance, stages, tempo))
    return LessonPlan(title, way, tempo, len(dance.walls), stages)


# -- out


def _row(stage: Stage, dance: Dance, every: bool = False) -> dict[str, Any]:
    plain = Stage("", stage.kind)
    row: dict[str, Any] = {"name": stage.name, "kind": stage.kind.value}
    if stage.danced:
        row |= {"from": _place(dance, stage.start), "to": _place(dance, stage.end - 1)}
    elif every:
        row |= {"from": None, "to": None}
    elif stage.start:
        row |= {"at": _place(dance, stage.start)}
    values: dict[str, tuple[Any, Any]] = {
        "speed": (stage.speed, _percent(stage.speed)),
        "times": (stage.times, stage.times),
        "manner": (stage.manners, _manners(stage.manners)),
        "said": (stage.said, list(stage.said)),
        "count-in": (stage.count_in, stage.count_in),
        "moves-on": (stage.moves_on, stage.moves_on.value),
        "pause-seconds": (stage.pause_seconds, plain_number(stage.pause_seconds)),
        "easier": (stage.easier, stage.easier),
        "creep": (stage.creep, _percent(stage.creep)),
        "up-to": (stage.up_to, _percent(stage.up_to)),
        "brief": (stage.brief, stage.brief),
        "sections": (stage.sections, [f"{part} {number}".strip() for part, number in stage.sections]),
    }
    defaults = {key: getattr(plain, "manners" if key == "manner" else key.replace("-", "_")) for key in values}
    return row | {key: told for key, (value, told) in values.items() if every or value != defaults[key]}


def _place(dance: Dance, at: Fraction) -> str:
    wall = wall_at(dance, at)
    return f"wall {wall.number} count {int(at - wall.at) + 1}"


def _manners(manners: tuple[Manner, ...]) -> str | list[str]:
    return manners[0].value if len(manners) == 1 else [manner.value for manner in manners]


def _percent(share: Fraction) -> str:
    per_cent = 100 * share
    return f"{per_cent.numerator if per_cent.denominator == 1 else round(float(per_cent), 3)}%"


# -- in


def _stage(row: Any, where: str, dance: Dance) -> Stage:
    if not isinstance(row, Mapping):
        raise ProgrammeFault(f"{where} is no table")
    _known(row, {"name", "kind", "from", "to", "at", *_READ}, where)
    values: dict[str, Any] = {}
    for key, value in row.items():
        if key in _READ:
            name, read = _READ[key]
            values[name] = read(value, f"{where}: {key}")
    start, end = _span(row, where, dance)
    kind = one_of(StageKind, row.get("kind", "drill" if end > start else "tell"), f"{where}: kind")
    name = words_told(row.get("name", where), f"{where}: name")
    stage = Stage(name, kind, start, end, **values)
    if not stage.danced and not stage.said:
        raise ProgrammeFault(f"{where} has nothing to say and nothing to dance; give it said, or from and to")
    return stage


def _span(row: Mapping[str, Any], where: str, dance: Dance) -> tuple[Fraction, Fraction]:
    if "from" not in row and "to" not in row:
        at = _count(row["at"], f"{where}: at", dance) if "at" in row else Fraction(0)
        return at, at
    if "at" in row:
        raise ProgrammeFault(f"{where} is danced from and to, or told at; only one of them is wanted")
    if "from" not in row or "to" not in row:
        raise ProgrammeFault(f"{where} says where it begins or where it ends, but not both; from and to are wanted")
    start, last = (_count(row[key], f"{where}: {key}", dance) for key in ("from", "to"))
    if last < start:
        raise ProgrammeFault(f"{where} ends before it begins")
    return start, last + 1


def _count(text: Any, where: str, dance: Dance) -> Fraction:
    match = _PLACE.fullmatch(text.strip().lower()) if isinstance(text, str) else None
    if match is None:
        raise ProgrammeFault(f'{where} is a place such as "wall 2 count 25", not {shown(text)}')
    number, count = int(match[1]), int(match[2])
    if not 1 <= number <= len(dance.walls):
        raise ProgrammeFault(f"{where}: there is no wall {number}; there are 1 to {len(dance.walls)}")
    wall = dance.walls[number - 1]
    if not 1 <= count <= wall.counts:
        raise ProgrammeFault(f"{where}: wall {number} has counts 1 to {wall.counts}, not {count}")
    return wall.at + count - 1


def _known(row: Mapping[str, Any], keys: set[str], where: str) -> None:
    for key in row:
        if key not in keys:
            known = ", ".join(sorted(keys))
            raise ProgrammeFault(f"{where} has {shown(key)}, which means nothing here; there are: {known}")


# Of each key: the stage's own name for it, and how it is read.
_READ: dict[str, tuple[str, Callable[[Any, str], Any]]] = {
    "speed": ("speed", share_of(10, 200)),
    "times": ("times", whole_number(0, 99)),
    "manner": ("manners", all_manners),
    "said": ("said", all_words),
    "count-in": ("count_in", whole_number(0, 64)),
    "moves-on": ("moves_on", lambda value, where: one_of(MovesOn, value, where)),
    "pause-seconds": ("pause_seconds", seconds_told),
    "easier": ("easier", yes_or_no),
    "creep": ("creep", share_of(0, 50)),
    "up-to": ("up_to", share_of(10, 200)),
    "brief": ("brief", yes_or_no),
    "sections": ("sections", all_sections),
}
