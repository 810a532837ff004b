"""A sheet in the standard layout is taken at its word: what a note says is a note, a step line stands as it is."""

from __future__ import annotations

import pytest

from caller.routine.layout.blocks import Role
from caller.routine.layout.standard_form import standard_form
from caller.routine.notation.read import read_sheet
from caller.routine.notation.write import write_sheet

HEAD = "Title: Plain Test\nCounts: 8\nWalls: 1\nTempo: 100\nMeter: 4/4\nFeel: straight\nStarts: right\n"
STEPS = "\nSection 1: there and back\n1-4    Vine right, touch L beside R\n5-8    Vine left, touch R beside L\n"


def test_each_line_has_the_role_of_its_form() -> None:
    text = (
        f"{HEAD}Notes: bring water\n# ours\n{STEPS}Note: small steps\n\nRestart: wall 3 after 4 counts, facing 12:00\n"
    )
    blocks = standard_form(text)
    assert blocks is not None
    roles = [blocks.roles[n] for n in sorted(blocks.roles)]
    header = [Role.TITLE, *[Role.HEADER] * 7, Role.NOTE, Role.EMPTY]
    section = [Role.HEADING, Role.STEPS, Role.STEPS, Role.NOTE, Role.EMPTY]
    assert roles == [*header, *section, Role.EVENT, Role.EMPTY]
    cut = read_sheet(text).routine.restarts[0].cuts[0]
    assert (cut.wall, cut.after, str(cut.facing)) == (3, 4, "12:00")


@pytest.mark.parametrize(
    "line",
    [
        "Note: restart on wall 3 after 4 counts",
        "Note: on wall 5 add a 4 count tag",
        "1-2    Walk R, L",
        "restart here on wall 3",
        "# Section 2",
        "Section 1: again",
        "  Note: set in",
        "Restart: wall 3",
        "Tag: wall 3",
    ],
    ids=[
        "a restart",
        "a tag",
        "counts again",
        "a sentence",
        "a heading",
        "a number twice",
        "set in",
        "no place",
        "no end",
    ],
)
def test_what_says_more_than_its_form_is_read_as_it_is_found(line: str) -> None:
    assert standard_form(f"{HEAD}{STEPS}{line}\n") is None


def test_a_restart_that_is_only_in_a_note_is_no_mere_note() -> None:
    sheet = read_sheet(f"{HEAD}{STEPS}Note: restart on wall 3 after 4 counts\n")
    assert [cut.wall for restart in sheet.routine.restarts for cut in restart.cuts] == [3]


def test_a_note_in_quotes_is_the_authors_as_it_stands() -> None:
    sheet = read_sheet(f'{HEAD}{STEPS}Note: "no restart on wall 3 after 4 counts, whatever they say"\n')
    assert sheet.routine.restarts == ()
    assert sheet.routine.sections[0].passage.notes == ("no restart on wall 3 after 4 counts, whatever they say",)


def test_an_authors_words_are_taken_as_they_stand() -> None:
    """A sheet as it is found would be read with its legend's long forms, and its sentences as one paragraph."""
    legend = "Notes: RF = right foot, LF = left foot\n"
    text = (
        f"{HEAD}{legend}\nSection 1\n1-4    RF walk, LF walk, RF walk, LF walk\n5-8    Vine right, touch L beside R\n"
    )
    words = read_sheet(text).routine.sections[0].passage.words
    assert words[0].text == "RF walk, LF walk, RF walk, LF walk"
    assert write_sheet(read_sheet(text)) == text
