"""A pedal that comes and goes, on ports driven by hand."""

from __future__ import annotations

import os
from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.rig.pedal import open_pedal, pedal_report
from caller.rig.pedal.port import (
    MISSING,
    NO_SYSTEM,
    NONE_FOUND,
    MidiMissing,
    quiet_stderr,
    stable,
    told_apart,
)
from caller.rig.pedal.watch import LOOK_SECONDS, OFF, MidiPedal, chosen
from caller.transport.expression import Expression, Lean, Limits
from caller.transport.foot import Gesture
from caller.transport.switch import Setting, Switch, SwitchKind
from caller.transport.unit import Stroke, Unit
from tests.fakes.pedal import DOWN, UP, HandPorts

PEDAL = "Sole MIDI 1"
C80_DOWN, C80_UP = bytes((0xB0, 80, 127)), bytes((0xB0, 80, 0))
C80 = Unit(Setting((Switch(SwitchKind.CONTROL, 80),), latching=False), None)
TAP, HOLD, RELEASE = Stroke(Gesture.TAP), Stroke(Gesture.HOLD), Stroke(Gesture.RELEASE)
LONG_HOLD, LONG_RELEASE = Stroke(Gesture.LONG_HOLD), Stroke(Gesture.LONG_RELEASE)


def missing(sentence: str = MISSING, for_good: bool = True) -> HandPorts:
    raise MidiMissing(sentence, for_good)


def on(ports: HandPorts, wish: str = "", settings: dict[str, Unit] | None = None) -> MidiPedal:
    """A pedal that has looked once, at 0 s."""
    pedal = open_pedal(wish, lambda: ports, settings)
    assert pedal.poll(0.0) == ()
    return pedal


def test_the_port_that_is_there_is_listened_to() -> None:
    ports = HandPorts([PEDAL])
    pedal = on(ports)
    assert (pedal.says, pedal.name) == (f"on {PEDAL}", PEDAL)
    ports.send(PEDAL, DOWN, 1.0)
    ports.send(PEDAL, UP, 1.1)
    assert pedal.poll(1.2) == (TAP,)


def test_a_press_is_timed_when_it_comes_and_not_when_it_is_looked_at() -> None:
    """A screen that stalls for a second makes no hold of a tap, and no tap of a hold."""
    ports = HandPorts([PEDAL])
    pedal = on(ports)
    for message, came in ((DOWN, 0.2), (UP, 0.3), (DOWN, 1.0), (UP, 1.5)):
        ports.send(PEDAL, message, came)
    assert pedal.poll(1.7) == (TAP, HOLD, RELEASE)


def test_a_hold_is_told_while_it_lasts() -> None:
    ports = HandPorts([PEDAL])
    pedal = on(ports)
    ports.send(PEDAL, DOWN, 0.1)
    told = [(look, gesture) for look in (0.2, 0.4, 0.45, 0.5, 1.0) for gesture in pedal.poll(look)]
    assert told == [(0.45, HOLD)]
    assert pedal.down
    ports.send(PEDAL, UP, 1.2)
    assert pedal.poll(1.25) == (RELEASE,)


@pytest.mark.parametrize(
    ("names", "wish", "name"),
    [
        (["Keys", "Drums"], "", "Keys"),
        (["Keys", "USB Foot Switch"], "", "USB Foot Switch"),
        (["Keys", "Sole Pedal", "Other Pedal"], "", "Sole Pedal"),
        (["Keys", "Sole Pedal"], "keys", "Keys"),
        (["Sole 2", "Sole"], "sole", "Sole"),
        (["Sole 2", "Sole 3"], "SOLE", "Sole 2"),
        (["Keys"], "heel", ""),
        ([], "", ""),
    ],
)
def test_the_best_of_several_ports_is_chosen(names: Sequence[str], wish: str, name: str) -> None:
    assert chosen(names, wish) == name


def test_one_that_is_not_there_is_named_in_the_sentence_with_what_is() -> None:
    assert on(HandPorts([PEDAL]), "heel").says == f"none called 'heel' is found; there is {PEDAL}"
    assert on(HandPorts(), "heel").says == "none called 'heel' is found; plug it in, or use Space or Page Down"


def test_a_pedal_plugged_in_later_is_found_and_the_system_is_not_asked_at_every_look() -> None:
    ports = HandPorts()
    pedal = on(ports)
    for n in range(10):
        pedal.poll(n * 0.05)
    assert (pedal.says, ports.asked) == (NONE_FOUND, 1)
    ports.plugged.append(PEDAL)
    pedal.poll(LOOK_SECONDS)
    assert pedal.says == f"on {PEDAL}"


def test_one_that_goes_while_held_lets_go_and_is_found_again() -> None:
    ports = HandPorts([PEDAL])
    pedal = on(ports)
    ports.send(PEDAL, DOWN, 0.1)
    assert pedal.poll(1.0) == (HOLD,)
    ports.plugged.clear()
    assert pedal.poll(2.0) == (LONG_RELEASE,), "nobody let go of it to order anything"
    assert pedal.says == f"none: {PEDAL} is gone; plug it in again, or use Space or Page Down"
    assert ports.listened[PEDAL].closed
    ports.plugged.append(PEDAL)
    pedal.poll(4.0)
    assert pedal.says == f"on {PEDAL}"
    ports.send(PEDAL, DOWN, 4.1)
    ports.send(PEDAL, UP, 4.2)
    assert pedal.poll(4.3) == (TAP,)


def test_a_tap_just_before_it_goes_still_counts_and_a_last_press_is_let_go() -> None:
    ports = HandPorts([PEDAL])
    pedal = on(ports)
    ports.send(PEDAL, DOWN, 1.8)
    ports.send(PEDAL, UP, 1.9)
    ports.send(PEDAL, DOWN, 2.0)
    ports.plugged.clear()
    assert pedal.poll(2.0) == (TAP,)
    assert [pedal.poll(now) for now in (2.1, 3.0, 9.0)] == [()] * 3


def test_a_pedal_found_to_be_latching_is_still_so_when_it_comes_back() -> None:
    ports = HandPorts([PEDAL])
    pedal = on(ports)
    for message, came in ((DOWN, 0.1), (UP, 2.1), (DOWN, 4.1), (UP, 6.1)):
        ports.send(PEDAL, message, came)
    assert pedal.poll(6.2) == (HOLD, LONG_HOLD, LONG_RELEASE) * 2
    ports.plugged.clear()
    pedal.poll(8.0)
    ports.plugged.append(PEDAL)
    pedal.poll(10.0)
    ports.send(PEDAL, DOWN, 10.1)
    assert pedal.poll(10.2) == (TAP,)


def test_a_port_beside_a_lost_pedal_is_not_taken_for_it_but_a_new_one_is() -> None:
    ports = HandPorts(["Keys", "Sole Pedal"])
    pedal = on(ports)
    pedal.poll(2.0)
    ports.plugged.remove("Sole Pedal")
    pedal.poll(4.0)
    assert pedal.says.startswith("none: Sole Pedal is gone")
    ports.plugged.append("Heel Switch")
    pedal.poll(6.0)
    assert pedal.says == "on Heel Switch"


def test_what_was_learnt_of_a_pedal_holds_for_that_pedal() -> None:
    ports = HandPorts([PEDAL])
    pedal = on(ports, settings={PEDAL: C80, "Other": Unit(Setting(latching=True))})
    for message, came in ((DOWN, 0.1), (UP, 0.2), (C80_DOWN, 0.3), (C80_UP, 0.4)):
        ports.send(PEDAL, message, came)
    assert pedal.poll(0.5) == (TAP,)
    ports.plugged[:] = ["Other"]
    pedal.poll(2.0)
    assert pedal.says == "on Other"
    ports.send("Other", DOWN, 2.1)
    assert pedal.poll(2.2) == (TAP,)


def test_a_pedal_being_learnt_tells_its_messages_and_is_then_obeyed() -> None:
    ports = HandPorts([PEDAL])
    pedal = open_pedal(make=lambda: ports)
    assert pedal.messages(0.0) == ()
    ports.send(PEDAL, C80_DOWN, 0.1)
    assert pedal.messages(0.2) == ((C80_DOWN, 0.1),)
    assert pedal.messages(0.3) == ()
    pedal.learn(C80)
    ports.send(PEDAL, C80_DOWN, 1.0)
    ports.send(PEDAL, C80_UP, 1.1)
    assert pedal.poll(1.2) == (TAP,)


def test_the_expression_pedal_of_a_unit_is_heard_within_its_limits_and_the_tempo_stays_when_it_goes() -> None:
    ports = HandPorts([PEDAL])
    unit = Unit(C80.first, None, Expression(11, 0, 127))
    pedal = open_pedal(make=lambda: ports, settings={PEDAL: unit}, limits=Limits(60, 90))
    pedal.poll(0.0)
    ports.send(PEDAL, bytes((0xB0, 11, 0)), 0.1)
    assert pedal.poll(0.2) == (Lean(Fraction(60, 100)),)
    assert pedal.arrived == ((bytes((0xB0, 11, 0)), 0.1),)
    ports.plugged.clear()
    assert pedal.poll(2.0) == ()
    ports.plugged.append(PEDAL)
    assert pedal.poll(4.0) == ()
    ports.send(PEDAL, bytes((0xB0, 11, 127)), 4.1)
    assert pedal.poll(4.2) == (Lean(Fraction(90, 100)),)


def test_a_pedal_knows_whether_there_will_ever_be_one() -> None:
    there = open_pedal(make=HandPorts)
    there.poll(0.0)
    never = open_pedal(make=missing)
    never.poll(0.0)
    assert [there.gone_for_good, never.gone_for_good, open_pedal("none").gone_for_good] == [False, True, True]


def test_one_held_by_another_program_is_said_and_tried_again() -> None:
    ports = HandPorts([PEDAL], held={PEDAL})
    pedal = on(ports)
    assert pedal.says == f"none: {PEDAL} can't be opened; another program may hold it"
    ports.held.clear()
    pedal.poll(LOOK_SECONDS)
    assert pedal.says == f"on {PEDAL}"


def test_without_the_library_it_is_said_once_and_not_asked_for_again() -> None:
    asked = []
    pedal = open_pedal(make=lambda: asked.append(1) or missing())  # type: ignore[func-returns-value]
    assert [pedal.poll(float(n)) for n in range(9)] == [()] * 9
    assert (pedal.says, len(asked)) == (MISSING, 1)
    pedal.close()


def test_a_machine_without_midi_may_get_some_with_the_pedal() -> None:
    """Linux may load its sequencer only once something is plugged in."""
    ports, there = HandPorts([PEDAL]), [False]
    pedal = open_pedal(make=lambda: ports if there[0] else missing(NO_SYSTEM, for_good=False))
    pedal.poll(0.0)
    assert pedal.says == NO_SYSTEM
    there[0] = True
    pedal.poll(LOOK_SECONDS)
    assert pedal.says == f"on {PEDAL}"


def test_a_pedal_that_is_not_wanted_asks_for_no_port() -> None:
    pedal = open_pedal("none", missing)
    assert pedal.poll(0.0) == ()
    assert pedal.says == OFF
    pedal.close()


@pytest.mark.parametrize(
    ("listed", "name"),
    [
        ("Sole MIDI:Sole MIDI MIDI 1 24:0", "Sole MIDI:Sole MIDI MIDI 1"),
        ("Sole MIDI:Sole MIDI MIDI 1 128:10", "Sole MIDI:Sole MIDI MIDI 1"),
        ("Sole MIDI 1", "Sole MIDI 1"),
        ("system:midi_capture_1", "system:midi_capture_1"),
        ("", ""),
    ],
)
def test_the_numbers_that_alsa_puts_behind_a_name_are_not_part_of_it(listed: str, name: str) -> None:
    assert stable(listed) == name


def names(*fulls: str, before: dict[str, str] | None = None) -> dict[str, str]:
    return told_apart(fulls, before or {})


def test_two_of_the_same_name_are_told_apart_and_each_keeps_its_own() -> None:
    one, two = "Sole:Sole 24:0", "Sole:Sole 28:0"
    both = names(one, two)
    assert list(both.values()) == ["Sole:Sole", "Sole:Sole (2)"]
    alone = names(two, before=both)
    assert alone == {two: "Sole:Sole (2)"}
    assert names("Sole:Sole 32:0", two, before=alone) == {"Sole:Sole 32:0": "Sole:Sole", two: "Sole:Sole (2)"}


def test_two_that_the_system_calls_the_very_same_count_as_one_and_its_own_through_port_as_none() -> None:
    assert names("Sole", "Sole", "Midi Through:Midi Through Port-0 14:0") == {"Sole": "Sole"}


@given(st.lists(st.lists(st.sampled_from([f"Sole {n}:0" for n in range(5)] + ["Heel 9:0"]), unique=True), max_size=8))
def test_ports_that_come_and_go_never_share_a_name_and_never_change_it(steps: list[list[str]]) -> None:
    before: dict[str, str] = {}
    for fulls in steps:
        known = told_apart(fulls, before)
        assert list(known) == fulls
        assert len(set(known.values())) == len(fulls)
        assert all(known[full] == before[full] for full in fulls if full in before)
        before = known


def test_closing_lets_go_of_the_port_and_may_be_done_twice() -> None:
    ports = HandPorts([PEDAL])
    pedal = on(ports)
    pedal.close()
    pedal.close()
    assert ports.closed
    assert ports.listened[PEDAL].closed
    assert pedal.poll(9.0) == ()


def test_the_report_lists_the_ports_or_says_what_to_do() -> None:
    ports = HandPorts([PEDAL, "Keys"])
    report = pedal_report(lambda: ports)
    assert (report.ports, report.says) == ((PEDAL, "Keys"), f"found {PEDAL}, Keys")
    assert ports.closed
    assert pedal_report(HandPorts).says == NONE_FOUND
    assert pedal_report(missing).says == MISSING


def test_what_c_libraries_print_does_not_reach_the_screen(capfd: pytest.CaptureFixture[str]) -> None:
    with quiet_stderr():
        os.write(2, b"from below")
    os.write(2, b"afterwards")
    assert capfd.readouterr().err == "afterwards"
