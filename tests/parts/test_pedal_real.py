"""A pedal through a real MIDI server: another process presses, this one hears."""

from __future__ import annotations

import ctypes
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from fractions import Fraction

import mido
import mido.sockets
import pytest

from caller.rig.pedal import Pedal, open_pedal, pedal_report
from caller.rig.pedal.port import NO_ALSA, NO_SYSTEM, Message, MidoPorts
from caller.rig.pedal.watch import LOOK_SECONDS
from caller.transport.expression import TELL_SECONDS, Expression, Lean
from caller.transport.foot import DOUBLE_SECONDS, HOLD_SECONDS, LONG_SECONDS, Gesture
from caller.transport.unit import Stroke, Unit, Which
from tests.bench.load import busy
from tests.fakes.pedal import HandPorts
from tests.parts.conftest import need
from tests.parts.foot_player import DOWN_SECONDS
from tests.parts.jack import jack, jack_server  # noqa: F401
from tests.parts.waiting import until

pytestmark = [pytest.mark.parts, pytest.mark.alone]

NAME = "sole-pedal"
ARRIVES_SECONDS = 0.3


class Player:
    """The other process, with its foot on the pedal."""

    def __init__(self, where: str) -> None:
        command = [sys.executable, "-m", "tests.parts.foot_player", where]
        self.process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        assert self.process.stdout.readline().strip() == "open"

    def does(self, word: str) -> float:
        """Returns when it began to be sent, on the clock that both processes share."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        print(word, file=self.process.stdin, flush=True)
        return float(self.process.stdout.readline())

    def goes(self) -> None:
        if self.process.poll() is None:
            self.process.communicate("go\n", timeout=10)


class Heard:
    """What a pedal makes of it, polled as a screen does."""

    def __init__(self, pedal: Pedal, before: Callable[[], None] = lambda: None) -> None:
        self.pedal = pedal
        self.made: list[Stroke | Lean] = []
        self.arrived = 0
        self._before = before

    def waits(self, true: Callable[[], bool], what: str) -> float:
        """Polls until ``true()``; returns how long it took, in seconds."""

        def polled() -> bool:
            self._before()
            self.made += self.pedal.poll(time.perf_counter())
            self.arrived += len(self.pedal.arrived)
            return true()

        return until(polled, 10, what)

    def finds(self, player: Player) -> None:
        """Until the pedal is found and what is sent comes through."""
        self.waits(lambda: NAME in self.pedal.name, "the pedal is found")
        self.has(player, "nod")

    def has(self, player: Player, word: str) -> float:
        """One message, until it has arrived; returns when it was sent. Sent into a port that is only just being
        connected, or in a cycle that came late, it is lost and sent again."""
        self.arrived = 0
        while not self.arrived:
            sent = player.does(word)
            ends = sent + ARRIVES_SECONDS
            self.waits(lambda ends=ends: bool(self.arrived) or time.perf_counter() > ends, word)  # type: ignore[misc]
        return sent

    def taps(self, player: Player) -> tuple[float, float]:
        """Once; returns when it was pressed and lifted."""
        pressed = self.has(player, "down")
        self.lets_pass(DOWN_SECONDS)
        lifted = self.has(player, "up")
        self.lets_pass(DOWN_SECONDS)
        return pressed, lifted

    def lets_pass(self, seconds: float) -> None:
        ends = time.perf_counter() + seconds
        self.waits(lambda: time.perf_counter() >= ends, "time passes")

    def waits_for(self, *gestures: Gesture, pedal: Which = Which.FIRST) -> None:
        self.waits(lambda: len(self.made) >= len(gestures), f"{gestures}, heard {self.made}")
        assert self.made == [Stroke(gesture, pedal) for gesture in gestures]
        self.made.clear()


@pytest.fixture
def player(jack: None) -> Iterator[Player]:  # noqa: F811
    playing = Player(f"jack:{NAME}")
    yield playing
    playing.goes()


@pytest.fixture
def heard(player: Player) -> Iterator[Heard]:
    pedal = open_pedal(NAME)
    hearing = Heard(pedal)
    hearing.finds(player)
    yield hearing
    pedal.close()


def test_every_message_of_another_process_arrives_beside_a_busy_thread_whole_and_in_order(player: Player) -> None:
    ports = MidoPorts()
    until(lambda: any(NAME in name for name in ports.names()), 10, "the port is there")
    port = ports.open(next(name for name in ports.names() if NAME in name))
    came: list[Message] = []

    def all_here() -> bool:
        came.extend(port.pending(time.perf_counter()))
        return len(came) >= 300

    with busy(1):
        sent = player.does("flood 300")
        until(all_here, 20, "300 messages")
    assert [message for message, _ in came] == [bytes((0xB0, 64, 127)), bytes((0xB0, 64, 0))] * 150
    times = [when for _, when in came]
    assert times == sorted(times)
    assert times[0] > sent
    port.close()
    ports.close()


def test_ten_taps_are_ten_gestures(heard: Heard, player: Player) -> None:
    """The virtual server loses messages on a busy machine: where not all twenty arrived, they are tapped anew."""
    for _ in range(5):
        heard.made.clear()
        heard.arrived = 0
        player.does("taps 10")
        heard.lets_pass(1)
        if heard.arrived == 20:
            break
    heard.waits_for(*[Gesture.TAP] * 10)


def test_a_double_tap_is_told_after_a_first_one_that_waited_for_nothing(heard: Heard, player: Player) -> None:
    """On a machine that is busy a foot's time may pass in between: it is then tapped anew."""
    for _ in range(5):
        heard.made.clear()
        first = heard.taps(player)
        told = list(heard.made)
        second = heard.taps(player)
        heard.lets_pass(2 * DOUBLE_SECONDS)
        if max(first[1] - first[0], second[1] - second[0], second[0] - first[1]) < HOLD_SECONDS:
            break
    assert told == [Stroke(Gesture.TAP)]
    assert heard.made == [Stroke(Gesture.TAP), Stroke(Gesture.DOUBLE_TAP)]


def test_the_soft_pedal_is_the_second_one(heard: Heard, player: Player) -> None:
    heard.has(player, "down 67")
    heard.has(player, "up 67")
    heard.waits_for(Gesture.TAP, pedal=Which.SECOND)


def test_a_longer_press_is_a_long_hold_told_while_it_lasts(heard: Heard, player: Player) -> None:
    pressed = heard.has(player, "down")
    heard.waits_for(Gesture.HOLD)
    heard.waits_for(Gesture.LONG_HOLD)
    assert time.perf_counter() - pressed >= LONG_SECONDS
    heard.has(player, "up")
    heard.waits_for(Gesture.LONG_RELEASE)


def test_an_expression_pedal_is_rocked_beside_a_switch_that_is_held(player: Player) -> None:
    ports = MidoPorts()
    until(lambda: any(NAME in name for name in ports.names()), 10, "the port is there")
    name = next(name for name in ports.names() if NAME in name)
    ports.close()
    pedal = open_pedal(NAME, settings={name: Unit(expression=Expression(11, 0, 127))})
    hearing = Heard(pedal)
    hearing.finds(player)
    hearing.has(player, "down")
    hearing.waits_for(Gesture.HOLD)
    began = time.perf_counter()
    player.does("rock")
    hearing.waits(lambda: len(hearing.made) > 3, "it is rocked")
    hearing.has(player, "down 11")
    hearing.has(player, "up")
    hearing.waits(lambda: Lean(Fraction(1)) in hearing.made and not pedal.down, "the toe is down and the switch let go")
    seconds = time.perf_counter() - began
    leans = [done.share for done in hearing.made if isinstance(done, Lean)]
    assert leans == sorted(leans)
    assert leans[0] < Fraction(3, 5)
    assert 3 <= len(leans) <= 2 + seconds / TELL_SECONDS
    ends = [done.gesture for done in hearing.made if isinstance(done, Stroke)]
    assert ends in ([Gesture.RELEASE], [Gesture.LONG_HOLD, Gesture.LONG_RELEASE])
    pedal.close()


def test_a_press_is_a_hold_told_while_it_lasts(heard: Heard, player: Player) -> None:
    pressed = heard.has(player, "down")
    heard.waits_for(Gesture.HOLD)
    assert time.perf_counter() - pressed >= HOLD_SECONDS
    assert heard.pedal.down
    heard.has(player, "up")
    heard.waits_for(Gesture.RELEASE)


def test_down_and_up_at_once_is_a_tap_and_not_a_pedal_stuck_down(heard: Heard, player: Player) -> None:
    player.does("down")
    player.does("up")
    heard.waits_for(Gesture.TAP)
    assert not heard.pedal.down


def test_a_pedal_that_goes_while_held_lets_go_and_is_found_again(heard: Heard, player: Player) -> None:
    heard.has(player, "down")
    heard.waits_for(Gesture.HOLD)
    player.goes()
    seconds = heard.waits(lambda: heard.pedal.says.startswith(f"none: {NAME}"), "it is missed")
    assert seconds < LOOK_SECONDS + 2
    heard.waits_for(Gesture.LONG_RELEASE)
    again = Player(f"jack:{NAME}")
    heard.finds(again)
    again.does("taps 1")
    heard.waits_for(Gesture.TAP)
    again.goes()


def test_looking_for_the_pedal_prints_nothing(heard: Heard, capfd: pytest.CaptureFixture[str]) -> None:
    ports = MidoPorts()
    assert ports.names()
    ports.close()
    assert capfd.readouterr() == ("", "")


def loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def test_without_a_server_it_is_said_in_a_sentence_and_nothing_is_printed(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CALLER_MIDI_API", "UNIX_JACK")
    monkeypatch.setenv("JACK_DEFAULT_SERVER", "caller-tests-nobody")
    monkeypatch.setenv("JACK_NO_START_SERVER", "1")
    report = pedal_report()
    assert report.ports == ()
    assert report.says == (NO_SYSTEM if loads("libasound.so.2") else NO_ALSA)
    assert capfd.readouterr() == ("", "")


def test_a_midi_system_that_is_not_there_is_named_with_those_that_are(monkeypatch: pytest.MonkeyPatch) -> None:
    """The names are RtMidi's own (RtMidi.h, enum Api)."""
    need("" if loads("libasound.so.2") else "no ALSA library: apt install alsa-utils")
    monkeypatch.setenv("CALLER_MIDI_API", "SMOKE")
    assert pedal_report().says == "none: CALLER_MIDI_API is 'SMOKE', but may be LINUX_ALSA or UNIX_JACK"


def test_the_doctor_names_it(player: Player) -> None:
    until(lambda: any(NAME in name for name in pedal_report().ports), 10, "it is listed")


class SocketPorts(HandPorts):
    """One port that another process reaches by MIDI over TCP."""

    def __init__(self) -> None:
        super().__init__(["socket"])
        self._server = mido.sockets.PortServer("127.0.0.1", 0)
        self.number: int = self._server._socket.getsockname()[1]
        self._client: mido.sockets.SocketPort | None = None

    def arrive(self) -> None:
        """What has come so far goes into the port."""
        self._client = self._client or self._server.accept(block=False)
        for message in self._client.iter_pending() if self._client else ():
            self.send("socket", bytes(message.bytes()), time.perf_counter())

    def end(self) -> None:
        for port in (self._client, self._server):
            if port is not None:
                port.close()


def test_presses_of_another_process_over_a_socket_are_gestures() -> None:
    """Where no MIDI server can be had: real bytes between two processes, by mido's own MIDI over TCP."""
    ports = SocketPorts()
    player = Player(f"socket:{ports.number}")
    pedal = open_pedal(make=lambda: ports)
    pedal.poll(time.perf_counter())
    heard = Heard(pedal, before=ports.arrive)
    player.does("taps 5")
    heard.waits_for(*[Gesture.TAP] * 5)
    player.does("down")
    heard.waits_for(Gesture.HOLD)
    player.does("up")
    heard.waits_for(Gesture.RELEASE)
    player.goes()
    ports.end()
