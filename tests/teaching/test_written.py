"""Programmes as text: written and read they are the same; what is wrong in an edited one is told in a sentence.

The standard library's TOML reader is the outside party.
"""

from __future__ import annotations

import contextlib
import json
import tomllib
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.teaching.drill import drill_of, practice_of, section_span
from caller.teaching.stage import LessonPlan
from caller.teaching.walkthrough import walkthrough_of
from caller.teaching.written import programme_document, programme_text, read_programme
from caller.teaching.written_values import ProgrammeFault
from tests.takehome.packets import STEMS, shipped_dance

LANTERN = shipped_dance("lantern-row")


@pytest.mark.parametrize("stem", STEMS)
def test_a_programme_written_and_read_is_the_same(stem: str) -> None:
    dance = shipped_dance(stem)
    for programme in (walkthrough_of(dance), practice_of(dance)):
        assert read_programme(programme_text(programme, dance), dance) == programme


@given(st.integers(10, 200), st.integers(0, 50), st.integers(0, 99), st.booleans())
def test_any_drill_comes_back_too(speed: int, creep: int, times: int, on_tap: bool) -> None:
    drill = drill_of(
        LANTERN,
        section_span(LANTERN, 2),
        "Section 2",
        speed=Fraction(speed, 100),
        creep=Fraction(creep, 100),
        times=times,
        on_tap=on_tap,
    )
    assert read_programme(programme_text(drill, LANTERN), LANTERN) == drill


def test_the_text_begins_with_what_its_keys_mean() -> None:
    head = programme_text(practice_of(LANTERN), LANTERN).partition("title")[0]
    assert all(f"{key}:" in head for key in ("speed", "times", "manner", "said", "brief", "moves-on"))
    assert all(line.startswith("#") for line in head.splitlines())


def test_places_are_told_as_a_teacher_tells_them() -> None:
    document = tomllib.loads(programme_text(walkthrough_of(LANTERN), LANTERN))
    tag = next(row for row in document["stage"] if row["name"] == "Tag in wall 3, from 3:00")
    assert (tag["from"], tag["to"], tag["speed"], tag["times"]) == ("wall 3 count 25", "wall 4 count 8", "75%", 2)


def test_the_document_tells_every_stage_with_every_value() -> None:
    document = json.loads(json.dumps(programme_document(walkthrough_of(LANTERN), LANTERN)))
    assert (document["title"], document["tempo"], document["walls"]) == ("Lantern Row", 108, 7)
    keys = {"name", "kind", "from", "to", "speed", "times", "manner", "said", "count_in", "moves_on", "pause_seconds",
            "easier", "creep", "up_to", "sections", "brief", "tempo", "starts", "ends"}  # fmt: skip
    assert all(set(stage) == keys for stage in document["stages"])
    words = document["stages"][5]
    assert (words["tempo"], words["manner"], words["from"], words["to"]) == (
        60.48,
        "on-count",
        "wall 1 count 1",
        "wall 1 count 8",
    )


def test_the_document_tells_where_everybody_faces_before_and_after_each_go() -> None:
    """Against the dance as ``caller walls --movements`` has it."""
    document = programme_document(walkthrough_of(LANTERN), LANTERN)
    facings = {stage["name"]: (stage["starts"], stage["ends"]) for stage in document["stages"]}
    assert facings["Section 1, walked"] == (None, None)
    assert facings["Section 2, words on the count"] == ("12:00", "9:00")
    assert facings["The whole wall"] == ("12:00", "3:00")
    assert facings["Walls 1 to 3, from 12:00"] == ("12:00", "9:00")
    assert facings["Tag in wall 3, from 3:00"] == ("3:00", "9:00")
    walls = unrolled_facings()
    for stage, row in zip(walkthrough_of(LANTERN).stages, document["stages"], strict=True):
        if stage.danced:
            assert (row["starts"], row["ends"]) == (walls[stage.start], walls[stage.end]), stage.name


def unrolled_facings() -> dict[Fraction, str]:
    """The facing before each whole count, and after the last: a walk through all movements in their order."""
    movements = [danced for wall in LANTERN.walls for danced in wall.movements]
    facings, facing = {}, movements[0].before.facing
    for count in range(LANTERN.counts + 1):
        while movements and movements[0].at < count:
            facing = movements.pop(0).after.facing
        facings[Fraction(count)] = str(facing)
    return facings


HEAD = 'title = "Mine"\ntempo = 90\n[[stage]]\nname = "one"\n'
GOOD = HEAD + 'from = "wall 1 count 1"\nto = "wall 1 count 8"\n'


def test_a_short_programme_written_by_hand_has_the_usual_values() -> None:
    programme = read_programme(GOOD, LANTERN)
    assert isinstance(programme, LessonPlan)
    (stage,) = programme.stages
    assert (stage.start, stage.end, stage.speed, stage.times, stage.count_in) == (0, 8, 1, 1, 8)
    assert (programme.title, programme.tempo) == ("Mine", 90)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("title = ", "no TOML"),
        ("", "no stages"),
        ("stage = 5", "no stages"),
        (HEAD, "stage 1 has nothing to say and nothing to dance"),
        (HEAD + 'from = "wall 1 count 1"\n', "from and to are wanted"),
        (HEAD + 'from = "wall 1 count 9"\nto = "wall 1 count 8"\n', "stage 1 ends before it begins"),
        (HEAD + 'from = "wall 9 count 1"\nto = "wall 9 count 8"\n', "there is no wall 9; there are 1 to 7"),
        (HEAD + 'from = "wall 6 count 1"\nto = "wall 6 count 25"\n', "wall 6 has counts 1 to 24, not 25"),
        (HEAD + 'from = "the top"\nto = "wall 1 count 8"\n', "such as \"wall 2 count 25\", not 'the top'"),
        (GOOD + 'speed = "fast"\n', "stage 1: speed is per cent from 10 to 200"),
        (GOOD + "speed = 50\n", "stage 1: speed is per cent"),
        (GOOD + "times = -1\n", "stage 1: times is a number from 0 to 99, not -1"),
        (GOOD + "times = 1.5\n", "whole number"),
        (GOOD + "times = true\n", "stage 1: times is a number"),
        (GOOD + 'manner = "loud"\n', "stage 1: manner is one of ahead, on-count, counts, prompts, quiet, not 'loud'"),
        (GOOD + "manner = []\n", "names no manner"),
        (GOOD + 'moves-on = "never"\n', "itself, pause, pedal"),
        (GOOD + "easier = 1\n", "true or false"),
        (GOOD + "said = [5]\n", "said is words, not 5"),
        (GOOD + 'sections = ["two"]\n', 'sections such as "2" or "B 1"'),
        (GOOD + 'colour = "red"\n', "stage 1 has 'colour', which means nothing here"),
        (GOOD.replace("tempo = 90", "tempo = 9"), "the head: tempo is a number from 20 to 400, not 9"),
        (GOOD.replace("tempo = 90", "tempo = nan"), "the head: tempo"),
        (GOOD.replace("tempo = 90", "way = 'nap'"), "way is walkthrough, drill or practice"),
    ],
)
def test_what_is_wrong_is_told_in_one_sentence(text: str, told: str) -> None:
    with pytest.raises(ProgrammeFault) as fault:
        read_programme(text, LANTERN)
    assert told in str(fault.value)
    assert "\n" not in str(fault.value)


@given(st.text(max_size=80))
def test_any_text_is_read_or_told(text: str) -> None:
    for document in (text, GOOD + text):
        with contextlib.suppress(ProgrammeFault):
            assert read_programme(document, LANTERN).stages
