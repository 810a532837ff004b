"""Sheets put together at random: rows of steps, each in the wordings of several authors, under headings, counts and
facings laid out in many ways, with what they say told beside them. Every wording stands with every layout, so that none
is read only in the company it was first met in. Common practice of the trade, no published source.

Conventions: rows are written for a right lead and mirrored for a left one; facings in quarters of a turn to the right.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from hypothesis import strategies as st

# A row of steps: its counts within it, the feet, which foot is free after it, quarters it turns, its wordings.
_Row = tuple[str, str, str, int, tuple[str, ...]]
# fmt: off
ROWS: tuple[_Row, ...] = (
    ("1 2 3 4", "RLRL", "L", 0, ("Vine right, touch left", "Step R to side, L behind R, R to side, touch L beside R",
        "Step right to right side, step left behind right, step right to right side, touch left next to right",
        "RF to side, LF behind, RF to side, LF touch")),
    ("1 2 3 4", "RLRL", "L", 0, ("Walk fwd right, left, right, kick left forward",
        "Step R fwd, step L fwd, step R fwd, kick L fwd")),
    ("1 2", "RL", "R", 0, ("Rock R forward, recover L", "Rock forward on right, recover on left", "Rock fwd R, rec L",
        "Step right forward (rock), replace weight to left", "R rock fwd, recover")),
    ("1 2", "RL", "R", 0, ("Rock right to side, recover left", "Side rock R, recover L")),
    ("1 & 2", "RLR", "L", 0, ("Right shuffle forward", "Step R fwd, L together, R fwd", "Chasse fwd RLR",
        "R triple step forward", "Shuffle forward R, L, R")),
    ("1 & 2", "RLR", "L", 0, ("Right coaster step", "R back, L tog, R fwd",
        "Step back on right, step left beside right, step forward on right")),
    ("1 & 2", "RLR", "L", 0, ("R sailor step", "Cross R behind L, step L to side, step R to side")),
    ("1 2", "RL", "R", -2, ("Step R forward, pivot 1/2 left", "Step fwd R, pivot \u00bd turn L",
        "Step right forward, pivot half turn left (weight on left)", "R fwd, \u00bd pivot L")),
    ("1 2", "RL", "R", -1, ("Step R forward, pivot 1/4 left", "R fwd, 1/4 pivot L", "Step fwd R, pivot \u00bc turn L")),
    ("1 2 3 4", "RLRL", "R", 0, ("Right jazz box",
        "Cross R over L, step back on L, step R to right side, step L beside R")),
    ("1 2", "RL", "L", 0, ("Step R to side, touch L beside R", "R side, L touch", "side R, touch L together")),
    ("1 2", "RL", "R", 0, ("Walk forward R, L", "Step forward right, left", "Walk, walk (R, L)")),
    ("1 2 3 4", "RLRL", "R", 0, ("Sway R, L, R, L", "Sway hips right, left, right, left")),
    ("1 2 3 4", "RLRL", "R", 0, ("R rocking chair", "Rock fwd R, recover L, rock back R, recover L")),
    ("1 & 2", "RRL", "R", 0, ("R kick ball change", "Kick R forward, step R beside L, step L in place")),
    ("1 2", "RL", "R", 1, ("Turn 1/4 right stepping R forward, step L beside R",
        "\u00bc R stepping fwd on R, close L to R")),
)
NAMES = ("Vines", "Rocks and shuffle", "Jazz box", "Coaster, walks", "Step, touch, sailor")
HEADINGS = (
    "S{k}: {name}", "Section {k}: {name}", "SECTION {k} - {name}", "[{a}-{b}] {name}", "Counts {a}-{b}: {name}",
    "{nth} 8: {name}", "Sec {k} ({a}-{b}) {name}", "S{k} [{a}-{b}] {name}", "Set {k}", "Part {k}: {name}",
    "{k}. {name}", "-- {name} --", "{nth} section ({a}-{b})", "* {name} *", "{nth} eight: {name}",
)
COUNTS: tuple[Callable[[list[str]], str], ...] = (
    lambda told: "".join(told) if "&" in told else f"{told[0]}-{told[-1]}",
    lambda told: "".join(told) if "&" in told else ", ".join(told),
    " ".join,
    lambda told: " ".join(told) if "&" in told else f"{told[0]} - {told[-1]}",
)
LAYOUTS = ("{counts}  {steps}{faced}", "{counts}: {steps}{faced}", "{counts}\t{steps}{faced}",
    "({counts}) {steps}{faced}",
    "{steps} ({counts}){faced}", "{steps}{faced}    {counts}")
FACINGS = ("", " ({hour}:00)", " [{hour}:00]", ", facing {hour}:00", " (face {hour})")
# fmt: on
_NTH = ("First", "Second", "Third", "Fourth")
_SIDES = {"R": "L", "L": "R", "right": "left", "left": "right", "Right": "Left", "Left": "Right"}
_SIDES |= {"RF": "LF", "LF": "RF", "RLR": "LRL", "LRL": "RLR"}
_SIDE = re.compile(r"\b(?:" + "|".join(sorted(_SIDES, key=len, reverse=True)) + r")\b")
_EIGHT = 8
_SECTIONS = st.sampled_from((2, 4))


@dataclass(frozen=True, slots=True)
class MadeUp:
    """A sheet's text; feet: of each section, each movement's count and foot; ends: where each section ends, an hour."""

    text: str
    feet: tuple[tuple[tuple[str, str], ...], ...]
    ends: tuple[int, ...]


def _mirrored(text: str) -> str:
    return _SIDE.sub(lambda found: _SIDES[found[0]], text)


@st.composite
def sheets(draw: st.DrawFn) -> MadeUp:
    """Sheets in which every foot that moves is free, and a wall ends with the right foot free."""
    heading, counts = draw(st.sampled_from(HEADINGS)), draw(st.sampled_from(COUNTS))
    layout, facing = draw(st.sampled_from(LAYOUTS)), draw(st.sampled_from(FACINGS))
    free, quarters, lines = "R", 0, list[str]()
    feet, ends = list[tuple[tuple[str, str], ...]](), list[int]()
    sections = draw(_SECTIONS)
    for k in range(1, sections + 1):
        name = draw(st.sampled_from(NAMES))
        lines.append(heading.format(k=k, a=_EIGHT * k - 7, b=_EIGHT * k, name=name, nth=_NTH[k - 1]))
        at, moved = 0, list[tuple[str, str]]()
        while at < _EIGHT:
            row = draw(st.sampled_from(_fitting(at, free, last=k == sections)))
            left, turned = free == "L", quarters
            numbers = [mark if mark == "&" else str(int(mark) + at) for mark in row[0].split()]
            moved += zip(numbers, _mirror_feet(row[1], left), strict=True)
            quarters = (quarters + (-row[3] if left else row[3])) % 4
            free = _SIDES[row[2]] if left else row[2]
            steps = draw(st.sampled_from(row[4]))
            faced = facing.format(hour=quarters * 3 or 12) if quarters != turned else ""
            lines.append(layout.format(counts=counts(numbers), steps=_mirrored(steps) if left else steps, faced=faced))
            at += len(row[0].replace("&", "").split())
        lines.append("")
        feet.append(tuple(moved))
        ends.append(quarters * 3 or 12)
    walls = {0: 1, 1: 4, 2: 2, 3: 4}[quarters]
    head = f"Copper Kettle\n{_EIGHT * sections} counts, {walls} wall, Improver, 118 bpm, 16 count intro\n\n"
    return MadeUp(head + "\n".join(lines), tuple(feet), tuple(ends))


def _mirror_feet(feet: str, left: bool) -> list[str]:
    return [_SIDES[foot] if left else foot for foot in feet]


def _fitting(at: int, free: str, *, last: bool) -> list[_Row]:
    """The rows that have room in the eight; the last of a wall leaves the right foot free."""
    rows = [
        row for row in ROWS if at + len(row[0].replace("&", "").split()) <= _EIGHT and (len(row[0]) < 7 or not at % 4)
    ]
    if not last:
        return rows
    ending = [row for row in rows if (_SIDES[row[2]] if free == "L" else row[2]) == "R"]
    return [row for row in rows if at + len(row[0].replace("&", "").split()) < _EIGHT or row in ending]
