"""MIDI bytes to edges, beside the standard and beside mido, which reads the same messages."""

from __future__ import annotations

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.transport.switch import Edge, Kind, Setting, Switch, edge_of


@pytest.mark.parametrize("value", range(128))
def test_a_controller_is_down_from_64_up(value: int) -> None:
    """MIDI 1.0 Detailed Specification, Table 3: controller 64, 0 to 63 off, 64 to 127 on (seen in charts)."""
    assert edge_of(bytes((0xB0, 64, value))) == Edge(Switch(Kind.CONTROL, 64), value >= 64)


def edge_by_mido(message: mido.Message) -> Edge | None:
    """The same, from mido's names of things."""
    match message.type:
        case "note_on" | "note_off":
            return Edge(Switch(Kind.NOTE, message.note), message.type == "note_on" and message.velocity > 0)
        case "control_change":
            return Edge(Switch(Kind.CONTROL, message.control), message.value > 63)
        case "program_change":
            return Edge(Switch(Kind.PROGRAM, message.program), True)
        case _:
            return None


@given(st.one_of(st.binary(max_size=4), st.tuples(st.integers(128, 255), *[st.integers(0, 127)] * 2).map(bytes)))
def test_any_bytes_are_read_as_mido_reads_them(sent: bytes) -> None:
    try:
        message = mido.Message.from_bytes(sent)
    except (ValueError, IndexError):  # no message
        message = None
    assert edge_of(sent) == (edge_by_mido(message) if message else None)


def test_only_the_switches_of_the_setting_are_heard() -> None:
    setting = Setting((Switch(Kind.CONTROL, 80), Switch(Kind.NOTE)))
    assert setting.edge(bytes((0xB5, 80, 127))) == Edge(Switch(Kind.CONTROL, 80), True)
    assert setting.edge(bytes((0x90, 3, 1))) == Edge(Switch(Kind.NOTE, 3), True)
    assert setting.edge(bytes((0xB5, 64, 127))) is None
    assert setting.edge(bytes((0xC0, 80))) is None


def test_an_inverted_pedal_is_down_when_it_says_up() -> None:
    setting = Setting(inverted=True)
    assert setting.edge(bytes((0xB0, 64, 0))) == Edge(Switch(Kind.CONTROL, 64), True)
    assert setting.edge(bytes((0xB0, 64, 127))) == Edge(Switch(Kind.CONTROL, 64), False)
