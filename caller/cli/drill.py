"""``caller drill``: live, a section, some sections or an event over and over."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from caller.cli import amounts
from caller.cli.options import runs
from caller.cli.running import MANNERS, dance_of, tempo_of
from caller.cli.say import Refused
from caller.cli.walkthrough import PreparedLesson, ProgrammeOptions, add_programme_words, run_programme
from caller.outside import numbers

if TYPE_CHECKING:
    from caller.dance.walls import Dance

EVENTS = ("tag", "restart", "change", "ending")


def counts(text: str) -> tuple[int, int]:
    """Two counts, for the command line: "5-12"."""
    first, dash, last = text.partition("-")
    try:
        return numbers.whole(first, 1, 9999), numbers.whole(last if dash else "", 1, 9999)
    except numbers.NotInRange as fault:
        raise argparse.ArgumentTypeError(f"two counts such as 5-12, not {numbers.shown(text)}") from fault


@dataclass(frozen=True, kw_only=True)
class DrillOptions(ProgrammeOptions):
    """A section, some or an event. part: of a phrased routine. speed, creep, up_to: shares of the full tempo."""

    section: int | None
    to: int | None
    part: str
    event: str | None
    counts: tuple[int, int] | None
    wall: int | None
    speed: Fraction | None
    creep: Fraction
    up_to: Fraction
    times: int
    manner: str | None


def add(commands: Any) -> None:
    words = commands.add_parser(
        "drill",
        help="live: sections, counts, a tag or a restart, over and over",
        description="Goes over a section again and again, with a counted bar between, quicker each time if you like.",
    )
    add_programme_words(words)
    words.add_argument("--section", type=amounts.whole(1, 999), metavar="N", help="drill this section")
    words.add_argument("--to", type=amounts.whole(1, 999), metavar="M", help="drill up to this section")
    words.add_argument(
        "--part", default="", metavar="P", help="the part that the sections are of, in a phrased routine"
    )
    words.add_argument(
        "--event", choices=EVENTS, help="drill a tag, restart, change or ending, from the section before it"
    )
    words.add_argument("--counts", type=counts, metavar="A-B", help="drill these counts of a wall, both included")
    words.add_argument(
        "--wall", type=amounts.whole(1, 999), metavar="W", help="the wall that --event and --counts are in"
    )
    words.add_argument(
        "--speed",
        type=amounts.per_cent(10, 200),
        metavar="S",
        help="the share of the full tempo to begin at (default: 50%%, or as slow as its steps can be danced)",
    )
    words.add_argument(
        "--creep",
        type=amounts.per_cent(0, 50),
        default=Fraction(0),
        metavar="C",
        help="how much quicker after each clean time",
    )
    words.add_argument(
        "--up-to",
        type=amounts.per_cent(10, 200),
        default=Fraction(1),
        metavar="S",
        help="no quicker than this share (default: 100%%)",
    )
    words.add_argument(
        "--on-tap",
        action="store_true",
        help="get quicker on a tap of the pedal instead; a short hold then starts and stops",
    )
    words.add_argument(
        "--times", type=amounts.whole(0, 99), default=0, metavar="K", help="how often (default: 0, until you move on)"
    )
    words.add_argument(
        "--manner",
        choices=MANNERS,
        default="ahead",
        metavar="M",
        help=f"how calls are made: {', '.join(MANNERS)} (default: ahead)",
    )
    runs(words, DrillOptions, run)


def run(asked: DrillOptions) -> int:
    if sum(asked_for is not None for asked_for in (asked.section, asked.event, asked.counts)) != 1:
        raise Refused("say what to drill: --section N, --event tag (restart, change, ending), or --counts 5-12")
    return run_programme(lay, asked)


def lay(asked: DrillOptions) -> PreparedLesson:
    """The drill that the command line asks for. Raises Refused."""
    from caller.calls.plan import Manner
    from caller.cli.sheets import danceable
    from caller.teaching.dosage import slow_speed_between
    from caller.teaching.drill import NotThere, drill_of

    sheet = danceable(asked.sheet, asked.as_it_stands)
    dance = dance_of(sheet, asked.walls)
    try:
        span, name = _span(dance, asked)
    except NotThere as fault:
        raise Refused(f"{sheet.title!r}: {fault}") from fault
    tempo = tempo_of(sheet, asked.tempo)
    programme = drill_of(
        dance,
        span,
        name,
        tempo=tempo,
        speed=asked.speed or slow_speed_between(dance, *span, tempo),
        times=asked.times,
        creep=asked.creep,
        up_to=asked.up_to,
        on_tap=asked.on_tap,
        manner=Manner(asked.manner),
        goes_back=asked.event is not None,
    )
    return PreparedLesson(sheet, dance, programme)


def _span(dance: Dance, asked: DrillOptions) -> tuple[tuple[Fraction, Fraction], str]:
    from caller.teaching.drill import counts_span, event_drill_span, find_event, section_span

    if asked.counts is not None:
        return counts_span(dance, asked.wall or 1, *asked.counts), "Counts {} to {}".format(*asked.counts)
    if asked.event is not None:
        return event_drill_span(dance, *find_event(dance, asked.event, asked.wall))
    assert asked.section is not None, "one of the three is asked for"
    part = f"Part {asked.part} section" if asked.part else "Section"
    last = asked.to or asked.section
    name = f"{part} {asked.section}" if last == asked.section else f"{part}s {asked.section} to {last}"
    return section_span(dance, asked.section, last, asked.part), name
