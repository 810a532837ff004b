"""A programme, running: what comes of what has happened. Playbooks: outcomes in, stages out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.calls.plan import Manner
from caller.teaching.drill import FADING, drill_of, practice_of
from caller.teaching.nudged import FASTEST, SLOWEST, Nudged
from caller.teaching.own_stages import by_itself_first, left_out
from caller.teaching.paced import at_tempo, with_nudges, with_tempo
from caller.teaching.running import (
    Running,
    StageOutcome,
    Waits,
    answered,
    at_stage,
    begin,
    called,
    easier,
    gone_beyond,
    next_stage,
    often,
    waiting_when,
)
from caller.teaching.stage import LessonPlan, MovesOn, Stage, StageKind
from caller.teaching.summary import summary_of
from caller.teaching.walkthrough import walkthrough_of
from tests.fakes.dances import dance_of
from tests.takehome.packets import STEMS, shipped_dance

DONE, AGAIN, SLOWER, FASTER, PAUSED, ON, BACK = StageOutcome
PART = (("", 1),)
LAST = (StageKind.QUICK, StageKind.WHOLE)
PROGRAMME = LessonPlan(
    "Tin Lantern",
    "walkthrough",
    Fraction(100),
    4,
    (
        Stage("told", StageKind.TELL, said=("words",), sections=PART),
        Stage(
            "slow", StageKind.WORDS, Fraction(0), Fraction(8), Fraction(1, 2), times=2, said=("slow",), sections=PART
        ),
        Stage(
            "top", StageKind.ADD, Fraction(0), Fraction(16), Fraction(3, 4), said=("top",), sections=(("", 1), ("", 2))
        ),
    ),
)


@pytest.mark.parametrize("stem", STEMS)
def test_a_lower_tempo_or_a_little_slower_takes_no_stage_under_what_can_be_danced(stem: str) -> None:
    """From the sheet's tempo down step by step, each stage as it begins: at 60, or as slow as it was, the least."""
    plan = walkthrough_of(dance := shipped_dance(stem))
    floor = 66 if dance.routine.header.meter.counts == 3 else 60
    for index, stage in enumerate(plan.stages):
        least = min(plan.tempo * stage.speed, Fraction(floor))
        lower = with_tempo(begin(plan, index), plan.tempo - 8)
        eased = at_stage(replace(begin(plan, index), nudged=Nudged(slow=Fraction(22, 25))), index)
        assert not stage.danced or min(lower.tempo, eased.tempo) >= min(least, lower.programme.tempo)
        assert with_tempo(lower, plan.tempo) == begin(plan, index)
    assert with_tempo(at_tempo(begin(plan, index), Fraction(50)), plan.tempo).tempo == 50  # what is typed holds


def played(running: Running, *outcomes: StageOutcome) -> Running:
    for outcome in outcomes:
        running = next_stage(running, outcome)
    return running


def test_left_alone_it_says_each_stage_dances_it_as_often_as_it_says_and_ends() -> None:
    running = begin(PROGRAMME)
    seen = []
    while not running.over:
        seen.append((running.stage.name, bool(running.says), running.goes))
        running = next_stage(running, DONE)
    assert seen == [
        ("told", True, 0),
        ("slow", True, 0),
        ("slow", False, 0),
        ("slow", False, 1),
        ("top", True, 0),
        ("top", False, 0),
    ]
    assert [go.stage.name for go in running.done] == ["slow", "slow", "top"]


@pytest.mark.parametrize("stem", STEMS)
def test_every_walkthrough_ends_by_itself(stem: str) -> None:
    running = begin(walkthrough_of(shipped_dance(stem)))
    for _ in range(1_000):
        if running.over:
            break
        running = next_stage(running, DONE)
    assert running.over
    assert running.done[-1].stage.kind is StageKind.WHOLE


def test_again_dances_the_stage_anew_and_changes_nothing_later() -> None:
    running = played(begin(PROGRAMME), DONE, DONE, DONE, *[AGAIN] * 4)
    assert (running.stage.name, running.goes, running.says) == ("slow", 0, ())
    assert running.programme == PROGRAMME


@pytest.mark.parametrize("stem", STEMS)
def test_four_times_again_make_a_lesson_no_longer_than_that(stem: str) -> None:
    walkthrough = begin(walkthrough_of(shipped_dance(stem)))
    while not walkthrough.stage.danced or not walkthrough.announced:
        walkthrough = next_stage(walkthrough, DONE)
    goes = [len(to_the_end(played(walkthrough, *[AGAIN] * times)).done) for times in (0, 4)]
    assert goes[0] == goes[1]


def test_again_on_a_stage_that_is_told_tells_it_again() -> None:
    running = played(begin(PROGRAMME), AGAIN)
    assert (running.index, running.says) == (0, ("words",))
    waiting = next_stage(waiting_when(begin(PROGRAMME), Waits.STAGES), DONE)
    assert waiting.waiting
    assert (played(waiting, AGAIN).says, played(waiting, AGAIN).waiting) == (("words",), False)


def to_the_end(running: Running) -> Running:
    while not running.over:
        running = next_stage(running, DONE)
    return running


def test_a_lesson_waits_after_each_telling_that_nobody_answers() -> None:
    """What moves it on answers the telling that it waited after, and not the next one too."""
    running, waited = waiting_when(begin(walkthrough_of(shipped_dance("lantern-row"))), Waits.UNANSWERED), list[int]()
    while not running.over:
        waited += [running.index] if running.waiting else []
        on = next_stage(running, ON) if running.waiting else next_stage(running, DONE)
        running = answered(on, to_telling=False) if running.waiting else on
    stages = running.programme.stages
    walked = [n for n, stage in enumerate(stages) if stage.kind is StageKind.WALK and stages[n + 1].danced]
    shown = [n for n, stage in enumerate(stages) if stage.kind is StageKind.OPTION]
    events = [n for n, stage in enumerate(stages) if stage.kind is StageKind.EVENT]
    last = [n for n in events if n + 1 not in events or stages[n + 1].start != stages[n].start]
    assert len(walked) == 4
    assert len(last) < len(events)
    assert waited == sorted([*walked, *shown, *last]), "once all of a section, or of an event, has been told"


def test_it_stops_before_the_stage_that_it_is_to_stop_before_and_goes_on_when_asked() -> None:
    """However it waits, and where its last stage is left too; a stage that is put in does not move that place."""
    lesson = replace(begin(PROGRAMME), until=2)
    danced = played(lesson, DONE, DONE, DONE, DONE)
    assert (danced.index, danced.stopped, danced.waiting) == (1, True, True)
    assert played(danced, DONE) == danced
    beyond = gone_beyond(danced)
    assert (beyond.index, beyond.stopped, beyond.until) == (2, False, None)
    assert played(lesson, ON, ON).stopped
    assert played(begin(PROGRAMME), ON, ON).index == 2
    put_in = by_itself_first(at_stage(lesson, 1), Stage("own", StageKind.DRILL, Fraction(0), Fraction(8)))
    assert not played(put_in, ON).stopped
    assert played(put_in, ON, ON).stopped
    assert left_out(put_in).until == 2


def test_a_lesson_that_is_answered_once_between_tellings_never_waits() -> None:
    running = waiting_when(begin(walkthrough_of(shipped_dance("lantern-row"))), Waits.UNANSWERED)
    while not running.over:
        assert not running.waiting
        running = next_stage(answered(running), DONE)


def test_asked_to_it_waits_after_each_stage_but_the_last() -> None:
    running, waited = waiting_when(begin(PROGRAMME), Waits.STAGES), []
    for _ in range(20):
        if running.over:
            break
        waited += [running.stage.name] if running.waiting else []
        running = next_stage(running, ON if running.waiting else DONE)
    assert running.over
    assert waited == ["told", "slow"]


def test_slower_is_by_a_small_step_and_lasts() -> None:
    running = played(begin(PROGRAMME), DONE, DONE, SLOWER)
    assert (running.speed, running.tempo, running.clean) == (Fraction(1, 2), 48, False)
    assert played(running, ON).tempo == 72, "of 75"
    assert played(running, *[SLOWER] * 99).tempo == 25
    assert played(running, *[SLOWER] * 99, FASTER).tempo == 27
    assert played(running, DONE, DONE).done[-1].speed == Fraction(48, 100)


def test_on_and_back_go_to_the_neighbours_and_no_further() -> None:
    running = begin(PROGRAMME)
    assert played(running, ON).index == 1
    assert played(running, BACK).index == 0
    over = played(running, *[ON] * 5)
    assert over.over
    assert played(over, DONE, AGAIN, FASTER) == over
    assert played(over, BACK).stage.name == "top"


def test_a_stage_that_waits_for_the_pedal_goes_on_when_told_to_alone() -> None:
    stage = Stage("waits", StageKind.WORDS, Fraction(0), Fraction(8), moves_on=MovesOn.PEDAL)
    running = next_stage(begin(LessonPlan("T", "walkthrough", Fraction(100), 4, (stage,))), DONE)
    assert running.waiting
    assert played(running, DONE, PAUSED).waiting
    assert next_stage(running, ON).over


def test_a_drill_creeps_with_each_clean_go_up_to_its_limit_and_not_after_a_stop() -> None:
    drill = drill_of(dance_of(4), (Fraction(0), Fraction(8)), "Section 1", creep=Fraction(1, 10), up_to=Fraction(7, 10))
    running = next_stage(begin(drill), DONE)
    assert running.stage.speed == Fraction(1, 2)
    running = next_stage(running, DONE)
    assert running.speed == Fraction(6, 10)
    assert played(running, PAUSED, DONE).speed == Fraction(6, 10)
    assert played(running, PAUSED, DONE, DONE).speed == Fraction(7, 10)
    assert played(running, *[DONE] * 9).speed == Fraction(7, 10)
    assert not played(running, *[DONE] * 99).over
    assert played(running, ON).over


def test_a_drill_that_creeps_when_told_to_creeps_on_nothing_else() -> None:
    drill = drill_of(dance_of(4), (Fraction(0), Fraction(8)), "Section 1", creep=Fraction(1, 10), on_tap=True)
    running = played(begin(drill), DONE, DONE, DONE)
    assert running.speed == Fraction(1, 2)
    assert played(running, FASTER, FASTER).speed == Fraction(7, 10)
    assert played(running, *[FASTER] * 20).speed == 1


def test_faster_is_by_the_usual_step_where_the_stage_has_none() -> None:
    running = played(begin(PROGRAMME), DONE, DONE, FASTER)
    assert running.tempo == 52
    assert played(running, *[FASTER] * 99).tempo == 100 * FASTEST
    assert running.clean


def test_a_nudge_holds_for_stages_of_its_kind() -> None:
    """Slow ones leave full speed the dance's own tempo, and the other way round."""
    plan = walkthrough_of(shipped_dance("lantern-row"))
    words, ladder, event = (
        next(n for n, stage in enumerate(plan.stages) if stage.kind is kind and stage.danced)
        for kind in (StageKind.WORDS, StageKind.LADDER, StageKind.EVENT)
    )
    quick, whole = (
        next(n for n, one in enumerate(plan.stages) if one.kind is kind and one.speed == 1) for kind in LAST
    )
    nudged = played(at_stage(begin(plan), words), FASTER, FASTER, SLOWER, FASTER)
    assert nudged.tempo == plan.tempo * nudged.speed * Fraction(27, 25)
    assert at_stage(nudged, event).ease == Fraction(27, 25)
    assert {at_stage(nudged, n).tempo for n in (quick, whole)} == {plan.tempo}
    slower = played(at_stage(nudged, quick), SLOWER)
    assert {at_stage(slower, n).tempo for n in (quick, whole)} == {plan.tempo * Fraction(24, 25)}
    assert at_stage(slower, words).tempo == nudged.tempo
    most = played(nudged, *[FASTER] * 9)
    assert at_stage(nudged, ladder).tempo < at_stage(most, ladder).tempo == plan.tempo, "never beyond full speed"


def test_how_far_it_was_nudged_is_taken_up_again() -> None:
    plan = walkthrough_of(shipped_dance("lantern-row"))
    nudged = Nudged(Fraction(23, 25), Fraction(24, 25))
    for index in range(len(plan.stages)):
        there = with_nudges(begin(plan, index), nudged)
        assert there.tempo == at_stage(replace(begin(plan), nudged=nudged), index).tempo
        assert with_nudges(there, Nudged(), plan.tempo) == begin(plan, index)


def test_a_tempo_is_taken_as_it_is_and_a_slower_one_brings_the_calls_back() -> None:
    practice = next_stage(begin(practice_of(shipped_dance("lantern-row"))), DONE)
    faded = next_stage(practice, DONE)
    assert (at_tempo(faded, faded.tempo + 5).tempo, at_tempo(faded, faded.tempo + 5).fade) == (faded.tempo + 5, 1)
    slower = at_tempo(faded, faded.tempo - 5)
    assert (slower.tempo, slower.fade, slower.clean) == (faded.tempo - 5, 0, False)


def test_a_manner_and_a_number_of_times_hold_for_their_stage() -> None:
    running = played(begin(PROGRAMME), DONE, DONE)
    asked = often(called(running, Manner.COUNTS), 0)
    assert asked.stage.manners == (Manner.COUNTS,)
    assert played(asked, *[DONE] * 20).index == running.index
    assert played(asked, ON).stage == played(running, ON).stage


def test_the_easier_way_holds_from_here_on_but_where_an_option_is_shown() -> None:
    running = begin(walkthrough_of(shipped_dance("lantern-row")), 5)
    stages = easier(running, True).programme.stages
    assert all(stage.easier for stage in stages[5:] if stage.danced)
    assert stages[:5] == running.programme.stages[:5]
    assert easier(easier(running, True), False).programme == running.programme


def test_in_practice_calls_fade_and_come_back_when_it_is_stopped_or_slowed() -> None:
    practice = practice_of(shipped_dance("lantern-row"))
    running = next_stage(begin(practice), DONE)
    manners = []
    for outcome in (DONE, DONE):
        manners.append(running.stage.manners[0])
        running = next_stage(running, outcome)
    manners.append(running.stage.manners[0])
    assert tuple(manners) == FADING == (Manner.AHEAD, Manner.PROMPTS, Manner.QUIET)
    assert played(running, PAUSED).stage.manners == (Manner.AHEAD,)
    assert played(running, SLOWER).stage.manners == (Manner.AHEAD,)


def test_a_practice_climbs_to_the_full_tempo_and_is_summed_up() -> None:
    practice = practice_of(shipped_dance("lantern-row"))
    running = begin(practice)
    while not running.over:
        running = next_stage(running, DONE)
    speeds = [go.speed for go in running.done]
    assert speeds == sorted(speeds)
    assert speeds[-1] == 1
    assert summary_of(running) == (
        "Lantern Row: sixteen goes, from sixty-five up to one hundred and eight counts a minute.",
        "eleven of them without the steps being called.",
        "every one of them clean.",
    )
    assert summary_of(begin(practice)) == ("nothing was danced this time.",)
    assert summary_of(played(begin(practice), DONE, PAUSED, DONE))[-1] == "one with a stop or slower."


@given(st.sampled_from(STEMS), st.lists(st.sampled_from(StageOutcome), max_size=60))
def test_whatever_happens_the_place_stays_in_the_programme_and_the_tempo_within_reason(
    stem: str, outcomes: list[StageOutcome]
) -> None:
    programme = walkthrough_of(shipped_dance(stem))
    running = begin(programme)
    for outcome in outcomes:
        before = running
        running = next_stage(running, outcome)
        assert abs(running.index - before.index) <= 1
        assert 0 <= running.index <= len(programme.stages)
        if running.index == before.index:
            assert min(SLOWEST, before.speed * before.ease) <= running.speed * running.ease <= FASTEST
        assert len(running.programme.stages) == len(programme.stages)
        if not running.over:
            assert len(running.stage.manners) == 1
            assert running.goes <= running.programme.stages[running.index].times


def test_a_stage_beyond_the_programme_is_refused() -> None:
    with pytest.raises(ValueError, match="no stage 5 of 3"):
        begin(PROGRAMME, 4)


def test_a_stage_that_is_come_to_from_elsewhere_tells_how_all_are_to_stand() -> None:
    """Not the foot alone, as after the stage before it: by its number, back, or where a lesson is begun."""
    programme = walkthrough_of(shipped_dance("lantern-row"))
    brief = next(n for n, stage in enumerate(programme.stages) if stage.brief)
    on = begin(programme, brief - 1)
    while on.index < brief:
        on = next_stage(on, StageOutcome.DONE)
    assert on.stage.brief
    for there in (
        begin(programme, brief),
        at_stage(begin(programme), brief),
        next_stage(begin(programme, brief + 1), StageOutcome.BACK),
    ):
        assert (there.index, there.stage.brief) == (brief, False)
        later = there.programme.stages[brief + 2 :]
        assert later == programme.stages[brief + 2 :], "what comes later is told as it was to be"


def test_what_is_jumped_over_or_begun_after_is_left_out_and_what_was_told_enough_is_not() -> None:
    assert next_stage(begin(PROGRAMME), ON).since == 0
    assert at_stage(begin(PROGRAMME), 1).since == 1
    assert begin(PROGRAMME, 1).since == 1
