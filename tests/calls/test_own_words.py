"""A teacher's own words over the whole vocabulary: each figure and way is called by them, and by no more."""

from __future__ import annotations

import pytest

from caller.calls.words import FOOT, figure_words, in_own_words
from caller.routine.facing import NO_TURN, Turn
from caller.routine.meter import Meter
from caller.routine.named_figures import FigureCalled
from caller.routine.step import Foot
from caller.routine.vocabulary import read_vocabulary, shipped, shipped_text


@pytest.mark.parametrize("name", sorted(shipped().figures))
def test_every_way_of_a_figure_is_called_by_the_words_that_are_kept(name: str) -> None:
    own = read_vocabulary([shipped_text(), f'[[say]]\nname = "{name}"\nwords = "zigamaree"\n'])
    figure = own.figures[name]
    for way in figure.ways:
        for meter in (Meter(), Meter(3)):
            usual = figure_words(FigureCalled(name, way, Foot.RIGHT, NO_TURN, named=True), "", meter, "")
            for turn in (NO_TURN, Turn(2)):
                called = FigureCalled(name, way, Foot.RIGHT, turn)
                words = figure_words(called, "", meter, "", own.own_words)
                assert all("zigamaree" in one for one in words)
                assert all(one.count("zigamaree") == one.count(FOOT) == 1 for one in words)
                assert words or not usual  # but where the name means another thing in that meter
    others = {one.figure for one in own.own_words} - {name}
    for other in others:  # the same movements by another name
        shapes = [[(m.verb.reads, m.leading, m.where, m.turn) for m in ms] for ms in own.figures[name].ways.values()]
        ways = [one.way for one in own.own_words if one.figure == other]
        for way in ways:
            assert [(m.verb.reads, m.leading, m.where, m.turn) for m in own.figures[other].ways[way]] in shapes


def test_a_text_is_told_in_them_once_and_the_longest_name_goes_first() -> None:
    text = '[[say]]\nname = "chasse"\nwords = "side shuffle"\n[[say]]\nname = "shuffle"\nwords = "triple"\n'
    own = read_vocabulary([shipped_text(), text]).own_words
    assert in_own_words("Chasse right, shuffle forward", own) == "side shuffle right, triple forward"
    assert in_own_words("two side shuffles and a big cha cha cha", own) == "two side shuffle and a big triple"
    assert in_own_words("reshuffled chasses", own) == "reshuffled side shuffle"
    assert in_own_words("Chasse right", ()) == "Chasse right"
