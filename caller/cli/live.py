"""What all live commands share: their words, the desk, how they are run, and what is kept of a class.

What the command line doesn't say is taken from the user's settings, and what the class has changed of them (how loud,
which way of calling) is kept there when it is left.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from caller.cli import amounts
from caller.cli.leaving import log_file, told_where
from caller.cli.running import open_voice
from caller.cli.say import warn, warnings_into
from caller.cli.screen import add_page_words
from caller.cli.second_screens import second_screens

if TYPE_CHECKING:
    from caller.rig.settings import Settings
    from caller.rig.speech.lexicon import SilentLexicon, SpokenLexicon
    from caller.rig.speech.preparing import RenderQueue
    from caller.session import BeatOut, Desk, Live
    from caller.sound.speaker import Speaker
    from caller.transport.footing import Footing
    from caller.transport.levels import Levels
    from caller.transport.unit import Unit

PEDALS = "pedals.json"
# How long a thread that works may keep the others from it (the interpreter's own: 5 ms). A foot is heeded in between.
SWITCH_SECONDS = 0.001


@dataclass(frozen=True, kw_only=True)
class LiveOptions:
    """How a class is shown and heard. class_name: whose book keeps it. sound, pedal, clock_out: by name, "none" for
    none, None for what is set. new_class: the book may begin a class of that name. page: where it is served, "" for
    this machine alone, None for no page. offset: milliseconds. voice: "" for what is set. manner: of a command that
    has one."""

    plain: bool
    voice: str
    class_name: str | None
    new_class: bool
    sound: str | None
    pedal: str | None
    clock_out: str | None
    look: str
    page: str | None
    offset: float | None
    manner: str | None = None


def add_live_words(words: argparse.ArgumentParser) -> None:
    words.add_argument(
        "--plain",
        action="store_true",
        help="print one line an event instead of the full screen, for screen readers and logs; it starts by itself",
    )
    words.add_argument(
        "--class",
        dest="class_name",
        type=amounts.words(200, "class"),
        metavar="NAME",
        help="the class; its book keeps what is danced",
    )
    words.add_argument("--new-class", action="store_true", help="begin a class that the book has not")
    words.add_argument("--sound", metavar="DEVICE", help="a sound device by name, or none (default: as set)")
    words.add_argument("--pedal", metavar="PORT", help="the pedal's MIDI port by name, or none (default: as set)")
    words.add_argument("--clock-out", metavar="PORT", help="send MIDI clock to this port, for lights or a player")
    words.add_argument(
        "--look", choices=("dark", "light"), default="dark", help="light letters on dark, or dark letters on light"
    )
    add_page_words(words, "--page", bare=True)
    words.add_argument(
        "--offset",
        type=amounts.floating(-50, 500, "milliseconds"),
        metavar="MS",
        help="extra latency of the sound device in milliseconds, -50 to 500; remembered for that device",
    )


@dataclass(frozen=True, slots=True)
class Begun:
    """What takes a while to start, in processes of its own, while the sheet is read."""

    speaker: Speaker
    voice: SpokenLexicon | SilentLexicon

    @classmethod
    def of(cls, asked: LiveOptions, settings: Settings) -> Begun:
        """This machine's speaker and voice."""
        from caller.rig.stream.live import open_speaker

        speaker, _ = open_speaker(settings.device)
        voice = open_voice(asked.voice)
        voice.wake()
        return cls(speaker, voice)

    def close(self) -> None:
        self.voice.close()
        self.speaker.close()


def run_live(opening: Callable[[Settings, Begun], Live], asked: LiveOptions, keeps_manner: bool = False) -> int:
    """The class that ``opening`` makes, on the full screen or as plain lines, until it is left. keeps_manner: its way
    of calling holds for the next class too."""
    opened: list[tuple[Live, Settings]] = []
    told: list[str] = []

    def open_it() -> Live:
        settings = settings_of(asked)
        begun = Begun.of(asked, settings)
        try:
            live = opening(settings, begun)
        except BaseException:
            begun.close()
            raise
        opened.append((live, settings))
        return live

    def open_behind_the_screen() -> Live:
        with warnings_into(told):
            return open_it()

    sys.setswitchinterval(SWITCH_SECONDS)
    with told_where(), closing_voice(opened), second_screens(asked.page, told) as shown:
        if asked.plain or not sys.stdout.isatty():
            from caller.screen.plain import run_plain

            live = open_it()
            try:
                run_plain(live, sys.stdout, sys.stdin, shown=shown)
            finally:
                live.close()
        else:
            from caller.screen.app import run_screen_with
            from caller.screen.looks import Look

            run_screen_with(open_behind_the_screen, log_file("screen.log"), Look(asked.look), shown, told)
        for live, settings in opened:
            keep(settings, asked, live, keeps_manner)
    return 0


def open_desk(
    asked: LiveOptions,
    settings: Settings,
    begun: Begun,
    preparing: RenderQueue,
    footing: Footing,
) -> Desk:
    """This machine's speaker, voice and pedal. preparing: the voice being made ready. footing: what the pedal orders
    where nothing else is set."""
    import time

    from caller.rig.asleep import seconds_through_sleep
    from caller.rig.pedal import open_pedal
    from caller.session import Desk

    pedal = open_pedal(settings.port, settings=learnt_pedals(), limits=settings.limits)

    def offset_ms(device: str) -> float:
        return settings.offset_of(device) if asked.offset is None else float(asked.offset)

    return Desk(
        begun.speaker,
        begun.voice,
        preparing,
        pedal,
        time.perf_counter,
        offset_ms,
        settings.go_on,
        clock_to(asked.clock_out),
        footing.changed(settings.gestures, settings.second),
        seconds_through_sleep,
    )


def levels_of(settings: Settings) -> Levels:
    from caller.transport.levels import Levels

    return Levels(settings.count_db, settings.call_db, music_db=settings.music_db)


@contextmanager
def closing_voice(opened: Sequence[tuple[Live, Settings]]) -> Iterator[None]:
    """Whatever is still being rendered is given up: nobody waits for it."""
    try:
        yield
    finally:
        for live, _ in opened:
            live.desk.voice.close()


def settings_of(asked: LiveOptions) -> Settings:
    """What is set, with what the command line says in its place; what is wrong with the file is told."""
    from caller.calls.plan import Manner
    from caller.rig.settings import read_settings, settings_file

    settings, told = read_settings(settings_file())
    for sentence in told:
        warn(sentence)
    manner = Manner(asked.manner) if asked.manner else None
    return replace(
        settings,
        device=settings.device if asked.sound is None else asked.sound,
        port=settings.port if asked.pedal is None else asked.pedal,
        manner=manner or settings.manner,
    )


def keep(settings: Settings, asked: LiveOptions, live: Live, keeps_manner: bool) -> None:
    """What the class has changed. The command line's own words hold for this once only, but for the offset."""
    from caller.rig.settings import read_settings, settings_file, write_settings

    before, _ = read_settings(settings_file())
    levels = live.levels
    after = replace(before, count_db=levels.count_db, call_db=levels.call_db, music_db=levels.music_db)
    if keeps_manner and live.manner is not settings.manner:
        after = replace(after, manner=live.manner)
    device = live.desk.speaker.heard().device
    if asked.offset is not None and device:
        after = after.with_offset(device, asked.offset)
    if after != before:
        try:
            write_settings(settings_file(), after, before)
        except OSError as fault:
            warn(f"the settings can't be kept ({fault.strerror or fault})")


def learnt_pedals() -> dict[str, Unit]:
    """What was learnt of pedals; what is wrong with the file is told."""
    from caller.cli.sheets import config_folder
    from caller.rig.pedal import kept_settings

    pedals, why = kept_settings(config_folder() / PEDALS)
    if why:
        warn(why)
    return pedals


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
