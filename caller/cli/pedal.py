"""``caller pedal``: teach the pedal, and try it.

Conventions: the loop looks, says and waits; time and waiting are handed in. What was learnt is kept in the config
folder under the port's stable name, so that the pedal is known again whatever number it comes back under.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caller.cli.leaving import told_where
from caller.cli.say import Refused, warn
from caller.cli.sheets import config_folder

if TYPE_CHECKING:
    from caller.rig.pedal import Pedal
    from caller.transport.switch import Setting, Switch

FILE_NAME = "pedals.json"
FOUND_WITHIN_SECONDS = 10.0
LOOK_SECONDS = 0.01
MOST_LESSONS = 5

PRESS = "Press the pedal three times, as you will press it in class, then leave it alone."
NOT_LEARNT = "That was not three presses of one switch. Once more:"
TRY = "Try it: tap, hold, let go. Ctrl+C ends."

Say = Callable[[str], None]
Pause = Callable[[float], None]


def add(commands: Any) -> None:
    words = commands.add_parser(
        "pedal",
        help="teach the pedal, and try it",
        description="Teaches the pedal: what it sends when it is pressed, whether it springs back. Then tries it.",
    )
    words.add_argument("port", nargs="?", default="", metavar="PORT", help="a MIDI port by name, or a part of one")
    words.add_argument("--try", dest="only_try", action="store_true", help="only show what arrives and what it does")
    words.set_defaults(run=run)


def run(asked: argparse.Namespace) -> int:
    import time

    from caller.rig.pedal import kept_settings, open_pedal

    file = config_folder() / FILE_NAME
    kept, why = kept_settings(file)
    if why:
        warn(why)
    pedal = open_pedal(asked.port, settings=kept)
    with told_where():
        try:
            lesson(pedal, file, not asked.only_try, _say, time.perf_counter, time.sleep)
        except KeyboardInterrupt:
            print()
        finally:
            pedal.close()
    return 0


def lesson(
    pedal: Pedal, file: Path, teach: bool, say: Say, now: Callable[[], float], pause: Pause, tries: float = float("inf")
) -> None:
    """Finds the pedal, learns it (teach) and keeps that in ``file``, then shows what it does for ``tries`` seconds.
    Raises Refused where there is none, or it can't be learnt or kept."""
    found(pedal, now, pause)
    say(f"The pedal is {pedal.says}.")
    if teach:
        keep(file, pedal, learn(pedal, say, now, pause))
        say(f"Kept in {file}.")
    say(TRY)
    for gesture in tried(pedal, now, pause, tries):
        say(gesture)


def found(pedal: Pedal, now: Callable[[], float], pause: Pause) -> None:
    """Waits for a port. Raises Refused."""
    ends = now() + FOUND_WITHIN_SECONDS
    while not pedal.name:
        pedal.messages(now())
        if now() > ends:
            raise Refused(f"no pedal to teach: {pedal.says}", 1)
        pause(LOOK_SECONDS)


def learn(pedal: Pedal, say: Say, now: Callable[[], float], pause: Pause) -> Setting:
    """What three presses tell; from then on the pedal is heard by it. Raises Refused after MOST_LESSONS."""
    from caller.transport.learn import learnt

    say(PRESS)
    for _ in range(MOST_LESSONS):
        setting = learnt(_lesson(pedal, say, now, pause))
        if setting is not None:
            pedal.learn(setting)
            say(f"Learnt: {setting_words(setting)}.")
            return setting
        say(f"{NOT_LEARNT} {PRESS}")
    raise Refused("the pedal was not learnt: see with 'caller pedal --try' what it sends", 1)


def _lesson(pedal: Pedal, say: Say, now: Callable[[], float], pause: Pause) -> Any:
    from caller.transport.learn import Lesson
    from caller.transport.switch import edge_of

    lesson = Lesson()
    while not lesson.over(now()):
        for message, came in pedal.messages(now()):
            edge = edge_of(message)
            if edge is not None:
                say(f"  {switch_words(edge.switch)}, {'on' if edge.down else 'off'}")
            lesson = lesson.after(message, came)
        pause(LOOK_SECONDS)
    return lesson


def keep(file: Path, pedal: Pedal, setting: Setting) -> None:
    """Beside what is kept of other pedals. Raises Refused where it can't be written."""
    from caller.rig.pedal import keep_settings, kept_settings

    kept, _ = kept_settings(file)
    try:
        keep_settings(file, {**kept, pedal.name: setting})
    except OSError as fault:
        raise Refused(f"what was learnt can't be kept ({file}: {fault.strerror or fault})", 1) from fault


def tried(pedal: Pedal, now: Callable[[], float], pause: Pause, seconds: float) -> Iterator[str]:
    """What each gesture does, as it is made; and how the pedal is, when that changes."""
    from caller.transport.order import ORDERS

    says, ends = pedal.says, now() + seconds
    titles = {entry.gesture: entry.title for entry in ORDERS if entry.gesture is not None}
    while now() < ends:
        for gesture in pedal.poll(now()):
            yield f"  {gesture.value}: {titles[gesture]}"
        if pedal.says != says:
            says = pedal.says
            yield f"The pedal: {says}."
        pause(LOOK_SECONDS)


def switch_words(switch: Switch) -> str:
    """ "controller 64", "any note"."""
    name = {"control": "controller"}.get(switch.kind.value, switch.kind.value)
    return f"any {name}" if switch.number is None else f"{name} {switch.number}"


def setting_words(setting: Setting) -> str:
    """ "controller 64, springs back", "note 60, stays on until the next press"."""
    words = [" or ".join(map(switch_words, setting.switches))]
    if setting.latching is not None:
        words.append("stays on until the next press" if setting.latching else "springs back")
    if setting.inverted:
        words.append("sends off when it is pressed")
    return ", ".join(words)


def _say(sentence: str) -> None:
    print(sentence, file=sys.stdout, flush=True)
