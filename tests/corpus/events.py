"""Events told by other hands on one dance of 32 counts: how the blocks of ``events/*.txt`` are laid out and compared.

A block: ``@head``, ``@1`` to ``@4`` (below that section) or ``@foot`` with the author's words below, then ``=>`` with
the truth as JSON: kind, wall, after (counts danced in that wall before it), counts (of a tag).
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from caller.dance.check import check, has_errors
from caller.routine.notation.read import read_sheet
from caller.routine.parts import Replacement, Routine

FOLDER = Path(__file__).parent / "events"
Told = tuple[str, int, int | None, int | None]

_SECTIONS = (
    "Section 1: Vine right, vine left\n1-4 Step R to side, step L behind R, step R to side, touch L beside R\n"
    "5-8 Step L to side, step R behind L, step L to side, touch R beside L",
    "Section 2: K-step\n1-4 Step R forward diagonal, touch L beside R, step L back diagonal, touch R beside L\n"
    "5-8 Step R back diagonal, touch L beside R, step L forward diagonal, touch R beside L",
    "Section 3: Walks\n1-4 Walk forward R, L, R, kick L forward\n5-8 Walk back L, R, L, touch R beside L",
    "Section 4: Jazz box, quarter\n1-4 Cross R over L, step L back, step R to side, step L forward\n"
    "5-8 Step R forward, hold, pivot 1/4 left, hold",
)
_HEAD = "Test Dance\nChoreographer: Ann Other\n32 counts, 4 walls, Beginner\nIntro: 16 counts, 120 bpm"
_LAST = 24  # counts before the last section: leaving that out is a restart


@dataclass(frozen=True, slots=True)
class EventCase:
    """name: file and number; placed: the author's words by their place; truth: as told beside them."""

    name: str
    placed: dict[str, str] = field(default_factory=dict)
    truth: tuple[dict[str, Any], ...] = ()

    @property
    def sheet(self) -> str:
        lines = [_HEAD, self.placed.get("head", "")]
        for number, section in enumerate(_SECTIONS, 1):
            lines += [section, self.placed.get(str(number), "")]
        return "\n".join([*lines, self.placed.get("foot", "")]) + "\n"


def cases() -> Iterator[EventCase]:
    for path in sorted(FOLDER.glob("*.txt")):
        yield from _cases(path)


def _cases(path: Path) -> Iterator[EventCase]:
    placed: dict[str, str] = {}
    place, number = "", 0
    for line in path.read_text(encoding="utf-8").splitlines():
        if (at := re.fullmatch(r"@\s*(head|foot|[1-4])\s*", line)) is not None:
            place = at[1]
            placed[place] = ""
        elif line.startswith("=>"):
            number += 1
            words = {key: text.strip("\n") for key, text in placed.items()}
            yield EventCase(f"{path.stem}/{number:02}", words, tuple(json.loads(line[2:])))
            placed, place = {}, ""
        elif place:
            placed[place] += f"{line}\n"


def read_as_told(case: EventCase) -> bool:
    """Whether the sheet is accepted, with its four sections and just these events."""
    sheet = read_sheet(case.sheet)
    routine = sheet.routine
    told = {(e["kind"], e["wall"], _place(e), e["counts"] if e["kind"] == "tag" else None) for e in case.truth}
    whole = len(routine.sections) == len(_SECTIONS) and not has_errors(check(sheet))
    return whole and _alike(set(_events(routine))) == _alike(told)


def _place(event: dict[str, Any]) -> int | None:
    return None if event["kind"] == "change" else event["after"]


def _alike(events: set[Told]) -> set[Told]:
    """Tags at a restart stand at its place; the last section left out is a restart."""
    cuts = {wall: after for kind, wall, after, _ in events if kind == "restart"}
    found = set()
    for kind, wall, after, counts in events:
        cut = cuts.get(wall)
        at = cut if kind == "tag" and cut is not None and after is not None and after >= cut else after
        found.add(("restart" if kind == "skip" and at == _LAST else kind, wall, at, counts))
    return found


def _events(routine: Routine) -> Iterator[Told]:
    for tag in routine.tags:
        for cut in tag.cuts:
            yield "tag", cut.wall, routine.counts if cut.after is None else cut.after, tag.passage.counts
    for restart in routine.restarts:
        for cut in restart.cuts:
            yield "restart", cut.wall, cut.after, None
            yield from (_changed(routine, cut.wall, one) for one in restart.replacements)
    for change in routine.changes:
        for wall in change.walls:
            yield from (_changed(routine, wall, one) for one in change.replacements)
    if routine.ending is not None:
        cut = routine.ending.cut
        yield "ending", cut.wall, routine.counts if cut.after is None else cut.after, None


def _changed(routine: Routine, wall: int, one: Replacement) -> Told:
    before = sum(section.passage.counts for section in routine.sections if section.number < one.section)
    return ("skip", wall, before + one.first - 1, None) if one.leaves_out else ("change", wall, None, None)
