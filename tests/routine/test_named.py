"""A figure of the dance found by what an author calls it, and places and changes told by it."""

from __future__ import annotations

import pytest

from caller.dance.check import check, has_errors
from caller.dance.unroll import unroll
from caller.routine.notation.named import FigureSpan, figure_named
from caller.routine.notation.read import read_sheet
from caller.routine.notation.sections import Laid
from caller.routine.notation.write import write_sheet
from caller.routine.step import Weight
from tests.corpus.events import EventCase


def _laid() -> Laid:
    sections = list(read_sheet(EventCase("plain").sheet).routine.sections)
    return Laid(Weight.LEFT, sections, [None] * len(sections), [0] * len(sections))


@pytest.mark.parametrize(
    ("name", "span"),
    [
        ("jazz box", FigureSpan(3, 1, 4)),
        ("K-step", FigureSpan(1, 1, 8)),
        ("two vines", FigureSpan(0, 5, 8)),
        ("vine left", FigureSpan(0, 5, 8)),
        ("coaster", None),
        ("vine", None),
    ],
)
def test_a_figure_is_found_by_its_name(name: str, span: FigureSpan | None) -> None:
    """A touch that closes a figure is its own; one that is there twice is none, unless both are meant."""
    assert figure_named(_laid(), name) == span


def test_of_two_alike_the_nearer_is_meant() -> None:
    assert figure_named(_laid(), "vine", near=8) == FigureSpan(0, 5, 8)


def _read(foot: str) -> str:
    return EventCase("one", {"foot": foot}).sheet


def test_a_restart_stands_after_the_figure_that_it_names() -> None:
    read = read_sheet(_read("On wall 3 restart after the K-step."))
    assert [(cut.wall, cut.after) for restart in read.routine.restarts for cut in restart.cuts] == [(3, 16)]


def test_a_change_takes_the_counts_of_the_figure_that_it_names() -> None:
    sheet = read_sheet(_read("On wall 4 swap the jazz box for a rocking chair."))
    [one] = sheet.routine.changes[0].replacements
    assert (one.section, one.first, one.last) == (4, 1, 4)
    assert not has_errors(check(sheet))


def test_a_section_left_out_is_not_danced_and_is_written_again() -> None:
    sheet = read_sheet(_read("On wall 4 skip section 3 altogether, and go on with the jazz box."))
    walls = unroll(sheet.routine, 5).walls
    assert [wall.counts for wall in walls] == [32, 32, 32, 24, 32]
    assert [stretch.section for stretch in walls[3].stretches] == [1, 2, 4]
    assert read_sheet(write_sheet(sheet)).routine.changes == sheet.routine.changes


def test_counts_left_out_leave_the_rest_of_their_section() -> None:
    sheet = read_sheet(EventCase("two", {"2": "Wall 3: miss out counts 5-8 and carry on with the walks."}).sheet)
    wall = unroll(sheet.routine, 3).walls[2]
    assert [(stretch.section, stretch.counts) for stretch in wall.stretches] == [(1, 8), (2, 4), (3, 8), (4, 8)]
    assert not has_errors(check(sheet))


def test_the_last_section_left_out_is_a_restart_before_it() -> None:
    sheet = read_sheet(_read("On wall 5 leave out section 4."))
    assert [(cut.wall, cut.after) for restart in sheet.routine.restarts for cut in restart.cuts] == [(5, 24)]
