"""MIDI bytes to edges, beside the standard and beside mido, which reads the same messages."""

from __future__ import annotations

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.transport.switch import Edge, Setting, Switch, SwitchKind, edge_of


@pytest.mark.parametrize("value", range(128))
def test_a_controller_is_down_from_64_up(value: int) -> None:
    """MIDI 1.0 Detailed Specification, Table 3: controller 64, 0 to 63 off, 64 to 127 on (seen in charts)."""
    assert edge_of(bytes((0xB0, 64, value))) == Edge(Switch(SwitchKind.CONTROL, 64), value >= 64)


@pytest.mark.parametrize(
    "sent", ["40 7f", "00", "40 40 40", "7f", "f8", "fe", "f7", "b0 40", "b0 40 7f 00", "b0 40 80"]
)
def test_what_does_not_begin_with_a_status_or_is_not_whole_is_nothing(sent: str) -> None:
    """MIDI 1.0 Detailed Specification, section 2: a status byte has its highest bit set and data bytes have not; under
    running status it is left out, which the system undoes before a message comes here; real-time messages (F8, FE) may
    stand anywhere and are a byte long."""
    assert edge_of(bytes.fromhex(sent)) is None


def test_a_note_on_of_velocity_0_is_a_note_off() -> None:
    """MIDI 1.0 Detailed Specification, section 3, note-on: so that running status can be kept up."""
    assert (
        edge_of(bytes.fromhex("90 3c 00"))
        == edge_of(bytes.fromhex("80 3c 40"))
        == Edge(Switch(SwitchKind.NOTE, 60), False)
    )


def edge_by_mido(message: mido.Message) -> Edge | None:
    """The same, from mido's names of things."""
    match message.type:
        case "note_on" | "note_off":
            return Edge(Switch(SwitchKind.NOTE, message.note), message.type == "note_on" and message.velocity > 0)
        case "control_change":
            return Edge(Switch(SwitchKind.CONTROL, message.control), message.value > 63)
        case "program_change":
            return Edge(Switch(SwitchKind.PROGRAM, message.program), True)
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
    setting = Setting((Switch(SwitchKind.CONTROL, 80), Switch(SwitchKind.NOTE)))
    assert setting.edge(bytes((0xB5, 80, 127))) == Edge(Switch(SwitchKind.CONTROL, 80), True)
    assert setting.edge(bytes((0x90, 3, 1))) == Edge(Switch(SwitchKind.NOTE, 3), True)
    assert setting.edge(bytes((0xB5, 64, 127))) is None
    assert setting.edge(bytes((0xC0, 80))) is None


def test_an_inverted_pedal_is_down_when_it_says_up() -> None:
    setting = Setting(inverted=True)
    assert setting.edge(bytes((0xB0, 64, 0))) == Edge(Switch(SwitchKind.CONTROL, 64), True)
    assert setting.edge(bytes((0xB0, 64, 127))) == Edge(Switch(SwitchKind.CONTROL, 64), False)
