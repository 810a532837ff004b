"""A pedal that comes and goes, on ports driven by hand."""

from __future__ import annotations

from caller.rig.pedal import open_pedal, pedal_report
from caller.rig.pedal.port import MISSING, NONE_FOUND, MidiMissing, stable
from caller.rig.pedal.watch import LOOK_SECONDS, MOST_WAITING
from caller.transport.foot import Gesture
from tests.fakes.pedal import DOWN, UP, HandPorts

PEDAL = "Sole MIDI 1"


def _missing() -> HandPorts:
    raise MidiMissing(MISSING)


def test_the_first_port_is_listened_to() -> None:
    ports = HandPorts([PEDAL, "Other"])
    pedal = open_pedal(make=lambda: ports)
    assert pedal.poll(0.0) == ()
    assert pedal.says == f"on {PEDAL}"
    ports.send(PEDAL, DOWN, 1.0)
    ports.send(PEDAL, UP, 1.1)
    assert pedal.poll(1.2) == (Gesture.TAP,)


def test_a_port_asked_for_by_a_part_of_its_name_is_taken() -> None:
    ports = HandPorts(["Other", PEDAL])
    pedal = open_pedal("sole", make=lambda: ports)
    pedal.poll(0.0)
    assert pedal.says == f"on {PEDAL}"


def test_one_that_is_not_there_is_named_in_the_sentence() -> None:
    pedal = open_pedal("heel", make=lambda: HandPorts([PEDAL]))
    pedal.poll(0.0)
    assert "'heel'" in pedal.says


def test_a_pedal_plugged_in_later_is_found_and_the_system_is_not_asked_at_every_look() -> None:
    ports = HandPorts()
    pedal = open_pedal(make=lambda: ports)
    for n in range(20):
        pedal.poll(n * 0.05)
    assert (pedal.says, ports.asked) == (NONE_FOUND, 1)
    ports.plugged.append(PEDAL)
    pedal.poll(LOOK_SECONDS)
    assert pedal.says == f"on {PEDAL}"


def test_one_that_goes_while_held_lets_go_and_is_found_again() -> None:
    ports = HandPorts([PEDAL])
    pedal = open_pedal(make=lambda: ports)
    pedal.poll(0.0)
    ports.send(PEDAL, DOWN, 0.1)
    assert pedal.poll(1.0) == (Gesture.HOLD,)
    ports.plugged.clear()
    assert pedal.poll(2.0) == (Gesture.RELEASE,)
    assert pedal.says.startswith("none: ")
    ports.plugged.append(PEDAL)
    pedal.poll(4.0)
    assert pedal.says == f"on {PEDAL}"


def test_one_held_by_another_program_is_said_and_tried_again() -> None:
    ports = HandPorts([PEDAL], held={PEDAL})
    pedal = open_pedal(make=lambda: ports)
    pedal.poll(0.0)
    assert "another program" in pedal.says
    ports.held.clear()
    pedal.poll(LOOK_SECONDS)
    assert pedal.says == f"on {PEDAL}"


def test_a_flood_costs_no_memory_and_no_tap_that_follows_it() -> None:
    ports = HandPorts([PEDAL])
    pedal = open_pedal(make=lambda: ports)
    pedal.poll(0.0)
    for n in range(3 * MOST_WAITING):
        ports.send(PEDAL, b"\xf8", n * 1e-5)
    ports.send(PEDAL, DOWN, 1.0)
    ports.send(PEDAL, UP, 1.1)
    assert len(ports.inboxes[PEDAL]) <= MOST_WAITING
    assert pedal.poll(1.2) == (Gesture.TAP,)


def test_no_midi_at_all_is_said_once_and_everything_else_works() -> None:
    pedal = open_pedal(make=_missing)
    assert pedal.poll(0.0) == ()
    assert pedal.says == MISSING
    assert pedal_report(_missing).ports == ()
    pedal.close()


def test_a_pedal_that_is_not_wanted_asks_for_no_port() -> None:
    pedal = open_pedal("none", make=_missing)
    assert pedal.says == "off, as asked"


def test_the_numbers_that_alsa_puts_behind_a_name_are_not_part_of_it() -> None:
    assert stable("Sole MIDI:Sole MIDI MIDI 1 24:0") == "Sole MIDI:Sole MIDI MIDI 1"
    assert stable("Sole MIDI 1") == "Sole MIDI 1"


def test_closing_lets_go_of_the_port_and_may_be_done_twice() -> None:
    ports = HandPorts([PEDAL])
    pedal = open_pedal(make=lambda: ports)
    pedal.poll(0.0)
    pedal.close()
    pedal.close()
    assert ports.closed
    assert not ports.inboxes
