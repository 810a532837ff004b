"""How long a programme takes, against the whole of it put into one score; and the recap."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.calls.guessed import LETTERS_A_SECOND, SENTENCE_SECONDS, said_seconds
from caller.calls.plan import Utterance
from caller.sound.score import RATE
from caller.teaching.drill import drill_of
from caller.teaching.floors import Floors
from caller.teaching.minutes import dance_seconds, stage_seconds
from caller.teaching.play import in_turn, pieces
from caller.teaching.recap import RECAP_SECONDS, recap_of
from caller.teaching.stage import LessonPlan, StageKind
from caller.teaching.walkthrough import walkthrough_of
from tests.fakes.lexicon import MeasuredVoice
from tests.takehome.packets import shipped_dance

ROUTINES = ("lantern-row", "chalk-line", "slow-water", "tin-roof-swing")


class Talking(MeasuredVoice):
    """A voice that speaks as fast as is taken for granted."""

    def _measured(self, words: str, speed: float) -> Utterance:
        frames = round((len(words) / LETTERS_A_SECOND + SENTENCE_SECONDS) / Fraction(speed) * RATE)
        return self.said.setdefault((words, speed), Utterance(words, speed, frames, min(1_000, frames)))


# As espeak-ng says them at 175 words a minute, its silences cut off; measured.
SECONDS_SAID = {
    "section one, eight counts: walk right, walk left, shuffle forward": 4.37,
    "facing nine o'clock, left foot free": 2.17,
    "right shuffle forward": 1.19,
    "step half left": 1.02,
    "walk": 0.38,
}


def test_words_are_guessed_to_take_rather_too_long_than_too_short_by_a_fifth_at_most() -> None:
    heard = sum(SECONDS_SAID.values())
    assert heard < sum(map(said_seconds, SECONDS_SAID)) < 1.2 * heard


def heard_seconds(programme: LessonPlan, floors: Floors) -> float:
    voice = Talking()
    tape, _ = in_turn(list(pieces(programme, floors, voice, voice.clip, most_goes=1)))
    return tape.frames / RATE


@pytest.mark.parametrize("name", ROUTINES)
def test_the_minutes_of_a_walkthrough_are_those_that_are_heard(name: str) -> None:
    """Against the score that the take-home recording is rendered from; real voices differ by their own pace. Calls
    before a count-in may have counts of their own, which are not reckoned with."""
    dance = shipped_dance(name)
    programme, floors = walkthrough_of(dance), Floors.of(dance)
    worked_out = float(sum(stage_seconds(programme, floors)))
    assert worked_out == pytest.approx(
        heard_seconds(programme, floors), rel=0.03
    )  # calls before a count-in may have counts of their own


def test_what_is_danced_takes_its_counts_and_its_count_ins() -> None:
    dance = shipped_dance("chalk-line")
    floors = Floors.of(dance)
    drill = drill_of(dance, (Fraction(0), Fraction(16)), "Both", tempo=Fraction(120), speed=Fraction(1), times=3)
    (seconds,) = stage_seconds(drill, floors)
    said = floors.said_first(drill.stages[0])
    said += ("again, right foot.",) * 2
    told = Fraction(sum(map(len, said)), LETTERS_A_SECOND) + len(said) * (SENTENCE_SECONDS + Fraction(2, 5))
    assert seconds - told == (4 + 16 + 4 + 16 + 4 + 16) / Fraction(2)
    assert dance_seconds(dance, Fraction(120), 8) == 12


@pytest.mark.parametrize("name", ROUTINES)
def test_a_recap_goes_over_every_section_once_in_five_minutes(name: str) -> None:
    dance = shipped_dance(name)
    recap, floors = recap_of(dance), Floors.of(dance)
    assert sum(stage_seconds(recap, floors)) <= RECAP_SECONDS
    danced = [own for stage in recap.stages if stage.kind is StageKind.WORDS for own in stage.sections]
    assert danced == list(dict.fromkeys(own for stage in recap.stages for own in stage.sections))
    assert [stage.times for stage in recap.stages if stage.danced] == [1] * sum(s.danced for s in recap.stages)
    assert recap.stages[0].said[0] == f"{recap.title}, gone over once."
    assert recap.way == "drill"


def test_a_recap_with_more_time_than_usual_goes_over_it_twice() -> None:
    recap = recap_of(shipped_dance("chalk-line"), seconds=2 * RECAP_SECONDS)
    assert {stage.times for stage in recap.stages if stage.danced} == {2}
    assert recap.stages[0].said[0] == f"{recap.title}, gone over twice."
    assert sum(stage_seconds(recap, Floors.of(shipped_dance("chalk-line")))) <= 2 * RECAP_SECONDS


def test_a_recap_of_little_time_is_the_wall_alone() -> None:
    recap = recap_of(shipped_dance("lantern-row"), seconds=1)
    assert [stage.kind for stage in recap.stages] == [StageKind.WALL]


def test_a_recap_keeps_the_tag_and_the_restart() -> None:
    names = [stage.name for stage in recap_of(shipped_dance("lantern-row")).stages]
    assert any("Tag in wall" in name for name in names)
    assert any("restart in wall" in name for name in names)


@pytest.mark.parametrize("name", ROUTINES)
def test_a_recap_begins_with_how_all_are_to_stand(name: str) -> None:
    dance = shipped_dance(name)
    recap = recap_of(dance)
    assert not recap.stages[0].brief
    said = Floors.of(dance).said_first(recap.stages[0])
    assert any(words.startswith("facing ") for words in (said[0], said[-1]))
