"""A pedal through a real MIDI server: another process presses, this one hears."""

from __future__ import annotations

import shutil
import subprocess
import sys
import time
from collections import deque
from collections.abc import Iterator

import pytest

from caller.rig.pedal import Pedal, open_pedal, pedal_report
from caller.rig.pedal.port import API_VARIABLE, Message, RtPorts
from caller.transport.foot import DEBOUNCE_SECONDS, Gesture
from tests.parts.conftest import need
from tests.parts.jack import PROGRAMS, SETTINGS, jack_server
from tests.parts.waiting import until

pytestmark = pytest.mark.parts

NAME = "sole-pedal"


@pytest.fixture(scope="module")
def server() -> Iterator[None]:
    missing = [program for program in PROGRAMS if shutil.which(program) is None]
    need(f"a MIDI server for tests needs {', '.join(missing)}: apt install jackd2" if missing else "")
    with jack_server():
        yield


@pytest.fixture(autouse=True)
def jack(server: None, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, value in {**SETTINGS, API_VARIABLE: "UNIX_JACK"}.items():
        monkeypatch.setenv(name, value)


class Player:
    """The other process, with its foot on the pedal."""

    def __init__(self) -> None:
        command = [sys.executable, "-m", "tests.parts.foot_player", NAME]
        self.process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        assert self.process.stdout.readline().strip() == "open"

    def does(self, word: str) -> float:
        """Returns when it was sent, on the clock that both processes share."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        print(word, file=self.process.stdin, flush=True)
        return float(self.process.stdout.readline())

    def goes(self) -> None:
        if self.process.poll() is None:
            self.process.communicate("go\n", timeout=10)


@pytest.fixture
def player() -> Iterator[Player]:
    playing = Player()
    yield playing
    playing.goes()


@pytest.fixture
def pedal(player: Player) -> Iterator[Pedal]:
    opened = open_pedal(NAME)
    until(lambda: opened.poll(time.perf_counter()) == () and opened.says.startswith("on "), 10, "the pedal is found")
    yield opened
    opened.close()


def next_gesture(pedal: Pedal) -> Gesture:
    made: list[Gesture] = []

    def polled() -> bool:
        made.extend(pedal.poll(time.perf_counter()))
        return bool(made)

    until(polled, 5, "a gesture")
    assert len(made) == 1
    return made[0]


def past_bouncing(pedal: Pedal) -> None:
    """An edge right after another would be the contact bouncing."""
    until(lambda: time.perf_counter() - pedal._foot.since > 1.5 * DEBOUNCE_SECONDS, 5, "the contact is still")


def test_every_message_of_another_process_arrives_whole_and_in_order(player: Player) -> None:
    ports = RtPorts()
    inbox: deque[Message] = deque()
    until(lambda: any(NAME in name for name in ports.names()), 10, "the port is there")
    stop = ports.open(next(name for name in ports.names() if NAME in name), inbox)
    sent = player.does("flood 300")
    until(lambda: len(inbox) == 300, 10, "300 messages")
    assert [message[2] for message, _ in inbox] == [127, 0] * 150
    assert max(came for _, came in inbox) - sent < 5
    stop()
    ports.close()


def test_a_short_press_is_a_tap_and_a_long_one_a_hold(pedal: Pedal, player: Player) -> None:
    player.does("down")
    until(lambda: pedal.poll(time.perf_counter()) == () and pedal._foot.down, 5, "the press")
    past_bouncing(pedal)
    player.does("up")
    assert next_gesture(pedal) is Gesture.TAP
    past_bouncing(pedal)
    player.does("down")
    assert next_gesture(pedal) is Gesture.HOLD
    player.does("up")
    assert next_gesture(pedal) is Gesture.RELEASE


def test_a_pedal_that_goes_is_missed_and_found_again(pedal: Pedal, player: Player) -> None:
    player.goes()
    until(lambda: pedal.poll(time.perf_counter()) == () and "gone" in pedal.says, 10, "it is missed")
    again = Player()
    until(lambda: pedal.poll(time.perf_counter()) == () and pedal.says.startswith("on "), 10, "it is found again")
    again.goes()


def test_the_doctor_names_it(player: Player) -> None:
    until(lambda: any(NAME in name for name in pedal_report().ports), 10, "it is listed")
