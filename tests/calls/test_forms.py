"""What a group of movements may be called: chains, names, quoted calls, parts."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from caller.calls import words
from caller.calls.forms import Forms
from caller.calls.group import Group, group_forms, swaps_foot
from caller.calls.groups import groups_between
from caller.calls.plan import UNTOLD
from caller.calls.spelling import on_count_forms, spoken
from caller.dance.unroll import unroll
from caller.routine.notation.read import read_bytes
from caller.routine.step import Weight
from caller.routine.vocabulary import shipped
from tests.calls.reading_back import read_back


def groups(*lines: str, heading: str = "A wall", starts: str = "right", meter: str = "4/4") -> list[Group]:
    head = f"Title: Shelf\nTempo: 100\nMeter: {meter}\nStarts: {starts}\nSection 1: {heading}\n"
    read = read_bytes((head + "\n".join(lines) + "\n").encode())
    assert not [finding for finding in read.findings if finding.severity.value == "error"], read.findings
    dance = unroll(read.routine, 1)
    return groups_between(dance, Fraction(0), Fraction(dance.counts))


def forms(*lines: str, thin: bool = False, marked: bool = False, **where: str) -> Forms:
    [group] = groups(*lines, **where)
    return group_forms(group, thin=thin, marked=marked)


def shortest(found: Forms) -> str:
    return min(found.wordings, key=len)


@pytest.mark.parametrize(
    ("line", "called"),
    [
        (
            "1-4 Step R to side, hook L over R, step L to side, flick R",
            [("right side, hook", "side hook"), ("left side, flick", "side flick")],
        ),
        (
            "1-4 Cross R over L, sweep L, cross L over R, sweep R",
            [("right cross, sweep", "cross sweep"), ("left cross, sweep", "and left")],
        ),
        ("1&2 Kick R forward, step R out, step L out", [("right kick out, out", "kick out out")]),
        ("1-2 Step R forward, touch L to side", [("right step, touch side", "step, touch side")]),
        ("1-2 Step R back, touch L beside R", [("right back, touch", "back touch")]),
        (
            "1&2 Step R forward, step L forward turning 1/4 left, step R beside L",
            [("right step step quarter left, together", "step step quarter together")],
        ),
        # "step, back half left" would send everybody back on the first of them.
        ("1-2 Step L forward, turn 1/2 left stepping R back", [("left forward, back half left", "forward back half")]),
        ("1-2 Step R forward, pivot 1/2 left", [("right step, half left", "step, half")]),
        ("1-2 Rock R to side, recover L", [("right side rock, recover", "side rock")]),
        ("1-2 Touch R back, step R beside L", [("right touch back, together", "touch back, together")]),
    ],
)
def test_movements_without_a_name_have_a_word_each_in_their_order(line: str, called: list[tuple[str, str]]) -> None:
    found = [group_forms(group, thin=False, marked=False) for group in groups(line)]
    assert [shortest(one) for one in found] == [short for _, short in called]
    marked = [group_forms(group, thin=False, marked=True) for group in groups(line)]
    for one, (fullest, short) in zip(marked, called, strict=True):
        assert fullest in one.wordings
        first = short.split()[0].rstrip(",")
        assert all(
            words.removeprefix("right ").removeprefix("left ").startswith((first, "and ", "cross"))
            for words in one.wordings
        )


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("1&2 Cross R over L, step L to side, cross R behind L", "cross side, behind"),
        ("1-2& Step R to side, cross L behind R, step R to side", "side, behind side"),
        ("1-2& Step R to side, rock L behind R, recover R", "side, rock behind"),
    ],
)
def test_pauses_stand_before_whole_counts(line: str, said: str) -> None:
    assert said in forms(line).wordings


def test_half_beats_are_called_in_their_rhythm() -> None:
    found = [
        shortest(group_forms(group, thin=False, marked=False))
        for group in groups(
            "1&2& Kick R, step R beside L, touch L beside R, step L beside R", "3-4 Heel R forward, step R beside L"
        )
    ]
    assert found == ["kick and touch and", "heel together"]


@pytest.mark.parametrize(
    ("line", "said", "never"),
    [
        ("1&2 R coaster step", "coaster", ""),
        ("1&2 L shuffle back", "shuffle back", ""),
        (
            "1&2 Step R forward turning 1/4 right, step L beside R, step R forward turning 1/4 right",
            "shuffle half",
            "shuffle",
        ),
        ("1-4 Jazz box R turning 1/4 right", "jazz box quarter", "jazz box"),
        ("1-4 Monterey 1/2 right", "monterey half", "monterey"),
        ("1-2 Step R diagonally forward, step L diagonally forward", "step step", "jazz jump forward"),
        ("1&2 Cross R behind L, step L to side, cross R over L", "behind side cross", "sailor cross"),
    ],
)
def test_a_figure_has_its_name_with_the_amount_of_its_turn(line: str, said: str, never: str) -> None:
    found = forms(line, starts="left" if " L shuffle" in line else "right")
    assert shortest(found) == said
    assert never not in found.wordings


def test_the_sheets_own_name_goes_before_any_other() -> None:
    line = "1&2 Cross R behind L, step L to side, cross R over L"
    assert shortest(forms(line, heading="Sailor cross and home")) == "sailor cross"
    assert shortest(forms("1&2 Step R forward, step L beside R, step R forward", heading="Triples")) == "triple"
    wizard = "1-2& Step R forward on the diagonal, lock L behind R, step R forward on the diagonal"
    assert forms(wizard, heading="Dorothy steps").wordings[0] == "right dorothy step"
    assert "kick ball change" in forms("1&2 R kbc").wordings


def test_a_name_that_holds_a_letter_alone_can_be_said() -> None:
    assert forms("1-4 V step back", heading="Inverted V step").wordings[0] == "right inverted v step"


def test_the_amount_of_a_turn_is_in_every_form() -> None:
    for line in (
        "1-2 Step R forward, pivot 1/4 left",
        '1-2 Step R forward, pivot 1/4 left "step, pivot"',
        "1&2 R sailor step turning 1/4 right",
    ):
        for thin in (False, True):
            found = forms(line, thin=thin)
            assert all("quarter" in words for words in found.wordings)
            assert all(any("quarter" in part.words for part in parts) for parts, _ in found.in_parts)


def test_a_quoted_call_comes_first_and_is_cut_by_its_numbers() -> None:
    found = forms('1-3 Walk forward R, L, R  "walk, two, three"')
    assert found.wordings[0] == "walk, two, three"
    assert "walk" in found.wordings


def test_a_quoted_call_that_leaves_out_how_far_it_turns_is_told_it() -> None:
    found = forms('1-2 Step R forward, pivot 1/4 left  "step, pivot"')
    assert found.wordings[0] == "step, pivot quarter left"


def test_the_second_of_two_alike_shrinks_and_the_same_twice_is_called_once() -> None:
    first, second = groups("1&2 R shuffle forward", "3&4 L shuffle forward")
    assert "and left" in group_forms(second, thin=False, marked=False).wordings
    assert not [words for words in group_forms(first, thin=False, marked=False).wordings if words.startswith("and")]
    [both] = groups("1&2 R kick ball change", "3&4 R kick ball change")
    assert (both.times, shortest(group_forms(both, thin=False, marked=False))) == (2, "kick ball change twice")


def test_alike_movements_are_called_by_their_number() -> None:
    assert "four sways, right" in forms("1-4 Sway R, L, R, L").wordings
    assert "three walks" in forms("1-3 Walk R, L, R").wordings


def test_the_first_of_alike_sways_has_its_side_until_the_class_knows_it() -> None:
    """The free foot does not tell to which side a sway goes."""
    [sways] = groups("1-4 Sway L, R, L, R")
    for marked in (False, True):
        assert all("left" in words for words in group_forms(sways, thin=False, marked=marked).wordings)
        assert "left" in shortest(group_forms(sways, thin=False, marked=marked))
    assert "four sways" in group_forms(sways, thin=True, marked=False).wordings


def test_alike_movements_in_half_counts_are_not_called_by_their_number() -> None:
    """ "three stomps" would leave open when."""
    assert "three stomps" in forms("1-3 Stomp R, stomp L, stomp R").wordings
    quick = forms("1&2 Stomp R, stomp L, stomp R")
    assert not any("three" in words for words in quick.wordings)


def test_a_figure_of_two_counts_is_called_by_how_often_up_to_eight_counts_of_it() -> None:
    for often in range(1, 5):
        [group] = groups(*(f"{n}&{n + 1} R kick ball change" for n in range(1, 2 * often, 2)))
        assert group.times == often


def test_what_is_danced_again_is_named_where_again_might_mean_two_things() -> None:
    """Heels that go out and in: "swivel again" goes before "again"; a step with its pivot is one thing."""
    swivels = forms("1-4 Swivel heels R, swivel heels to center, swivel heels R, swivel heels to center")
    best = {parts[-1].words: lost for parts, lost in reversed(swivels.in_parts)}
    assert best["swivel again"] < best["again"]
    pivots = forms("1-4 Step R forward, pivot 1/2 left, step R forward, pivot 1/2 left")
    assert {parts[-1].words for parts, _ in pivots.in_parts} == {"again"}


def test_the_other_foot_of_what_took_four_counts_is_told_again_before_it_is_left_to_and_left() -> None:
    _, near = groups("1-2 Step R to side, touch L beside R", "3-4 Step L to side, touch R beside L")
    assert shortest(group_forms(near, thin=False, marked=False)) == "and left"
    _, far = groups(
        "1-4 Step R forward, lock L behind R, step R forward, brush L",
        "5-8 Step L forward, lock R behind L, step L forward, brush R",
    )
    found = group_forms(far, thin=False, marked=False)
    lost = dict(zip(found.wordings, found.lost, strict=True))
    assert lost["left lock step, brush"] < lost["and left"]


def test_half_counts_beside_whole_ones_are_told_by_a_pause_or_by_parts() -> None:
    """1 2&: "side, behind side", or "side" and then "behind side"; without the pause nobody knows which is quick."""
    uneven, _ = groups("1-2& Step R to side, step L behind R, step R to side", "3-4 Cross L over R, hold")
    found = group_forms(uneven, thin=False, marked=False)
    lost = dict(zip(found.wordings, found.lost, strict=True))
    in_parts = {tuple(part.words for part in parts): loses for parts, loses in found.in_parts}
    assert lost["side, behind side"] < in_parts["side", "behind side"] < lost["side behind side"]


def test_a_drag_that_lasts_is_called_slow() -> None:
    assert forms("1-3 Step R to side, drag L to R for two counts", meter="3/4").wordings[0] == "side, slow drag"
    assert forms("1-2 Step R to side, drag L to R").wordings[0] == "side, drag"
    first, second = groups("1-3 Step R to side, drag L to R", "4-6 Step L to side, drag R to L", meter="3/4")
    assert (first.like, second.like) == (False, True)


def test_the_side_that_a_turn_can_only_have_goes_before_one_that_it_may_have() -> None:
    """A pivot after a step forward goes away from that foot; a shuffle may turn either way."""

    def sideless(line: str) -> int:
        found = forms(line)
        return dict(zip(found.wordings, found.lost, strict=True))[shortest(found)]

    assert sideless("1-2 Step R forward, pivot 1/2 left") < 40
    assert sideless("1-4 Monterey turn 1/2 right") < 40
    assert sideless("1-2 Step R back, step L back turning 1/2 left") > 100
    assert sideless("1&2 Shuffle forward R turning 1/2 left") > 100


def test_where_a_figure_comes_first_its_foot_is_worth_more() -> None:
    [group] = groups("1&2 Cross L behind R, step R to side, step L to side", starts="left", heading="Sailor")

    def footless(first: bool) -> int:
        found = group_forms(group, thin=False, marked=False, first=first)
        return dict(zip(found.wordings, found.lost, strict=True))["sailor"]

    assert footless(first=True) > footless(first=False)


def test_steps_before_a_shuffle_are_no_figure_that_takes_its_first_step() -> None:
    found = groups("1-2 Step R to side, cross L behind R", "3&4 Step R to side, step L beside R, step R to side")
    assert [shortest(group_forms(one, thin=False, marked=False)) for one in found] == ["side behind", "side shuffle"]


def test_a_basic_waltz_that_the_sheet_calls_a_waltz_is_one() -> None:
    step = "1-3 Step L forward, step R beside L, step L in place"
    for heading, said in (("Waltz forward", "waltz forward"), ("Basic forward", "basic forward")):
        found = forms(step, heading=heading, meter="3/4", starts="left")
        assert said in found.wordings
        assert "basic" not in heading.lower() or all("basic" in words for words in found.wordings)


def test_a_name_with_an_accent_is_the_sheets_own() -> None:
    [group] = groups("1&2 Step R to side, close L to R, step R to side", heading="Chass\u00e9 R")
    assert group_forms(group, thin=False, marked=False).wordings[0] == "chasse right"


def test_how_a_figure_ends_is_called_with_it_or_before_its_own_movement() -> None:
    [group] = groups("1-3 Vine right", "4 Touch L beside R")
    found = group_forms(group, thin=False, marked=False)
    assert found.wordings[0] == "vine right, touch"
    assert [[(part.words, part.after) for part in parts] for parts, _ in found.in_parts] == [
        [("vine right", 0), ("touch", 3)],
        [("vine", 0), ("touch", 3)],
    ]


def test_one_call_holds_a_foot_or_a_direction_and_not_both() -> None:
    for line in ("1-3 Vine right", "1-4 Weave right"):
        assert all(words.split().count("right") == 1 for words in forms(line, marked=True).wordings)


def test_where_its_foot_must_be_heard_a_form_without_it_is_worth_less() -> None:
    found = forms("1&2 R shuffle forward", marked=True)
    lost = dict(zip(found.wordings, found.lost, strict=True))
    assert lost["right shuffle"] < lost["shuffle"]
    assert found.wordings[0].startswith("right")


def test_the_foot_that_goes_to_the_side_after_the_other_has_led_is_worth_more_than_some_silence() -> None:
    vine, side, point, again = groups(
        "1-4 Vine R, touch L beside R",
        "5-6 Step L to side, touch R beside L",
        "7-8 Point R to side, hold",
        "9-10 Step R to side, hold",
    )
    assert [swaps_foot(*pair) for pair in ((None, vine), (vine, side), (side, point), (point, again))] == [
        False,
        True,
        True,
        False,
    ]
    found = group_forms(side, thin=False, marked=False, swaps=True)
    assert found.wordings[0] == "left side, touch"
    assert dict(zip(found.wordings, found.lost, strict=True))["side, touch"] == 14
    assert [part.words for part in found.in_parts[0][0]] == ["left side", "touch"]
    # Who has danced it knows.
    thin = group_forms(side, thin=True, marked=False)
    assert group_forms(side, thin=True, marked=False, swaps=True) == thin


def test_a_part_is_said_before_its_own_movement() -> None:
    found = forms("1-2 Step R forward, pivot 1/2 left")
    assert [("step", 0), ("half left", 1)] in [
        [(part.words, part.after) for part in parts] for parts, _ in found.in_parts
    ]


def test_a_line_that_could_not_be_read_is_called_in_its_authors_words() -> None:
    [group] = groups("1-2 Walk R, L")
    own = replace(group, own="wiggle your way round (any way you like) to the back & grin from ear to ear, 1/2 L")
    assert group_forms(own, thin=False, marked=False).wordings == (
        "wiggle your way round to the back",
        "wiggle way round back",
        "wiggle your way",
        "wiggle way",
        "wiggle",
    )


def test_words_that_could_not_be_read_are_spoken_without_abbreviations() -> None:
    [group] = groups("1-2 Walk R, L")
    own = replace(group, own="LF behind RF, RF to the R side")
    found = group_forms(own, thin=False, marked=False).wordings
    assert found[0] == "left foot behind right foot, right foot to the"[: len(found[0])]
    assert "left behind right" in found


@pytest.mark.parametrize(
    ("lines", "called"),
    [
        # A half turn danced on a shuffle, however it is written out.
        (["1&2 Step R to side turning 1/4 R, step L beside R, step R forward turning 1/4 R"], ["shuffle half"]),
        (["1&2 Step R to side, step L beside R, step R forward turning 1/4 R"], ["side shuffle quarter"]),
        (["1-2 Step R to side, cross L behind R", "3-4 Step R to side turning 1/4 R, touch L"], ["vine quarter"]),
        (["1-2 Step R to side, cross L behind R", "3 Step R to side"], ["vine"]),
        (["1&2 Cross R behind L turning 1/4 R, step L beside R, step R forward"], ["sailor quarter"]),
        (["1&2 Cross R behind L turning 1/4 R, step L to side, step R forward"], ["sailor quarter"]),
        (["1-4 Cross R over L, step L back, step R to side turning 1/4 R, step L forward"], ["jazz box quarter"]),
        (["1-2 Step R forward, pivot 1/4 L", "3-4 Step R forward, pivot 1/4 L"], ["step, quarter twice"]),
        (["1-3 Step R forward, pivot 1/4 L, step R forward", "4 Pivot 1/4 L"], ["step, quarter twice"]),
        (["1-2 Split heels, heels together", "3-4 Split heels, heels together"], ["heel split twice"]),
        (["1-2 Touch R back, touch R back"], ["touch back twice"]),
        (["1&2 Cross R behind L, turn 1/4 L stepping L forward, step R forward"], ["behind, quarter step"]),
        (["1-2 Kick R forward, kick R to side"], ["kick, kick side"]),
        (["1& Touch R beside L, step R to side"], ["touch, side"]),
        (
            ["1-2& Rock R forward, recover L, step R beside L", "3-4 Touch L back, step L forward"],
            ["rock forward, and", "touch back, step"],
        ),
        (
            ["1-2 Step R to side, cross L behind R", "&3-4 Step R to side, cross L over R, hold"],
            ["side behind side", "cross hold"],
        ),
        (
            ["1-3 Cross rock R over L, recover L, step R to side", "&4 Step L beside R, step R to side"],
            ["cross rock", "side shuffle"],
        ),
    ],
)
def test_what_the_floor_has_a_name_for_gets_it_however_it_is_written(lines: list[str], called: list[str]) -> None:
    found = [group_forms(group, thin=False, marked=False) for group in groups(*lines)]
    assert [shortest(one).split(", touch")[0] for one in found] == called


def test_a_heading_that_tells_the_steps_keeps_them() -> None:
    lines = ("1-2 Step R to side, cross L behind R", "3-4 Step R to side, touch L")
    found = groups(*lines, heading="Side behind side touch")
    assert shortest(group_forms(found[0], thin=False, marked=False)) == "side behind"


def test_a_full_turn_has_its_name_where_the_heading_has_it() -> None:
    line = "1-2 Turn 1/2 left stepping R back, turn 1/2 left stepping L forward"
    assert shortest(forms(line, heading="Full turn, shuffle")) == "full turn"
    assert "back half left, step half left" in forms(line).wordings


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("1&2 Rock R forward, recover L, step R back", "mambo forward"),
        ("1&2 Rock R back, recover L, step R forward", "mambo back"),
    ],
)
def test_a_mambo_that_ends_a_step_on_is_one_where_the_heading_has_it(line: str, said: str) -> None:
    """ "Rock forward and back" might be three steps of one foot."""
    [group] = groups(line, heading="Walk, walk, mambo, coaster")
    found = group_forms(group, thin=False, marked=False)
    assert shortest(found) == said
    movements = [one.movement for one in group.placed]
    assert [read_back(words, movements, Weight.LEFT) for words in found.wordings] == [""] * len(found.wordings)
    assert shortest(forms(line, heading="Running mambo")).startswith("running mambo")
    assert "mambo" not in shortest(forms(line, heading="Rock and back"))


def test_a_shuffle_that_goes_over_into_the_next_section_is_one_call() -> None:
    lines = ("1-7 Walk R, L, R, L, R, L, R", "8& Step L to side, step R beside L")
    after = ("Section 2: Rock", "1-3 Step L to side, rock R back, recover L")
    found = groups(*lines, *after)
    over = next(group for group in found if group.at == 7)
    assert "side shuffle" in group_forms(over, thin=False, marked=False).wordings
    rest = next(group for group in found if group.at == 9)
    assert shortest(group_forms(rest, thin=False, marked=False)) == "rock back"
    movements = [danced.step.movement for danced in over.wall.movements[over.first : over.last + 1]]
    assert read_back("side shuffle", movements, over.wall.movements[over.first].before.weight) == ""


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("1-2 Rock R to side, recover L turning 1/4 left", "side rock, quarter left"),
        ("1-2 Cross R behind L, turn 1/4 left stepping L forward", "behind, quarter left"),
        ("1-3 Cross R behind L, turn 1/4 left stepping L forward, step R to side", "behind, quarter left, side"),
    ],
)
def test_the_word_of_a_step_that_its_turn_tells_goes_before_the_side_of_the_turn(line: str, said: str) -> None:
    [group] = groups(line)
    found = group_forms(group, thin=False, marked=False)
    lost = dict(zip(found.wordings, found.lost, strict=True))
    assert lost[said] < UNTOLD < lost[shortest(found)]
    movements = [one.movement for one in group.placed]
    assert [read_back(words, movements, Weight.LEFT) for words in found.wordings] == [""] * len(found.wordings)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("1-2 Turn 1/4 left stepping R back, turn 1/4 left stepping L to side", "two quarters left"),
        (
            "1-3 Cross R over L, turn 1/4 right stepping L back, turn 1/4 right stepping R to side",
            "cross, two quarters right",
        ),
        # One way and the other, or how far is not the same: no two of one kind.
        ("1-2 Turn 1/4 left stepping R back, turn 1/4 right stepping L forward", "back quarter step quarter"),
        ("1-2 Turn 1/4 left stepping R back, turn 1/2 left stepping L forward", "back quarter step half"),
    ],
)
def test_two_steps_that_turn_alike_may_be_called_by_their_turns_before_they_go_unsaid(line: str, said: str) -> None:
    [group] = groups(line)
    found = group_forms(group, thin=False, marked=False)
    assert shortest(found) == said
    assert dict(zip(found.wordings, found.lost, strict=True))[said] > UNTOLD
    movements = [one.movement for one in group.placed]
    assert [read_back(words, movements, Weight.LEFT) for words in found.wordings] == [""] * len(found.wordings)
    assert not said.startswith("two") or read_back(said.replace("left", "right"), movements, Weight.LEFT)


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("1/4 R", "quarter right"),
        ("step, 1/2 L", "step, half left"),
        ("turn 3/4, 1/8", "turn three quarters, eighth"),
        ("face 7:30", "face half past seven"),
        ("to 12:00", "to twelve o'clock"),
        ("1&2", "one and two"),
        ("rock & cross", "rock and cross"),
        ("Larry, left", "Larry, left"),
    ],
)
def test_numbers_turns_and_clock_times_are_spoken_in_words(written: str, said: str) -> None:
    assert spoken(written) == said
    assert spoken(said) == said


def test_on_the_count_a_turn_may_leave_its_side_to_the_screen() -> None:
    assert on_count_forms("quarter left") == ("quarter left", "quarter")
    assert on_count_forms("step") == ("step",)
    assert on_count_forms(" ") == ()


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("1-3 Step R to side, cross L behind R, step R to side turning 1/4 right", "side, behind"),
        ("1-3 Step R to side, cross L behind R, step R to side turning 1/4 right", "behind, side quarter right"),
        ("1-2 Step R forward, touch L to side", "step, touch back"),
        ("1&2 R shuffle forward", "lock step"),
        ("1&2 R shuffle forward", "left shuffle"),
        ("1-2 Step R forward, pivot 1/2 left", "step, quarter left"),
        ("1-2 Step R forward, pivot 1/2 left", "step"),
        ("1-2 Step R diagonally forward, step L diagonally forward", "jazz jump back"),
        ("1-2 Rock R forward, recover L", "rock back"),
        ("1-2 Rock R to side, recover L turning 1/4 left", "side rock, quarter right"),
    ],
)
def test_words_that_mean_other_movements_are_found_out_by_reading_them_back(line: str, words: str) -> None:
    [group] = groups(line)
    movements = [danced.step.movement for danced in group.wall.movements]
    assert read_back(words, movements, group.wall.movements[0].before.weight)


def test_whatever_has_words_of_its_own_is_a_figure_and_a_way_of_the_vocabulary() -> None:
    """A row by another name would be passed over in silence. "forward turned" is the forward way with a turn."""
    for name, row in words._table()["figure"].items():
        ways = {key.removesuffix(" turned") for key in set(row) - set(words._RULES)}
        assert ways <= set(shipped().figures[name].ways), name


WORTH = [
    # A recover among other movements is told the first time, whatever else is to go for it.
    (
        "1-3 Rock R to side, recover L, cross R over L",
        {},
        [("side rock, recover, cross", 2), ("side rock, recover cross", 8), ("side rock, cross", 165)],
    ),
    # So is the side that it turns to; a step may be told by its turn alone where no pivot can be meant.
    (
        "1-2 Cross R behind L, step L forward turning 1/4 left",
        {},
        [
            ("behind, step quarter left", 2),
            ("behind step quarter left", 8),
            ("behind, quarter left", 20),
            ("behind step quarter", 208),
            ("behind, quarter", 211),
        ],
    ),
    # Where both turns go one way, the first tells which.
    (
        "1-3 Step R to side turning 1/4 right, step L back turning 1/4 right, hold",
        {},
        [
            ("side quarter right, back quarter right, hold", 0),
            ("side quarter right, back quarter, hold", 9),
            ("two quarters right, hold", 186),
        ],
    ),
    # What begins between two counts begins with "and".
    (
        "&1 Step L to side, cross R over L",
        {"starts": "left"},
        [("and side, cross", 2), ("and side cross", 8), ("side cross", 22)],
    ),
    ("1&2 R shuffle forward", {"marked": True}, [("right shuffle forward", 0), ("right shuffle", 3), ("shuffle", 23)]),
    ("1&2 R shuffle forward", {"thin": True}, [("shuffle", 5)]),
]


@pytest.mark.parametrize(("line", "how", "said"), WORTH, ids=[line for line, _, _ in WORTH])
def test_each_form_is_shorter_than_the_one_before_it_and_loses_more(
    line: str, how: dict[str, Any], said: list[tuple[str, int]]
) -> None:
    found = forms(line, **how)
    assert list(zip(found.wordings, found.lost, strict=True)) == said


def test_within_a_part_words_run_together_though_a_new_count_begins() -> None:
    found = forms("1-3 Step R to side turning 1/4 right, step L back turning 1/4 right, hold")
    assert [("side quarter", 0), ("back quarter hold", 1)] in [
        [(part.words, part.after) for part in parts] for parts, _ in found.in_parts
    ]


def test_a_turn_that_comes_late_in_a_figure_may_be_called_by_itself() -> None:
    found = forms("1-4 Vine right turning 1/4 right, touch L beside R")
    parted = {tuple((part.words, int(part.after)) for part in parts): lost for parts, lost in found.in_parts}
    assert parted[("vine right", 0), ("quarter right", 2), ("touch", 3)] == 15
    assert parted[("vine right quarter right", 0), ("touch", 3)] == 5
    early = forms("1-4 Monterey 1/4 right")
    assert not early.in_parts, "its turn comes on the second count"


def test_the_step_of_a_pivot_goes_rather_than_a_side_that_changes_but_not_where_another_step_comes_after_it() -> None:
    """ "half right, step" would be danced as a turn and one step."""
    [alone] = groups("1-2 Step L forward, pivot 1/2 right")
    [more] = groups("1-3 Step L forward, pivot 1/2 right, step L forward")
    for group, goes in ((alone, True), (more, False)):
        wordings = group_forms(group, thin=False, marked=False, contrary=True).wordings
        assert any(words.startswith("half right") for words in wordings) is goes
        assert not any(
            words.startswith("half right") for words in group_forms(group, thin=False, marked=False).wordings
        )
