"""What is shortened and left out, in a teacher's words."""

from __future__ import annotations

from fractions import Fraction

from caller.calls.account import account
from caller.calls.plan import Fading, Manner
from tests.calls.takes import take_of
from tests.fakes.dances import SWAYS, WALKS, dance_of
from tests.fakes.lexicon import MeasuredVoice


def told(tempo: int, manner: Manner = Manner.AHEAD, stretch: float = 1.0, walls: int = 4) -> tuple[str, ...]:
    voice = MeasuredVoice(stretch=stretch)
    return account(
        take_of(dance_of(walls, (WALKS,), tags={2: SWAYS}), tempo, manner, voice=voice, fading=Fading.ALL), voice
    )


def test_at_an_easy_tempo_nothing_gives_way() -> None:
    assert told(30) == ()


def test_a_shortened_call_tells_its_full_words_its_walls_and_the_time_there_is() -> None:
    sentence = next(one for one in told(120) if one.startswith('shortened: "triple back"'))
    assert sentence.startswith('shortened: "triple back" for "left triple back" (wall')
    # Four groups of vowels at 0.18 s and 0.12 s more.
    assert "that takes 0.8 s and a breath on each side, and " in sentence


def test_a_step_that_is_not_called_tells_why() -> None:
    lines = told(220, stretch=3.0)
    assert any(line.startswith("not called:") for line in lines)


def test_each_thing_is_told_once_with_all_its_walls() -> None:
    lines = told(90, stretch=2.0)
    assert len(lines) == len(set(lines))
    assert any("walls 1 to" in line for line in lines)


def test_a_count_in_that_is_too_quick_to_be_said_is_told_once() -> None:
    assert [line for line in told(260) if "count-in" in line] == [
        "no count-in is said: the beat is too quick for the numbers, and a count-in that breaks off is worse than none"
    ]


def test_quiet_has_nothing_to_tell() -> None:
    assert told(200, Manner.QUIET) == ()


def test_the_time_of_a_call_is_what_lies_between_those_round_it() -> None:
    voice = MeasuredVoice()
    take = take_of(dance_of(2, (WALKS,)), Fraction(120), voice=voice)
    call = next(c for c in take.plan.calls if c.utterance.words == "triple back")
    index = take.plan.calls.index(call)
    room = (take.plan.calls[index + 1].starts - take.plan.calls[index - 1].ends) / 48_000
    assert f"and {room:.1f} s lie between" in next(s for s in account(take, voice) if 'shortened: "triple back"' in s)
