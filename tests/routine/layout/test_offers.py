"""Easier ways offered in sentences of their authors' own. Common practice of the floor, no published source."""

from __future__ import annotations

import time

import pytest

from caller.dance.check import check
from caller.routine.layout.arrange import arrange
from caller.routine.layout.blocks import Role
from caller.routine.layout.lines import Line
from caller.routine.layout.offers import LAST, offer_in
from caller.routine.notation.read import SheetRead, read_sheet
from caller.routine.notation.write import write_sheet

HEAD = "Made Up\n1 wall\nTempo: 100\nWeight on left\n\nSection 1\n1-4  Vine R, touch L\n5-8  Rolling vine L, touch R\n"
NEXT = "\nSection 2\n1-2  Walk R, L\n3&4  Shuffle fwd R, L, R\n5-6  Rock L fwd, recover R\n7-8  Step L back, touch R\n"
REST = "\nSection 3\n1-4  Vine R, touch L\n5-8  Vine L, touch R\n"
PLACE = Line(1, 1, "")
OFFER_AT = 9  # the line below the steps of section 1


def _below(offer: str) -> SheetRead:
    return read_sheet(f"{HEAD}{offer}\n{NEXT}")


def _feet(read: SheetRead, section: int = 0) -> list[tuple[int, int, str]]:
    return [
        (option.first, option.last, "".join(s.movement.foot.value for s in option.passage.steps if s.movement.foot))
        for option in read.routine.sections[section].options
    ]


@pytest.mark.parametrize(
    "offer",
    [
        "(No turns today? 5-8: step L to L, step R beside L, step L to L, touch R beside L.)",
        "If you don't like the spin, 5-8 can be: vine left, touch right beside left.",
        "For anyone who's dizzy: 5-8 can be a vine left instead (L to side, R behind, L to side, touch R).",
        "Easy version of 5-8 (no turn): step left to the side, step right behind left, step left to the side, touch R",
        "(no spinners? plain vine L and touch R does the job on 5-8)",
        "Don't like to spin? Counts 5-8 are just a vine left with a touch.",
        "5-8 may be danced without the turn: L to side, R behind L, L to side, touch R",
        "Those who get giddy, on counts 5 to 8 just L to side, R together, L to side, touch R. Nobody minds!",
    ],
)
def test_a_sentence_that_offers_steps_on_counts_is_an_option(offer: str) -> None:
    read = _below(offer)
    assert _feet(read) == [(5, 8, "LRLR")]
    assert [f.code for f in check(read) if f.severity.value == "error"] == []
    written = write_sheet(read)
    assert read_sheet(written).routine == read.routine
    assert write_sheet(read_sheet(written)) == written


def test_it_goes_on_over_lines_until_its_bracket_closes() -> None:
    first = "(If crossing behind bothers anybody's knees, on 5-8 step L to left side,"
    offer = f"{first}\nstep R next to L, step L to left side, touch R next to L.)"
    text = f"{HEAD}{offer}\n{NEXT}"
    assert _feet(read_sheet(text)) == [(5, 8, "LRLR")]
    roles = arrange(text).roles
    assert (roles[OFFER_AT], roles[OFFER_AT + 1]) == (Role.OPTION, Role.OPTION)


@pytest.mark.parametrize(
    "offer",
    [
        "(Not keen on the spin? 5-8: step L to L, step R beside L, step L to L, step R beside L.)",
        "If you don't like the spin, 5-8 can be: vine left, step right beside left.",
    ],
)
def test_one_that_ends_on_the_other_foot_is_found(offer: str) -> None:
    assert ("option", OFFER_AT) in [(f.code, f.place.line) for f in check(_below(offer))]


def test_counts_in_brackets_tell_its_rhythm() -> None:
    offer = "Easy option for 7-8: no turn, left shuffle back (7&8: L, R, L)"
    read = read_sheet(f"{HEAD}{NEXT}{offer}\n")
    (option,) = read.routine.sections[1].options
    assert [str(step.at) for step in option.passage.steps] == ["6", "13/2", "7"]


def test_its_own_counts_stand_among_its_steps() -> None:
    steps = "3&4 shuffle straight back right, left, right, 5-6 rock back L, recover R"
    offer = f"(Option for them that get dizzy, counts 3-6: {steps})"
    assert _feet(read_sheet(f"{HEAD}{NEXT}{offer}\n"), section=1) == [(3, 6, "RLRLR")]


@pytest.mark.parametrize(
    ("where", "section"),
    [("the first section", 0), ("section 2", 1), ("S2", 1), ("Part 1", 0), ("the last section", 2)],
)
def test_it_is_of_the_section_that_it_names(where: str, section: int) -> None:
    read = read_sheet(f"{HEAD}{NEXT}{REST}\nEasier 1-2 of {where}: step R to R, touch L beside R\n")
    assert [n for n, one in enumerate(read.routine.sections) if one.options] == [section]


@pytest.mark.parametrize(
    "note",
    [
        "If you like, clap on 2 and 4.",
        "If 5-8 feel rushed, step smaller.",
        "Easy to rush 5-8, so hold back!",
        "Can you touch on 4 without a wobble?",
        "If you lose the beat on 5-8, keep the steps small.",
        "You could roll the shoulders on 5-8 instead.",
        "If you can, on 5-8 swing the hips.",
        "Bad knees? In place of the touches just step R on 1 and touch L on 2.",
        "If the dance has two more sections than yours, 17-24 can be a vine R, touch L.",
    ],
)
def test_talk_of_counts_is_no_option(note: str) -> None:
    read = _below(note)
    assert _feet(read) == []
    assert [f for f in check(read) if f.severity.value == "error"] == []


@pytest.mark.parametrize(
    "note",
    [
        "If it is wall 3, 5-8 can be a vine left.",
        "Instead of the tag, on 5-8 do a vine left.",
        "The lights go down on 5-8.",
        "B) 1&2 shuffle fwd L R L, 3-4 rock R fwd, recover L (no turn yet)",
        "If you like it slow, the intro has 16 counts.",
    ],
)
def test_what_offers_nothing_or_tells_of_an_event_is_no_offer(note: str) -> None:
    assert offer_in(note, PLACE) is None


def test_the_steps_before_the_counts_are_taken_unless_a_colon_stands_behind_these() -> None:
    before = offer_in("dizzy? just walk R, L on counts 7-8", PLACE)
    behind = offer_in(
        "If you don't care for the roll, do a vine on 5-7 of the last section: L side, R behind, L side", PLACE
    )
    assert before is not None
    assert behind is not None
    assert before.ways[0][0].text == "7-8  walk R, L"
    assert (behind.first, behind.last, behind.section) == (5, 7, LAST)
    assert behind.ways[0][0].text == "5-7  L side, R behind, L side"


@pytest.mark.parametrize("piece", ["on 1-", "if 1-2 ", "can be ", "(1&", "the ", "1 2 3 ", "no turn, "])
def test_no_sentence_takes_for_ever(piece: str) -> None:
    began = time.process_time()
    offer_in(f"if on 5-8 {piece * 400}"[:400], PLACE)
    assert time.process_time() - began < 1


def test_a_letter_and_a_number_name_the_section_of_a_part() -> None:
    offer = offer_in("Too quick? Let them walk R, L, R, L on counts 1 to 4 of A1 instead.", PLACE)
    assert offer is not None
    assert (offer.part, offer.section, offer.ways[0][0].text) == ("A", 1, "1-4  walk R, L, R, L")
