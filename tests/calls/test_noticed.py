"""At the place of a restart its word is said, whatever else has no room."""

from __future__ import annotations

import pytest

from caller.calls.document import announced
from caller.calls.plan import Call, CallKind
from caller.calls.take import Take
from caller.dance.unroll import unroll
from caller.routine.notation.read import read_bytes
from tests.calls.takes import take_of

# Two quick figures, then a change that runs up to a restart, at the sheet's own tempo.
PEBBLE_DITCH = """Pebble Ditch
improver / 32 cts / 4-wall line / 120 bpm / intro 16 counts

Part one - side shuffles
R side shuffle                                              1&2
Rock back on L, recover to R                                3-4
L side shuffle                                              5&6
Rock back on R, recover to L                                7-8

Part two - kick, half, shuffle
R kick-ball-change                                          1&2
Step fwd R, pivot 1/2 turn L [6:00]                         3-4
R shuffle fwd                                               5&6
Rock fwd L, recover R                                       7-8

Part three - coaster, walks, jazz box
L coaster step                                              1&2
Walk R, walk L                                              3-4
Jazz box 1/4 turn R [9:00]                                  5-8

Part four - monterey, heel switches
Monterey 1/2 turn R: point R to side, 1/2 R stepping R beside L, point L to side, L beside R [3:00]    1-4
R heel fwd, R back in place, L heel fwd, L back in place    5&6&
Stomp R (no weight), clap                                   7-8

Wall 3, counts 15-16: step fwd L, touch R beside L, then restart facing 12:00.
"""
CHANGE, RESTART = 32 + 32 + 14, 32 + 32 + 16
DANCE = unroll(read_bytes(PEBBLE_DITCH.encode()).routine)


def calls_at(take: Take, count: int) -> list[Call]:
    return [call for call in take.plan.calls if call.cue.at == count and not call.cue.heard_counts]


def listed(take: Take, kind: CallKind) -> list[str]:
    return [notice["words"] for one in announced(take) if one["kind"] == kind.value for notice in one["notices"]]


@pytest.mark.parametrize("tempo", range(92, 152, 4))
def test_a_restart_is_said_at_its_place_at_any_tempo_and_the_changed_steps_before_it(tempo: int) -> None:
    take = take_of(DANCE, tempo)
    ((change,), (restart,)) = calls_at(take, CHANGE), calls_at(take, RESTART)
    assert change.utterance.words.startswith("change")
    assert "step" in change.utterance.words
    assert restart.utterance.words.split(",")[0] == "restart"
    assert restart.ends + take.plan.margin_seconds * take.timeline.rate <= restart.due + 1
    assert listed(take, CallKind.RESTART) == [restart.utterance.words]


def test_where_the_first_figure_has_no_room_beside_it_the_word_stays_alone() -> None:
    """The class knows how a wall begins; at the sheet's own tempo."""
    take = take_of(DANCE, DANCE.routine.header.tempo or 0)
    assert [call.utterance.words for call in calls_at(take, RESTART)] == ["restart"]
    assert [call.utterance.words for call in calls_at(take_of(DANCE, 92), RESTART)] != ["restart"]


def test_a_step_called_without_the_word_for_what_stands_there_is_no_notice() -> None:
    take = take_of(DANCE, 200)
    bare = [call for call in calls_at(take, CHANGE) if "change" not in call.utterance.words]
    assert bare
    assert all("change" in words for words in listed(take, CallKind.CHANGE))
