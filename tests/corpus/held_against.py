"""A sheet as read, held against its structure as its author told it.

The sheets under ``strangers/`` were written by people who had read the README and the shipped routines and nothing
else, each batch by a hand of its own; beside each stands what it says, told by hand: counts, walls, meter, tempo,
intro, parts and order, events, and each section's counts, facing at its end and movements ([count, foot], "B" = both
feet or the hips). A wrong one tells its fault and the lines on which it may fairly be reported.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from caller.dance.check import check, has_errors
from caller.intake.take import take_in
from caller.routine.facing import Facing
from caller.routine.findings import Finding, Severity
from caller.routine.notation.read import SheetRead, read_bytes
from caller.routine.parts import Routine
from caller.routine.passages import Step

FOLDER = Path(__file__).parent / "strangers"
BATCHES = tuple(sorted(folder.name for folder in FOLDER.iterdir() if folder.is_dir()))
_DOCUMENTS = (".html", ".pdf", ".docx", ".odt")


def sheets(kind: str) -> Iterator[tuple[str, str]]:
    """(batch, file name without ending) of all sheets that are "sound" or "wrong"."""
    for batch in BATCHES:
        for told in sorted((FOLDER / batch / kind).glob("*.json")):
            yield batch, told.stem


@cache
def read(batch: str, kind: str, name: str) -> SheetRead:
    """Once for all that is asked of it: what a sheet is read as is a value."""
    folder = FOLDER / batch / kind
    path = next(p for p in sorted(folder.glob(f"{name}.*")) if p.suffix != ".json")
    raw = path.read_bytes()
    return read_bytes(take_in(raw).text.encode() if path.suffix in _DOCUMENTS else raw)


def accepted() -> Iterator[tuple[str, SheetRead]]:
    """The sound sheets that are danced today, by their name ("b/09")."""
    refused = set(tomllib.loads((FOLDER / "standing.toml").read_text(encoding="utf-8"))["refused"])
    for batch, name in sheets("sound"):
        if f"{batch}/{name}" not in refused:
            yield f"{batch}/{name}", read(batch, "sound", name)


def told(batch: str, kind: str, name: str) -> dict[str, Any]:
    document: dict[str, Any] = json.loads((FOLDER / batch / kind / f"{name}.json").read_text(encoding="utf-8"))
    return document


@dataclass(frozen=True, slots=True)
class Outcome:
    """accepted: no error. differs: where the structure read is another. unread: step lines not read, of lines."""

    accepted: bool
    differs: tuple[str, ...]
    unread: int
    lines: int


def outcome(sheet: SheetRead, truth: dict[str, Any]) -> Outcome:
    routine = sheet.routine
    steps = [step for section in routine.sections for step in section.passage.steps]
    unread = {s.place.line for s in steps if s.movement.action == "unread"}
    differs = (*_header(routine, truth), *_parts(routine, truth), *_events(routine, truth), *_sections(routine, truth))
    return Outcome(not has_errors(check(sheet)), differs, len(unread), len({s.place.line for s in steps}))


def named(sheet: SheetRead, truth: dict[str, Any]) -> bool:
    """Whether the dance has its author's name, whatever the typing."""
    return _plain_name(sheet.routine.header.title) == _plain_name(truth["title"])


def _plain_name(title: str) -> str:
    plain = title.casefold().replace("&", " and ").replace("'", "").replace("\u2019", "")
    return " ".join(re.findall(r"\w+", plain))


def found(sheet: SheetRead, truth: dict[str, Any]) -> bool:
    """Whether the fault is reported, as an error, on one of its lines."""
    lines = {truth["line"], *truth.get("also", [])}
    errors: list[Finding] = [f for f in check(sheet) if f.severity is Severity.ERROR]
    return any(f.place.line in lines for f in errors)


def _header(routine: Routine, truth: dict[str, Any]) -> Iterator[str]:
    header = routine.header
    if truth["counts"] and (header.counts or routine.counts) != truth["counts"]:
        yield "counts"
    if str(header.meter) != truth["meter"]:
        yield "meter"
    if truth["tempo"] and header.tempo != Fraction(str(truth["tempo"])):
        yield "tempo"
    if truth["intro"] is not None and header.intro != truth["intro"]:
        yield "intro"


def _parts(routine: Routine, truth: dict[str, Any]) -> Iterator[str]:
    lengths: dict[str, int] = {}
    for section in routine.sections:
        lengths[section.part] = lengths.get(section.part, 0) + section.passage.counts
    if truth["parts"] and {p: n for p, n in lengths.items() if p} != truth["parts"]:
        yield "parts"
    order = ["Tag" if item.tag is not None else item.part for item in routine.order]
    if truth["order"] and order != [_item(str(item)) for item in truth["order"]]:
        yield "order"


def _item(text: str) -> str:
    if text.lower().startswith(("tag", "bridge")):
        return "Tag"
    letters = re.match(r"[A-Za-z]+", text)
    return letters.group()[:1] if letters else text


_Told = tuple[str, int, int | None, int | None]


def _events(routine: Routine, truth: dict[str, Any]) -> Iterator[str]:
    total = routine.counts
    long: dict[tuple[int, int], int] = {}  # a tag that is danced twice over is so much longer
    for tag in routine.tags:
        for cut in tag.cuts:
            place = cut.wall, total if cut.after is None else cut.after
            long[place] = long.get(place, 0) + tag.passage.counts
    mine: set[_Told] = {("tag", *place, counts) for place, counts in long.items()}
    for restart in routine.restarts:
        mine |= {("restart", cut.wall, cut.after, None) for cut in restart.cuts}
        mine |= {("change", cut.wall, None, None) for cut in restart.cuts if restart.replacements}
    for change in routine.changes:
        mine |= {("change", wall, None, None) for wall in change.walls if change.replacements}
    if routine.ending is not None:
        cut = routine.ending.cut
        mine.add(("ending", cut.wall, total if cut.after is None else cut.after, None))
    mine |= _cut_in_the_order(routine, truth)
    wanted: set[_Told] = set()
    in_order = any(item.tag is not None for item in routine.order)  # there a tag is told by its place
    for event in truth["events"]:
        kind = event["kind"]
        if in_order and kind == "tag":
            if event["counts"] not in {tag.passage.counts for tag in routine.tags}:
                yield "tag's counts"
            continue
        after = None if kind == "change" else event["after"]
        wanted.add((kind, event["wall"], after, event["counts"] if kind == "tag" else None))
    for event in sorted(_at_the_end(mine) ^ _at_the_end(wanted), key=str):
        yield f"{event[0]} on wall {event[1]}"


def events_differ(routine: Routine, events: list[dict[str, Any]]) -> tuple[str, ...]:
    """What is read otherwise than these events are told, of a dance without parts."""
    return tuple(_events(routine, {"events": events, "order": []}))


def _cut_in_the_order(routine: Routine, truth: dict[str, Any]) -> set[_Told]:
    """ "A16" stands in the order, as a restart does beside it; of "A-" only where its author tells a restart too."""
    walls = [item for item in routine.order if item.part]
    told = [str(item) for item in truth["order"] if not str(item).lower().startswith(("tag", "bridge"))]
    short = {n for n, item in enumerate(told, 1) if item.endswith(("-", "*"))}
    restarts = {event["wall"] for event in truth["events"] if event["kind"] == "restart"}
    return {
        ("restart", n, item.counts, None)
        for n, item in enumerate(walls, 1)
        if item.counts and (n not in short or n in restarts)
    }


def _at_the_end(events: set[_Told]) -> set[_Told]:
    """A tag after a restart is at that wall's end, however its place is counted."""
    cuts = {wall: after for kind, wall, after, _ in events if kind == "restart" and after is not None}
    return {
        (kind, wall, min(after, cuts[wall]) if kind == "tag" and after is not None and wall in cuts else after, counts)
        for kind, wall, after, counts in events
    }


def _sections(routine: Routine, truth: dict[str, Any]) -> Iterator[str]:
    if len(routine.sections) != len(truth["sections"]):
        yield f"{len(routine.sections)} sections for {len(truth['sections'])}"
    facing, part, over = Facing(), None, list[Step]()
    for n, (section, wanted) in enumerate(zip(routine.sections, truth["sections"], strict=False), 1):
        if section.part != part:
            facing, part = Facing(), section.part
            over = []
        moves: list[str] = []
        moment: Fraction | None = None
        for step in [*over, *(step for step in section.passage.steps if step.at < section.passage.counts)]:
            facing = facing + step.movement.turn
            if step.movement.action not in ("hold", "clap") and step.at != moment:
                moment = step.at
                moves.append(step.movement.foot.value if step.movement.foot else "B")
        # "8&1": the step on the 1 is the first of what comes next.
        over = [replace(step, at=Fraction(0)) for step in section.passage.steps if step.at >= section.passage.counts]
        feet = [foot for _, foot in wanted["movements"]]
        if section.passage.counts != wanted["counts"]:
            yield f"section {n}: counts"
        if str(facing) != wanted["ends"]:
            yield f"section {n}: facing"
        if len(moves) != len(feet) or any(a != b and "B" not in (a, b) for a, b in zip(moves, feet, strict=True)):
            yield f"section {n}: movements"
