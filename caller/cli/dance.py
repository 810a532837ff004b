"""``caller dance``: live, the whole routine.

What the command line doesn't say is taken from the user's settings, and what the class has changed of them (how loud,
which way of calling) is kept there when it is left.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from caller.cli.leaving import log_file, told_where
from caller.cli.running import add_run_words, dance_of, open_voice, tempo_of
from caller.cli.say import Refused, warn
from caller.cli.screen import add_page_words
from caller.cli.sheets import Sheet, config_folder, danceable, load, on_hand, vocabulary

if TYPE_CHECKING:
    from caller.calls.plan import Manner
    from caller.dance.walls import Dance
    from caller.rig.settings import Settings
    from caller.session import BeatOut
    from caller.transport.switch import Setting

PEDALS = "pedals.json"


def add(commands: Any) -> None:
    words = commands.add_parser(
        "dance",
        help="live: the whole routine, the front-of-class screen",
        description="Live: the whole routine, called.",
    )
    add_run_words(words, "a file or a title; without one, a page to pick a routine from")
    add_live_words(words)
    words.set_defaults(run=run, manner=None)


def add_live_words(words: argparse.ArgumentParser) -> None:
    words.add_argument(
        "--plain",
        action="store_true",
        help="one line an event, no full screen: for screen readers and logs; starts by itself",
    )
    words.add_argument("--sound", metavar="DEVICE", help="a sound device by name, or none (else as set)")
    words.add_argument("--pedal", metavar="PORT", help="a MIDI port by name, or none (else as set)")
    words.add_argument("--clock-out", metavar="PORT", help="MIDI clock to this port, for lights or a player")
    words.add_argument(
        "--look", choices=("dark", "light"), default="dark", help="light letters on dark, or dark on light"
    )
    add_page_words(words, "--page", bare=True)
    words.add_argument(
        "--offset",
        type=float,
        metavar="MS",
        help="how many milliseconds later than it tells the sound device is heard, -50 to 500; kept for that device",
    )


def run(asked: argparse.Namespace) -> int:
    name = asked.sheet or picked(asked)
    if name is None:
        return 0
    sheet = danceable(name)
    settings = settings_of(asked)
    opened: list[Any] = []

    def opening() -> Any:
        opened.append(open_session(sheet, asked, settings))
        return opened[-1]

    with told_where(), closing_voice(opened), second_screens(asked) as shown:
        if asked.plain or not sys.stdout.isatty():
            from caller.screen.plain import run_plain

            session = opening()
            try:
                run_plain(session, sys.stdout, sys.stdin, shown=shown)
            finally:
                session.close()
        else:
            from caller.screen.app import run_screen_with
            from caller.screen.looks import Look

            run_screen_with(opening, log_file("screen.log"), Look(asked.look), shown)
        if opened:
            keep(settings, asked, opened[-1])
    return 0


def picked(asked: argparse.Namespace) -> str | None:
    """The routine picked on a page of its own; None where none was. Raises Refused where there is no screen for it."""
    if asked.plain or not sys.stdout.isatty():
        raise Refused("which routine? Name a SHEET: 'caller list' shows those on hand")
    from caller.cli.listing import document
    from caller.screen.looks import Look
    from caller.screen.picker import pick_routine

    words = vocabulary()
    path = pick_routine([document(load(file, words)) for file in on_hand()], Look(asked.look))
    return str(path) if path else None


@contextmanager
def second_screens(asked: argparse.Namespace) -> Iterator[list[Callable[[Any], None]]]:
    """Who else is shown what the screen shows: 'caller screen' in another process, and a page if one was asked for."""
    from caller.screen.page.server import PageError, opened_page
    from caller.screen.page.spool import Spool, spool_path

    spool = Spool(spool_path())
    if asked.page is None:
        yield [spool.publish]
        return
    try:
        page = opened_page(asked.page)
    except PageError as fault:
        raise Refused(str(fault), 1) from fault
    warn(page.says)
    try:
        yield [spool.publish, page.publish]
    finally:
        page.close()


@contextmanager
def closing_voice(opened: Sequence[Any]) -> Iterator[None]:
    """Whatever is still being rendered is given up: nobody waits for it."""
    try:
        yield
    finally:
        for session in opened:
            session.desk.voice.close()


def settings_of(asked: argparse.Namespace) -> Settings:
    """What is set, with what the command line says in its place; what is wrong with the file is told."""
    from caller.calls.plan import Manner
    from caller.rig.settings import read_settings, settings_file

    settings, told = read_settings(settings_file())
    for sentence in told:
        warn(sentence)
    said = {"device": asked.sound, "port": asked.pedal, "manner": Manner(asked.manner) if asked.manner else None}
    return replace(settings, **{name: value for name, value in said.items() if value is not None})


def keep(settings: Settings, asked: argparse.Namespace, session: Any) -> None:
    """What the class has changed. The command line's own words hold for this once only, but for the offset."""
    from caller.rig.settings import read_settings, settings_file, write_settings

    before, _ = read_settings(settings_file())
    levels = session.levels
    after = replace(before, count_db=levels.count_db, call_db=levels.call_db)
    if session.manner is not settings.manner:
        after = replace(after, manner=session.manner)
    device = session.desk.speaker.heard().device
    if asked.offset is not None and device:
        after = after.with_offset(device, asked.offset)
    if after != before:
        try:
            write_settings(settings_file(), after)
        except OSError as fault:
            warn(f"the settings can't be kept ({fault.strerror or fault})")


def learnt_pedals() -> dict[str, Setting]:
    """What was learnt of pedals; what is wrong with the file is told."""
    from caller.rig.pedal import kept_settings

    pedals, why = kept_settings(config_folder() / PEDALS)
    if why:
        warn(why)
    return pedals


def open_session(sheet: Sheet, asked: argparse.Namespace, settings: Settings) -> Any:
    """A session with this machine's speaker, pedal and voice, the voice being made ready in the background."""
    import time

    from caller.calls.plan import Fading
    from caller.rig.pedal import open_pedal
    from caller.rig.speech.preparing import Preparing
    from caller.rig.stream.live import open_speaker
    from caller.session import Desk, Session
    from caller.transport.levels import Levels
    from caller.transport.order import Order
    from caller.transport.tempo import Pace

    dance = dance_of(sheet, asked.walls)
    pace = Pace(tempo_of(sheet, asked.tempo))
    voice = open_voice(asked.voice)
    speaker, _ = open_speaker(settings.device)
    preparing = Preparing(voice, phrases_of(dance, settings.manner))
    pedal = open_pedal(settings.port, settings=learnt_pedals())

    def offset_ms(device: str) -> float:
        return settings.offset_of(device) if asked.offset is None else float(asked.offset)

    desk = Desk(
        speaker, voice, preparing, pedal, time.perf_counter, offset_ms, settings.go_on, clock_to(asked.clock_out)
    )
    session = Session(
        dance,
        desk,
        pace,
        settings.manner,
        Levels(settings.count_db, settings.call_db),
        fading=Fading(asked.fading),
        over_lu=asked.over,
    )
    if asked.easier:
        session.obey(Order.EASIER)
    return session


def clock_to(port: str | None) -> BeatOut | None:
    """MIDI clock to a port; where that can't be, the class goes on without."""
    from caller.rig.clock_out import open_clock

    if port is None:
        return None
    try:
        return open_clock(port)
    except OSError as fault:
        warn(str(fault))
        return None


def phrases_of(dance: Dance, manner: Manner) -> list[tuple[str, float]]:
    """All that may be said, whatever is ordered: what is said first comes first."""
    from caller.calls.easier import eased
    from caller.calls.plan import Manner
    from caller.calls.score import phrases_needed
    from caller.dance.unroll import unroll

    easier = unroll(eased(dance.routine), len(dance.walls))
    needed = [phrases_needed(dance, manner)]
    needed += [phrases_needed(one, other) for one in (dance, easier) for other in Manner]
    return list(dict.fromkeys(phrase for phrases in needed for phrase in sorted(phrases)))
