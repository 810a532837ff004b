"""``caller pedal``: teach the pedal, and try it.

Conventions: the loop looks, says and waits; time and waiting are handed in. What was learnt is kept in the config
folder under the port's stable name, so that the pedal is known again whatever number it comes back under.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caller.cli import amounts
from caller.cli.leaving import told_where
from caller.cli.live import PEDALS, learnt_pedals
from caller.cli.options import runs
from caller.cli.say import Refused, warn
from caller.cli.sheets import config_folder
from caller.storage.locks import alone
from caller.storage.whole import own_folder, set_aside

if TYPE_CHECKING:
    from caller.rig.pedal import MidiPedal
    from caller.rig.settings import Settings
    from caller.transport.expression import Expression, Lean
    from caller.transport.footing import Footing
    from caller.transport.learn import Learnt, Lesson
    from caller.transport.switch import Setting, Switch
    from caller.transport.unit import Stroke, Unit

# Somebody at the keyboard may still be looking for the cable; where nobody is, nothing is waited for.
WAITS_SECONDS, UNATTENDED_SECONDS = 60.0, 2.0
SKIP_SECONDS = 10.0
LOOK_SECONDS = 0.01
MOST_LESSONS = 5

PRESS = (
    "Press the pedal three times, as you will press it in class, then leave it alone. "
    "An expression pedal: rock it three times, and leave the toe down."
)
_ELSE = f"If there is none, leave it alone for {SKIP_SECONDS:g} seconds."
MORE = f"Is there another pedal on this unit? Press it three times, or rock it, in the same way. {_ELSE}"
MORE_SWITCH = f"Is there another switch on this unit? Press it three times. {_ELSE}"
MORE_ROCKED = f"Is there an expression pedal too? Rock it three times, and leave the toe down. {_ELSE}"
NOT_LEARNT = "That was not three presses of one switch. Once more:"
KNOWN = "That one is known already."
TRY = "Try it: tap, tap twice, hold, hold longer, let go. Ctrl+C ends."

# What a message is called: MIDI 1.0 Detailed Specification, Tables 1 and 3.
_MESSAGES = {0x80: "note {} off", 0x90: "note {}: {}", 0xA0: "pressure on note {}: {}", 0xB0: "controller {}: {}"}
_MESSAGES |= {0xC0: "program {}", 0xD0: "pressure: {}", 0xE0: "pitch bend: {} {}"}
_CONTROLLERS = {1: "modulation", 4: "foot controller", 7: "volume", 11: "expression", 64: "sustain", 66: "sostenuto"}
_CONTROLLERS |= {67: "soft pedal"}

Say = Callable[[str], None]
Pause = Callable[[float], None]


@dataclass(frozen=True, kw_only=True)
class PedalOptions:
    """limits: of an expression pedal, per cent of the full tempo, heel down and toe down."""

    port: str
    only_try: bool
    limits: tuple[int, int] | None


def add(commands: Any) -> None:
    words = commands.add_parser(
        "pedal",
        help="teach the caller your pedal, and try it",
        description="Learns what your pedal sends when it is pressed, and whether it springs back; then you try it.",
    )
    words.add_argument("port", nargs="?", default="", metavar="PORT", help="a MIDI port by name, or a part of one")
    words.add_argument("--try", dest="only_try", action="store_true", help="only show what arrives and what it orders")
    words.add_argument(
        "--limits",
        nargs=2,
        type=amounts.whole(1, 400),
        metavar=("HEEL", "TOE"),
        help="set the range of an expression pedal, in %% of the full tempo: heel down, toe down",
    )
    runs(words, PedalOptions, run)


def run(asked: PedalOptions) -> int:
    import time

    from caller.rig.pedal import open_pedal
    from caller.rig.settings import read_settings, settings_file
    from caller.transport.footing import FOR_A_DANCE, FOR_A_LESSON

    settings, told = read_settings(settings_file())
    for sentence in told:
        warn(sentence)
    if asked.limits is not None:
        return keep_limits(settings_file(), settings, *asked.limits)
    dance, lesson = (usual.changed(settings.gestures, settings.second) for usual in (FOR_A_DANCE, FOR_A_LESSON))
    wish = asked.port or ("" if settings.port == "none" else settings.port)
    pedal = open_pedal(wish, settings=learnt_pedals(), limits=settings.limits)
    waits = WAITS_SECONDS if sys.stdin.isatty() else UNATTENDED_SECONDS
    with told_where():
        try:
            found(pedal, _say, time.perf_counter, time.sleep, waits)
            if not asked.only_try:
                teach(pedal, config_folder() / PEDALS, _say, time.perf_counter, time.sleep)
            _say(TRY)
            for line in tried(pedal, dance, lesson, time.perf_counter, time.sleep):
                _say(line)
        except KeyboardInterrupt:
            print()
        finally:
            pedal.close()
    return 0


def keep_limits(file: Path, settings: Settings, heel: int, toe: int) -> int:
    """Of an expression pedal. Raises Refused for what it can't have, or where they can't be written."""
    from dataclasses import replace

    from caller.rig.settings import write_settings
    from caller.transport.expression import Limits

    try:
        write_settings(file, replace(settings, limits=Limits(heel, toe)), settings)
    except ValueError as fault:
        raise Refused(f"--limits: {fault}") from fault
    except OSError as fault:
        raise Refused(f"the limits can't be kept ({file}: {fault.strerror or fault})", 1) from fault
    _say(f"An expression pedal goes from {heel} % of the full tempo, heel down, to {toe} %, toe down. Kept in {file}.")
    return 0


def found(pedal: MidiPedal, say: Say, now: Callable[[], float], pause: Pause, waits: float) -> None:
    """Says at once how the pedal is, and waits so many seconds for one to be plugged in. Raises Refused."""
    ends, said = now() + waits, ""
    while not pedal.name:
        pedal.messages(now())
        if not pedal.name and (pedal.gone_for_good or now() > ends):
            raise Refused(f"no pedal to teach: {pedal.says}", 1)
        if pedal.says != said:
            said = pedal.says
            say(f"The pedal: {said}." + ("" if pedal.name else f" Plugged in within {waits:g} seconds, it is found."))
        pause(LOOK_SECONDS)


def teach(pedal: MidiPedal, file: Path, say: Say, now: Callable[[], float], pause: Pause) -> Unit:
    """Learns the unit part by part, and keeps each beside what is kept of other pedals; from then on the pedal is heard
    by it. Raises Refused where nothing is learnt of it in MOST_LESSONS, or it can't be kept."""
    from caller.transport.learn import Learnt

    so_far, prompt, tries = Learnt(), PRESS, 0
    while not so_far.whole and tries < MOST_LESSONS:
        say(prompt)
        lesson = _lesson(pedal, say, now, pause, float("inf") if so_far == Learnt() else SKIP_SECONDS)
        if lesson.last is None:
            break
        after = _with(so_far, lesson, say)
        if after is None:
            tries += 1
            continue
        so_far, prompt, tries = after, _asks(after), 0
        pedal.learn(so_far.unit)
        keep(file, pedal.name, so_far.unit)
        say(f"Kept in {file}.")
    if so_far == Learnt():
        raise Refused("the pedal was not learnt: see with 'caller pedal --try' what it sends", 1)
    return so_far.unit


def _asks(so_far: Learnt) -> str:
    """For what isn't known of the unit yet."""
    if so_far.expression is not None:
        return MORE_SWITCH
    return MORE if so_far.second is None else MORE_ROCKED


def _with(so_far: Learnt, lesson: Lesson, say: Say) -> Learnt | None:
    """With what an ended lesson tells; None where that is nothing new, which is said."""
    from caller.transport.learn import learnt

    part = learnt(lesson)
    if part is None:
        say(NOT_LEARNT)
        return None
    after = so_far.with_part(part)
    say(KNOWN if after is None else f"Learnt: {part_words(part)}.")
    return after


def _lesson(pedal: MidiPedal, say: Say, now: Callable[[], float], pause: Pause, skip_seconds: float) -> Lesson:
    """Until the pedal has been used and left alone, or not been touched for so long."""
    from caller.transport.learn import Lesson

    lesson, began = Lesson(), now()
    while not lesson.over(now()) and (lesson.last is not None or now() - began < skip_seconds):
        for message, came in pedal.messages(now()):
            say(f"  {message_words(message)}")
            lesson = lesson.after(message, came)
        pause(LOOK_SECONDS)
    return lesson


def keep(file: Path, name: str, unit: Unit) -> None:
    """Beside what is kept of other pedals. Raises Refused where it can't be written."""
    from caller.rig.pedal import keep_settings, kept_settings

    try:
        own_folder(file.parent)
        with alone(file):
            kept, damaged = kept_settings(file)
            if damaged:
                warn(f"what was there is set aside as {set_aside(file)}")
            keep_settings(file, {**kept, name: unit})
    except OSError as fault:
        raise Refused(f"what was learnt can't be kept ({file}: {fault.strerror or fault})", 1) from fault


def tried(
    pedal: MidiPedal,
    dance: Footing,
    lesson: Footing,
    now: Callable[[], float],
    pause: Pause,
    seconds: float = float("inf"),
) -> Iterator[str]:
    """What arrives, what was done with that, and what it orders; and how the pedal is, when that changes."""
    says, ends = pedal.says, now() + seconds
    while now() < ends:
        made = pedal.poll(now())
        for message, _ in pedal.arrived:
            yield f"  {message_words(message)}"
        for done in made:
            yield f"    {done_words(done, dance, lesson)}"
        if pedal.says != says:
            says = pedal.says
            yield f"The pedal: {says}."
        pause(LOOK_SECONDS)


def done_words(done: Stroke | Lean, dance: Footing, lesson: Footing) -> str:
    """ "tap: Start, pause, go on", "release: Up to speed; in a lesson: Slower", "76 % of the full tempo"."""
    from caller.transport.context import OrderContext
    from caller.transport.expression import Lean
    from caller.transport.respond import respond
    from caller.transport.state import State
    from caller.transport.unit import Which

    if isinstance(done, Lean):
        return f"{int(done.share * 100)} % of the full tempo"
    there, here = (
        ", ".join(respond(OrderContext(State.RUNNING, taught), one).title for one in footing.orders(done)) or "nothing"
        for footing, taught in ((dance, False), (lesson, True))
    )
    which = "second pedal, " if done.pedal is Which.SECOND else ""
    return f"{which}{done.gesture.value}: {there}" + (f"; in a lesson: {here}" if here != there else "")


def message_words(message: bytes) -> str:
    """ "controller 64 (sustain): 127", "note 60: 100", "program 5"; what pedals don't send, in figures."""
    status, values = message[0] & 0xF0 if message else 0, [*message[1:], 0, 0]
    if status not in _MESSAGES:
        return f"something else: {message.hex(' ')}"
    words = _MESSAGES[status].format(*values)
    name = _CONTROLLERS.get(values[0]) if status == 0xB0 else None
    return words.replace(":", f" ({name}):") if name else words


def switch_words(switch: Switch) -> str:
    """ "controller 64", "any note"."""
    name = {"control": "controller"}.get(switch.kind.value, switch.kind.value)
    return f"any {name}" if switch.number is None else f"{name} {switch.number}"


def part_words(part: Setting | Expression) -> str:
    """ "controller 64, springs back", "note 60, stays on until the next press", "an expression pedal, controller 11,
    heel 0, toe 127"."""
    from caller.transport.expression import Expression

    if isinstance(part, Expression):
        return f"an expression pedal, controller {part.number}, heel {part.heel}, toe {part.toe}"
    words = [" or ".join(map(switch_words, part.switches))]
    if part.latching is not None:
        words.append("stays on until the next press" if part.latching else "springs back")
    if part.inverted:
        words.append("sends off when it is pressed")
    return ", ".join(words)


def _say(sentence: str) -> None:
    print(sentence, file=sys.stdout, flush=True)
