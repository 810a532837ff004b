"""``caller dance``: live, the whole routine."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

from caller.cli.running import add_run_words, dance_of, open_voice, tempo_of
from caller.cli.sheets import Sheet, danceable


def add(commands: Any) -> None:
    words = commands.add_parser(
        "dance",
        help="live: the whole routine, the front-of-class screen",
        description="Live: the whole routine, called.",
    )
    add_run_words(words)
    add_live_words(words)
    words.set_defaults(run=run)


def add_live_words(words: argparse.ArgumentParser) -> None:
    words.add_argument(
        "--plain",
        action="store_true",
        help="one line an event, no full screen: for screen readers and logs; starts by itself",
    )
    words.add_argument("--sound", default="", metavar="DEVICE", help="a sound device by name, or none")
    words.add_argument("--pedal", default="", metavar="PORT", help="a MIDI port by name, or none")


def run(asked: argparse.Namespace) -> int:
    sheet = danceable(asked.sheet)
    session = open_session(sheet, asked)
    try:
        if asked.plain or not sys.stdout.isatty():
            from caller.screen.plain import run_plain

            run_plain(session, sys.stdout, sys.stdin)
        else:
            from caller.screen.app import run_screen

            run_screen(session, log_file())
    finally:
        session.close()
    return 0


def log_file() -> Path | None:
    """Where what libraries print goes while the screen is up; None where no log can be kept."""
    import platformdirs

    folder = platformdirs.user_log_path("caller")
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return folder / "screen.log"


def open_session(sheet: Sheet, asked: argparse.Namespace) -> Any:
    """A session with this machine's speaker, pedal and voice, the voice being made ready in the background."""
    import time

    from caller.calls.plan import Manner
    from caller.calls.score import phrases_needed
    from caller.rig.pedal import open_pedal
    from caller.rig.speaker import open_speaker
    from caller.rig.speech.preparing import Preparing
    from caller.session import Desk, Session
    from caller.transport.tempo import Pace

    dance = dance_of(sheet, asked.walls)
    manner = Manner(asked.manner)
    pace = Pace(tempo_of(sheet, asked.tempo))
    voice = open_voice(asked.voice)
    speaker, _ = open_speaker(asked.sound)
    desk = Desk(
        speaker, voice, Preparing(voice, phrases_needed(dance, manner)), open_pedal(asked.pedal), time.perf_counter
    )
    return Session(dance, desk, pace, manner)
