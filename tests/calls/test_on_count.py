"""The words on the count are the movements: over the whole vocabulary, each way of a figure, with its turns."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.calls.cues import cues_for
from caller.calls.on_count import word_forms
from caller.calls.plan import CallKind, Manner
from caller.calls.planning import plan_calls
from caller.calls.words import words_of_turn
from caller.clock.timeline import Timeline
from caller.dance.unroll import unroll
from caller.routine.facing import Turn
from caller.routine.figures import Figure
from caller.routine.naming import one_word
from caller.routine.notation.read import read_bytes
from caller.routine.passages import Step
from caller.routine.recognise import each_words
from caller.routine.step import Foot, Movement
from caller.routine.vocabulary import shipped
from tests.calls.takes import take_of
from tests.fakes.dances import PIVOTS, WALKS, dance_of
from tests.fakes.lexicon import MeasuredVoice

# What the floor says of a movement besides its own word (common practice): action, and where.
_SAID_OF = {
    "lock": {("cross", "behind"), ("cross", "over")},
    "ball": {("step", "beside"), ("step", "back"), ("step", "place"), ("step", "side")},
    "and": {("step", "beside"), ("step", "place"), ("step", "forward diagonal"), ("step", "side")},
    "change": {("step", "place"), ("step", "forward"), ("step", "beside")},
    "toe": {("touch", "forward"), ("touch", "back"), ("touch", "side"), ("touch", "over"), ("touch", "beside")},
    "anchor": {("step", "back"), ("cross", "behind"), ("step", "place")},
    "jump": {("step", "forward diagonal"), ("step", "back diagonal")},
    "cross": {("rock", "over"), ("touch", "over")},
    "back": {("touch", "back"), ("step", "back diagonal")},
    "side": {("touch", "side")},
    "step": {("step", where) for where in ("side", "forward", "place", "in", "beside", "out", "forward diagonal")}
    | {("touch", "forward"), ("touch", "side")},
    "out": {("step", "forward diagonal")},
    "together": {("step", "place"), ("step", "forward diagonal"), ("step", "back diagonal")},
    "stomp": {("stomp up", "beside"), ("stomp up", "place"), ("stomp up", "")},
}
_TURNS = {"turn", "pivot", "paddle", "unwind"}


def _is_said_of(word: str, movement: Movement) -> bool:
    own = {one_word(movement), movement.action, movement.where, movement.where.split(" ")[0]}
    if movement.action == "sway" and movement.foot:
        return word == f"sway {movement.foot.word}"
    return word in own or (movement.action, movement.where) in _SAID_OF.get(word, set()) or word in _TURNS


def _ways() -> list[tuple[Figure, str]]:
    return [(figure, way) for figure in shipped().figures.values() for way in figure.ways]


def _each(figure: Figure, way: str, turn: Turn) -> list[tuple[Movement, tuple[str, ...]]]:
    movements = figure.movements(way, Foot.RIGHT, turn)
    words = each_words(figure, [Step(Fraction(n), "1", one) for n, one in enumerate(movements)], way)
    return [(one, word_forms(one, word)) for one, word in zip(movements, words, strict=True)]


@pytest.mark.parametrize(("figure", "way"), _ways(), ids=lambda one: one if isinstance(one, str) else one.name)
def test_each_word_of_a_figure_is_the_movement_that_it_falls_on(figure: Figure, way: str) -> None:
    movements = figure.movements(way, Foot.RIGHT, Turn(0))
    words = each_words(figure, [Step(Fraction(n), "1", one) for n, one in enumerate(movements)], way)
    wrong = [(word, one) for word, one in zip(words, movements, strict=True) if not _is_said_of(word, one)]
    assert not wrong


@pytest.mark.parametrize(("figure", "way"), _ways(), ids=lambda one: one if isinstance(one, str) else one.name)
def test_a_movement_that_turns_says_how_far(figure: Figure, way: str) -> None:
    for eighths in (-4, 2, 8):
        for movement, forms in _each(figure, way, Turn(eighths)):
            amount = words_of_turn(movement.turn).amount
            assert all(amount in said for said in forms), (movement, forms)
            assert not movement.turn or words_of_turn(movement.turn).full in forms[0]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("1&2 Shuffle 1/2 turn left stepping R, L, R", ["quarter left", "together", "quarter left"]),
        ("1&2 Cross R over L, step L to side, cross R over L", ["cross", "side", "cross"]),
        ("1&2 R side shuffle", ["side", "together", "side"]),
        ("1&2 L shuffle back", ["back", "together", "back"]),
        ("1-2 Step R forward, pivot 1/2 left", ["step", "half left"]),
        ("1-4 Jazz box R turning 1/4 right", ["cross", "back quarter right", "side", "together"]),
        ("1-4 R monterey turning 1/2 right", ["point", "half right", "point", "together"]),
        (
            "1-2 R fwd to right diagonal, touch L next to R\n3-4 L back to centre, touch R next to L\n"
            "5-6 R back to right diagonal, touch L next to R\n7-8 L fwd to centre, touch R next to L",
            ["forward", "touch", "back", "touch", "back", "touch", "forward", "touch"],
        ),
        (
            "1-2 R back to right diagonal, touch L next to R\n3-4 L fwd to centre, touch R next to L",
            ["back", "touch", "forward", "touch"],
        ),
        ("1-3 Big step R to side, drag L to R over two counts", ["side", "drag"]),
        ("1-4 Step R to side, touch L beside R, step L to side, touch R beside L", ["side", "touch", "side", "touch"]),
        ("1-4 sway hips R, L, R, L", ["sway right", "sway left", "sway right", "sway left"]),
    ],
)
def test_the_words_of_a_line(line: str, said: list[str]) -> None:
    sheet = f"Title: Shelf\nTempo: 60\nStarts: {'left' if ' L shuffle' in line else 'right'}\nSection 1: One\n{line}\n"
    take = take_of(unroll(read_bytes(sheet.encode()).routine, 1), 40, Manner.ON_COUNT)
    words = [call.cue.wordings[0] for call in take.plan.calls if call.cue.kind is CallKind.STEP]
    assert [word.replace("side quarter left", "quarter left") for word in words] == said


def test_of_a_restart_that_comes_soon_the_notice_stands_before_the_count_in_and_takes_no_words_room() -> None:
    dance = dance_of(4, (WALKS, PIVOTS), restarts={2: 8})
    wall = dance.walls[1]
    voice = MeasuredVoice(stretch=1.5)
    start, end = Fraction(wall.at), Fraction(wall.at + 16)
    timeline = Timeline.at_tempo(Fraction(60), voice.rate, start - 8)
    cues = cues_for(dance, Manner.ON_COUNT, start, end, 8)
    calls = plan_calls(cues, timeline, voice, Manner.ON_COUNT).calls
    kinds = [call.cue.kind for call in calls]
    assert kinds[:6] == [CallKind.RESTART, *4 * [CallKind.COUNT_IN], CallKind.STEP]
    assert calls[0].utterance.words.startswith("restart")
    words = [cue for cue in cues if cue.kind is CallKind.STEP and cue.at.denominator == 1]
    said = [call.cue for call in calls]
    assert [cue for cue in words if cue not in said] == [], "each word on a count is said"
    short = cues_for(dance, Manner.ON_COUNT, start, end, 4)
    assert next(cue for cue in short if cue.kind is CallKind.RESTART).ahead_counts < 12, "no room before four numbers"
