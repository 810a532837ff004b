"""The player's process, kept: started, started again, ended in time, whatever it does."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from caller.rig.devices import NO_DEVICE, SOUND_MISSING
from caller.rig.stream.board import SharedBoard
from caller.rig.stream.keeper import Keeper
from caller.rig.stream.live import DeviceSpeaker
from caller.rig.stream.wire import SpliceOrder
from caller.sound.score import RATE
from tests.parts.waiting import until
from tests.rig.scores import steady

pytestmark = [pytest.mark.parts, pytest.mark.alone]


@pytest.fixture
def board() -> Iterator[SharedBoard]:
    made = SharedBoard.create()
    yield made
    made.discard()


@pytest.fixture
def log(tmp_path: Path) -> Path:
    path = tmp_path / "sound.log"
    path.touch()
    return path


def closing_seconds(what: Keeper | DeviceSpeaker) -> float:
    began = time.perf_counter()
    what.close()
    return time.perf_counter() - began


def test_a_speaker_closed_before_it_has_begun_ends_within_a_second(log: Path) -> None:
    speaker = DeviceSpeaker("no device has this name", log)
    assert speaker.heard().fault == "The sound is starting."
    assert speaker.splice(steady(480)) == speaker.earliest()
    assert closing_seconds(speaker) < 1
    assert closing_seconds(speaker) < 0.01
    assert speaker.heard().written == 0


def test_a_wish_that_no_device_meets_is_told_and_the_clock_goes_on(log: Path) -> None:
    speaker = DeviceSpeaker("no device has this name", log)
    until(lambda: "starting" not in speaker.heard().fault, 10, "a word from the player")
    heard = speaker.heard()
    assert heard.fault.startswith(('No sound device is called "no device', NO_DEVICE, SOUND_MISSING))
    until(lambda: speaker.heard().heard > heard.heard + 4_800, 2, "a tenth of a second by the clock")
    assert closing_seconds(speaker) < 1


def test_a_player_that_heeds_nothing_is_ended_the_hard_way(board: SharedBoard, log: Path) -> None:
    deaf = "import signal, time; signal.signal(signal.SIGTERM, signal.SIG_IGN); print('up', flush=True); time.sleep(60)"
    keeper = Keeper((sys.executable, "-c", deaf), board, log)
    until(lambda: "up" in log.read_text(), 10, "a start")
    assert closing_seconds(keeper) < 1


def test_a_player_that_ends_by_itself_is_started_again_and_the_clock_goes_on(board: SharedBoard, log: Path) -> None:
    keeper = Keeper((sys.executable, "-c", "print('up', flush=True); raise SystemExit(7)"), board, log)
    until(lambda: log.read_text().count("up") >= 2, 10, "a second start")
    told = board.read()
    keeper.close()
    assert told.fault == "The sound stopped by itself (exit 7); it is being started again."
    assert told.heard_by(told.at_seconds + 1, RATE) == RATE


def test_giving_orders_never_waits_for_a_player_that_reads_nothing(board: SharedBoard, log: Path) -> None:
    keeper = Keeper((sys.executable, "-c", "import time; time.sleep(60)"), board, log)
    scores = [steady(480_000, seed) for seed in range(3)]  # 2 MB each; a pipe holds 64 kB
    began = time.perf_counter()
    for score in scores:
        keeper.give(SpliceOrder(score, 0, 0))
    assert time.perf_counter() - began < 0.1
    assert closing_seconds(keeper) < 1


@pytest.mark.skipif(sys.platform == "win32", reason="uses POSIX signals")
def test_the_player_dies_with_the_program_that_started_it(log: Path) -> None:
    program = (
        "import sys, time; from pathlib import Path; from caller.rig.stream.live import DeviceSpeaker;"
        "speaker = DeviceSpeaker('', Path(sys.argv[1]));\n"
        "while speaker.heard().fault.endswith('starting.'): time.sleep(0.01)\n"
        "print(speaker._keeper._child.pid, speaker._board.path, flush=True); time.sleep(60)"
    )
    parent = subprocess.Popen([sys.executable, "-c", program, str(log)], stdout=subprocess.PIPE)
    assert parent.stdout is not None
    process, board = parent.stdout.readline().decode().split()
    player = int(process)
    parent.send_signal(signal.SIGKILL)
    parent.wait()
    assert until(lambda: not _lives(player), 2, "the player's end") < 1
    assert not Path(board).exists()


def _lives(process: int) -> bool:
    try:
        os.kill(process, 0)
        return Path(f"/proc/{process}/stat").read_text().split()[2] != "Z"
    except (ProcessLookupError, FileNotFoundError):
        return False
