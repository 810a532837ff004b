"""What a teacher's orders make of a taught programme: orders in, what is to be heard out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.calls.plan import Fading
from caller.routine.facing import Facing
from caller.routine.step import Foot
from caller.session.lesson_facts import stood_of
from caller.session.programme import CanNot, Passed, ProgrammeEvent, ToDance, ToTell
from caller.session.taught import TaughtProgramme
from caller.teaching.floors import Floors
from caller.teaching.running import Waits
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.teaching.walkthrough import walkthrough_of
from caller.transport.order import ORDERS, Order
from caller.transport.tempo import Slowing
from tests.session.classroom import lantern
from tests.takehome.packets import shipped_dance

FULL = Fraction(100)
TOLD = Stage("told", StageKind.TELL, said=("words", "more words"))
SLOW = Stage("slow", StageKind.WORDS, Fraction(0), Fraction(8), Fraction(1, 2), times=2)
TOP = Stage("top", StageKind.ADD, Fraction(0), Fraction(16), Fraction(3, 4))
OPTION = Stage("option", StageKind.OPTION, Fraction(0), Fraction(8), easier=True)
PROGRAMME = LessonPlan("Tin Lantern", "walkthrough", FULL, 4, (TOLD, SLOW, OPTION, TOP))
DANCE = lantern()
COUNT = Fraction(2)


def begun(stage: int) -> TaughtProgramme:
    return TaughtProgramme.of(PROGRAMME, DANCE, stage).after(ProgrammeEvent(Order.GO))


DANCING = begun(1)


def after(taught: TaughtProgramme, *orders: Order, count: Fraction | None = COUNT) -> TaughtProgramme:
    for order in orders:
        taught = taught.after(ProgrammeEvent(order, count))
    return taught


def tempo(taught: TaughtProgramme) -> Fraction:
    segment = taught.segment(Slowing())
    assert isinstance(segment, ToDance)
    return segment.tempo


def test_the_calls_fade_in_the_whole_dance_alone() -> None:
    whole = Stage("whole", StageKind.WHOLE, Fraction(0), Fraction(DANCE.counts))
    programme = replace(PROGRAMME, stages=(SLOW, TOP, whole))
    for stage, fading in enumerate((Fading.ALL, Fading.ALL, Fading.USUAL)):
        segment = TaughtProgramme.of(programme, DANCE, stage).after(ProgrammeEvent(Order.GO)).segment(Slowing())
        assert isinstance(segment, ToDance)
        assert segment.fading is fading


def test_half_speed_and_the_held_pedal_are_shares_of_the_stages_tempo() -> None:
    for slowing, counts_a_minute in (
        (Slowing(), 50),
        (Slowing(half=True), 50),  # under 60 nothing is halved
        (Slowing(held=True), Fraction(75, 2)),
        (Slowing(share=Fraction(3, 5)), 30),
    ):
        segment = DANCING.segment(slowing)
        assert isinstance(segment, ToDance)
        assert segment.tempo == counts_a_minute


def test_to_be_slowed_down_or_stopped_is_no_clean_go() -> None:
    assert not after(DANCING, Order.SLOWER).running.clean
    assert not DANCING.after(ProgrammeEvent(Passed.STOPPED, COUNT)).running.clean
    assert after(DANCING, Order.FASTER).running.clean


def test_where_nothing_is_danced_a_tempo_is_the_whole_programmes() -> None:
    assert after(begun(0), Order.SLOWER).running.programme.tempo == 96
    eighty = ProgrammeEvent(Order.TEMPO, amounts=(Fraction(80),))
    assert begun(0).after(eighty).running.programme.tempo == 80
    assert TaughtProgramme.of(PROGRAMME, DANCE, 1).after(eighty).running.programme.tempo == 80, "nothing has begun"
    assert (DANCING.after(eighty).running.programme.tempo, tempo(DANCING.after(eighty))) == (FULL, 80)


def test_a_loop_let_on_leaves_as_many_times_as_were_meant_and_at_least_this_one() -> None:
    looped = after(DANCING, Order.LOOP)
    assert (looped.running.stage.times, looped.facts.calling.looping) == (0, True)
    assert after(looped, Order.LOOP).running.stage.times == 2
    for _ in range(8):  # each go, and what is said before the next one
        looped = looped.after(ProgrammeEvent(Passed.DONE))
    let_on = after(looped, Order.LOOP)
    assert (let_on.running.stage.times, let_on.facts.calling.looping) == (5, False)


def test_a_loop_of_ones_own_is_from_the_mark_to_the_end_of_the_bar() -> None:
    marked = after(DANCING, Order.LOOP_FROM, count=Fraction(5))
    looped = after(marked, Order.LOOP_TO, count=Fraction(6)).segment(Slowing())
    assert isinstance(looped, ToDance)
    assert (looped.start, looped.end) == (4, 8)
    section = after(DANCING, Order.LOOP_TO, count=Fraction(1)).segment(Slowing())
    assert isinstance(section, ToDance)
    assert (section.start, section.end) == (0, 4)
    with pytest.raises(CanNot, match="would end before it begins"):
        after(marked, Order.LOOP_TO, count=Fraction(1))
    with pytest.raises(CanNot, match="Nothing is being danced"):
        after(DANCING, Order.LOOP_FROM, count=None)


def test_before_a_go_again_all_are_told_how_they_stand() -> None:
    """Briefly where nothing changed, whole where they face another way or have to turn back."""
    turning = Stage("turning", StageKind.DRILL, Fraction(8), Fraction(16), times=0)  # from 12:00 to 9:00
    drill = TaughtProgramme.of(LessonPlan("T", "drill", FULL, 4, (turning,)), DANCE).after(ProgrammeEvent(Order.GO))
    said = []
    for _ in range(4):
        drill = drill.after(ProgrammeEvent(Passed.DONE))
        said.append(drill.segment(Slowing()))
        drill = drill.after(ProgrammeEvent(Passed.DONE))
    assert said == [
        ToTell((f"now facing {facing} o'clock, change weight, right foot free.",))
        for facing in ("nine", "six", "three", "twelve")
    ]
    words = TaughtProgramme.of(
        LessonPlan("T", "walkthrough", FULL, 4, (replace(turning, kind=StageKind.WORDS),)), DANCE
    )
    back = words.after(ProgrammeEvent(Order.GO)).after(ProgrammeEvent(Passed.DONE)).segment(Slowing())
    assert back == ToTell(("back to twelve o'clock, change weight, right foot free.",), Fraction(4 * 60, 100))
    same = DANCING.after(ProgrammeEvent(Passed.DONE)).segment(Slowing())
    assert same == ToTell(("again, right foot.",))


def test_one_figure_is_told_by_itself_then_it_goes_on_from_the_bar() -> None:
    told = after(DANCING, Order.SAY_FIGURE, count=Fraction(5))
    assert told.segment(Slowing()) == ToTell(("rock left forward, recover.",))
    on = told.after(ProgrammeEvent(Passed.DONE)).segment(Slowing())
    assert isinstance(on, ToDance)
    assert (on.start, on.count_in) == (4, 4)


def test_half_the_hall_is_told_the_easier_way_once_before_the_next_go() -> None:
    last = Stage("last", StageKind.WORDS, Fraction(24), Fraction(32), times=3)
    both = TaughtProgramme.of(LessonPlan("T", "walkthrough", FULL, 4, (last,)), DANCE).after(ProgrammeEvent(Order.GO))
    both = both.after(ProgrammeEvent(Order.BOTH_WAYS, Fraction(25)))
    assert both.facts.calling.both
    first, second = [], both
    for _ in range(2):
        second = second.after(ProgrammeEvent(Passed.DONE))
        first.append(second.segment(Slowing()))
        second = second.after(ProgrammeEvent(Passed.DONE))
    assert isinstance(first[0], ToTell)
    assert first[0].sentences[:2] == (
        "half the hall the easier way.",
        "an easier way, on one to two: two quarters instead of the half.",
    )
    assert first[1] == ToTell(first[0].sentences[-1:], Fraction(4 * 60, 100)), "the second time only how all stand"
    assert not second.after(ProgrammeEvent(Order.BOTH_WAYS)).facts.calling.both


def test_the_easier_way_leaves_an_option_that_is_shown_alone() -> None:
    eased = after(DANCING, Order.EASIER).running.programme.stages
    assert [stage.easier for stage in eased] == [False, True, True, True]
    again = after(DANCING, Order.EASIER, Order.EASIER).running.programme.stages
    assert [stage.easier for stage in again] == [False, False, True, False]


def test_all_dance_the_easier_way_or_half_the_hall_does_never_both() -> None:
    half = after(DANCING, Order.EASIER, Order.BOTH_WAYS)
    assert half.facts.calling.both
    assert not any(stage.easier for stage in half.running.programme.stages if stage.kind is not StageKind.OPTION)
    assert not half.after(ProgrammeEvent(Order.EASIER)).facts.calling.both


def test_a_go_that_was_stopped_goes_on_from_its_bar_and_the_next_is_whole() -> None:
    rest = DANCING.after(ProgrammeEvent(Passed.RESUMED, Fraction(6))).segment(Slowing())
    assert isinstance(rest, ToDance)
    assert (rest.start, rest.end, rest.count_in) == (4, 8, 4)
    again = DANCING.after(ProgrammeEvent(Passed.RESUMED, Fraction(6))).after(ProgrammeEvent(Passed.DONE))
    assert again.segment(Slowing()) == ToTell(("again, right foot.",))
    whole = again.after(ProgrammeEvent(Passed.DONE)).segment(Slowing())
    assert isinstance(whole, ToDance)
    assert (whole.start, whole.count_in) == (0, 4), "the whole count-in is for the first go alone"
    first = DANCING.segment(Slowing())
    assert isinstance(first, ToDance)
    assert first.count_in == 8


def test_a_telling_that_was_stopped_twice_goes_on_with_its_sentence() -> None:
    again = begun(0).after(ProgrammeEvent(Passed.RESUMED, line=2))
    assert again.segment(Slowing()) == ToTell(("more words",))
    assert again.after(ProgrammeEvent(Passed.RESUMED, line=0)).segment(Slowing()) == ToTell(("more words",))
    assert after(again, Order.SECTION_AGAIN, count=None).after(ProgrammeEvent(Order.SECTION_AGAIN, line=0)).segment(
        Slowing()
    ) == ToTell(("facing twelve o'clock, right foot free.", *TOLD.said))


def test_the_wall_again_is_as_much_of_it_as_is_in_the_stage() -> None:
    walls = Stage("walls", StageKind.WALLS, Fraction(16), Fraction(64))
    taught = TaughtProgramme.of(LessonPlan("T", "walkthrough", FULL, 6, (walls,)), DANCE).after(
        ProgrammeEvent(Order.GO)
    )
    starts = []
    for count in (20, 40):
        again = taught.after(ProgrammeEvent(Order.WALL_AGAIN, Fraction(count)))
        assert isinstance(again.segment(Slowing()), ToTell), "how everybody stands there"
        segment = again.after(ProgrammeEvent(Passed.DONE)).segment(Slowing())
        assert isinstance(segment, ToDance)
        starts.append(segment.start)
    assert starts == [16, 32]


@given(st.lists(st.tuples(st.sampled_from(Order), st.booleans()), max_size=40), st.integers(0, 3))
def test_whatever_is_ordered_wherever_the_tempo_stays_within_reason(
    orders: list[tuple[Order, bool]], index: int
) -> None:
    amounts = {
        Order.TEMPO: (Fraction(80),),
        Order.SHARE: (Fraction(1, 2),),
        Order.LAST_COUNTS: (Fraction(12),),
        Order.LOOP_COUNTS: (Fraction(5), Fraction(8)),
        Order.LOOP_WALL: (Fraction(5), Fraction(8)),
        Order.SECTION: (Fraction(2),),
        Order.TO_WALL: (Fraction(2),),
        Order.STAGE: (Fraction(3),),
        Order.ITEM: (Fraction(2),),
        Order.REQUEST: (Fraction(1),),
    }
    assert set(amounts) == {entry.order for entry in ORDERS if entry.form}
    taught = begun(index)
    for order, placed in orders:
        count = taught.running.stage.start if placed and not taught.over and taught.running.stage.danced else None
        try:
            taught = taught.after(ProgrammeEvent(order, count, amounts=amounts.get(order, ())))
        except CanNot:
            continue
        facts = taught.facts
        assert 4 < facts.tempo * facts.speed < 400
        assert taught.over or taught.segment(Slowing())


def test_a_wall_is_gone_to_in_the_stage_that_dances_it_from_its_first_count_where_that_is_under_way() -> None:
    dance = shipped_dance("lantern-row")
    plan, wall = walkthrough_of(dance), dance.walls[2]
    taught = TaughtProgramme.of(plan, dance).after(ProgrammeEvent(Order.GO))
    asked = ProgrammeEvent(Order.TO_WALL, amounts=(Fraction(3),))
    led = taught.after(asked)
    stage = led.running.stage
    assert stage.name.startswith("Walls ")
    assert stage.start <= wall.at < stage.end
    here = led.after(replace(asked, count=stage.start))
    assert (here.running.index, here.start, len(here.aside)) == (led.running.index, wall.at, 1)
    assert led.after(replace(asked, amounts=(Fraction(1),))).running.index < led.running.index
    with pytest.raises(CanNot, match="There is no wall 90; there are 1 to"):
        taught.after(replace(asked, amounts=(Fraction(90),)))
    with pytest.raises(CanNot, match="Wall 3 is danced in no stage of this"):
        begun(0).after(asked)


def test_a_stage_that_waits_knows_how_all_stand_now_and_how_the_next_one_begins() -> None:
    """A section that ends facing another wall is walked; its dancing with words begins where it began."""
    dance = shipped_dance("slow-water")
    plan = walkthrough_of(dance)
    place = next(n for n, stage in enumerate(plan.stages) if stage.name == "Section 3, walked")
    assert plan.stages[place].said[-1] == "you now face six o'clock, weight on the right, left foot free."
    taught = TaughtProgramme.of(plan, dance, place, Waits.STAGES).after(ProgrammeEvent(Order.GO))
    assert taught.facts.stood == (None, None)
    taught = taught.after(ProgrammeEvent(Passed.DONE))
    assert taught.waits
    assert taught.facts.stood == (Facing(4), Foot.LEFT)
    assert taught.facts.stands == (Facing(0), Foot.LEFT)
    on = taught.after(ProgrammeEvent(Order.NEXT))
    assert (on.facts.stood, on.facts.stands) == ((None, None), (Facing(0), Foot.LEFT))


def test_how_everybody_stands_is_told_once_a_lessons_stage_is_done_and_not_in_a_drill() -> None:
    floors = Floors.of(DANCE)
    lesson, drill = (TaughtProgramme.of(plan, DANCE).running for plan in (PROGRAMME, replace(PROGRAMME, way="drill")))
    assert stood_of(replace(lesson, waiting=True), floors) == floors.stood(TOLD)
    assert stood_of(lesson, floors) == stood_of(replace(drill, waiting=True), floors) == (None, None)
