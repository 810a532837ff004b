"""What was learnt of pedals, kept between runs."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.rig.pedal import keep_settings, kept_settings
from caller.transport.expression import LEAST_TRAVEL, Expression
from caller.transport.switch import Setting, Switch, SwitchKind
from caller.transport.unit import Unit

# A row that is right but for its end.
ROW = '{"switches": [{"kind": "note", "number": 1}], "latching": null, "inverted": false'

switches = st.builds(Switch, st.sampled_from(SwitchKind), st.none() | st.integers(0, 127))
settings = st.builds(
    Setting, st.lists(switches, min_size=1, max_size=3).map(tuple), st.none() | st.booleans(), st.booleans()
)
values = st.integers(0, 127)
levers = st.tuples(values, values, values).filter(lambda ends: abs(ends[1] - ends[2]) >= LEAST_TRAVEL)
units = st.builds(Unit, settings, st.none() | settings, st.none() | levers.map(lambda ends: Expression(*ends)))


@given(st.dictionaries(st.text(max_size=12), units, max_size=3))
def test_what_is_kept_is_read_again(tmp_path_factory: pytest.TempPathFactory, kept: dict[str, Unit]) -> None:
    file = tmp_path_factory.mktemp("kept") / "not" / "there" / "pedals.json"
    keep_settings(file, kept)
    assert kept_settings(file) == (kept, "")


def test_the_file_is_as_documented(tmp_path: Path) -> None:
    file = tmp_path / "pedals.json"
    first, second = (Setting((Switch(SwitchKind.CONTROL, number),), latching=False) for number in (80, 81))
    keep_settings(file, {"Sole MIDI 1": Unit(first, second, Expression(11, 0, 127)), "Heel 1": Unit(first, None)})
    row = {"switches": [{"kind": "control", "number": 80}], "latching": False, "inverted": False}
    other = {**row, "switches": [{"kind": "control", "number": 81}]}
    lever = {"number": 11, "heel": 0, "toe": 127}
    written = {"Sole MIDI 1": {**row, "second": other, "expression": lever}, "Heel 1": row}
    assert json.loads(file.read_text("utf-8")) == written
    assert [path.name for path in tmp_path.iterdir()] == ["pedals.json"]


def test_before_anything_was_learnt_nothing_is_said(tmp_path: Path) -> None:
    assert kept_settings(tmp_path / "pedals.json") == ({}, "")


@pytest.mark.parametrize(
    "spoilt",
    [
        "",
        "{",
        "[]",
        "7",
        '{"Sole": 3}',
        '{"Sole": {}}',
        '{"Sole": {"switches": [], "latching": null, "inverted": false}}',
        '{"Sole": {"switches": [{"kind": "wheel", "number": 1}], "latching": null, "inverted": false}}',
        '{"Sole": {"switches": [{"kind": "note", "number": 128}], "latching": null, "inverted": false}}',
        '{"Sole": {"switches": [{"kind": "note", "number": 1}], "latching": 1, "inverted": false}}',
        '{"Sole": {"switches": [{"kind": "note", "number": 1}], "latching": null, "inverted": "no"}}',
        f'{{"Sole": {ROW}, "second": []}}}}',
        f'{{"Sole": {ROW}, "second": {{"switches": []}}}}}}',
        f'{{"Sole": {ROW}, "expression": {{"number": 11, "heel": 0}}}}}}',
        f'{{"Sole": {ROW}, "expression": {{"number": 11, "heel": 0, "toe": 20}}}}}}',
        f'{{"Sole": {ROW}, "expression": {{"number": 11, "heel": 0, "toe": true}}}}}}',
        f'{{"Sole": {ROW}, "expression": 11}}}}',
    ],
)
def test_a_spoilt_file_is_said_and_learnt_anew(tmp_path: Path, spoilt: str) -> None:
    file = tmp_path / "pedals.json"
    file.write_text(spoilt, "utf-8")
    kept, says = kept_settings(file)
    assert kept == {}
    assert says == f"What was learnt of pedals can't be read ({file}): teach yours again with 'caller pedal'."


def test_a_file_that_is_no_text_or_no_file_is_said(tmp_path: Path) -> None:
    (tmp_path / "pedals.json").write_bytes(b"\xff\xfe\x00")
    assert kept_settings(tmp_path / "pedals.json")[1]
    assert kept_settings(tmp_path)[1]
