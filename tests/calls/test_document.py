"""The call plan as JSON."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest

from caller.calls.document import calls_document
from caller.calls.plan import Manner
from tests.calls.takes import RATE, take_of
from tests.fakes.dances import SWAYS, dance_of

TAKE = take_of(dance_of(2, tags={1: SWAYS}), 120)


def test_the_document_has_the_fields_of_the_contract_and_is_json() -> None:
    document = json.loads(json.dumps(calls_document(TAKE, 150)))
    assert set(document) == {"tempo", "manner", "margin_seconds", "highest_tempo", "calls", "announcements", "dropped"}
    assert {tuple(call) for call in document["calls"]} == {
        ("wall", "count", "kind", "words", "full_words", "starts", "ends", "due", "speed")
    }
    dropped = calls_document(take_of(dance_of(2), 260), None)["dropped"]
    assert {tuple(drop) for drop in dropped} == {("wall", "count", "kind", "words", "why")}
    assert (document["tempo"], document["manner"], document["margin_seconds"]) == (120, "ahead", 0.15)


@pytest.mark.parametrize("highest", [150, None])
def test_the_highest_tempo_is_told(highest: int | None) -> None:
    assert json.loads(json.dumps(calls_document(TAKE, highest)))["highest_tempo"] == highest


def test_times_count_from_the_first_step() -> None:
    calls = calls_document(TAKE, 150)["calls"]
    assert (calls[0]["kind"], calls[0]["due"]) == ("step", -2.5)  # a count before the count-in
    assert (calls[1]["words"], calls[1]["due"]) == ("five", -2.0)  # four counts of half a second before the first step
    assert [call["due"] for call in calls if call["kind"] == "step"][1:4] == [1.0, 2.0, 3.0]


def test_times_of_a_drill_still_count_from_the_first_step_of_the_dance() -> None:
    drill = calls_document(take_of(dance_of(2), 120, start=8), None)
    called = [call["due"] for call in drill["calls"] if call["kind"] == "step"]
    assert called[:2] == [4.0 - 2.5, 4.0 + 1.0]  # the first is called before the count-in


def test_announcements_stand_apart_with_their_moments() -> None:
    document = calls_document(TAKE, 150)
    [tag] = [one for one in document["announcements"] if one["kind"] == "tag"]
    assert (tag["wall"], tag["comes"]) == (1, 8.0)
    said = [call for call in document["calls"] if call["kind"] == "tag"]
    assert tag["notices"] == [{"words": call["words"], "starts": call["starts"]} for call in said]
    assert len(said) == 2


def test_each_call_is_over_its_margin_before_it_is_due() -> None:
    document = calls_document(TAKE, 150)
    ahead = [call for call in document["calls"] if call["kind"] not in ("count", "count-in")]
    assert ahead
    assert all(call["ends"] + document["margin_seconds"] <= call["due"] + 1 / RATE for call in ahead)


@pytest.mark.parametrize(("tempo", "told"), [(Fraction(208, 2), 104), (Fraction(207, 2), 103.5)])
def test_a_tempo_is_whole_where_it_can_be(tempo: Fraction, told: float) -> None:
    assert json.dumps(calls_document(take_of(dance_of(1), tempo, Manner.QUIET), 260)["tempo"]) == json.dumps(told)
