"""What can be drilled and practised, and what is said where it is not there."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from caller.calls.plan import CallKind, Fading
from caller.calls.take import Take
from caller.dance.unroll import unroll
from caller.routine.notation.read import read_bytes
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
from caller.teaching.play import Narration, pieces, take_of_stage
from caller.teaching.running import StageOutcome, begin, next_stage
from caller.teaching.stage import StageKind
from caller.teaching.walkthrough import walkthrough_of
from tests.fakes.lexicon import MeasuredVoice
from tests.takehome.packets import shipped_dance

LANTERN = shipped_dance("lantern-row")
# A tag and an ending late in the dance, where a dance's calls have long been few.
GATE = """GATE - 16 counts, 4 walls, beginner, 104 bpm

1-4  vine right, touch
5-8  vine left, touch
9-12  rock R fwd, recover, rock back R, recover
13-14  step R fwd, pivot 1/4 L
15-16  stomp R, stomp L

Tag, 4 counts, after wall 4: sway R, L, R, L
Ending: in wall 10 after 8 counts: step R fwd turning 1/4 R, stomp L
"""
# Its last section is too short to announce a tag in.
ORCHARD = """ORCHARD - 12 counts, 4 walls, waltz, 96 bpm

A. Across
1-3  cross L over R, step R to side, step L in place
4-6  cross R over L, step L to side, step R in place
B. Balance
1-3  step L fwd, touch R beside, hold
4-6  step R back, touch L beside, hold

Tag, 6 counts, after wall 3
1-3  sway L, hold, hold
4-6  sway R, hold, hold
"""


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


@pytest.mark.parametrize(("sheet", "kind"), [(GATE, "tag"), (GATE, "ending"), (ORCHARD, "tag")])
@pytest.mark.parametrize("tempo", [52, 66, 96])
def test_what_comes_before_an_event_that_is_drilled_is_called_in_full_and_the_event_announced_twice(
    sheet: str, kind: str, tempo: int
) -> None:
    dance = unroll(read_bytes(sheet.encode()).routine)
    wall, event = find_event(dance, kind)
    span, name = event_drill_span(dance, wall, event)
    programme = drill_of(dance, span, name, tempo=Fraction(tempo), speed=Fraction(1))
    voice = MeasuredVoice()
    take = take_of_stage(begin(programme), Floors.of(dance), voice, voice.clip)
    called = {call.cue.at for call in take.plan.calls if call.cue.steps}
    assert [group.at for group in take.groups if group.at not in called] == []
    there = [call for call in take.plan.calls if call.cue.kind is CallKind(kind)]
    assert [(call.cue.at, call.cue.steps) for call in there] == [(wall.at + event.after, n == 1) for n in range(2)]
    assert all(call.utterance.words.startswith(kind) for call in there)


def test_in_a_lesson_every_stage_but_the_last_run_through_is_called_in_full_on_whatever_wall_it_is() -> None:
    dance = unroll(read_bytes(GATE.encode()).routine)
    programme, voice = walkthrough_of(dance), MeasuredVoice()
    late = [n for n, stage in enumerate(programme.stages) if stage.start >= dance.walls[2].at]
    assert late
    for index in late:
        running = next_stage(begin(programme, index), StageOutcome.DONE)
        take = take_of_stage(running, Floors.of(dance), voice, voice.clip)
        called = {call.cue.at for call in take.plan.calls if call.cue.steps or call.cue.kind is CallKind.STEP}
        assert [group.at for group in take.groups if group.at not in called] == [], programme.stages[index].name
    assert {stage.kind for stage in programme.stages if stage.fading is not Fading.ALL} == {StageKind.WHOLE}
