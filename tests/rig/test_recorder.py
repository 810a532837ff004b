"""The microphone's process: what it says, what it hears, and what happens when it stops."""

from __future__ import annotations

import sys
from typing import Any

import numpy as np
import pytest

from caller.rig.recorder import BLOCK, DeviceRecorder, RecorderLost, chosen
from caller.sound.score import RATE

# Children that speak the recorder's protocol with the standard library alone.
TELLS = 'import sys, struct; out = sys.stdout.buffer; out.write(b\'{"device": "pretend"}\\n\'); out.flush()\n'
COUNTS = TELLS + "n = 0\nwhile True:\n out.write(struct.pack('<480f', *[n] * 480)); out.flush(); n += 1"
STALLS = TELLS + "sys.stdin.read()"
ENDS = TELLS + "out.write(bytes(480 * 4 + 10)); out.flush()"
AMPLE = 30.0


def recorder(code: str, stalled_seconds: float = AMPLE) -> DeviceRecorder:
    return DeviceRecorder(command=(sys.executable, "-I", "-c", code), stalled_seconds=stalled_seconds)


def test_what_is_heard_comes_block_by_block_from_the_moment_of_listening() -> None:
    made = recorder(COUNTS)
    assert made.device == "pretend"
    for _ in range(2):
        heard = made.blocks()
        blocks = [next(heard) for _ in range(5)]
        heard.close()  # type: ignore[attr-defined]
        assert all(block.shape == (BLOCK,) and block.dtype == np.float32 for block in blocks)
        numbers = [int(block[0]) for block in blocks]
        assert numbers == list(range(numbers[0], numbers[0] + 5))
    made.close()
    made.close()


def test_a_microphone_that_stalls_is_told() -> None:
    made = recorder(STALLS, stalled_seconds=0.05)
    with pytest.raises(RecorderLost, match="Nothing comes from the microphone pretend"):
        next(made.blocks())
    made.close()


def test_a_microphone_that_ends_is_told_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    made = recorder(ENDS)
    made._blocks.put(made._blocks.get(timeout=AMPLE))  # its end has come
    monkeypatch.setattr(made, "_next", lambda: pytest.fail("more was waited for"))
    with pytest.raises(RecorderLost, match="plugged in"):
        list(made.blocks())
    made.close()


@pytest.mark.parametrize(
    ("code", "says"),
    [
        ('print(\'{"fault": "none is found; plug one in."}\')', "none is found; plug one in"),
        ("print('rubbish')", "doesn't answer"),
        ("pass", "ended at once"),
    ],
)
def test_a_microphone_that_does_not_open_is_one_sentence(code: str, says: str) -> None:
    with pytest.raises(RecorderLost, match=says):
        recorder(code)


def row(name: str, channels: int = 1) -> dict[str, Any]:
    return {"name": name, "max_input_channels": channels}


ROWS = [row("Speakers", 0), row("Built-in mic"), row("default", 2), row("pulse", 2), row("USB mic, mono")]


@pytest.mark.parametrize(
    ("default", "wish", "platform", "number"),
    [
        (1, "", "linux", 3),
        (1, "", "win32", 1),
        (-1, "", "darwin", 1),
        (1, "usb", "linux", 4),
        (1, "mic", "linux", 1),
        (1, "nothing", "linux", None),
        (0, "speakers", "linux", None),
    ],
)
def test_a_microphone_is_chosen_by_name_then_by_the_platforms_custom_then_the_systems(
    default: int, wish: str, platform: str, number: int | None
) -> None:
    assert chosen(ROWS, default, wish, platform) == number
    assert chosen([], default, wish, platform) is None


def test_the_block_is_ten_milliseconds() -> None:
    assert BLOCK * 100 == RATE
