"""The optimum against an outside solver, against trying every frame, and its laws."""

from __future__ import annotations

import random
from collections.abc import Sequence
from functools import cache

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.calls.optimum import Choice, Chosen, OptionSlot, _bounds, _few, _many, _tables, best_plan
from tests.calls.outside import best_worth


@st.composite
def options(draw: st.DrawFn, around: int) -> Choice:
    first = around + draw(st.integers(-15, 5))
    return Choice(
        first=first,
        last=first + draw(st.integers(-2, 20)),
        wish=first + draw(st.integers(-5, 25)),
        frames=draw(st.integers(1, 20)),
        worth=draw(st.integers(1, 60)),
        early=draw(st.integers(0, 4)),
        late=draw(st.integers(0, 6)),
        before=draw(st.integers(0, 2)),
        after=draw(st.integers(0, 2)),
    )


@st.composite
def stage_lists(draw: st.DrawFn) -> tuple[OptionSlot, ...]:
    around, stages = 15, []
    for _ in range(draw(st.integers(0, 6))):
        around += draw(st.integers(0, 15))
        found = draw(st.lists(options(around), max_size=3))
        stages.append(OptionSlot(tuple(found), draw(st.sampled_from((0, 0, -100)))))
    return tuple(stages)


def worth_of(option: Choice, start: int, step: int) -> int:
    off = -(-abs(start - option.wish) // step)
    return option.worth - off * (option.early if start < option.wish else option.late)


def summed(stages: Sequence[OptionSlot], chosen: Sequence[Chosen | None], step: int) -> int:
    return sum(
        stage.unsaid if choice is None else worth_of(stage.options[choice.option], choice.start, step)
        for stage, choice in zip(stages, chosen, strict=True)
    )


def best_by_trying(stages: tuple[OptionSlot, ...], step: int) -> int:
    """Every frame of every option."""

    @cache
    def best(index: int, free: int) -> int:
        if index == len(stages):
            return 0
        ways = [stages[index].unsaid + best(index + 1, free)]
        for option in stages[index].options:
            for start in range(max(option.first, free + option.before), option.last + 1):
                rest = best(index + 1, start + option.frames + option.after)
                ways.append(worth_of(option, start, step) + rest)
        return max(ways)

    return best(0, 0)


def random_stages(seed: int) -> tuple[OptionSlot, ...]:
    pick = random.Random(seed)
    around, stages = 10, []
    for _ in range(pick.randint(1, 6)):
        around += pick.randint(0, 14)
        found = []
        for _ in range(pick.randint(1, 3)):
            first = around - pick.randint(0, 12)
            last, wish = first + pick.randint(0, 18), first + pick.randint(-4, 20)
            weights = (
                pick.randint(1, 60),
                pick.randint(0, 4),
                pick.randint(0, 6),
                pick.randint(0, 2),
                pick.randint(0, 2),
            )
            found.append(Choice(first, last, wish, pick.randint(1, 18), *weights))
        stages.append(OptionSlot(tuple(found), pick.choice((0, 0, -200))))
    return tuple(stages)


def test_the_outside_solver_finds_no_better_plan() -> None:
    # Outside check: HiGHS, a mixed-integer solver, on the same problem written as linear rows.
    for seed in range(200):
        stages, step = random_stages(seed), 1 + seed % 5
        _, total = best_plan(stages, step)
        assert total == best_worth(stages, step), f"seed {seed}"


@given(stage_lists(), st.integers(1, 6))
@settings(max_examples=200)
def test_trying_every_frame_finds_no_better_plan(stages: tuple[OptionSlot, ...], step: int) -> None:
    _, total = best_plan(stages, step)
    assert total == best_by_trying(stages, step)


def test_trying_starts_one_by_one_or_all_at_once_leads_to_the_same_frontier() -> None:
    for seed in range(200):
        stages, step = random_stages(seed), 1 + seed % 5
        came = np.array([[0], [0], [-1], [-1], [0]])
        bounds = _bounds(stages, 0, None)
        for stage, bound, table in zip(stages, bounds, _tables(stages, bounds, step), strict=True):
            one_by_one = _few(came, stage, table, bound.must, step, 0)
            at_once = _many(came, stage, table, bound.must, step, 0)
            np.testing.assert_array_equal(one_by_one[:2], at_once[:2], f"seed {seed}")
            came = one_by_one


def test_what_is_dear_is_avoided_and_else_borne() -> None:
    # Two that must be said and overlap unless the first is said early; a third that fits nowhere costs the same always.
    first = OptionSlot((Choice(0, 9, 9, 5, 50, 1, 1, 0, 0), Choice(20, 30, 20, 5, -1000, 0, 0, 0, 0)), -5000)
    second = OptionSlot((Choice(5, 6, 6, 5, 50, 1, 1, 0, 0),), -5000)
    hopeless = OptionSlot((Choice(5, 4, 4, 5, 50, 1, 1, 0, 0),), -5000)
    for stages in ([first, second], [first, second, hopeless], [first, second, second]):
        assert best_plan(stages, 1, 0, -1000)[1] == best_plan(stages, 1, 0)[1] == best_by_trying(tuple(stages), 1)


@given(stage_lists(), st.integers(1, 6))
def test_the_plan_is_worth_what_it_says(stages: tuple[OptionSlot, ...], step: int) -> None:
    chosen, total = best_plan(stages, step)
    assert summed(stages, chosen, step) == total


@given(stage_lists(), st.integers(1, 6), st.integers(-10, 30))
def test_what_is_said_keeps_its_window_and_its_silence(stages: tuple[OptionSlot, ...], step: int, free: int) -> None:
    chosen, _ = best_plan(stages, step, free)
    for stage, choice in zip(stages, chosen, strict=True):
        if choice is not None:
            option = stage.options[choice.option]
            assert option.first <= choice.start <= option.last
            assert choice.start >= free + option.before
            free = choice.start + option.frames + option.after


def test_a_lone_call_starts_on_its_wish() -> None:
    stage = OptionSlot((Choice(0, 100, 40, 10, 50, 1, 1, 0, 0),))
    assert best_plan([stage], 5) == ([Chosen(0, 40)], 50)


def test_what_may_not_be_left_out_pushes_out_what_is_worth_more() -> None:
    must = OptionSlot((Choice(0, 5, 5, 10, 1, 1, 0, 0, 0),), unsaid=-1000)
    dear = OptionSlot((Choice(0, 12, 8, 10, 900, 0, 0, 0, 0),))
    chosen, _ = best_plan([dear, must], 1)
    assert chosen == [None, Chosen(0, 5)]


def test_nothing_to_say_is_a_plan() -> None:
    assert best_plan([], 1) == ([], 0)
