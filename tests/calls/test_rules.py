"""The rules of calling, held on every shipped routine, every sheet of the corpus and routines made up by Hypothesis.

Conventions: lengths of speech by the fakes' voice, which is about as quick as the standard one;
``tests.bench.bench_calls`` counts the same with a real one.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from caller.calls.plan import CallKind, CountIn, Fading
from caller.calls.score import make_take
from caller.calls.take import Take
from caller.dance.check import check
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.notation.read import read_bytes
from tests.calls.counted import broken
from tests.calls.takes import take_of
from tests.corpus.sheets import sheet_text, sound_sheets
from tests.fakes.lexicon import MeasuredVoice
from tests.routine.strategies import readable_sheets

SHIPPED = sorted((Path(__file__).parents[2] / "routines").glob("*.txt"))
SHEETS = [(half, name) for half, name in sound_sheets()]
TEMPI = (60, 90, 120, 150, 180)


# Where one call at the sheet's own tempo has no room for the side of its turn or for a recover: two jigs at 144 and 150
# counts a minute, and three rocks in four counts.
NO_ROOM = {"Cart Lamp": ("sides_unsaid",), "Milk Churn": ("left_out",), "Potting Shed": ("left_out",)}


def dances() -> list[Dance]:
    texts = [path.read_text(encoding="utf-8") for path in SHIPPED]
    texts += [sheet_text(half, name) for half, name in SHEETS]
    return [unroll(read_bytes(text.encode()).routine) for text in texts]


DANCES = dances()


def at_tempo(dance: Dance, tempo: Fraction | int, walls: int | None = None) -> Take:
    end = None if walls is None else int(dance.walls[walls - 1].end)
    return take_of(dance, tempo, count_in=2 * dance.routine.header.meter.counts, end=end)


def own_tempo(dance: Dance) -> Fraction:
    return dance.routine.header.tempo or Fraction(100)


@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.routine.header.title)
def test_at_its_own_tempo_a_sheets_first_wall_breaks_no_rule(dance: Dance) -> None:
    found = broken(at_tempo(dance, own_tempo(dance), walls=1))
    found.hurried.clear()
    for name in NO_ROOM.get(dance.routine.header.title, ()):
        assert len(getattr(found, name)) <= 1
        getattr(found, name).clear()
    assert found.counts() == dict.fromkeys(found.counts(), 0), found


@pytest.mark.parametrize("tempo", TEMPI)
def test_at_any_tempo_what_is_called_reads_back_as_what_is_danced(tempo: int) -> None:
    for dance in DANCES:
        found = broken(at_tempo(dance, tempo, walls=1))
        assert (found.misread, found.first_unsaid, found.turns_unsaid) == ([], [], []), dance.routine.header.title
        assert (found.count_ins, found.third_notices) == ([], [])


# Two turns one after the other, the second the other way.
BARROW = """BARROW - 16 counts, 2 walls, improver, 112 bpm

1,2  cross rock R over L, recover
3&4  chasse R
5,6  cross rock L over R, recover
7&8  chasse L turning 1/4 L
1,2  step R fwd, pivot 1/2 L
3&4  shuffle fwd RLR
5,6  step L fwd, pivot 1/4 R
7&8  cross shuffle LRL
"""


@pytest.mark.parametrize("tempo", range(60, 150, 6))
def test_on_the_first_wall_a_turn_the_other_way_than_the_last_keeps_its_side(tempo: int) -> None:
    dance = unroll(read_bytes(BARROW.encode()).routine)
    take = at_tempo(dance, tempo, walls=1)
    said = ", ".join(call.utterance.words for call in take.plan.calls if call.cue.steps and 12 <= call.cue.at < 14)
    assert said in ("step, quarter right", "quarter right")
    assert broken(take).misread == []
    # Where there is room the step is said too.
    assert tempo > 90 or said.startswith("step")


# Two steps with a turn each between two calls of two counts.
TILLER = """TILLER - 16 counts, 2 walls, improver

1,2  step R fwd, pivot 1/4 L
3,4  cross R over L, hold
5,6  turn 1/4 R step L back, turn 1/4 R step R side
7,8  cross L over R, hold
1,2  step R side, step L together
3,4  step R fwd, touch L
5,6  step L side, step R together
7,8  step L back, touch R
"""


@pytest.mark.parametrize("tempo", range(96, 150, 6))
def test_on_the_first_wall_two_quarters_between_short_calls_are_called_with_their_side(tempo: int) -> None:
    found = broken(at_tempo(unroll(read_bytes(TILLER.encode()).routine), tempo, walls=1))
    assert (found.uncalled, found.sides_unsaid, found.turns_unsaid, found.misread) == ([], [], [], [])


# The left foot goes to the side after a touch of the left.
LADLE = """LADLE - 16 counts, 2 walls, beginner

1,2  step R side, touch L
3,4  step L side, touch R
5-8  vine R, touch L
1,2  step L side, touch R
3,4  step R side, touch L
5-8  vine L, touch R
"""


@pytest.mark.parametrize("tempo", range(72, 120, 6))
def test_on_the_first_wall_the_other_foot_that_goes_to_the_side_is_called(tempo: int) -> None:
    take = at_tempo(unroll(read_bytes(LADLE.encode()).routine), tempo)
    said = [call.utterance.words for call in take.plan.calls if call.cue.steps and call.cue.at % 16 == 8]
    assert said[0].startswith("left side")
    assert not said[1].startswith("left")


@pytest.mark.parametrize("tempo", TEMPI)
def test_no_later_part_of_a_call_is_over_a_beat_before_its_own_movement(tempo: int) -> None:
    """Or whoever obeys the voice would turn on the step before the turn."""
    found = 0
    for dance in DANCES:
        take = at_tempo(dance, tempo)
        for call in take.plan.calls:
            if call.follows is not None:
                found += 1
                assert call.ends >= take.timeline.frame_of(call.cue.at - 1), dance.routine.header.title
    assert found


@given(readable_sheets(), st.integers(60, 180), st.sampled_from(list(CountIn)))
@settings(max_examples=60, deadline=None)
def test_made_up_routines_are_called_by_the_rules(text: str, tempo: int, how: CountIn) -> None:
    read = read_bytes(text.encode())
    assume(not any(finding.severity.value == "error" for finding in read.findings))
    assume(all(finding.code != "foot-weighted" for finding in check(read)))  # nobody can say which foot is free then
    dance = unroll(read.routine)
    take = make_take(
        dance,
        start=Fraction(0),
        end=Fraction(dance.counts),
        tempo=Fraction(tempo),
        manner=take_of(dance, 100).plan.manner,
        lexicon=MeasuredVoice(),
        clips=MeasuredVoice().clip,
        count_in=8,
        fading=Fading.USUAL,
        how=how,
    )
    found = broken(take)
    assert (found.misread, found.first_unsaid, found.turns_unsaid) == ([], [], [])
    assert (found.count_ins, found.third_notices) == ([], [])


@pytest.mark.parametrize(
    "dance", [d for d in DANCES if any(w.events for w in d.walls)], ids=lambda d: d.routine.header.title
)
def test_each_event_has_two_notices_at_most_and_never_back_to_back(dance: Dance) -> None:
    take = at_tempo(dance, own_tempo(dance))
    counts = take.timeline.count_at
    ahead = [call for call in take.plan.calls if call.cue.must and call.cue.heard_counts]
    for call in take.plan.calls:
        if (
            call.cue.kind in (CallKind.TAG, CallKind.RESTART, CallKind.ENDING, CallKind.CHANGE)
            and not call.cue.heard_counts
        ):
            before = [one for one in ahead if (one.cue.kind, one.cue.at) == (call.cue.kind, call.cue.at)]
            assert len(before) <= 1
            assert all(counts(call.starts) - counts(one.ends) >= Fraction(1, 2) for one in before)


@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.routine.header.title)
def test_a_wall_is_announced_after_the_last_call_of_the_wall_before(dance: Dance) -> None:
    """Over a wall that is still called, it would be taken for that wall's end."""
    calls = at_tempo(dance, own_tempo(dance)).plan.calls
    for index, call in enumerate(calls):
        if call.cue.kind is CallKind.WALL:
            assert [later.utterance.words for later in calls[index:] if later.cue.at < call.cue.at] == []


def test_the_counting_itself_finds_what_is_broken() -> None:
    """A voice that lacks the words for the first chain: it goes uncalled, and the count tells."""
    take = at_tempo(DANCES[0], 100)
    plan = take.plan
    without = replace(take, plan=replace(plan, calls=tuple(c for c in plan.calls if c.cue.at != 8)))
    assert len(broken(without).uncalled) == 1
    numbers = [call for call in plan.calls if call.cue.kind is CallKind.COUNT_IN]
    short = replace(take, plan=replace(plan, calls=tuple(c for c in plan.calls if c is not numbers[-1])))
    assert len(broken(short).count_ins) == 1
