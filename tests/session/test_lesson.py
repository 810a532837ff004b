"""Playbooks for a lesson: a programme told, counted in and danced, on a speaker, a pedal and a voice driven by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.calls.plan import Manner
from caller.calls.take import Take
from caller.dance.walls import Dance
from caller.routine.facing import Facing
from caller.routine.step import Foot
from caller.session import View
from caller.sound.score import RATE
from caller.teaching.drill import drill_of, practice_of, section_span
from caller.teaching.floors import Floors
from caller.teaching.play import Narration, in_turn, phrases_of, pieces
from caller.teaching.running import Waits
from caller.teaching.stage import LessonPlan, MovesOn, Stage, StageKind
from caller.teaching.standing import facing_at, free_foot_at
from caller.teaching.walkthrough import walkthrough_of
from caller.transport.footing import PEDAL_ORDERS
from caller.transport.order import Order
from caller.transport.state import State
from tests.fakes.music import HandMusic
from tests.fakes.songs import song_of
from tests.session.classroom import Followed, KnownVoice, NoVoice, Prepared, lantern, looked
from tests.session.lessons import Taught

FULL = Fraction(100)


def two_stages(dance: Dance) -> LessonPlan:
    """A stage that is only told, and one that is told and danced twice at half speed."""
    told = Stage("told", StageKind.TELL, said=("first words.", "second words."), pause_seconds=Fraction(1))
    slow = Stage("slow", StageKind.WORDS, Fraction(0), Fraction(8), Fraction(1, 2), 2, said=("slowly.",), count_in=4)
    top = Stage("top", StageKind.ADD, Fraction(0), Fraction(16), Fraction(3, 4), moves_on=MovesOn.PEDAL, count_in=4)
    return LessonPlan("Lantern Row", "walkthrough", FULL, len(dance.walls), (told, slow, top))


def drilled(dance: Dance) -> LessonPlan:
    return drill_of(dance, section_span(dance, 2), "Section 2", tempo=FULL, creep=Fraction(1, 10))


def practised(dance: Dance) -> LessonPlan:
    return practice_of(dance, tempo=FULL)


def _tells(words: str, view: View) -> bool:
    return view.telling == words


@pytest.fixture
def taught() -> Taught:
    return Taught(two_stages)


def test_it_waits_for_the_voice_and_then_for_the_order() -> None:
    taught = Taught(two_stages, prepared=Prepared(done=False))
    assert looked(taught.lesson).state is State.GETTING_READY
    taught.prepared.done = True
    view = taught.goes_on(5)
    assert view.state is State.READY
    assert view.programme == ("told", "slow", "top")
    assert not taught.speaker.asked


def test_a_stage_is_told_then_counted_in_and_danced_as_often_as_it_says(taught: Taught) -> None:
    view = taught.order(Order.GO)
    assert (view.state, view.telling) == (State.TELLING, "facing twelve o'clock, right foot free.")
    assert (view.lines[1:], view.line) == (("first words.", "second words."), 0)
    assert (view.facing, view.free) == (Facing(0), Foot.RIGHT)
    view = taught.until(partial(_tells, "first words."))
    assert (view.told_next, view.line) == ("second words.", 1)
    assert (view.stage_place, view.stage) == ("1 of 3", "told")
    view = taught.until(lambda view: view.telling == "second words.")
    assert view.told_next == ""
    assert taught.until(lambda view: view.telling == "slowly.").stage == "slow, 1 of 2"
    view = taught.comes_to(State.COUNT_IN)
    assert taught.tempo == 50
    assert taught.comes_to(State.RUNNING).stage == "slow, 1 of 2"
    taught.comes_to(State.COUNT_IN)
    assert taught.comes_to(State.RUNNING).stage == "slow, 2 of 2"
    view = taught.until(lambda view: view.stage_place == "3 of 3")
    assert taught.tempo == 75
    view = taught.comes_to(State.WAITING)
    assert [run.done[-1].stage.name for run in taught.told] == ["slow", "slow", "top"]
    assert taught.order(Order.GO).state is State.FINISHED


def danced_to_music(dance: Dance) -> LessonPlan:
    """The same, its two goes at half speed a drill and the rest as a whole dance is: both have music."""
    told, slow, top = two_stages(dance).stages
    return replace(
        two_stages(dance), stages=(told, replace(slow, kind=StageKind.DRILL), replace(top, kind=StageKind.WHOLE))
    )


@pytest.mark.parametrize("make", [two_stages, danced_to_music])
def test_hands_free_it_sounds_as_it_is_recorded_frame_for_frame(make: Callable[[Dance], LessonPlan]) -> None:
    """The whole of it against the offline render of the same pieces, which the take-home recording is made by."""
    music = HandMusic(lambda tempos: song_of(FULL, tempos, seconds=60, first_seconds=Fraction(3, 5)))
    music.arrive(50, 75)
    taught = Taught(make, music=music)
    taught.order(Order.GO)
    begun = taught.lesson.air.playout.parts[0].origin
    taught.comes_to(State.WAITING)
    heard = taught.speaker.sound[:, 0]
    voice = KnownVoice()
    parts = list(pieces(taught.programme, Floors.of(lantern()), voice, voice.clip, song_at=lambda _: music.song))
    assert any(p.kind == "music" for _, piece in parts for p in piece.score.placements) is (make is danced_to_music)
    tape, _ = in_turn(parts)
    length = sum(piece.end_frame for _, piece in parts)
    np.testing.assert_allclose(heard[begun : begun + length], tape.block(0, length)[:, 0], atol=1e-4)


def test_the_gap_between_two_goes_is_counted_without_a_break() -> None:
    taught = Taught(drilled)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    first = taught.lesson.air.playout.parts[0]
    taught.comes_to(State.COUNT_IN)
    second = taught.lesson.air.playout.parts[0]
    said = second.origin - first.ends
    assert RATE < said < 3 * RATE, "how they stand is said between, and the count goes on at once"
    assert isinstance(first.piece, Take)
    assert first.piece.timeline.segments[0].tempo == 50
    assert taught.tempo == 60  # as the first was clean


def test_what_follows_is_on_the_air_a_second_before_it_is_heard() -> None:
    """A take takes some tens of milliseconds to make, and a machine may be busy for longer (DEVELOPERS.md)."""
    taught = Taught(drilled)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    ends = taught.lesson.air.playout.parts[0].ends
    taught.until(lambda view: len(taught.lesson.air.playout.parts) == 2)
    assert 0.9 * RATE <= ends - taught.speaker.deck.written <= RATE


def test_a_tap_stops_at_once_and_another_goes_on_from_the_bar(taught: Taught) -> None:
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    taught.goes_on(60 / 50 * 5.5)  # into the sixth count
    view = taught.order(Order.GO)
    assert view.state is State.PAUSED
    assert view.glance is not None
    assert view.glance.count == 6
    silent = taught.speaker.advance(RATE)
    assert not silent[RATE // 50 :].any()
    assert taught.order(Order.GO).state is State.COUNT_IN
    assert (taught.take.start, taught.take.count_in, taught.take.end) == (4, 4, 8)
    view = taught.until(lambda view: view.stage.endswith("2 of 2"))
    assert [run.done[-1].clean for run in taught.told] == [False]


def test_a_telling_that_was_stopped_goes_on_with_its_sentence(taught: Taught) -> None:
    taught.order(Order.GO)
    taught.until(lambda view: view.telling == "second words.")
    view = taught.order(Order.GO)
    assert (view.state, view.telling) == (State.PAUSED, "second words.")
    view = taught.order(Order.GO)
    taught.goes_on(0.1)
    assert (view.state, view.telling) == (State.TELLING, "second words.")
    assert [line.words for line in taught.telling.lines] == ["second words."]


def test_two_quick_taps_wait_for_the_silence_to_be_told(taught: Taught) -> None:
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    for order in (Order.GO, Order.GO, Order.GO):
        taught.lesson.obey(order)
    assert looked(taught.lesson).state is State.PAUSED
    taught.order(Order.GO)
    assert taught.comes_to(State.RUNNING).state is State.RUNNING


def test_again_is_the_goes_anew_and_while_it_is_told_the_telling() -> None:
    taught = Taught(two_stages)
    taught.order(Order.GO)
    taught.until(lambda view: view.telling == "second words.")
    assert taught.order(Order.SECTION_AGAIN).lines[1] == "first words."
    taught.order(Order.NEXT)
    taught.comes_to(State.RUNNING)
    view = taught.order(Order.SECTION_AGAIN)
    assert (view.telling, view.stage) == ("again, right foot.", "slow, 1 of 2")
    assert taught.comes_to(State.COUNT_IN).stage == "slow, 1 of 2"


def test_on_and_back_are_the_stages_beside(taught: Taught) -> None:
    taught.order(Order.GO)
    assert taught.order(Order.NEXT, Order.NEXT).stage == "top"
    assert taught.order(Order.PREVIOUS).stage == "slow, 1 of 2"
    assert taught.order(Order.NEXT, Order.NEXT).state is State.FINISHED
    assert not taught.goes_on(1).stage
    assert taught.order(Order.PREVIOUS).stage == "top"
    assert taught.order(Order.TOP).stage == "told"


def test_a_stage_that_is_called_another_way_is_no_change_that_an_order_made() -> None:
    stages = [
        Stage(name, StageKind.ADD, Fraction(0), Fraction(8), manners=(Manner(name),)) for name in ("ahead", "counts")
    ]
    taught = Taught(lambda dance: LessonPlan("Lantern Row", "walkthrough", FULL, len(dance.walls), tuple(stages)))
    taught.order(Order.GO, Order.NEXT)
    assert taught.lesson.manner is Manner.COUNTS
    assert looked(taught.lesson).notices == ("Begins.", "Next stage: counts.")
    assert taught.order(Order.MANNER).notices[2:] == ("Calls: walls, tags and restarts only.",)


def test_slower_is_at_once_by_a_small_step_and_lasts(taught: Taught) -> None:
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    taught.order(Order.SLOWER)
    renewed = taught.lesson.air.playout.parts[-1].piece
    assert isinstance(renewed, Take)
    assert renewed.timeline.segments[-1].tempo == 48
    view = taught.goes_on(0.5)
    assert view.speed == Fraction(48, 100)
    assert taught.order(Order.NEXT).speed == Fraction(72, 100)


def test_slower_after_the_next_go_was_put_on_the_air_takes_both_along() -> None:
    taught = Taught(drilled)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.until(lambda view: len(taught.lesson.air.playout.parts) == 2)
    taught.order(Order.SLOW_ON)
    going, renewed = taught.lesson.air.playout.parts  # what was to follow is off the air again
    assert isinstance(going.piece, Take)
    assert isinstance(renewed.piece, Take)
    assert [going.piece.timeline.segments[-1].tempo, renewed.piece.timeline.segments[-1].tempo] == [50, Fraction(75, 2)]
    assert renewed.ends > going.ends
    taught.comes_to(State.COUNT_IN)
    after = taught.lesson.air.playout.parts[0]
    assert after.origin > renewed.ends
    assert isinstance(after.piece, Take)
    assert after.piece.timeline.segments[0].tempo == Fraction(75, 2)  # slowed down is not clean, so it did not creep


def test_the_tempo_typed_is_the_stages_or_before_the_start_the_whole_programmes(taught: Taught) -> None:
    taught.lesson.obey(Order.TEMPO, Fraction(120))
    assert looked(taught.lesson).tempo == 120
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    assert taught.tempo == 60
    taught.lesson.obey(Order.TEMPO, Fraction(72))
    assert looked(taught.lesson).speed == Fraction(72, 120)
    taught.order(Order.NEXT)
    assert taught.tempo == 90


def test_from_the_top_of_a_lesson_says_how_to_go_back_to_where_it_was() -> None:
    taught = Taught(walkthrough_of)
    taught.order(Order.GO)
    taught.lesson.obey(Order.STAGE, 7)
    view = taught.order(Order.TOP)
    assert view.notices[-1] == f"From the top: {view.stage}; /stage 7 goes back to where it was."


def test_asked_for_a_wall_it_says_in_which_stage_that_comes_and_goes_there() -> None:
    taught = Taught(walkthrough_of)
    taught.order(Order.GO)
    taught.lesson.obey(Order.TO_WALL, 3)
    view = looked(taught.lesson)
    assert view.stage.startswith("Walls 1 to ")
    number = view.stage_place.partition(" ")[0]
    assert view.notices[-1] == f"That wall comes in stage {number}: {view.stage}."


@pytest.mark.parametrize("dancing", [False, True])
def test_a_tempo_that_is_a_slip_is_not_taken_so_that_no_class_is_said_to_dance_as_fast(
    taught: Taught, dancing: bool
) -> None:
    if dancing:
        taught.order(Order.GO, Order.NEXT)
        taught.comes_to(State.RUNNING)
    before = looked(taught.lesson)
    taught.lesson.obey(Order.TEMPO, Fraction(300))
    view = looked(taught.lesson)
    assert (view.tempo, view.speed) == (before.tempo, before.speed)
    own = max(taught.programme.tempo, lantern().routine.header.tempo or 0)
    told = f"300 is not taken: the tempo is {own}, so up to {int(own * 6 / 5)} is; + goes on from there."
    assert view.notices[-1] == told


def test_a_loop_is_the_stage_over_and_over_until_it_is_let_on(taught: Taught) -> None:
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    view = taught.order(Order.LOOP)
    assert any("looping" in hold for hold in view.holds)
    view = taught.until(lambda view: view.stage == "slow, time 4")
    taught.order(Order.LOOP)
    assert taught.until(lambda view: view.stage_place == "3 of 3").holds == ()


def test_half_speed_that_could_not_be_danced_is_said_and_not_done(taught: Taught) -> None:
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    view = taught.order(Order.HALF)
    assert view.speed == Fraction(1, 2)
    assert view.notices[-1] == "50 counts a minute is not halved: steps can't be danced much slower."


def test_the_manner_and_the_easier_way_are_the_stages(taught: Taught) -> None:
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    taught.order(Order.MANNER)
    assert taught.lesson.manner is Manner.ON_COUNT
    before = taught.lesson.dance
    taught.order(Order.EASIER)
    assert taught.lesson.dance is not before
    taught.order(Order.NEXT)
    assert taught.lesson.manner is Manner.AHEAD
    assert taught.lesson.programme.running.stage.easier


def test_muted_it_goes_on_silently_and_sounds_again_in_its_place(taught: Taught) -> None:
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    taught.order(Order.MUTE)
    taught.goes_on(0.2)
    assert not taught.speaker.advance(RATE // 10).any()
    taught.until(lambda view: view.stage == "slow, 2 of 2")
    taught.comes_to(State.COUNT_IN)
    taught.order(Order.MUTE)
    taught.goes_on(0.1)
    assert taught.goes_on(3).state is State.COUNT_IN
    assert taught.speaker.sound[-2 * RATE :].any()


def test_it_pauses_at_the_end_of_the_eight(taught: Taught) -> None:
    taught.order(Order.GO, Order.NEXT, Order.NEXT)
    taught.comes_to(State.RUNNING)
    assert taught.order(Order.STOP_AT_EIGHT).state is State.FINISHING
    taught.comes_to(State.PAUSED)
    assert taught.order(Order.GO).state is State.COUNT_IN
    assert taught.take.start == 8


def test_it_pauses_at_the_end_of_a_loop_and_goes_on_with_the_loop() -> None:
    """Each time round is a go of its own, and its last eight ends with it."""
    taught = Taught(drilled)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.order(Order.STOP_AT_EIGHT)
    view = taught.comes_to(State.PAUSED)
    assert (view.stage, len(taught.told)) == ("Section 2, time 2", 1)
    assert taught.told[0].done[-1].clean
    assert taught.goes_on(20).state is State.PAUSED
    assert taught.order(Order.GO).state is State.TELLING
    taught.comes_to(State.RUNNING)
    assert (taught.take.start, taught.take.end) == (8, 16)


def test_it_pauses_at_the_end_of_a_loop_that_is_shorter_than_the_eight() -> None:
    taught = Taught(drilled)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.lesson.obey(Order.LOOP_COUNTS, 3, 6)
    taught.comes_to(State.RUNNING)
    assert (taught.take.start, taught.take.end) == (10, 14)
    taught.order(Order.STOP_AT_EIGHT)
    assert taught.comes_to(State.PAUSED).stage == "Section 2, time 2"
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    assert (taught.take.start, taught.take.end) == (10, 14)


def test_the_pause_asked_for_in_the_last_moment_of_a_loop_comes() -> None:
    taught = Taught(drilled)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    ends = taught.take.timeline.seconds_of(taught.take.end) - taught.take.timeline.seconds_of(taught.take.start)
    taught.goes_on(float(ends) - 0.1)
    assert taught.order(Order.STOP_AT_EIGHT).state is State.FINISHING
    assert taught.comes_to(State.PAUSED).stage == "Section 2, time 2"


def test_without_a_voice_every_sentence_stands_to_be_read() -> None:
    taught = Taught(two_stages, voice=NoVoice())
    taught.order(Order.GO)
    for words in ("first words.", "second words.", "slowly."):
        taught.until(partial(_tells, words))
        assert taught.goes_on(1).telling == words


def test_what_the_voice_can_say_only_later_is_said_from_the_next_sentence_on() -> None:
    """What is under way is neither said from its middle nor moved."""
    voice = KnownVoice(mute={"facing twelve o'clock, right foot free.", "first words.", "second words."})
    taught = Taught(two_stages, voice=voice, prepared=Prepared(done=False, made=1))
    taught.order(Order.GO)
    taught.goes_on(0.5)
    before = taught.telling
    assert before.score.placements == ()
    voice.mute = frozenset()
    taught.prepared.made = 2
    looked(taught.lesson)
    playing = taught.lesson.air.playout.parts[-1]
    after = playing.piece
    assert isinstance(after, Narration)
    assert after.lines[0] == before.lines[0]
    assert [place.frame for place in after.score.placements] == [line.starts for line in after.lines[1:]]
    assert after.lines[1].ends < before.lines[1].ends  # as long as it is said, no longer as it is read
    assert playing.origin == taught.lesson.air.playout.parts[0].origin
    taught.until(partial(_tells, "second words."))
    assert taught.until(partial(_tells, "slowly."), 10).telling == "slowly."


def test_a_practice_fades_climbs_and_is_summed_up() -> None:
    taught = Taught(practised)
    taught.order(Order.GO)
    rung = taught.programme.stages[0]
    manners = []
    for _ in rung.manners:
        taught.comes_to(State.RUNNING)
        manners.append(taught.lesson.manner)
        taught.until(lambda view: view.state is not State.RUNNING)
    assert tuple(manners) == rung.manners
    while not taught.lesson.programme.running.over:
        taught.order(Order.NEXT)
    view = looked(taught.lesson)
    assert view.state is State.TELLING
    assert view.telling.startswith("Lantern Row: three goes")
    assert taught.comes_to(State.FINISHED).telling == ""


def test_what_a_practice_is_summed_up_by_is_made_ready_during_its_last_go() -> None:
    taught = Taught(practised)
    taught.order(Order.GO)
    for _ in taught.programme.stages[1:]:
        taught.order(Order.NEXT)
    taught.comes_to(State.FINISHED)
    summed = {line for line, _ in taught.prepared.more}
    assert "Lantern Row: one go, at one hundred counts a minute." in summed


@pytest.mark.parametrize("make", [walkthrough_of, drilled, practised])
def test_the_words_of_every_stage_are_among_those_made_ready(make: Callable[[Dance], LessonPlan]) -> None:
    taught = Taught(make)
    ready = phrases_of(taught.programme, Floors.of(lantern()))
    floors = Floors.of(lantern())
    assert all((words, 1.0) in ready for stage in taught.programme.stages for words in floors.said_first(stage))


def test_a_whole_walkthrough_runs_to_its_end_with_nobody_at_the_pedal() -> None:
    taught = Taught(walkthrough_of)
    taught.order(Order.GO)
    seen: list[str] = []
    for _ in range(200_000):
        taught.speaker.deck.written += 4_800  # the clock goes on; nothing of it need be rendered here
        view = looked(taught.lesson)
        if view.stage and (not seen or seen[-1] != view.stage_place):
            seen.append(view.stage_place)
        if view.state is State.FINISHED:
            break
    count = len(taught.programme.stages)
    assert seen == [f"{n} of {count}" for n in range(1, count + 1)]
    danced = [stage for stage in taught.programme.stages if stage.danced]
    assert len(taught.told) == sum(stage.times for stage in danced)


def test_counts_typed_take_the_place_of_the_stage(taught: Taught) -> None:
    taught.order(Order.GO, Order.NEXT)
    taught.lesson.obey(Order.LOOP_COUNTS, 5, 8)
    assert taught.comes_to(State.RUNNING).stage == "slow, time 1"
    assert (taught.take.start, taught.take.end) == (4, 8)
    taught.until(lambda view: view.stage == "slow, time 3")
    taught.lesson.obey(Order.LOOP_COUNTS, 5, 99)
    assert looked(taught.lesson).notices[-1] == "Counts 5 to 99 can't be looped: this wall has 1 to 32."
    assert taught.order(Order.NEXT).stage == "top"


def test_where_nothing_is_danced_no_counts_are_looped_and_no_section_is_gone_to(taught: Taught) -> None:
    taught.order(Order.GO)
    taught.lesson.obey(Order.LOOP_COUNTS, 1, 4)
    assert looked(taught.lesson).notices[-1].startswith("Nothing is danced in this stage")
    taught.lesson.obey(Order.SECTION, 2)
    assert looked(taught.lesson).notices[-1] == "No stage teaches section 2; it goes by stages."


def test_the_same_key_is_the_way_out_of_any_loop(taught: Taught) -> None:
    taught.order(Order.GO, Order.NEXT)
    taught.lesson.obey(Order.LOOP_COUNTS, 3, 4)
    taught.until(lambda view: view.stage == "slow, time 3")
    taught.comes_to(State.RUNNING)
    assert taught.order(Order.LOOP).holds == ()
    assert taught.lesson.programme.running.stage.end == 8
    assert taught.until(lambda view: view.stage == "slow, 2 of 2").state is State.TELLING
    assert taught.until(lambda view: view.stage_place == "3 of 3").stage == "top"


@pytest.mark.parametrize("pauses", [False, True])
def test_out_of_a_loop_before_its_next_round_that_is_danced_as_it_is_told_and_then_on(pauses: bool) -> None:
    taught = Taught(turning)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.lesson.obey(Order.LOOP_COUNTS, 4, 6)
    taught.comes_to(State.RUNNING)
    told = taught.comes_to(State.TELLING)
    stands = (told.facing, told.free)
    view = taught.order(Order.LOOP)
    assert (view.state, view.telling, view.facing, view.free) == (State.TELLING, told.telling, *stands)
    if pauses:
        assert taught.order(Order.GO).state is State.PAUSED
        view = taught.order(Order.GO)
        assert (view.telling, view.facing, view.free) == (told.telling, *stands)
    taught.comes_to(State.COUNT_IN)
    dance = taught.lesson.dance
    assert (taught.take.start, taught.take.end) == (11, 16)
    assert stands == (facing_at(dance, Fraction(11)), free_foot_at(dance, Fraction(11)))
    assert stands[1] is not free_foot_at(dance, Fraction(8)), "else nothing is shown by it"


def test_a_stage_is_gone_to_by_its_number_from_anywhere(taught: Taught) -> None:
    taught.order(Order.GO)
    taught.lesson.obey(Order.STAGE, 3)
    assert looked(taught.lesson).stage == "top"
    taught.lesson.obey(Order.STAGE, 4)
    assert looked(taught.lesson).notices[-1] == "There is no stage 4; there are 1 to 3."


def test_a_section_is_gone_to_where_it_is_told_and_once_it_has_been_where_it_is_danced() -> None:
    taught = Taught(walkthrough_of)
    taught.order(Order.GO)
    taught.lesson.obey(Order.SECTION, 3)
    assert looked(taught.lesson).stage == "Section 3, 1-4, told"
    taught.lesson.obey(Order.SECTION, 2)
    assert looked(taught.lesson).stage == "Section 2, words on the count, 1 of 2"
    taught.lesson.obey(Order.SECTION, 9)
    assert looked(taught.lesson).notices[-1] == "No stage teaches section 9; there are 1, 2, 3, 4."


def test_the_last_four_are_danced_again_counted_in_and_never_before_the_stage() -> None:
    taught = Taught(two_stages)
    taught.order(Order.GO, Order.NEXT, Order.NEXT)
    for order, counts, start in ((Order.LAST_FOUR, 9.5, 4), (Order.LAST_EIGHT, 6.5, 0)):
        taught.comes_to(State.RUNNING)
        taught.goes_on(60 / 75 * counts)
        assert taught.order(order).state is State.TELLING, "how they stand there"
        taught.comes_to(State.COUNT_IN)
        assert (taught.take.start, taught.take.count_in) == (start, 4)


def test_asked_to_say_that_again_it_tells_the_steps_and_goes_on_from_the_bar() -> None:
    taught = Taught(walkthrough_of)
    taught.order(Order.GO, Order.NEXT, Order.NEXT)
    taught.comes_to(State.RUNNING)
    place = looked(taught.lesson).stage_place
    taught.goes_on(60 / 54 * 5.5)
    told = taught.programme.stages[1].said
    view = taught.order(Order.SAY_AGAIN)
    assert (view.state, view.telling, view.stage_place) == (State.TELLING, told[0], place)
    taught.until(lambda view: view.telling == told[1])
    taught.order(Order.GO)
    assert taught.order(Order.GO).telling == told[1]
    assert taught.order(Order.SAY_AGAIN).telling == told[1], "while it tells, the sentence again"
    view = taught.comes_to(State.COUNT_IN)
    assert (taught.take.start, view.stage_place) == (4, place)


def test_said_again_while_a_stage_waits_it_waits_on() -> None:
    taught = Taught(two_stages, waits=Waits.STAGES)
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.WAITING)
    assert taught.order(Order.SAY_AGAIN).state is State.TELLING
    assert taught.comes_to(State.WAITING).stage == "slow"


def test_a_walkthrough_that_nobody_answers_waits_and_goes_on_when_somebody_does() -> None:
    taught = Taught(walkthrough_of, waits=Waits.UNANSWERED)
    taught.order(Order.GO)
    for _ in range(200_000):
        taught.speaker.deck.written += 4_800
        if looked(taught.lesson).state is State.WAITING:
            break
    view = looked(taught.lesson)
    assert (view.stage, view.state) == ("Section 1, walked", State.WAITING)
    assert view.told_next == "Section 1, words on the count"
    for _ in range(1_000):
        taught.speaker.deck.written += 4_800
        assert looked(taught.lesson).state is State.WAITING
    assert taught.order(Order.GO).stage == "Section 1, words on the count, 1 of 2"
    taught.until(lambda view: view.stage == "Section 2, 1-4, told")
    taught.order(Order.SAY_AGAIN)  # somebody is there
    assert taught.until(lambda view: view.stage.startswith("Section 2, words")).state is not State.WAITING


def test_waiting_after_each_stage_is_asked_for_and_taken_back_at_any_time(taught: Taught) -> None:
    taught.order(Order.GO)
    view = taught.order(Order.WAIT)
    assert (view.notices[-1], view.holds) == ("Waits after each stage.", ("waits after each stage",))
    assert taught.comes_to(State.WAITING).stage == "told"
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "slow, 2 of 2")
    taught.comes_to(State.RUNNING)
    taught.until(lambda view: len(taught.lesson.air.playout.parts) == 1)
    assert taught.order(Order.WAIT).holds == ()
    assert taught.until(lambda view: view.stage_place == "3 of 3").state is not State.WAITING


def test_to_wait_takes_what_was_to_follow_off_the_air(taught: Taught) -> None:
    taught.order(Order.GO)
    taught.until(lambda view: len(taught.lesson.air.playout.parts) == 2)
    taught.order(Order.WAIT)
    assert taught.comes_to(State.WAITING).stage == "told"
    assert not taught.speaker.advance(2 * RATE)[RATE // 2 :].any()


def turning(dance: Dance) -> LessonPlan:
    """Section 2 of Lantern Row, which begins facing the front and ends facing nine o'clock, three times."""
    stage = Stage("turns", StageKind.ADD, Fraction(8), Fraction(16), times=3, said=("section two.",), count_in=4)
    return LessonPlan("Lantern Row", "walkthrough", FULL, len(dance.walls), (stage,))


def test_before_a_go_where_to_face_and_which_foot_is_free_is_said_and_shown() -> None:
    taught = Taught(turning)
    taught.order(Order.GO)
    view = taught.until(lambda view: view.telling == "facing twelve o'clock, right foot free.")
    assert view.glance is not None
    assert (view.glance.facing.clock, view.glance.foot) == ("12:00", Foot.RIGHT)


def test_repeats_that_end_on_another_wall_are_turned_back_with_a_bar_to_do_it() -> None:
    taught = Taught(turning)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    ends = taught.lesson.air.playout.parts[0].ends
    view = taught.until(lambda view: view.telling != "")
    assert (view.telling, view.stage) == ("back to twelve o'clock, change weight, right foot free.", "turns, 2 of 3")
    told = taught.telling
    assert told.end_frame - told.lines[0].ends >= RATE * 60 / 100 * 4, "a bar to turn in"
    taught.comes_to(State.COUNT_IN)
    assert taught.lesson.air.playout.parts[0].origin == ends + told.end_frame
    taught.comes_to(State.RUNNING)
    taught.goes_on(60 / 100 * 7.5)
    view = taught.order(Order.SECTION_AGAIN)
    assert view.telling == "back to twelve o'clock, right foot free.", "also when asked for again"
    taught.comes_to(State.RUNNING)
    assert taught.order(Order.SECTION_AGAIN).telling == "again, right foot.", "they face it still"


def test_over_and_over_it_goes_on_from_where_everybody_stands() -> None:
    taught, facings = Taught(drilled), []
    taught.order(Order.GO)
    for _ in range(5):
        view = taught.comes_to(State.COUNT_IN)
        assert view.glance is not None
        facings.append(view.glance.facing.clock)
        taught.comes_to(State.RUNNING)
    assert facings == ["12:00", "9:00", "6:00", "3:00", "12:00"]


def test_a_loop_of_ones_own_takes_the_place_of_the_stage(taught: Taught) -> None:
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    taught.goes_on(60 / 50 * 4.5)  # into the fifth count
    view = taught.order(Order.LOOP_FROM)
    assert view.notices[-1] == "The loop begins with this bar; ] ends it."
    assert taught.order(Order.LOOP_TO).state is State.COUNT_IN
    assert (taught.take.start, taught.take.end) == (4, 8)
    assert taught.until(lambda view: view.stage == "slow, time 3").telling == "again, change weight, left foot."


def test_the_wall_again_goes_to_where_it_begins_in_the_stage() -> None:
    walls = Stage("walls", StageKind.WALLS, Fraction(16), Fraction(64), count_in=4)
    taught = Taught(lambda dance: LessonPlan("Lantern Row", "walkthrough", FULL, len(dance.walls), (walls,)))
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    taught.goes_on(60 / 100 * 20)  # into wall 2
    assert taught.order(Order.WALL_AGAIN).telling == "again, right foot."
    taught.comes_to(State.COUNT_IN)
    assert (taught.take.start, taught.take.count_in, taught.take.end) == (32, 4, 64)


@pytest.mark.parametrize(
    ("order", "says"),
    [
        (Order.STOP_AT_EIGHT, "Nothing is being danced now. There is no eight to end."),
        (Order.LOOP, "Nothing is danced in this stage. There is nothing to loop."),
        (Order.LOOP_TO, "Nothing is being danced now. A loop is marked in what is danced."),
        (Order.MANNER, "Nothing is danced in this stage. Nor called."),
    ],
)
def test_in_a_stage_that_is_told_it_says_why_an_order_does_nothing(taught: Taught, order: Order, says: str) -> None:
    taught.order(Order.GO)
    view = taught.order(order)
    assert (view.state, view.notices[-1], view.lines[1]) == (State.TELLING, says, "first words.")


def test_whoever_follows_the_beat_is_not_stopped_before_a_go_is_over() -> None:
    taught, lights = Taught(drilled), Followed()
    taught.lesson.desk = replace(taught.lesson.desk, beat_out=lights)
    taught.order(Order.GO)
    taught.comes_to(State.RUNNING)
    told = len(lights.beats)
    taught.until(lambda view: len(taught.lesson.air.playout.parts) == 2)
    taught.until(lambda view: len(taught.lesson.air.playout.parts) == 1)
    taught.comes_to(State.COUNT_IN)
    first, *between, last = lights.beats[told:]
    assert first is not None
    assert last is not None
    silent = between.index(None)
    assert {beat and beat.take for beat in between[:silent]} == {first.take}
    assert last.take > first.take, "between two goes all stand, and are told how"


def test_music_is_danced_to_in_a_lesson_too_at_the_place_of_its_stage() -> None:
    music = HandMusic(lambda tempos: song_of(FULL, tempos, seconds=60, first_seconds=Fraction(3, 5)))
    music.arrive(50, 75)

    def drilled_slowly(dance: Dance) -> LessonPlan:
        told, slow, top = two_stages(dance).stages
        return replace(two_stages(dance), stages=(told, replace(slow, kind=StageKind.DRILL), top))

    taught = Taught(drilled_slowly, music=music)
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    [placed] = [placed for placed in taught.take.score.placements if placed.kind == "music"]
    assert placed.clip.key == "clicks 50"
    assert placed.part is not None
    # Lantern Row's first step comes 16 counts after the music's first, which is 0.6 s in at full tempo.
    first_step = taught.take.timeline.frame_of(Fraction(0)) - placed.frame + placed.part.first
    assert first_step == pytest.approx(RATE * (Fraction(3, 5) * 2 + Fraction(16 * 60, 50)), abs=2)
    taught.lesson.close()
    assert music.closed


def test_while_steps_are_learnt_there_is_no_music_and_none_is_asked_for() -> None:
    music = HandMusic(lambda tempos: song_of(FULL, tempos, seconds=60, first_seconds=Fraction(3, 5)))
    taught = Taught(two_stages, music=music)
    taught.order(Order.GO, Order.NEXT)
    taught.comes_to(State.RUNNING)
    assert not [placed for placed in taught.take.score.placements if placed.kind == "music"]
    assert not music.wanted


def test_a_book_that_can_not_be_written_is_told_of(taught: Taught) -> None:
    taught.says = "Not kept in the class book: it is full."
    taught.order(Order.GO, Order.NEXT)
    taught.until(lambda view: view.stage == "slow, 2 of 2")
    assert looked(taught.lesson).notices[-1] == taught.says


_MOVES = st.one_of(
    st.sampled_from(PEDAL_ORDERS),
    st.floats(0.05, 3.0),
    st.tuples(st.integers(0, 40), st.integers(0, 40)),
    st.fractions(40, 180, max_denominator=1),
)
_STILL = (State.READY, State.PAUSED, State.WAITING, State.FINISHED)


@settings(max_examples=30)
@given(st.sampled_from((two_stages, drilled, practised)), st.lists(_MOVES, max_size=14))
def test_whatever_is_ordered_whenever_the_lesson_goes_on_and_stands_still_in_silence(
    make: Callable[[Dance], LessonPlan], moves: list[Order | float | tuple[int, int] | Fraction]
) -> None:
    taught = Taught(make)
    for move in moves:
        match move:
            case Order():
                taught.order(move)
            case Fraction():
                taught.lesson.obey(Order.TEMPO, move)
            case (int(first), int(last)):
                taught.lesson.obey(Order.LOOP_COUNTS, first, last)
            case float():
                taught.goes_on(move)
        view = looked(taught.lesson)
        assert view.glance is None or view.glance.wall >= 1
        assert (view.telling != "") <= (view.state in (State.TELLING, State.PAUSED))
    if looked(taught.lesson).state in _STILL:
        taught.goes_on(0.3)  # the last click rings out
        assert not taught.speaker.advance(RATE // 5).any()
