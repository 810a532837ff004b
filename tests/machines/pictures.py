"""The pictures in the README, of the program itself as it runs: ``python -m tests.machines.pictures [FOLDER]``.

Each is a command on a terminal of its own, without sound, whose screen Textual keeps as SVG after some seconds. What a
picture would fetch from elsewhere (fonts) is taken out of it. POSIX only.
"""

from __future__ import annotations

import fcntl
import os
import pty
import re
import struct
import subprocess
import sys
import tempfile
import termios
import threading
import time
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parents[2] / ".pictures"
STARTS_SECONDS, ENDS_SECONDS = 60.0, 5.0


@dataclass(frozen=True, slots=True)
class Picture:
    """command: of the caller. press: keys as Textual names them. after: seconds until the picture is taken."""

    name: str
    command: tuple[str, ...]
    press: str = ""
    after: int = 3
    columns: int = 100
    rows: int = 30


QUIET = ("--sound", "none", "--pedal", "none")
PICTURES = (
    Picture("dance", ("dance", "Lantern Row", *QUIET), "space", 18),
    Picture("lesson", ("walkthrough", "Lantern Row", *QUIET), "space", 24),
    Picture("low", ("dance", "Lantern Row", "--look", "light", *QUIET), "space", 18, 80, 24),
)


def made_ready(home: Path) -> None:
    """Every call rendered beforehand, so that no picture is of the waiting for them."""
    for command in (("record", "Lantern Row", "-o"), ("walkthrough", "Lantern Row", "--record")):
        subprocess.run(
            [sys.executable, "-m", "caller", *command, str(home / "once.wav")],
            check=True,
            env={**os.environ, "HOME": str(home)},
            stdout=subprocess.DEVNULL,
        )


def taken(picture: Picture, folder: Path, home: Path) -> Path:
    """Runs the command until the picture is there. Raises TimeoutError where it never is."""
    file = folder / f"{picture.name}.svg"
    file.unlink(missing_ok=True)
    control, line = pty.openpty()
    fcntl.ioctl(line, termios.TIOCSWINSZ, struct.pack("HHHH", picture.rows, picture.columns, 0, 0))
    told = {
        "TEXTUAL_SCREENSHOT": str(picture.after),
        "TEXTUAL_SCREENSHOT_LOCATION": str(folder),
        "TEXTUAL_SCREENSHOT_FILENAME": file.name,
        "TEXTUAL_PRESS": picture.press,
    }
    environment = {**os.environ, **told, "TERM": "xterm-256color", "COLORTERM": "truecolor", "HOME": str(home)}
    running = subprocess.Popen(
        [sys.executable, "-m", "caller", *picture.command], stdin=line, stdout=line, stderr=line, env=environment
    )
    os.close(line)
    threading.Thread(target=_read_on, args=(control,), daemon=True).start()
    try:
        ends = time.monotonic() + STARTS_SECONDS + picture.after
        while not (file.exists() and "</svg>" in file.read_text("utf-8")):
            if time.monotonic() > ends or running.poll() is not None:
                raise TimeoutError(f"no picture of {' '.join(picture.command)}")
            time.sleep(0.1)
    finally:
        running.terminate()
        running.wait(ENDS_SECONDS)
    file.write_text(of_its_own(file.read_text("utf-8")), "utf-8")
    return file


def of_its_own(svg: str) -> str:
    """The same without what a viewer would fetch."""
    return re.sub(r"@font-face\s*\{.*?\}\s*", "", svg, flags=re.DOTALL)


def _read_on(control: int) -> None:
    """What is drawn has to be taken in, or the program waits."""
    try:
        while os.read(control, 65_536):
            pass
    except OSError:  # it has ended
        os.close(control)


def main() -> None:
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as home:
        made_ready(Path(home))
        for picture in PICTURES:
            print(taken(picture, folder, Path(home)))


if __name__ == "__main__":
    main()
