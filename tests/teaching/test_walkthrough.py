"""The walkthrough: in the order teachers teach, with nothing of the routine left out."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise

import pytest

from caller.calls.plan import Manner
from caller.calls.wording import spoken_number
from caller.dance.unroll import unroll
from caller.routine.meter import FOUR_FOUR, Meter
from caller.routine.notation.read import read_bytes
from caller.teaching.at_events import event_span
from caller.teaching.dosage import LEVELS, measure_of, slow_speed
from caller.teaching.floors import Floors
from caller.teaching.minutes import stage_seconds, told_seconds
from caller.teaching.options import option_told
from caller.teaching.plain_walls import model_walls, plain_runs
from caller.teaching.play import Narration, pieces
from caller.teaching.song import song_of
from caller.teaching.stage import LessonPlan, MovesOn, Stage, StageKind
from caller.teaching.telling import mind_told
from caller.teaching.walkthrough import walkthrough_of
from tests.fakes.dances import HALF_BAR, PIVOTS, STOMP, SWAYS, WALKS, WALTZ, dance_of
from tests.fakes.lexicon import MeasuredVoice
from tests.takehome.packets import STEMS, dance_in, shipped_dance

PHRASED = (
    "Title: Phrased\nTempo: 100\nOrder: A B Tag A4 B\n\nPart A section 1: Walks\n1-8 Walk R, L, R, L, R, L, R, L\n\n"
    "Part B section 1: Sways\n1-4 Sway R, L, R, L\nPart B section 2: More\n1-4 Walk R, L, R, L\n\n"
    "Tag\n1-4 Sway R, L, R, L\n"
)


def of_kind(programme: LessonPlan, kind: StageKind) -> list[Stage]:
    return [stage for stage in programme.stages if stage.kind is kind]


@pytest.mark.parametrize("stem", STEMS)
def test_every_stage_comes_in_the_order_teachers_teach(stem: str) -> None:
    programme = walkthrough_of(shipped_dance(stem))
    kinds = [stage.kind for stage in programme.stages]
    late = [StageKind.WALL, StageKind.WALLS, StageKind.LADDER, StageKind.EVENT, StageKind.WHOLE]
    firsts = [
        kinds.index(kind) for kind in (StageKind.INTRODUCE, StageKind.TELL, StageKind.WORDS, *late) if kind in kinds
    ]
    assert firsts == sorted(firsts)
    assert kinds[0] is StageKind.INTRODUCE
    assert kinds[-1] is StageKind.WHOLE
    assert all(
        kinds.index(one) > max(n for n, k in enumerate(kinds) if k is StageKind.WORDS) for one in late if one in kinds
    )


@pytest.mark.parametrize("stem", STEMS)
def test_each_section_is_told_then_danced_with_words_slowly_and_put_onto_what_came_before(stem: str) -> None:
    dance = shipped_dance(stem)
    programme = walkthrough_of(dance)
    told, words, added = (of_kind(programme, kind) for kind in (StageKind.TELL, StageKind.WORDS, StageKind.ADD))
    sections = dance.routine.sections
    assert len(words) == len(added) + 1 == len(sections)
    assert [*dict.fromkeys(own for stage in told for own in stage.sections)] == [("", n.number) for n in sections]
    assert all(not stage.danced for stage in told)
    assert all(s.manners == (Manner.ON_COUNT,) for s in words)
    least = 66 if dance.routine.header.meter.counts == 3 else 60
    assert all(s.speed >= Fraction(1, 2) and programme.tempo * s.speed >= least for s in words)
    assert all(s.speed == Fraction(1, 2) or programme.tempo * s.speed < 68 for s in words), "half, or as slow as can be"
    assert all(earlier.end == later.start for earlier, later in pairwise(words))
    assert [stage.end for stage in added] == [stage.end for stage in words[1:]]
    assert {stage.start for stage in added} <= {words[0].start}


@pytest.mark.parametrize("stem", STEMS)
@pytest.mark.parametrize("level", [name for name, _ in LEVELS])
def test_no_stage_is_danced_just_as_the_one_before_it(stem: str, level: str) -> None:
    stages = [stage for stage in walkthrough_of(shipped_dance(stem), level=level).stages if stage.danced]
    for one, other in pairwise(stages):
        assert (one.start, one.end, one.speed, one.manners, one.easier) != (
            other.start, other.end, other.speed, other.manners, other.easier
        ), other.name  # fmt: skip


@pytest.mark.parametrize("stem", STEMS)
def test_full_speed_is_reached_before_three_quarters_of_the_lesson(stem: str) -> None:
    routine = shipped_dance(stem).routine
    dance = song_of(routine, routine.header.tempo or Fraction(100))
    voice, at, full = MeasuredVoice(), 0, None
    for stage, piece in pieces(walkthrough_of(dance), Floors.of(dance), voice, voice.clip):
        full = at if full is None and stage.danced and stage.speed == 1 else full
        at += piece.end_frame
    assert full is not None
    assert full < Fraction(3, 4) * at


def test_a_change_and_the_restart_that_comes_with_it_are_one_thing_to_learn() -> None:
    names = [s.name for s in walkthrough_of(shipped_dance("lantern-row")).stages if s.kind is StageKind.EVENT]
    assert names == [
        "Tag in wall 3, from 3:00, words on the count",
        "Tag in wall 3, from 3:00",
        "Step change and restart in wall 6, from 3:00, words on the count",
        "Step change and restart in wall 6, from 3:00",
    ]


def test_each_section_is_joined_to_the_one_before_by_its_last_four_and_first_four() -> None:
    joins = of_kind(walkthrough_of(shipped_dance("lantern-row")), StageKind.JOIN)
    assert [(s.start, s.end) for s in joins] == [(4, 12), (12, 20), (20, 28)]
    assert joins[0].said == ("the last four of section one, into section two.",)
    waltz = of_kind(walkthrough_of(shipped_dance("slow-water")), StageKind.JOIN)
    assert {s.end - s.start for s in waltz} == {6}


@pytest.mark.parametrize("stem", STEMS)
def test_the_last_section_is_not_danced_least(stem: str) -> None:
    stages = [s for s in walkthrough_of(shipped_dance(stem)).stages if s.danced]
    firsts = [s for s in stages if s.kind is StageKind.WORDS]
    danced = [sum(s.times for s in stages if s.start <= own.start and s.end >= own.end) for own in firsts]
    assert danced[-1] >= min(danced[:-1])


def test_the_class_is_taught_at_its_own_level_where_that_is_said() -> None:
    dance = shipped_dance("lantern-row")
    absolute, advanced = (
        sum(stage.times for stage in walkthrough_of(dance, level=level).stages) for level in ("absolute", "advanced")
    )
    assert absolute > sum(stage.times for stage in walkthrough_of(dance).stages) > advanced


@pytest.mark.parametrize(("tempo", "speed"), [(160, Fraction(1, 2)), (108, Fraction(56, 100)), (50, Fraction(1))])
def test_half_speed_has_a_floor(tempo: int, speed: Fraction) -> None:
    """60 counts a minute (common practice): slower, a triple step is three steps that are waited for."""
    words = of_kind(walkthrough_of(shipped_dance("lantern-row"), Fraction(tempo)), StageKind.WORDS)
    assert words[0].speed == speed


@pytest.mark.parametrize(("ends", "least"), [("1-2 Walk R, L", 66), ("1&2 Shuffle forward R", 60)])
def test_a_pivot_among_steps_between_the_counts_is_no_reason_to_be_quicker(ends: str, least: int) -> None:
    free = "R" if "Walk" in ends else "L"
    dance = dance_in(f"Title: T\nTempo: 100\n\nSection 1: One\n{ends}\n3-4 Step {free} forward, pivot 1/2\n")
    assert slow_speed(dance, dance.walls[0], 1, Fraction(100)) == Fraction(least, 100)


def test_words_are_danced_twice_and_more_or_less_often_by_the_sheets_level() -> None:
    by_level = {name: measure.words for name, measure in LEVELS}
    assert (by_level["improver"], by_level["intermediate"]) == (2, 2)
    assert by_level["absolute"] >= by_level["beginner"] > by_level["improver"] > by_level["advanced"]
    events = [measure.event for _, measure in LEVELS]
    assert events == sorted(events, reverse=True), "who knows more needs an event no more often"
    assert measure_of("High Beginner").words == by_level["beginner"]
    assert measure_of("").words == 2


def test_an_option_is_told_and_shown_where_its_section_is_taught() -> None:
    programme = walkthrough_of(shipped_dance("lantern-row"))
    (option,) = of_kind(programme, StageKind.OPTION)
    index = programme.stages.index(option)
    assert option.easier
    assert programme.stages[index - 1].kind is StageKind.WORDS
    assert (option.start, option.end) == (programme.stages[index - 1].start, programme.stages[index - 1].end)
    assert option.said == (
        "an easier way, on one to two: two quarters instead of the half.",
        "left forward turning a quarter right, right to the side turning a quarter right.",
    )


@pytest.mark.parametrize(
    ("steps", "easier", "for_whom"),
    [
        (
            "1-2 Turn 1/2 left stepping R back, turn 1/2 left stepping L forward",
            "1-2 Walk R, L",
            "if you'd rather not spin, on one to two: so.",
        ),
        ("1-2 Step R forward, pivot 1/4 left", "1-2 Walk R, L", "if you'd rather not turn, on one to two: so."),
        ("1&2 R shuffle forward", "1-2 Step R forward, touch L", "if that is too quick, on one to two: so."),
        ("1-2 Walk R, L", "1-2 Step R forward, touch L", "an easier way, on one to two: so."),
    ],
)
def test_an_easier_way_tells_for_whom_it_is(steps: str, easier: str, for_whom: str) -> None:
    sheet = f"Title: Shelf\nStarts: right\nSection 1: One\n{steps}\nOption 1-2: so\n{easier}\n"
    routine = read_bytes(sheet.encode()).routine
    [section] = routine.sections
    assert option_told(section.options[0], FOUR_FOUR, section.passage)[0] == for_whom


KETTLE = """Title: Shelf
Starts: right
Section 1: One
1-2 Walk R, L
3&4 R kick ball change
5-6 Step R forward, pivot 1/2 left
7-8 Step R forward, pivot 1/4 left
Option 3-4: kick R forward, touch R beside L
Option 5-8: walk round 3/4 left R, L, R, L
Option 7-8: walk R, L
"""


def test_steps_that_do_not_turn_are_no_walk_round() -> None:
    option = "Option 1-4: so\n1-4 Step R forward, step L forward, step R forward, step L forward\n"
    sheet = f"Title: Shelf\nStarts: right\nSection 1: One\n1-4 Walk R, L, R, L\n{option}"
    [section] = read_bytes(sheet.encode()).routine.sections
    told = option_told(section.options[0], FOUR_FOUR, section.passage)
    assert told[1:]
    assert not any("walk round" in words for words in told)


def test_all_easier_ways_of_a_section_are_one_stage_each_told_with_its_counts() -> None:
    (option,) = of_kind(walkthrough_of(unroll(read_bytes(KETTLE.encode()).routine)), StageKind.OPTION)
    assert option.said == (
        "if that is too quick, on three to four.",
        "kick right, touch right beside, no weight.",
        "an easier way, on five to eight.",
        "walk round three quarters to the left: right, left, right, left.",
        "or if you'd rather not turn, on seven to eight.",
        "walk forward right, left.",
    )


def test_a_section_is_told_figure_by_figure_and_walked_movement_by_movement() -> None:
    dance = shipped_dance("lantern-row")
    stages = walkthrough_of(dance).stages
    first, four, second, eight = stages[1:5]
    assert [stage.name for stage in (first, four, second, eight)] == [
        "Section 1, 1-4, told",
        "Section 1, 1-4, walked",
        "Section 1, 5-8, told",
        "Section 1, walked",
    ]
    assert first.said == (
        "section one, Walks, right shuffle, rock.",
        "quick steps on three and four.",
        "two walks, right, left.",
        "right shuffle forward: right forward, left together, right forward.",
    )
    assert four.said == (
        "walk it with me.",
        "right forward.",
        "left forward.",
        "right forward.",
        "left together.",
        "right forward.",
    )
    assert eight.said[-1] == "weight on the left, right foot free."
    for section, walked in zip(dance.routine.sections, (s for s in stages if _walks_whole(s)), strict=True):
        assert sum(not words.startswith(("walk it", "you now", "weight", "the feet")) for words in walked.said) == len(
            section.passage.steps
        )


def _walks_whole(stage: Stage) -> bool:
    return stage.kind is StageKind.WALK and "-" not in stage.name


@pytest.mark.parametrize("stem", STEMS)
def test_the_first_movement_is_walked_within_half_a_minute(stem: str) -> None:
    dance = shipped_dance(stem)
    programme, floors = walkthrough_of(dance), Floors.of(dance)
    seconds = stage_seconds(programme, floors)
    walk = next(n for n, stage in enumerate(programme.stages) if stage.kind is StageKind.WALK)
    before = floors.said_first(programme.stages[walk])
    begun = sum(seconds[:walk]) + told_seconds(before[: before.index("walk it with me.") + 1])
    assert begun <= 30


def test_beginners_see_each_section_danced_first_and_who_knows_more_walks_nothing() -> None:
    dance = shipped_dance("lantern-row")
    shown = of_kind(walkthrough_of(dance, level="absolute"), StageKind.DEMONSTRATE)
    assert [stage.manners for stage in shown] == [(Manner.COUNTS,)] * 4
    assert shown[0].said == ("watch section one once, counted.",)
    stages = walkthrough_of(dance, level="absolute").stages
    first_of = {section: next(s for s in stages if s.sections == (section,)) for s in shown for section in s.sections}
    assert list(first_of.values())[1:] == shown[1:]  # before anything of it is told
    assert first_of["", 1].kind is StageKind.TELL  # but the first steps of all, which come at once
    advanced = walkthrough_of(dance, level="advanced")
    assert not of_kind(advanced, StageKind.WALK)
    assert not of_kind(advanced, StageKind.DEMONSTRATE)
    assert [stage.name for stage in of_kind(advanced, StageKind.TELL)] == [f"Section {n}, told" for n in range(1, 5)]


@pytest.mark.parametrize("stem", STEMS)
def test_nothing_spoken_has_a_figure_in_it_but_what_the_sheet_wrote(stem: str) -> None:
    for stage in walkthrough_of(shipped_dance(stem)).stages:
        assert not any(re.search(r"\d", words) for words in stage.said)


def test_the_introduction_is_short() -> None:
    assert walkthrough_of(shipped_dance("lantern-row")).stages[0].said == (
        "Lantern Row: thirty-two counts, four walls.",
        "a tag, step change and restart, later.",
    )
    assert walkthrough_of(shipped_dance("slow-water")).stages[0].said == (
        "Slow Water: a waltz, forty-eight counts, two walls.",
    )
    last = walkthrough_of(shipped_dance("lantern-row")).stages[-1]
    assert last.said == ("the whole dance, full speed.", "the intro is sixteen counts.")
    as_long = walkthrough_of(song_of(shipped_dance("slow-water").routine, Fraction(150)))
    walls = spoken_number(as_long.walls)
    assert as_long.walls > len(shipped_dance("slow-water").walls)
    assert as_long.stages[-1].said[0] == f"the whole dance, full speed, {walls} walls, for a song."


def test_a_section_is_taught_where_its_steps_are_the_sheets_and_that_is_the_front_where_it_can_be() -> None:
    dance = dance_of(4, (WALKS, PIVOTS), tags={1: SWAYS}, restarts={2: 8})
    assert [wall.number for wall in model_walls(dance)] == [1], "a tag after its sections leaves them as they are"
    assert [wall.number for wall in model_walls(dance_of(4, (WALKS, PIVOTS), restarts={1: 8}))] == [2]


def test_the_walls_are_danced_up_to_what_comes_between_until_every_facing_has_come() -> None:
    dance = shipped_dance("lantern-row")
    runs = plain_runs(dance)
    assert [(first.number, last.number, end) for first, last, end in runs] == [(1, 3, 96), (4, 4, 136)]
    faced = {w.starts.clock for w in dance.walls for first, last, _ in runs if first.number <= w.number <= last.number}
    assert faced == {"12:00", "3:00", "6:00", "9:00"}


@pytest.mark.parametrize(
    ("extra", "span", "wall"),
    [
        ({"tags": {2: SWAYS}}, (24, 44), 2),
        ({"tags": {2: HALF_BAR}}, (24, 42), 2),
        ({"restarts": {3: 8}}, (32, 48), 3),
        ({"changes": {2: 8}}, (16, 40), 2),
        ({"tags_inside": {2: (8, SWAYS)}}, (16, 36), 2),
        ({"ending": (8, STOMP)}, (48, 57), 4),
    ],
)
def test_an_event_is_drilled_from_the_section_before_it_to_the_section_after_it(
    extra: dict[str, object], span: tuple[int, int], wall: int
) -> None:
    dance = dance_of(4, (WALKS, PIVOTS), **extra)  # type: ignore[arg-type]
    event_wall = dance.walls[wall - 1]
    assert event_span(dance, event_wall, event_wall.events[0]) == span
    drilled = of_kind(walkthrough_of(dance), StageKind.EVENT)
    assert {(stage.start, stage.end) for stage in drilled} == {span}
    assert [stage.manners[0] for stage in drilled] == [Manner.ON_COUNT, Manner.AHEAD]
    assert drilled[0].said


def test_where_the_section_before_an_event_leaves_no_time_to_announce_it_the_one_before_that_is_danced_too() -> None:
    waltz = dance_of(2, (WALTZ, WALTZ), tags={1: WALTZ}, meter=Meter(3, 4))
    wall = waltz.walls[0]
    assert WALTZ.counts == 6
    assert event_span(waltz, wall, wall.events[0]) == (0, 24)


def test_a_tag_met_again_is_gone_over_once() -> None:
    dance = dance_of(6, (WALKS, PIVOTS), tags={2: SWAYS, 4: SWAYS})
    drilled = of_kind(walkthrough_of(dance), StageKind.EVENT)
    assert [stage.times for stage in drilled] == [1, 2, 1]
    assert len({stage.start for stage in drilled}) == 2


def test_the_tempo_climbs_to_the_full_one_and_then_the_whole_dance_is_danced() -> None:
    dance = shipped_dance("tin-roof-swing")
    programme = walkthrough_of(dance)
    speeds = [stage.speed for stage in of_kind(programme, StageKind.LADDER)]
    assert speeds == sorted(speeds)
    assert [stage.name for stage in of_kind(programme, StageKind.LADDER)] == ["Tempo: 87.5%"], "full speed is all of it"
    whole = programme.stages[-1]
    assert (whole.start, whole.end, whole.speed) == (0, dance.counts, 1)
    assert programme.tempo == dance.routine.header.tempo


@pytest.mark.parametrize("stem", STEMS)
def test_it_runs_hands_free_and_each_stage_is_announced_and_counted_in(stem: str) -> None:
    dance = shipped_dance(stem)
    for stage in walkthrough_of(dance).stages:
        assert stage.moves_on is not MovesOn.PEDAL
        assert stage.said
        bars = 1 if stage.kind is StageKind.DEMONSTRATE else 2
        assert not stage.danced or stage.count_in == bars * dance.routine.header.meter.counts
        assert 0 <= stage.start <= stage.end <= dance.counts
        assert stage.times >= 1


def test_each_part_of_a_phrased_routine_is_taught_by_itself() -> None:
    programme = walkthrough_of(dance_in(PHRASED))
    told = dict.fromkeys(stage.sections for stage in of_kind(programme, StageKind.TELL))
    assert list(told) == [(("A", 1),), (("B", 1),), (("B", 2),)]
    assert [stage.name for stage in of_kind(programme, StageKind.ADD)] == ["From the top to part B section 2"]
    assert {stage.name for stage in of_kind(programme, StageKind.WALL)} >= {"The whole part A", "The whole part B"}


def test_a_section_tells_what_is_hard_before_it_and_how_all_stand_after_it() -> None:
    told = walkthrough_of(shipped_dance("lantern-row"), level="advanced").stages
    last = next(stage.said for stage in told if stage.name == "Section 4, told")
    assert last[1] == "mind the turn on two."
    assert last[2] == "step forward on the left, half turn right."
    assert last[-1] == "you now face three o'clock, weight on the left, right foot free.", "it began at nine o'clock"
    first = next(stage.said for stage in told if stage.name == "Section 1, told")
    assert first[1] == "quick steps on three and four."
    assert not any("you now face" in words for words in first)


@pytest.mark.parametrize(
    ("steps", "told"),
    [
        (
            "1-2 Walk R, L\n3&4 Shuffle R forward\n5-8 Rock L forward, recover R, step L back, touch R",
            "on three and four",
        ),
        ("1&2& Heel R, step R together, heel L, step L together\n3-4 Walk R, L", "on one to three"),
        (
            '1-2 Step R to side, step L behind R\n&3 Step R to side, cross L over R "and cross"\n4 Step R to side',
            "into three",
        ),
        ("1-2 Walk R, L\n3-4 Step R forward, pivot 1/2 left", None),
    ],
)
def test_quick_steps_are_told_by_the_counts_that_they_come_on(steps: str, told: str | None) -> None:
    dance = dance_in(f"Title: Quick\nWalls: 1\n\nSection 1: One\n{steps}\n")
    wall = dance.walls[0]
    minded = mind_told(wall, wall.stretches[0], dance.routine)
    assert minded == ((f"quick steps {told}.",) if told else ("mind the turn on four.",))


def test_who_did_not_begin_at_the_front_is_told_the_way_by_the_clock_or_that_it_is_the_front() -> None:
    pivot = "1-2 Step R forward, pivot {} left\n3-4 Walk R, L\n\n"
    steps = "".join(f"Section {n}: One\n{pivot.format(turn)}" for n, turn in enumerate(("1/4", "1/2", "1/4"), 1))
    stages = walkthrough_of(dance_in(f"Title: Round\nTempo: 100\nWalls: 1\n\n{steps}")).stages
    walked = [stage.said[-1] for stage in stages if stage.kind is StageKind.WALK]
    ends = ", weight on the left, right foot free."
    assert walked == [f"you now face {side}{ends}" for side in ("nine o'clock", "three o'clock", "twelve o'clock")]


def test_an_event_tells_its_steps_and_one_foot() -> None:
    dance = shipped_dance("lantern-row")
    tag, _, change, _ = of_kind(walkthrough_of(dance), StageKind.EVENT)
    said = Floors.of(dance).said_first(tag)
    assert said == (
        "at the end of wall three, facing nine o'clock, a tag, eight counts.",
        "right heel in front, and home, left heel in front, and home.",
        "right rocking chair: rock right forward, recover, rock right back, recover.",
        "facing three o'clock, left foot free.",
    )
    assert sum("foot" in words for words in said) == 1
    assert change.said[0] == "in wall six, section three, on five to eight, facing twelve o'clock, the steps change."
    assert change.said[-1] == "then we start again, facing twelve o'clock."


def test_a_change_within_a_figure_tells_the_figure_and_the_count_that_it_is_on() -> None:
    dance = dance_in(
        "Title: Late\nTempo: 100\nWalls: 2\n\nSection 1: Walks\n1-8 Walk R, L, R, L, R, L, R, L\n\nSection 2: Side\n"
        "1-6 Walk R, L, R, L, R, L\n7-8 Step R to side, touch L\n\n"
        "Section 3: Left\n1-8 Walk L, R, L, R, L, R, L, R\n\n"
        "Restart on wall 3 after 16 counts, change count 8 of section 2 to: step L beside R\n"
    )
    (change, *_) = of_kind(walkthrough_of(dance), StageKind.EVENT)
    assert change.said[:3] == (
        "in wall three, section two, on eight, facing twelve o'clock, the steps change.",
        "right to the side, left together.",
        "then we start again, facing twelve o'clock.",
    )


def test_while_it_is_walked_the_foot_that_moves_next_is_shown() -> None:
    dance = dance_in("Title: Walked\nTempo: 90\n\nSection 1: Turn\n1-2 Walk R, L\n3-4 Step R forward, pivot 1/2 left\n")
    floors = Floors.of(dance)
    walk = of_kind(walkthrough_of(dance), StageKind.WALK)[-1]
    said, stands = floors.said_first(walk), floors.stands_told(walk)
    shown = [
        (words, facing and facing.clock, foot and foot.value)
        for words, (facing, foot) in zip(said, stands, strict=True)
    ]
    assert shown == [
        ("right foot.", "12:00", "R"),
        ("walk it with me.", "12:00", "R"),
        ("right forward.", "12:00", "R"),
        ("left forward.", "12:00", "L"),
        ("step forward on the right.", "12:00", "R"),
        ("half turn left.", "12:00", "L"),
        ("you now face six o'clock, weight on the left, right foot free.", "6:00", "R"),
    ]


def test_a_step_is_walked_no_faster_than_it_is_danced() -> None:
    """By what is heard: from one step to the next longer than the slowest count, however short its words."""
    dance = shipped_dance("lantern-row")
    voice, slowest = MeasuredVoice(), Fraction(60, 60)
    seen = 0
    for stage, piece in pieces(walkthrough_of(dance), Floors.of(dance), voice, voice.clip):
        if stage.kind is StageKind.WALK and isinstance(piece, Narration):
            starts = [Fraction(line.starts, 48_000) for line in piece.lines]
            assert all(after - before >= Fraction(7, 4) > slowest for before, after in pairwise(starts))
            seen += len(starts)
    assert seen > 50


@pytest.mark.parametrize(
    ("events", "ahead"),
    [
        ("Tag after walls 2 and 5\n1-4 Sway R, L, R, L\n", "a tag, twice, later."),
        ("Tag after wall 2\n1-4 Sway R, L, R, L\n", "a tag, later."),
        (
            "Tag after walls 2 and 4\n1-4 Sway R, L, R, L\n\nRestart on wall 3 after 8 counts\n",
            "a tag, twice, and restart, later.",
        ),
    ],
)
def test_one_tag_that_is_danced_twice_is_one_tag(events: str, ahead: str) -> None:
    steps = "Section 1: Walks\n1-8 Walk R, L, R, L, R, L, R, L\n\nSection 2: More\n1-8 Walk R, L, R, L, R, L, R, L\n\n"
    dance = dance_in(f"Title: Tags\nTempo: 100\nWalls: 1\n\n{steps}{events}")
    assert walkthrough_of(dance).stages[0].said[1] == ahead


def test_titles_and_headings_are_told_as_words() -> None:
    sheet = "Title: R & L\nTempo: 90\nSection 1: 1/4 L, walk fwd\n1-2 Walk R, L\n3-4 Step R forward, pivot 1/4 left\n"
    stages = walkthrough_of(dance_in(sheet)).stages
    assert stages[0].said[0] == "right and left: four counts."
    told = of_kind(walkthrough_of(dance_in(sheet)), StageKind.TELL)[0].said
    assert told[0] == "section one, a quarter left, walk forward."


def test_feet_that_go_to_the_diagonal_leave_the_body_square() -> None:
    steps = "1-2 Step R diagonally forward, touch L beside R\n3-4 Step L diagonally back, touch R beside L\n"
    sheet = f"Title: Askew\nTempo: 90\nSection 1: Out\n{steps}"
    walked = of_kind(walkthrough_of(dance_in(sheet)), StageKind.WALK)[-1].said
    assert "the feet go to the diagonal, the body stays square." in walked


@pytest.mark.parametrize("name", ["lantern-row", "chalk-line", "slow-water", "tin-roof-swing"])
def test_after_half_a_section_was_walked_all_stand_as_its_other_half_begins(name: str) -> None:
    dance = shipped_dance(name)
    floors = Floors(dance, dance)
    halves = [
        (walked, told)
        for walked, told in pairwise(walkthrough_of(dance).stages)
        if walked.kind is StageKind.WALK and told.kind is StageKind.TELL and told.start > walked.start
    ]
    assert halves
    for walked, told in halves:
        assert floors.stood(walked) == floors.stands(told), walked.name
