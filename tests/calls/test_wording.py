"""Words as they are spoken."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.calls import wording
from caller.calls.plan import UNTOLD
from caller.routine.facing import Facing
from caller.routine.meter import Meter

FOUR_FOUR, WALTZ = Meter(4, 4), Meter(3, 4)


def test_facings_are_told_as_times_of_day() -> None:
    assert [wording.spoken_facing(Facing(eighths)) for eighths in range(8)] == [
        "twelve o'clock",
        "half past one",
        "three o'clock",
        "half past four",
        "six o'clock",
        "half past seven",
        "nine o'clock",
        "half past ten",
    ]


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (0, "zero"),
        (8, "eight"),
        (13, "thirteen"),
        (40, "forty"),
        (64, "sixty-four"),
        (121, "one hundred and twenty-one"),
    ],
)
def test_numbers_are_told_in_words(number: int, words: str) -> None:
    assert wording.spoken_number(number) == words


@given(st.one_of(st.integers(max_value=-1), st.integers(min_value=1000)))
def test_numbers_out_of_reach_are_refused(number: int) -> None:
    with pytest.raises(ValueError, match=str(number)):
        wording.spoken_number(number)


@given(st.integers(0, 999))
def test_nothing_is_spoken_in_figures(number: int) -> None:
    assert re.fullmatch(r"[a-z]+([ -][a-z]+)*", wording.spoken_number(number))


@pytest.mark.parametrize(
    ("meter", "numbers"),
    [
        (FOUR_FOUR, [1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3, 4]),
        (WALTZ, [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]),
        (Meter(6, 8), [1, 2, 3, 4, 5, 6, 1, 2, 3, 4, 5, 6]),
        (Meter(2, 4), [1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3, 4]),
    ],
)
def test_counts_are_numbered_as_sheets_have_them(meter: Meter, numbers: list[int]) -> None:
    # Common practice: eights in two and four time, sections of twelve in three time.
    assert [wording.number_of(place, meter) for place in range(12)] == numbers


@pytest.mark.parametrize(
    ("meter", "numbers"), [(FOUR_FOUR, (5, 6, 7, 8)), (WALTZ, (4, 5, 6)), (Meter(6, 8), (4, 5, 6))]
)
def test_the_count_in_ends_on_the_last_numbers(meter: Meter, numbers: tuple[int, ...]) -> None:
    assert wording.counted_in(meter) == numbers


@pytest.mark.parametrize(
    ("label", "place", "word"),
    [("3", Fraction(2), "three"), ("3&", Fraction(5, 2), "and"), ("4a", Fraction(15, 4), "uh")],
)
def test_parts_of_a_count_have_their_words(label: str, place: Fraction, word: str) -> None:
    assert wording.spoken_count(label, place, FOUR_FOUR) == word


def test_a_wall_is_announced_by_number_and_facing() -> None:
    assert wording.wall_wordings(3, "", Facing(2)) == ("wall three, three o'clock", "wall three")


def test_the_last_wall_is_told() -> None:
    assert wording.wall_wordings(10, "", Facing(6), last=True) == (
        "wall ten, last wall, nine o'clock",
        "last wall, nine o'clock",
        "last wall",
    )
    assert wording.wall_wordings(9, "B", Facing(0), last=True) == ("part B, twelve o'clock", "part B")


def test_a_part_is_announced_by_its_letter() -> None:
    assert wording.wall_wordings(3, "B", Facing(5)) == ("part B, half past seven", "part B")


@pytest.mark.parametrize(
    ("name", "said"), [("", "tag"), ("Tag", "tag"), ("B", "tag B"), ("Tag B", "tag B"), ("tag B", "tag B")]
)
def test_a_tag_is_called_by_its_name(name: str, said: str) -> None:
    told = [words for words, _ in wording.ahead_wordings(("tag",), "wall", name, Facing(4), "four sways")]
    assert told[:2] == [f"{said} after this wall, facing six o'clock{steps}" for steps in (", four sways", "")]
    assert told[2:4] == [f"{said} after this wall, four sways", f"{said} after this wall"]
    assert told[4:] == [f"{said} coming, facing six o'clock", f"{said} coming"]


def test_two_events_at_one_place_are_one_notice() -> None:
    assert wording.ahead_wordings(("change", "restart"), "", "", Facing(2), "box")[-2:] == (
        ("change and restart coming", 42),
        ("change coming", UNTOLD + 60),
    )


def test_at_its_place_an_event_has_one_word() -> None:
    assert [wording.now_words(kind, "B") for kind in ("tag", "restart", "change", "ending")] == [
        "tag B",
        "restart",
        "change",
        "ending",
    ]


@pytest.mark.parametrize("kind", ["tag", "restart", "change", "ending"])
@pytest.mark.parametrize("place", ["wall", "section", ""])
def test_wordings_run_from_fullest_to_shortest(kind: str, place: str) -> None:
    wordings = wording.ahead_wordings((kind,), place, "", Facing(2), "rocking chair")
    lost = [less for _, less in wordings]
    assert lost == sorted(lost)
    assert wordings[0][0] == max((words for words, _ in wordings), key=len)
    assert wordings[-1][0] == min((words for words, _ in wordings), key=len)
    assert wordings[-1][0] in (f"{kind} coming", "step change coming up")
