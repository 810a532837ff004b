"""What wants to be said, by manner."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from caller.calls.cues import cues_for
from caller.calls.plan import CallKind, Cue, Manner
from caller.calls.sayings import sayings
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.meter import Meter
from caller.routine.notation.read import read_bytes
from caller.session.route import CountSpan, Route
from tests.fakes.dances import HALF_BAR, PICK_UP, PIVOTS, STOMP, SWAYS, WALKS, WALTZ, dance_of


def cues(dance: Dance, manner: Manner, start: int = 0, end: int | None = None, count_in: int = 8) -> tuple[Cue, ...]:
    return cues_for(dance, manner, Fraction(start), Fraction(dance.counts if end is None else end), count_in)


def told(found: tuple[Cue, ...], *kinds: CallKind) -> list[tuple[str, str, Fraction]]:
    return [(cue.kind.value, cue.wordings[0], cue.at) for cue in found if cue.kind in kinds]


EVENTS = (CallKind.TAG, CallKind.RESTART, CallKind.CHANGE, CallKind.ENDING)


def test_each_phrase_is_called_with_its_wordings() -> None:
    found = [cue for cue in cues(dance_of(1), Manner.AHEAD) if cue.kind is CallKind.STEP]
    assert [(min(cue.wordings, key=len), cue.count, cue.at) for cue in found] == [
        ("right foot", "1", 0),
        ("triple", "3", 2),
        ("rock", "5", 4),
        ("triple back", "7", 6),
        ("step, quarter", "1", 8),
        ("rocking chair", "3", 10),
        ("touch hold", "7", 14),
    ]
    assert all(cue.lead_counts == 2 and not cue.must and cue.steps for cue in found[1:])


def test_each_movement_has_its_word_on_the_count() -> None:
    found = [cue for cue in cues(dance_of(1, (WALKS,)), Manner.ON_COUNT) if cue.kind is CallKind.STEP]
    assert [(cue.wordings, cue.at) for cue in found][:5] == [
        (("walk",), 0),
        (("walk",), 1),
        (("step",), 2),
        (("close",), Fraction(5, 2)),
        (("step",), 3),
    ]
    assert all(cue.on_beat for cue in found)


def test_counting_says_every_count_and_the_ands_that_are_danced() -> None:
    found = cues(dance_of(1), Manner.COUNTS, count_in=0)
    assert " ".join(cue.wordings[0] for cue in found) == (
        "one two three and four five six seven and eight one two three four five six seven eight"
    )
    assert {cue.kind for cue in found} == {CallKind.COUNT}


def test_a_waltz_is_counted_as_its_sections_are_and_its_count_in_to_six() -> None:
    found = cues(dance_of(2, (WALTZ,), meter=Meter(3, 4)), Manner.COUNTS, count_in=6)
    assert " ".join(cue.wordings[0] for cue in found) == (
        "one two three four five six one two three four five six one two three four five six"
    )


def test_a_section_parted_by_a_tag_is_counted_on_after_it() -> None:
    found = cues(dance_of(1, tags_inside={1: (4, HALF_BAR)}), Manner.COUNTS, 0, 10, 0)
    assert " ".join(cue.wordings[0] for cue in found) == "one two three and four one two five six seven and eight"


def test_prompts_leave_the_steps_to_the_dancers() -> None:
    found = cues(dance_of(3, tags={1: SWAYS}), Manner.PROMPTS)
    assert {cue.kind for cue in found} == {CallKind.COUNT_IN, CallKind.WALL, CallKind.TAG}


def test_quiet_says_nothing() -> None:
    assert cues(dance_of(3, tags={1: SWAYS}), Manner.QUIET) == ()


def test_each_wall_but_the_first_is_announced_with_its_facing() -> None:
    assert told(cues(dance_of(3), Manner.AHEAD), CallKind.WALL) == [
        ("wall", "wall two, nine o'clock", 16),
        ("wall", "wall three, last wall, six o'clock", 32),
    ]


@pytest.mark.parametrize(
    ("dance", "expected"),
    [
        (
            dance_of(2, tags={1: SWAYS}),
            [
                ("tag", "tag after this wall, facing nine o'clock, four sways, right", 16),
                ("tag", "tag, sway right, left, right, left", 16),
            ],
        ),
        (
            dance_of(1, tags_inside={1: (8, HALF_BAR)}),
            [
                ("tag", "tag B after this section, facing twelve o'clock, stomp stomp", 8),
                ("tag", "tag B, right stomp, stomp", 8),
            ],
        ),
        (
            dance_of(2, restarts={1: 8}),
            [
                ("restart", "restart after this section, facing twelve o'clock", 8),
                ("restart", "restart, last wall, right walk, walk", 8),
            ],
        ),
        (
            dance_of(2, restarts={1: 12}),
            [
                ("restart", "restart coming up, facing nine o'clock", 12),
                ("restart", "restart, last wall, right walk, walk", 12),
            ],
        ),
        (
            dance_of(2, changes={2: 8}),
            [
                ("change", "step change this wall, facing nine o'clock, step, quarter", 24),
                ("change", "change, right step, quarter left", 24),
            ],
        ),
        (
            dance_of(2, changes={2: 0}),
            [
                ("change", "step change coming up, facing nine o'clock, walk walk", 16),
                ("change", "change, right walk, walk", 16),
            ],
        ),
        (
            dance_of(2, ending=(8, STOMP)),
            [
                ("ending", "ending after this section, facing nine o'clock, stomp", 24),
                ("ending", "ending, right stomp", 24),
            ],
        ),
    ],
)
def test_an_event_is_called_ahead_and_at_its_place_with_the_first_movement(
    dance: Dance, expected: list[tuple[str, str, int]]
) -> None:
    assert told(cues(dance, Manner.AHEAD), *EVENTS) == expected


def test_the_warning_must_be_said_and_heard_with_counts_to_go() -> None:
    warning, reminder = (c for c in cues(dance_of(2, tags={1: SWAYS}), Manner.AHEAD) if c.kind is CallKind.TAG)
    assert (warning.must, warning.lead_counts, warning.heard_counts) == (True, 8, Fraction(9, 2))
    assert (reminder.must, reminder.heard_counts) == (False, 0)


def test_what_this_section_means_is_said_within_it() -> None:
    dance = dance_of(2, restarts={1: 8})
    warning = next(cue for cue in cues(dance, Manner.AHEAD) if cue.kind is CallKind.RESTART)
    assert warning.at - warning.ahead_counts >= 0


def test_where_there_is_no_time_to_warn_the_reminder_must_be_said() -> None:
    found = [
        cue
        for cue in cues(dance_of(2, tags={1: SWAYS}), Manner.AHEAD, start=12, count_in=0)
        if cue.kind is CallKind.TAG
    ]
    assert [(cue.wordings[0], cue.must) for cue in found] == [("tag, sway right, left, right, left", True)]


def test_an_event_is_named_once_for_each_place() -> None:
    dance = dance_of(4, tags={1: SWAYS, 3: SWAYS})
    assert [at for _, _, at in told(cues(dance, Manner.PROMPTS), CallKind.TAG)] == [16, 16, 52, 52]


def test_a_restart_that_ends_the_stretch_is_still_announced() -> None:
    assert len(told(cues(dance_of(1, restarts={1: 8}), Manner.PROMPTS), CallKind.RESTART)) == 2


def test_the_count_in_is_the_last_bar_as_far_as_it_is_clicked() -> None:
    assert [cue.wordings[0] for cue in cues(dance_of(1), Manner.PROMPTS, count_in=16)] == [
        "five",
        "six",
        "seven",
        "eight",
    ]
    assert [cue.wordings[0] for cue in cues(dance_of(1), Manner.PROMPTS, count_in=2)] == ["seven", "eight"]
    assert cues(dance_of(1), Manner.PROMPTS, count_in=0) == ()


def test_a_pick_up_is_called_with_the_section_it_leads_into() -> None:
    dance = dance_of(1, (WALKS, PIVOTS, PICK_UP))
    own = [cue for cue in cues(dance, Manner.AHEAD, start=16) if cue.kind is CallKind.STEP]
    assert [cue.at for cue in own] == [Fraction(31, 2), 18]
    before = [cue for cue in cues(dance, Manner.AHEAD, start=8, end=16) if cue.kind is CallKind.STEP]
    assert [cue.at for cue in before] == [8, 10, 14]


def test_cues_come_in_the_order_they_are_wished_the_count_in_first_but_for_the_call_before_it() -> None:
    for manner in Manner:
        found = cues(dance_of(4, tags={2: SWAYS}, restarts={3: 8}), manner)
        if manner is Manner.AHEAD:
            assert (found[0].kind, found[0].heard_counts) == (CallKind.STEP, 5)
            found = found[1:]
        kinds = [cue.kind for cue in found]
        numbers = kinds.count(CallKind.COUNT_IN)
        assert set(kinds[:numbers]) <= {CallKind.COUNT_IN}
        wished = [cue.at - cue.lead_counts for cue in found[numbers:]]
        assert wished == sorted(wished)


def test_a_warning_waits_for_the_step_that_is_wished_with_it() -> None:
    found = [(cue.kind, cue.at) for cue in cues(dance_of(2, restarts={1: 8}), Manner.AHEAD, count_in=16)]
    # Wished at 0: the step of count 2, and the warning of the restart after 8.
    assert found.index((CallKind.STEP, Fraction(2))) < found.index((CallKind.RESTART, Fraction(8)))


def test_the_first_step_after_a_restart_is_called_with_it_and_nowhere_else() -> None:
    found = cues(dance_of(2, restarts={1: 8}), Manner.AHEAD)
    assert [cue.kind for cue in found if cue.at == 8 and cue.steps] == [CallKind.RESTART]
    assert not [cue for cue in found if cue.kind is CallKind.WALL and cue.at == 8]


def test_a_change_that_runs_up_to_a_restart_is_announced_with_it() -> None:
    found = cues(dance_of(3, changes={2: 4}, restarts={2: 8}), Manner.AHEAD)
    ahead = [cue for cue in found if cue.must]
    assert [(cue.kind, cue.at, cue.wordings[-2]) for cue in ahead] == [
        (CallKind.CHANGE, 20, "change and restart coming")
    ]
    at_place = [(cue.kind, cue.at) for cue in found if cue.steps and cue.kind is not CallKind.STEP]
    assert at_place == [(CallKind.CHANGE, 20), (CallKind.RESTART, 24)]


@pytest.mark.parametrize(("before", "open_"), [("Stomp R, stomp L", True), ("Walk R, L", False), ("Bump L, R", True)])
def test_after_what_may_leave_the_weight_on_either_foot_the_foot_is_to_be_heard(before: str, open_: bool) -> None:
    foot = "L" if "Bump" in before else "R"
    lines = ("LATCH - 8 counts, 1 wall", "", "1-2 walk R, L", f"3-4 {before}", f"5&6 shuffle fwd {foot}", "7-8 hold")
    dance = unroll(read_bytes("\n".join(lines).encode()).routine)
    shuffle = next(cue for cue in cues(dance, Manner.AHEAD) if cue.at == 4 and cue.steps)
    lost = dict(zip(shuffle.wordings, shuffle.lost, strict=True))
    assert (lost["shuffle, hold"] >= 20) is open_


def test_the_last_wall_is_told_only_where_no_other_comes_after_it() -> None:
    def said(dance: Dance) -> list[str]:
        return [words for _, words, _ in told(cues(dance, Manner.PROMPTS), CallKind.WALL)]

    dance = dance_of(3)
    assert ["last wall" in one for one in said(dance)] == [False, True]
    looped = Route.straight(dance).looped(dance, Fraction(34), CountSpan(Fraction(16), Fraction(48))).through(dance)
    assert not any("last wall" in one for one in said(looped)[:8])


def test_a_restart_has_two_notices_and_its_walls_announcement_is_none() -> None:
    """Rule: two notices at most, one ahead and one at the place."""
    long = (WALKS, replace(PIVOTS, section=2), replace(WALKS, section=3))
    for after in (8, 16):
        walls = told(cues(dance_of(4, long, restarts={3: after}), Manner.PROMPTS), CallKind.WALL)
        assert not any("restart" in words for _, words, _ in walls)


def test_a_wall_that_a_restart_begins_is_called_with_it() -> None:
    restart = [cue for cue in cues(dance_of(4, restarts={2: 8}), Manner.AHEAD) if cue.kind is CallKind.RESTART]
    assert restart[-1].wordings[0] == "restart, wall three, right walk, walk"
    assert "restart, walk walk" in restart[-1].wordings


@pytest.mark.parametrize("words", ["wall two", "last wall"])
def test_a_wall_is_never_said_at_the_utmost_pace(words: str) -> None:
    """A warning may be."""
    cue = next(cue for cue in cues(dance_of(3), Manner.AHEAD) if cue.kind is CallKind.WALL)
    own = replace(cue, wordings=(words,), lost=())
    assert {saying.speed for saying in sayings(own)} == {1.0, 1.15}
    assert {saying.speed for saying in sayings(replace(own, kind=CallKind.TAG))} == {1.0, 1.15, 1.35}


def test_a_breath_between_the_restart_and_its_first_step_is_worth_more_than_the_voices_pace() -> None:
    """ "restart side" would be another figure."""
    restart = [cue for cue in cues(dance_of(4, restarts={2: 8}), Manner.AHEAD) if cue.kind is CallKind.RESTART][-1]
    lost = {(saying.parts[0].words, saying.speed): saying.lost for saying in sayings(restart)}
    assert lost["restart, walk walk", 1.15] < lost["restart walk walk", 1.0]
