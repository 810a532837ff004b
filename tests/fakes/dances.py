"""Dances built by hand: what the unroller would make of small routines, without a sheet.

Conventions: a section is given as rows ``(counts, phrases)``; a phrase as ``(its wordings, its movements)``; a
movement as ``(place, word, foot, turn)`` with the place in counts from the section's first, the foot "R", "L" or "",
the turn in eighths.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from caller.dance.walls import Dance, DancedPhrase, DancedStep, Stretch, Wall, WallEvent
from caller.routine.count import label_of
from caller.routine.facing import FRONT, Turn
from caller.routine.meter import Meter
from caller.routine.named_figures import FigureCalled
from caller.routine.parts import Header, Routine, Section
from caller.routine.passages import Passage, Step
from caller.routine.step import Body, Foot, Movement, Weight

Move = tuple[Fraction | int, str, str, int]
PhraseRow = tuple[tuple[str, ...], tuple[Move, ...]]


@dataclass(frozen=True)
class Rows:
    """A section, tag (section 0) or ending (section 0)."""

    name: str
    counts: int
    phrases: tuple[PhraseRow, ...]
    section: int = 0


HALF = Fraction(1, 2)

# What phrases are figures, by the last of their wordings.
FIGURES = {"shuffle": "shuffle", "chair": "rocking chair", "twinkle": "twinkle", "vine": "vine"}

WALKS = Rows(
    "Walks and triple",
    8,
    (
        (("walk right, walk left", "walk, walk", "walk"), ((0, "walk", "R", 0), (1, "walk", "L", 0))),
        (
            ("right shuffle forward", "right shuffle", "shuffle"),
            ((2, "step", "R", 0), (2 + HALF, "close", "L", 0), (3, "step", "R", 0)),
        ),
        (("rock forward, recover", "rock, recover", "rock"), ((4, "rock", "L", 0), (5, "recover", "R", 0))),
        (
            ("left shuffle back", "shuffle back", "shuffle"),
            ((6, "step", "L", 0), (6 + HALF, "close", "R", 0), (7, "step", "L", 0)),
        ),
    ),
    section=1,
)

PIVOTS = Rows(
    "Pivots",
    8,
    (
        (("step, pivot a quarter left", "step, pivot", "pivot"), ((0, "step", "R", 0), (1, "pivot", "L", -2))),
        (
            ("rocking chair", "chair"),
            ((2, "rock", "R", 0), (3, "back", "L", 0), (4, "rock", "R", 0), (5, "back", "L", 0)),
        ),
        (("touch right, hold", "touch"), ((6, "touch", "R", 0), (7, "hold", "", 0))),
    ),
    section=2,
)

SWAYS = Rows(
    "Tag", 4, ((("sway right, left, right, left", "sway"), tuple((n, "sway", "RLRL"[n], 0) for n in range(4))),)
)
HALF_BAR = Rows("Tag B", 2, ((("stomp, stomp", "stomp"), ((0, "stomp", "R", 0), (1, "stomp", "L", 0))),))
STOMP = Rows("Ending", 1, ((("stomp right forward", "stomp"), ((0, "stomp", "R", 0),)),))

WALTZ = Rows(
    "Twinkle",
    6,
    (
        (("left twinkle", "twinkle"), ((0, "cross", "L", 0), (1, "side", "R", 0), (2, "close", "L", 0))),
        (
            ("right twinkle turning a quarter right", "twinkle"),
            ((3, "cross", "R", 0), (4, "side", "L", 2), (5, "close", "R", 0)),
        ),
    ),
    section=1,
)

# A section whose first movement is a pick-up, in the count before it.
PICK_UP = Rows(
    "Ball step",
    8,
    (
        (("and step, touch", "and step"), ((-HALF, "and", "R", 0), (0, "step", "L", 0), (1, "touch", "R", 0))),
        (
            ("vine right, touch", "vine"),
            ((2, "side", "R", 0), (3, "behind", "L", 0), (4, "side", "R", 0), (5, "touch", "L", 0)),
        ),
    ),
    section=3,
)


def dance_of(
    walls: int = 4,
    sections: Sequence[Rows] = (WALKS, PIVOTS),
    *,
    tags: Mapping[int, Rows] | None = None,
    tags_inside: Mapping[int, tuple[int, Rows]] | None = None,
    restarts: Mapping[int, int] | None = None,
    changes: Mapping[int, int] | None = None,
    ending: tuple[int, Rows] | None = None,
    meter: Meter | None = None,
    part: str = "",
) -> Dance:
    """A dance of so many walls. tags: after the sections of a wall; tags_inside, restarts: after so many counts of
    it; changes: from that count of the wall on (only told, the steps stay); ending: in the last wall, after so many
    counts."""
    routine = Routine(
        Header(title="Tin Lantern", meter=meter or Meter()),
        tuple(Section(rows.section, rows.name, Passage(rows.counts), part=part) for rows in sections),
    )
    danced: list[Wall] = []
    at, body = Fraction(0), Body(FRONT, Weight.LEFT)
    for number in range(1, walls + 1):
        laid: list[tuple[int, Rows]] = []
        events: list[WallEvent] = []
        place = 0
        cut = (restarts or {}).get(number)
        if ending and number == walls:
            cut = ending[0]
        inside = (tags_inside or {}).get(number)
        for rows in _parted(sections, inside[0]) if inside else sections:
            if inside and place == inside[0]:
                laid.append((place, inside[1]))
                events.append(WallEvent("tag", place, inside[1].counts, inside[1].name))
                place += inside[1].counts
            if cut is not None and place >= cut:
                break
            laid.append((place, rows))
            place += rows.counts
        place = place if cut is None else cut
        if number in (changes or {}):
            events.append(WallEvent("change", (changes or {})[number], 4, ""))
        if number in (restarts or {}):
            events.append(WallEvent("restart", place, 0, ""))
        closing = [("tag", (tags or {}).get(number))]
        closing.append(("ending", ending[1] if ending and number == walls else None))
        for kind, rows_after in closing:
            if rows_after:
                laid.append((place, rows_after))
                events.append(WallEvent(kind, place, rows_after.counts, rows_after.name))
                place += rows_after.counts
        wall, body = _wall(number, part, at, place, laid, events, cut, body)
        danced.append(wall)
        at = wall.end
    return Dance(routine, tuple(danced), ending is not None)


def _parted(sections: Sequence[Rows], after: int) -> list[Rows]:
    """The sections with the one in which that count falls parted there."""
    found: list[Rows] = []
    for rows in sections:
        here = after - sum(earlier.counts for earlier in found)
        if not 0 < here < rows.counts:
            found.append(rows)
            continue
        tail = tuple(
            (wordings, tuple((place - here, *rest) for place, *rest in moves if place >= here))
            for wordings, moves in rows.phrases
        )
        found += [replace(rows, counts=here), replace(rows, counts=rows.counts - here, phrases=tail)]
    return found


def _figure(wordings: Sequence[str], moves: Sequence[Move]) -> FigureCalled | None:
    """The figure that the wordings name."""
    name = FIGURES.get(wordings[-1])
    if name is None:
        return None
    way = next((way for way in ("forward", "back") if name == "shuffle" and wordings[0].endswith(way)), "")
    return FigureCalled(name, way, Foot(moves[0][2]), Turn(sum(turn for _, _, _, turn in moves)))


def _wall(
    number: int,
    part: str,
    at: Fraction,
    counts: int,
    laid: list[tuple[int, Rows]],
    events: list[WallEvent],
    cut: int | None,
    body: Body,
) -> tuple[Wall, Body]:
    starts = body.facing
    movements: list[DancedStep] = []
    phrases: list[DancedPhrase] = []
    stretches: list[Stretch] = []
    for place, rows in laid:
        left = rows.counts if cut is None or not rows.section else min(rows.counts, cut - place)
        stretches.append(Stretch(at + place, left, rows.section, rows.name, body.facing))
        for wordings, moves in rows.phrases:
            kept = [move for move in moves if move[0] < left]
            if not kept:
                continue
            first = len(movements)
            for offset, word, foot, turn in kept:
                after = Weight(foot) if foot and word not in ("touch",) else None
                movement = Movement(word, Foot(foot) if foot else None, "", Turn(turn), after)
                step = Step(Fraction(offset), label_of(Fraction(offset)), movement)
                movements.append(DancedStep(at + place + offset, step, body, body.after(movement), rows.section))
                body = body.after(movement)
            each = tuple(move[1] for move in kept)
            where = at + place + kept[0][0]
            last, figure = len(movements) - 1, _figure(wordings, kept)
            phrases.append(DancedPhrase(where, first, last, wordings[0], wordings, each, rows.section, figure=figure))
    wall = Wall(
        number, part, at, counts, starts, body.facing, tuple(movements), tuple(phrases), tuple(stretches), tuple(events)
    )
    return wall, body
