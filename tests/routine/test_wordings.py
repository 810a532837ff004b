"""Step lines by strangers: the feet that common practice has for them, what is guessed, what stays a fault."""

from __future__ import annotations

from pathlib import Path

import pytest

from caller.routine.findings import Severity
from caller.routine.layout.lines import Line
from caller.routine.meter import Feel
from caller.routine.notation.passage import Context, ReadPassage, read_passage
from caller.routine.passages import Step
from caller.routine.step import Weight
from caller.routine.vocabulary import shipped
from caller.routine.walk import Walk, walk_steps

HERE = Path(__file__).parent


def _table(name: str) -> list[tuple[str, ...]]:
    rows = (HERE / name).read_text(encoding="utf-8").splitlines()
    return [tuple(cell.strip() for cell in row.split("|")) for row in rows if not row.startswith("#")]


def _read(free: str, *lines: str) -> ReadPassage:
    """Step lines danced with this foot free, the facings and weights that they state held against them."""
    weight = Weight.LEFT if free == "R" else Weight.RIGHT
    context = Context(Feel.STRAIGHT, shipped())
    read = read_passage([Line(n, 1, line) for n, line in enumerate(lines, 1)], context, weight)
    walk = Walk(None, weight)
    walk_steps(walk, read.passage.steps, read.passage.claims)
    return ReadPassage(read.passage, [*read.findings, *walk.findings], read.weight)


def _mark(step: Step) -> str:
    part = step.count.lstrip("0123456789")
    return f"{part or step.count}{step.movement.foot.value if step.movement.foot else 'B'}"


def _marks(read: ReadPassage) -> list[str]:
    return [_mark(step) for step in read.passage.steps if step.movement.action != "hold"]


@pytest.mark.parametrize(("free", "counts", "words", "feet"), _table("wordings.txt"), ids=lambda cell: cell)
def test_a_line_is_danced_on_the_feet_that_practice_has_for_it(free: str, counts: str, words: str, feet: str) -> None:
    read = _read(free, f"{counts}  {words}")
    marks = _marks(read)
    assert len(marks) == len(feet.split()), marks
    for mark, told in zip(marks, feet.split(), strict=True):
        assert mark == told or (mark[:-1] == told[:-1] and "B" in (mark[-1], told[-1])), marks
    assert [f for f in read.findings if f.severity is not Severity.GUESS] == []


@pytest.mark.parametrize(("free", "counts", "words"), _table("faulty.txt"), ids=lambda cell: cell)
def test_a_fault_is_never_mended_in_silence(free: str, counts: str, words: str) -> None:
    assert Severity.ERROR in {f.severity for f in _read(free, f"{counts}  {words}").findings}


def _actions(read: ReadPassage) -> list[str]:
    return [f"{s.movement.action} {s.movement.where}".strip() for s in read.passage.steps]


@pytest.mark.parametrize(
    ("counts", "words", "actions"),
    [
        ("1&2", "Hip bumps R, L, R", ["bump", "bump", "bump"]),
        ("1-4", "R heel, hook, heel, together", ["heel forward", "hook", "heel forward", "step beside"]),
        ("1", "Touch R toe beside L heel", ["touch beside"]),
        ("1-2", "Step R fwd, step L fwd", ["step forward", "step forward"]),
        ("1-2", "Bring heels apart, bring heels together", ["heel split", "heel split"]),
        ("1-2", "Step R fwd, sweep L from back to front", ["step forward", "sweep"]),
        ("1-2", "Step R fwd, pivot 1/2 L", ["step forward", "pivot"]),
        ("1-2", "R knee in, R knee out", ["knee pop in", "knee pop out"]),
    ],
)
def test_what_was_misread_once_is_not_again(counts: str, words: str, actions: list[str]) -> None:
    assert _actions(_read("R", f"{counts}  {words}")) == actions


# -- guesses


def test_a_slip_of_the_pen_is_taken_for_the_word_and_told() -> None:
    read = _read("R", "1&2  Right shufle forward")
    assert [(f.code, "'shuffle'" in f.message) for f in read.findings] == [("guess", True)]


def test_a_word_that_nobody_knows_is_passed_over_where_the_rest_fits() -> None:
    read = _read("R", "1-2  Zorgle R, L", "3-4  Walk R, L")
    assert _marks(read) == ["1R", "2L", "3R", "4L"]
    assert [f.code for f in read.findings] == ["guess"]
    assert "'zorgle'" in read.findings[0].message
    assert "step R, step L" in read.findings[0].message


def test_words_of_style_are_no_guess() -> None:
    assert _read("R", "1-2  Swaggering dramatically, walk R, L like a cowboy with attitude").findings == []


def test_what_the_feet_after_it_contradict_is_left_unread() -> None:
    """Whether an unknown movement takes weight is told by the foot that moves next."""
    read = _read("R", "1-2  Step R forward, zorgle L forward", "3-4  Step L back, close R")
    assert [s.movement.action for s in read.passage.steps] == ["unread", "unread", "step", "step"]
    assert [(f.code, f.place.line) for f in read.findings] == [("unread", 1)]


def test_an_unread_line_keeps_its_counts_and_its_words() -> None:
    read = _read("R", "1-2  Walk R, L", "3&4  The marmalade thing again", "5-6  Walk R, L")
    assert [s.count for s in read.passage.steps] == ["1", "2", "3", "3&", "4", "5", "6"]
    assert [(p.first, p.last, p.wordings) for p in read.passage.phrases][1] == (2, 4, ("The marmalade thing again",))
    assert [f.code for f in read.findings] == ["unread"]


def test_movements_that_do_not_fit_their_counts_are_an_error_only_where_all_words_are_known() -> None:
    assert [f.code for f in _read("R", "1-3  Walk R, L").findings] == ["counts-mismatch"]
    assert [f.code for f in _read("R", "1-3  Walk R, marmalade L").findings] == ["unread"]


def test_a_stomp_takes_no_weight_where_the_same_foot_goes_on() -> None:
    read = _read("R", "1-2  Stomp R, hold", "3-4  Step R forward, hold")
    assert [s.movement.action for s in read.passage.steps] == ["stomp up", "hold", "step", "hold"]
    assert [(f.code, f.place.line) for f in read.findings] == [("guess", 1)]


def test_how_a_vine_ends_is_told_by_the_foot_after_it() -> None:
    for after, last in (("Step L to side, touch R", "touch"), ("Step R to side, touch L", "step")):
        read = _read("R", "1-4  Vine right", f"5-6  {after}")
        assert read.passage.steps[3].movement.action == last
        assert [(f.code, f.place.line) for f in read.findings] == [("guess", 1)]


def test_which_way_a_pivot_turns_follows_from_the_foot_stepped_forward() -> None:
    read = _read("R", "1-2  Step R forward, pivot 1/2")
    assert read.passage.steps[1].movement.turn.eighths == -4
    assert [f.code for f in read.findings] == ["guess"]


@pytest.mark.parametrize("words", ["Jazz box 1/4", "Jazz box 1/4, touch L", "Vine right 1/4, touch L"])
def test_which_way_a_figure_turns_follows_from_its_foot(words: str) -> None:
    read = _read("R", f"1-4  {words}")
    assert sum(s.movement.turn.eighths for s in read.passage.steps) == 2
    assert {f.code for f in read.findings} <= {"guess"}


@pytest.mark.parametrize("words", ["Step R forward, pivot 1/2 right", "Cross R over L, unwind 1/2 right"])
def test_a_turn_that_the_feet_do_not_allow_is_told(words: str) -> None:
    assert [f.code for f in _read("R", f"1-2  {words}").findings] == ["contradiction"]


def test_a_pivot_told_on_its_own_line_is_one() -> None:
    read = _read("R", "1  Step R forward", "2  1/4 L")
    assert [s.movement.action for s in read.passage.steps] == ["step", "pivot"]
    assert read.findings == []


# -- repeats


@pytest.mark.parametrize(
    "words",
    [
        "Repeat counts 1-4 to the left",
        "Repeat 1-4 starting with left",
        "Repeat 1-4 on opposite foot",
        "Mirror 1-4",
        "Repeat last 4 counts leading with the L",
        "Same as above but on the other foot",
        "Reverse 1-4",
    ],
)
def test_a_repeat_to_the_other_side_is_told_in_many_ways(words: str) -> None:
    read = _read("R", "1-4  Vine right, touch L", f"5-8  {words}")
    assert _marks(read) == ["1R", "2L", "3R", "4L", "5L", "6R", "7L", "8R"]
    assert read.findings == []


# -- the author's words


def test_a_passage_keeps_its_authors_words() -> None:
    words = _read("R", "1-2  big step R fwd, lock L (smile!)", "3&4  R shuf fwd").passage.words
    assert [(w.first, w.last, w.line, w.text) for w in words] == [
        (0, 1, 1, "big step R fwd, lock L (smile!)"),
        (2, 4, 2, "R shuf fwd"),
    ]
