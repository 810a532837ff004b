"""``caller sound``: the extra latency of a sound device, set by ear and eye, and remembered for it.

What goes by radio (Bluetooth) is heard a tenth of a second late and more. It is set by what is seen, not by tapping
along: taps come 30 to 50 ms before the sound they are meant for, and by another amount for each person (Repp,
Psychonomic Bulletin & Review 12, 2005).
"""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass
from itertools import chain
from typing import TYPE_CHECKING, Any

from caller.cli.leaving import log_file, told_where
from caller.cli.options import runs
from caller.cli.say import Refused, warn

if TYPE_CHECKING:
    from caller.rig.clicking import SteadyClick
    from caller.rig.devices import SoundReport
    from caller.rig.settings import Settings
    from caller.screen.lateness import Offset


@dataclass(frozen=True, kw_only=True)
class SoundOptions:
    sound: str | None
    plain: bool
    look: str


def add(commands: Any) -> None:
    words = commands.add_parser(
        "sound",
        help="set a loudspeaker that is heard late (Bluetooth)",
        description="Plays a click each second and lights a mark with it, until you have set the extra latency of a "
        "sound device; it is remembered for that device.",
    )
    words.add_argument("--sound", metavar="DEVICE", help="a sound device by name (default: as set)")
    words.add_argument("--plain", action="store_true", help="type numbers, one a line, instead of the full screen")
    words.add_argument(
        "--look", choices=("dark", "light"), default="dark", help="light letters on dark, or dark letters on light"
    )
    runs(words, SoundOptions, run)


def run(asked: SoundOptions) -> int:
    from caller.rig.clicking import SteadyClick
    from caller.rig.devices import sound_report
    from caller.rig.settings import read_settings, settings_file
    from caller.rig.stream.live import open_speaker

    settings, told = read_settings(settings_file())
    for sentence in told:
        warn(sentence)
    wish = settings.device if asked.sound is None else asked.sound
    report = sound_report()
    if why := missing(report, wish):
        raise Refused(why, 1)
    with told_where():
        speaker, _ = open_speaker(wish, "")
        try:
            offset = chosen(SteadyClick(speaker, time.perf_counter), names(report), settings, asked)
        finally:
            speaker.close()
    if offset is not None:
        keep(offset)
    return 0


def missing(report: SoundReport, wish: str) -> str:
    """Why nothing can be heard, in one sentence, or ""."""
    from caller.rig.devices import candidates, wish_unmet

    if wish == "none":
        return "Sound is off, as asked or set: name a device with --sound."
    if report.sentence or candidates(report.devices, wish, sys.platform):
        return report.sentence
    return wish_unmet(report.devices, wish)


def names(report: SoundReport) -> list[str]:
    """Of the devices, each once."""
    return list(dict.fromkeys(device.name for device in report.devices))


def chosen(clicking: SteadyClick, devices: list[str], settings: Settings, asked: SoundOptions) -> Offset | None:
    """What is set on the page, or in lines where there is none; None where it was left."""
    from caller.rig.settings import LATEST_MS, SOONEST_MS
    from caller.screen.lateness import Lateness

    if asked.plain or not sys.stdout.isatty():
        from caller.screen.offset_plain import LEAVE, set_in_lines
        from caller.screen.plain import lines_typed, short_lines

        late = Lateness(clicking, settings.offset_of, SOONEST_MS, LATEST_MS)
        typed = lines_typed(chain(short_lines(sys.stdin), [LEAVE]))
        return set_in_lines(late, devices, sys.stdout, typed, time.sleep)
    from caller.screen.looks import Look
    from caller.screen.offset import OffsetPage
    from caller.screen.terminal import run_on_terminal

    page = OffsetPage(clicking, devices, settings.offset_of, (SOONEST_MS, LATEST_MS), Look(asked.look))
    return run_on_terminal(page, log_file("screen.log"))


def keep(offset: Offset) -> None:
    """In the settings, beside what is kept of other devices. Raises Refused where it can't be written."""
    from caller.rig.settings import read_settings, settings_file, write_settings

    file = settings_file()
    before, _ = read_settings(file)
    try:
        write_settings(file, before.with_offset(offset.device, offset.ms), before)
    except OSError as fault:
        raise Refused(f"the offset can't be kept ({file}: {fault.strerror or fault})", 1) from fault
    print(f"Kept for {offset.device}: {offset.ms:+.0f} ms.")
