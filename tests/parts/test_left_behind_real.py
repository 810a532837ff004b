"""What a killed class leaves in the system's passing places is taken away by the next."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.parts.waiting import until

if sys.platform != "linux":
    pytest.skip("memory that processes share lies elsewhere", allow_module_level=True)

pytestmark = [pytest.mark.parts, pytest.mark.alone]

# A speaker's board and a speech worker's folder, as a class has them; tells where they are and waits.
CLASS = """
import sys, threading
from pathlib import Path
from caller.rig.stream.board import SharedBoard
from caller.rig.speech.synthesiser import Request, WorkerSynthesiser
board = SharedBoard.create()
speech = WorkerSynthesiser()
speech.render(Request("walk"))
print(board.path, speech.folder, flush=True)
if sys.argv[1:] != ["end"]:
    threading.Event().wait()
speech.close()
board.discard()
"""


def test_a_killed_class_leaves_nothing_once_the_next_has_begun(tmp_path: Path) -> None:
    places = {**os.environ, "TMPDIR": str(tmp_path)}
    left: list[Path] = []
    for _ in range(3):
        with subprocess.Popen([sys.executable, "-c", CLASS], stdout=subprocess.PIPE, text=True, env=places) as process:
            assert process.stdout is not None
            here = [Path(word) for word in process.stdout.readline().split()]
            assert all(path.exists() for path in here)
            assert not any(path.exists() for path in left)
            process.send_signal(signal.SIGKILL)
        left = here
    with subprocess.Popen([sys.executable, "-c", CLASS], stdout=subprocess.PIPE, env=places) as running:
        assert running.stdout is not None
        used = [Path(os.fsdecode(word)) for word in running.stdout.readline().split()]
        subprocess.run([sys.executable, "-c", CLASS, "end"], env=places, check=True, timeout=60)
        assert all(path.exists() for path in used)  # what is in use is left alone
        running.kill()
    subprocess.run([sys.executable, "-c", CLASS, "end"], env=places, check=True, timeout=60)
    until(lambda: not any(path.exists() for path in (*left, *used)), 5, "nothing left")
    assert not list(tmp_path.glob("caller-*"))
