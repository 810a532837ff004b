"""Routes through the dance: what comes again is danced the same, only later and turned."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.calls.places import stretch_at
from caller.dance.unroll import unroll
from caller.dance.walls import Dance, DancedStep
from caller.routine.notation.read import read_bytes
from caller.session.route import LOOP_AHEAD, CountSpan, Route, section_at, section_starts

ROUTINES = Path(__file__).parents[2] / "routines"
DANCES = {path.stem: unroll(read_bytes(path.read_bytes()).routine) for path in sorted(ROUTINES.glob("*.txt"))}
LANTERN = DANCES["lantern-row"]

dances = st.sampled_from(sorted(DANCES)).map(DANCES.__getitem__)
places = st.fractions(0, 1, max_denominator=64)


def place(dance: Dance, share: Fraction) -> Fraction:
    return min(share * dance.counts, Fraction(dance.counts) - 1)


def movements(dance: Dance) -> list[DancedStep]:
    return [danced for wall in dance.walls for danced in wall.movements]


@pytest.mark.parametrize("dance", DANCES.values(), ids=DANCES)
def test_the_straight_route_is_the_dance_itself(dance: Dance) -> None:
    route = Route.straight(dance)
    assert route.through(dance) is dance
    assert route.counts == dance.counts


@settings(max_examples=25)
@given(dances, places)
def test_a_loop_let_go_the_first_time_round_is_the_straight_route(dance: Dance, share: Fraction) -> None:
    count = place(dance, share)
    straight = Route.straight(dance)
    assert straight.looped(dance, count).let_on(dance, count) == straight


@settings(max_examples=25)
@given(dances, places)
def test_a_loop_dances_the_section_again_and_again(dance: Dance, share: Fraction) -> None:
    count = place(dance, share)
    section = section_at(dance, count)
    looped = Route.straight(dance).looped(dance, count).through(dance)
    length = section.last - section.first
    assert LOOP_AHEAD <= looped.counts - section.last < LOOP_AHEAD + length
    assert section_starts(looped)[-2:] == [looped.counts - 2 * length, looped.counts - length]
    once = [d for d in movements(looped) if section.first <= d.at < section.last]
    again = [d for d in movements(looped) if section.last <= d.at < section.last + length]
    assert [(d.at + length, d.step) for d in once] == [(d.at, d.step) for d in again]


@settings(max_examples=25)
@given(dances, places, st.integers(0, 5))
def test_facing_is_carried_on_whatever_comes_again(dance: Dance, share: Fraction, times: int) -> None:
    """Each movement starts facing as the one before it ended: as in the dance itself."""
    count = place(dance, share)
    section = section_at(dance, count)
    looped = Route.straight(dance).looped(dance, count)
    on = looped.let_on(dance, count + times * (section.last - section.first))
    danced = on.through(dance)
    assert danced.counts == dance.counts + times * (section.last - section.first)
    for before, after in pairwise(sorted(movements(danced), key=lambda d: d.at)):
        assert before.after.facing == after.before.facing
    for wall, following in pairwise(danced.walls):
        assert (wall.end, wall.ends) == (following.at, following.starts)
    for wall in danced.walls:
        for phrase in wall.phrases:
            assert wall.movements[phrase.first].at == phrase.at
    assert on.sheet_count(danced.counts - Fraction(1, 2)) == dance.counts - Fraction(1, 2)


def test_a_section_that_turns_a_quarter_left_comes_round_every_fourth_time() -> None:
    """Section 2 of Lantern Row pivots a quarter left: arithmetic, 12:00, 9:00, 6:00, 3:00 and again."""
    looped = Route.straight(LANTERN).looped(LANTERN, Fraction(8)).through(LANTERN)
    starts = [str(stretch.starts) for wall in looped.walls for stretch in wall.stretches if stretch.section == 2]
    assert starts[:9] == ["12:00", "9:00", "6:00", "3:00", "12:00", "9:00", "6:00", "3:00", "12:00"]


def test_parts_of_a_wall_that_come_again_keep_its_number() -> None:
    looped = Route.straight(LANTERN).looped(LANTERN, Fraction(40))
    assert [wall.number for wall in looped.through(LANTERN).walls[:5]] == [1, 2, 2, 2, 2]
    on = looped.let_on(LANTERN, Fraction(50)).through(LANTERN)
    assert [wall.number for wall in on.walls] == [1, 2, 2, 3, 4, 5, 6, 7]


def test_a_restart_is_told_only_where_it_follows() -> None:
    """Wall 6 restarts after 24 counts: looped before it, section 3 is followed by itself."""
    wall = LANTERN.walls[5]
    looped = Route.straight(LANTERN).looped(LANTERN, wall.at + 16)
    assert not any(event.kind == "restart" for w in looped.through(LANTERN).walls for event in w.events)
    on = looped.let_on(LANTERN, wall.at + 25).through(LANTERN)
    restarts = [w.at + event.after for w in on.walls for event in w.events if event.kind == "restart"]
    assert restarts == [wall.end + 8]


@pytest.mark.parametrize(("count", "sheet"), [(0, 0), (15, 15), (16, 8), (23, 15), (24, 8), (31, 15), (32, 16)])
def test_a_count_of_the_route_has_its_place_in_the_sheet(count: int, sheet: int) -> None:
    route = Route.of(
        (
            CountSpan(Fraction(0), Fraction(16)),
            *[CountSpan(Fraction(8), Fraction(16))] * 2,
            CountSpan(Fraction(16), Fraction(40)),
        )
    )
    assert route.sheet_count(Fraction(count)) == sheet


@settings(max_examples=40)
@given(dances, places, st.integers(1, 40), st.integers(1, 4))
def test_any_counts_over_and_over_keep_their_steps_their_numbers_and_the_facing(
    dance: Dance, share: Fraction, counts: int, times: int
) -> None:
    first = Fraction(int(place(dance, share)))
    wall = dance.wall_at(first)
    span = CountSpan(first, min(first + counts, wall.end))
    length = span.last - span.first
    danced = Route.of((span,) * times).through(dance)
    assert danced.counts == times * length
    for before, after in pairwise(sorted(movements(danced), key=lambda d: d.at)):
        assert before.after.facing == after.before.facing
    for n in range(times):
        for count in range(int(length)):
            sheet, route = span.first + count, n * length + count
            shown, meant = stretch_at(danced.wall_at(route), route), stretch_at(wall, sheet)
            assert (shown.section, route - shown.at) == (meant.section, sheet - meant.at)
            assert section_at(danced, route).first >= n * length
