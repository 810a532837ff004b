"""Told in the author's words where they say more than ours."""

from __future__ import annotations

import re

import pytest

from caller.calls.read_aloud import read_aloud
from caller.dance.unroll import unroll
from caller.routine.notation.read import read_bytes
from caller.teaching.authors import MORE, lines_that_say_more
from caller.teaching.telling import section_told
from tests.corpus.held_against import read, sheets

# The batches that were drawn last: 90 sheets.
BATCHES = ("t", "u", "v", "w", "x", "y", "z", "za", "zb")


def told(*lines: str) -> str:
    sheet = "Title: Shelf\nTempo: 90\nStarts: right\nSection 1: One\n" + "\n".join(lines) + "\n"
    dance = unroll(read_bytes(sheet.encode()).routine, 1)
    wall = dance.walls[0]
    return " ".join(section_told(dance, wall, wall.stretches[0]))


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            "1-4 Big step R to right, drag L to R over 3 counts",
            "Big step right to right, drag left to right over three counts",
        ),
        ("1-2 Rock R forward on ball of foot, recover L", "Rock right forward on ball of foot, recover left"),
        ("1-2 Step R slightly back, touch L beside R", "Step right slightly back, touch left beside right"),
    ],
)
def test_what_the_author_says_more_is_told(line: str, said: str) -> None:
    assert said in told(line)


@pytest.mark.parametrize("clap", ["(clap)", "(with a clap)", "(hand clap)", "with a clap", "and clap"])
def test_a_clap_on_a_step_is_told_with_it(clap: str) -> None:
    assert "touch left beside, no weight, clap." in told(f"1-2 Step R to side, touch L beside R {clap}")


def test_a_plain_line_is_told_movement_by_movement() -> None:
    assert "right to the side, touch left beside, no weight." in told("1-2 Step R to side, touch L beside R")


def test_a_line_is_told_once_however_many_figures_it_holds() -> None:
    said = told("1-4 Big step R to side, touch L beside R, rock L back, recover R")
    assert said.count("Big step") == 1
    assert said.count("rock left back") == 1


def test_what_comes_twice_is_told_once() -> None:
    said = told("1&2 R kick ball change", "3&4 R kick ball change")
    assert said.count("kick right") == 1
    assert "right kick ball change, twice:" in said


@pytest.mark.parametrize("batch", BATCHES)
def test_over_the_corpus_no_word_that_says_more_is_lost(batch: str) -> None:
    """What the lines of a stranger's first wall say of size, part of the foot and length."""
    for name in (name for of, name in sheets("sound") if of == batch):
        routine = read(batch, "sound", name).routine
        if not lines_that_say_more(routine):
            continue
        dance = unroll(routine, 1)
        wall = dance.walls[0]
        said = " ".join(" ".join(section_told(dance, wall, stretch)) for stretch in wall.stretches).lower()
        danced = {one.step.place.line for one in wall.movements}
        lines = [words for passage in routine.passages for words in passage.words if words.line in danced]
        for words in lines:
            plain = re.sub(r"\[[^\]]*\]", " ", words.text)
            lost = [found[0] for found in MORE.finditer(plain) if read_aloud(found[0]).lower() not in said]
            assert not lost, f"{batch}/{name}: {words.text}"
