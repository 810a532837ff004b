"""Signs at a step line's end, and asides of one wall: they are no steps, and their events stand where they do."""

from __future__ import annotations

import itertools

import pytest

from caller.dance.check import check, has_errors
from caller.routine.notation.read import read_sheet
from tests.corpus.events import EventCase

_SIGNS = ("(*)", "(#)", "[R]", "\u00a7", "~", "<1>", "++", "%", "R1", "\u00b9", "{x}", "[!]")
_SAYS = ("Restart on wall 3", "3rd wall: stop here and begin again", "On the third wall restart here")
_LINE = "5-8 Step L to side, step R behind L, step L to side, touch R beside L"
_LAST = "5-8 Step R forward, hold, pivot 1/4 left, hold"


def _with(line: str, behind: str, **placed: str) -> str:
    return EventCase("", placed).sheet.replace(line, f"{line}  {behind}", 1)


@pytest.mark.parametrize(
    ("sign", "says", "place"), list(itertools.product(_SIGNS, _SAYS, ("head", "foot"))), ids=lambda value: value
)
def test_a_sign_at_a_step_line_is_where_its_event_is(sign: str, says: str, place: str) -> None:
    sheet = read_sheet(_with(_LINE, sign, **{place: f"{sign} = {says}"}))
    cuts = [(cut.wall, cut.after) for restart in sheet.routine.restarts for cut in restart.cuts]
    assert cuts == [(3, 8)]
    assert not has_errors(check(sheet))
    assert not any(finding.code == "unread" for finding in check(sheet))


@pytest.mark.parametrize("sign", ["(*)", "~", "<1>", "%"])
def test_a_sign_that_nothing_explains_is_told(sign: str) -> None:
    sheet = read_sheet(_with(_LINE, sign))
    assert not sheet.routine.restarts
    assert not sheet.routine.tags


def test_counts_in_brackets_behind_steps_are_no_signs() -> None:
    text = (
        "Test\n32 counts, 4 walls\nSection 1\n1-4 Walk R, walk L, walk R, touch L (1)\n"
        "5-8 Walk back L, R, L, touch R (2)\n"
        "\n(1) Keep it small on every wall\n(2) Smile\n"
    )
    assert not read_sheet(text).routine.restarts


@pytest.mark.parametrize(
    ("aside", "kind", "wall", "after", "counts"),
    [
        ("(6th wall: you are at 12:00, stomp R forward, hold, hold, the end)", "ending", 6, 8, 3),
        ("(end of the dance, 6th wall: facing 12.00 now, stomp R, stomp L and stop)", "ending", 6, 8, 2),
        ("// ninth and last wall: stomp R forward, hold = ending, 2 counts", "ending", 9, 8, 2),
        ("(1st wall only: hold for 3 counts, then begin the second section)", "tag", 1, 8, 3),
        ("// fifth wall: bridge of 4 counts = repeat these four counts, then section 2", "tag", 5, 8, 4),
    ],
)
def test_what_happens_on_one_wall_is_told_in_brackets(
    aside: str, kind: str, wall: int, after: int, counts: int
) -> None:
    sheet = read_sheet(_with(_LINE, aside))
    routine = sheet.routine
    if kind == "ending":
        assert routine.ending is not None
        told = [("ending", routine.ending.cut.wall, routine.ending.cut.after, routine.ending.passage.counts)]
    else:
        told = [("tag", cut.wall, cut.after, tag.passage.counts) for tag in routine.tags for cut in tag.cuts]
    assert told == [(kind, wall, after, counts)]
    assert [section.passage.counts for section in routine.sections] == [8, 8, 8, 8]


def test_the_end_of_a_wall_is_told_in_brackets_at_the_last_line() -> None:
    words = "(end of 1st and 4th wall: sway R, L, R, L, before starting again)"
    sheet = read_sheet(_with(_LAST, words))
    assert [(cut.wall, cut.after) for tag in sheet.routine.tags for cut in tag.cuts] == [(1, None), (4, None)]
