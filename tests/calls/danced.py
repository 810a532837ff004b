"""Strangers' sheets danced blind: what their authors tell of each foot, against what a dancer makes of the calls."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any, NamedTuple

from caller.calls.plan import CallKind, Lexicon, Manner
from caller.calls.score import Clips, make_take
from caller.calls.take import Take
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from tests.calls.blind import Heard, Moved, danced
from tests.corpus.held_against import outcome, read, sheets, told

_USUAL_TEMPO = 100
_PARTS = {"": Fraction(0), "&": Fraction(1, 2), "a": Fraction(3, 4), "e": Fraction(1, 4)}
# A swung or a quarter's place counts as the half beat next to it.
_NEAR = Fraction(26, 100)


class Sheet(NamedTuple):
    """truth: of the first wall, as the author tells it."""

    name: str
    dance: Dance
    truth: tuple[Moved, ...]


class Danced(NamedTuple):
    sheet: Sheet
    right: int
    missed: tuple[Moved, ...]


def known_sheets(batches: str = "") -> Iterator[Sheet]:
    """Those that are read as their authors tell them; batches: their letters, "" = all."""
    for batch, name in sheets("sound"):
        if batches and batch not in batches:
            continue
        sheet, truth = read(batch, "sound", name), told(batch, "sound", name)
        found = outcome(sheet, truth)
        if found.accepted and not found.differs:
            dance = unroll(sheet.routine)
            yield Sheet(f"{batch}/{name}", dance, tuple(_truth(dance, truth)))


def _truth(dance: Dance, truth: dict[str, Any]) -> Iterator[Moved]:
    wall = dance.walls[0]
    end = _end(dance)
    places = {(section.part, section.number): n for n, section in enumerate(dance.routine.sections)}
    for stretch in wall.stretches:
        if stretch.section and stretch.at < end:
            section = truth["sections"][places[wall.part, stretch.section]]
            yield from (one for one in _moves(section, stretch.at - wall.at) if one.at < stretch.at + stretch.counts)


def _moves(section: dict[str, Any], start: Fraction) -> Iterator[Moved]:
    """A section's counts begin at 1 or go on from the one before."""
    count, before = 0, None
    for label, foot in section["movements"]:
        number, part = re.fullmatch(r"(\d*)(.*)", str(label)).groups()  # type: ignore[union-attr]
        if number:
            before = (0 if int(number) <= section["counts"] else int(number) - 1) if before is None else before
            count = int(number) - before
        yield Moved(start + count - 1 + _PARTS.get(part.strip(), Fraction(1, 2)), foot)


def _end(dance: Dance) -> Fraction:
    """Where the first wall's sections end, or its first tag begins."""
    wall = dance.walls[0]
    return next((stretch.at for stretch in wall.stretches if not stretch.section), Fraction(wall.end))


def blindly(sheet: Sheet, lexicon: Lexicon, clips: Clips) -> Danced:
    dance = sheet.dance
    header = dance.routine.header
    take = make_take(
        dance,
        start=Fraction(0),
        end=_end(dance),
        tempo=Fraction(header.tempo or _USUAL_TEMPO),
        manner=Manner.AHEAD,
        lexicon=lexicon,
        clips=clips,
        count_in=2 * header.meter.counts,
    )
    return _held(sheet, danced(list(_heard(take)), header.meter.counts == 3, _end(dance)))


def _heard(take: Take) -> Iterator[Heard]:
    count_at = take.timeline.count_at
    for call in take.plan.calls:
        ahead = call.cue.must and call.cue.heard_counts
        if not ahead and call.cue.kind not in (CallKind.COUNT_IN, CallKind.WALL):
            yield Heard(call.utterance.words, count_at(call.starts), count_at(call.ends))


def _held(sheet: Sheet, moved: Sequence[Moved]) -> Danced:
    left, missed = list(moved), []
    for wanted in sheet.truth:
        own = next((one for one in left if _same(one, wanted)), None)
        if own is None:
            missed.append(wanted)
        else:
            left.remove(own)
    return Danced(sheet, len(sheet.truth) - len(missed), tuple(missed))


def _same(one: Moved, wanted: Moved) -> bool:
    return abs(one.at - wanted.at) <= _NEAR and (one.foot == wanted.foot or "B" in (one.foot, wanted.foot))
