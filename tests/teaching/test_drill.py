"""What can be drilled and practised, and what is said where it is not there."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from caller.calls.take import Take
from caller.teaching.drill import (
    USUAL_TEMPO,
    NotThere,
    counts_span,
    drill_of,
    event_drill_span,
    find_event,
    practice_of,
    section_span,
)
from caller.teaching.floors import Floors
from caller.teaching.play import Narration, pieces
from tests.fakes.lexicon import MeasuredVoice
from tests.takehome.packets import shipped_dance

LANTERN = shipped_dance("lantern-row")


def test_sections_are_drilled_where_they_are_taught() -> None:
    assert section_span(LANTERN, 2) == (8, 16)
    assert section_span(LANTERN, 2, 4) == (8, 32)


def test_an_event_is_found_by_kind_and_wall() -> None:
    wall, event = find_event(LANTERN, "restart")
    assert (wall.number, event.after) == (6, 24)
    assert event_drill_span(LANTERN, wall, event) == ((184, 200), "Restart in wall 6")


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda: section_span(LANTERN, 5), "there is no section 5; there are: 1, 2, 3, 4"),
        (lambda: section_span(LANTERN, 3, 2), "section 2 comes before section 3"),
        (lambda: section_span(LANTERN, 1, part="B"), "there is no part B"),
        (lambda: counts_span(LANTERN, 9, 1, 4), "there is no wall 9"),
        (lambda: counts_span(LANTERN, 3, 35, 44), "no counts 35 to 44 in wall 3; there are 1 to 40"),
        (lambda: counts_span(LANTERN, 1, 5, 4), "no counts 5 to 4"),
        (lambda: find_event(LANTERN, "ending"), "there is no ending; there are: tag in wall 3, change in wall 6"),
        (lambda: find_event(LANTERN, "tag", 2), "there is no tag in wall 2"),
        (lambda: practice_of(LANTERN, wall_number=9), "there is no wall 9; there are 1 to 7"),
        (lambda: practice_of(LANTERN, wall_number=6, section=4), "no section 4 in wall 6; there are: 1, 2, 3"),
    ],
)
def test_what_is_not_there_is_told_with_what_is(ask, told: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(NotThere, match=told):
        ask()


def test_counts_are_of_their_wall_with_both_ends() -> None:
    assert counts_span(LANTERN, 1, 5, 12) == (4, 12)
    assert counts_span(LANTERN, 2, 1, 1) == (32, 33)


def test_a_drill_is_announced_in_words_and_counted_in_by_one_bar_between_its_goes() -> None:
    (stage,) = drill_of(LANTERN, section_span(LANTERN, 2), "Section 2", times=4).stages
    assert stage.said == ("section two, half speed.",)
    assert (stage.count_in, stage.times, stage.speed) == (4, 4, Fraction(1, 2))


@pytest.mark.parametrize("wrong", [{"speed": Fraction(0)}, {"times": -1}, {"creep": Fraction(-1)}])
def test_a_drill_of_nothing_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="a drill needs"):
        drill_of(LANTERN, (Fraction(0), Fraction(8)), "x", **wrong)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="a drill needs"):
        drill_of(LANTERN, (Fraction(8), Fraction(8)), "x")


def test_practice_starts_at_any_wall_or_section_with_its_facing_told() -> None:
    practice = practice_of(LANTERN, wall_number=3, section=2)
    first = practice.stages[0]
    assert (first.start, first.end) == (72, 136)
    assert Floors.of(LANTERN).said_first(first) == (
        "Lantern Row. we start at wall three, section two.",
        "sixty per cent of full speed.",
        "facing six o'clock, right foot free.",
    )
    assert (practice.stages[-1].start, practice.stages[-1].end) == (0, LANTERN.counts)
    last = practice_of(LANTERN, wall_number=7).stages[0]
    assert (last.start, last.end) == (192, 224)


def test_the_full_tempo_is_as_asked_else_the_sheets_else_the_usual_one() -> None:
    header = replace(LANTERN.routine.header, tempo=None)
    silent = replace(LANTERN, routine=replace(LANTERN.routine, header=header))
    span = section_span(LANTERN, 2)
    assert drill_of(LANTERN, span, "Section 2").tempo == 108
    assert drill_of(LANTERN, span, "Section 2", tempo=Fraction(80)).tempo == 80
    assert drill_of(silent, span, "Section 2").tempo == USUAL_TEMPO


def test_a_drill_of_a_tag_turns_back_each_time_so_that_what_is_told_of_it_stays_true() -> None:
    """A section goes on from where everybody stands; a tag faces one way."""
    wall, event = find_event(LANTERN, "tag")
    span, name = event_drill_span(LANTERN, wall, event)
    floors = Floors.of(LANTERN)
    for goes_back, said in ((True, {"back to three o'clock, change weight, left foot free."}), (False, set())):
        programme = drill_of(LANTERN, span, name, tempo=Fraction(108), times=3, goes_back=goes_back)
        voice = MeasuredVoice()
        heard = [piece for _, piece in pieces(programme, floors, voice, voice.clip)]
        takes = [piece for piece in heard if isinstance(piece, Take)]
        told = {line.words for piece in heard[1:] if isinstance(piece, Narration) for line in piece.lines}
        assert len(takes) == 3
        assert ({words for words in told if words.startswith("back to ")}) == said
        facings = {take.dance.wall_at(span[0]).starts for take in takes}
        assert (len(facings) == 1) is goes_back
