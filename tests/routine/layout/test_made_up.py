"""Sheets put together at random are read as what they are put together from."""

from __future__ import annotations

from hypothesis import given, settings

from caller.dance.check import check
from caller.routine.facing import Facing
from caller.routine.findings import Severity
from caller.routine.notation.read import read_sheet
from tests.routine.layout.made_up import MadeUp, sheets


@settings(max_examples=60)
@given(sheets())
def test_every_wording_is_read_in_every_layout(made: MadeUp) -> None:
    sheet = read_sheet(made.text)
    assert [f for f in check(sheet) if f.severity is Severity.ERROR or f.code == "unread"] == [], made.text
    facing = Facing()
    for section, feet, ends in zip(sheet.routine.sections, made.feet, made.ends, strict=True):
        steps = [step for step in section.passage.steps if step.movement.action != "hold"]
        assert [step.movement.foot.value for step in steps if step.movement.foot] == [foot for _, foot in feet], (
            made.text
        )
        for step in steps:
            facing = facing + step.movement.turn
        assert str(facing) == f"{ends}:00", made.text
