"""``caller evening``: a class's evening planned, shown, and run from its first item to its last."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from caller.cli import amounts
from caller.cli.evening_laid import items_of, lay
from caller.cli.evening_live import open_evening
from caller.cli.evening_open import open_document, open_ones, open_words
from caller.cli.evening_plan import LEAST_MINUTES, MOST_MINUTES, USUAL_MINUTES, planned, save, titles_known
from caller.cli.files import add_over_word, output
from caller.cli.live import LiveOptions, add_live_words, run_live
from caller.cli.options import runs
from caller.cli.running import add_above_word, add_as_it_stands
from caller.cli.say import print_json, warn
from caller.cli.walkthrough import LEVEL_NAMES, add_wait_word

if TYPE_CHECKING:
    from caller.cli.evening_place import PlaceKeeping


@dataclass(frozen=True, kw_only=True)
class EveningOptions(LiveOptions):
    """file: of a plan. new: the dance to teach. starts, closes: minutes since midnight; minutes: from its start; each
    None where not said."""

    file: str | None
    as_it_stands: bool
    starts: int | None
    closes: int | None
    minutes: int | None
    new: str | None
    level: str | None
    list: bool
    json: bool
    save: str | None
    afresh: bool
    wait: str
    voice: str
    above: float
    over: bool


def time_of_day(text: str) -> int:
    """ "19:05", for the command line: minutes since midnight."""
    from caller.evening.written import minutes_of

    try:
        return minutes_of(text)
    except ValueError as fault:
        raise argparse.ArgumentTypeError(str(fault)) from fault


def add(commands: Any) -> None:
    words = commands.add_parser(
        "evening",
        help="live: a whole class evening, planned from the class book and run from one pedal",
        description="Revision, the new dance, a break and requests, planned within the hall's hours from what the "
        "class book says and what the programmes take, and run from the first item to the last. A class that knows no "
        "dance begins with the lesson that was half taught, or the easiest. A short evening warms up too: its lesson "
        "has the minutes that are left, ten at least or half of it. An evening that was cut short goes on where it "
        "was.",
    )
    words.add_argument("file", metavar="FILE", nargs="?", help="a plan as saved and edited (else one is made)")
    add_as_it_stands(words)
    words.add_argument(
        "--starts", type=time_of_day, metavar="TIME", help="when it starts, such as 19:00 (else in two minutes)"
    )
    until = words.add_mutually_exclusive_group()
    until.add_argument(
        "--closes", type=time_of_day, metavar="TIME", help=f"when the hall closes (else after {USUAL_MINUTES} minutes)"
    )
    minutes = amounts.whole(LEAST_MINUTES, MOST_MINUTES)
    until.add_argument("--minutes", type=minutes, metavar="N", help="how many minutes it has, such as 75")
    words.add_argument(
        "--new", metavar="SHEET", help="the dance to teach (else what was left half taught, or a new one)"
    )
    words.add_argument("--level", choices=LEVEL_NAMES, help="of the class, for the lesson (else as the sheet says)")
    words.add_argument("--list", action="store_true", help="only show the plan")
    words.add_argument("--json", action="store_true", help="only the plan, as one JSON document")
    words.add_argument("--save", metavar="FILE", help="write the plan to a file (.toml) to edit")
    words.add_argument("--afresh", action="store_true", help="a new evening, though one was cut short")
    add_wait_word(words)
    words.add_argument("--voice", default="", metavar="V", help="a voice that 'caller voices' lists (else as set)")
    add_above_word(words)
    add_over_word(words)
    add_live_words(words)
    runs(words, EveningOptions, run)


def run(asked: EveningOptions) -> int:
    if not (asked.list or asked.json or asked.save):
        return _run_live(asked)
    there = open_ones(asked, datetime.now())
    plan = planned(asked, items := items_of(asked))
    requests = items.requests(titles_known(plan.class_name))
    if asked.save:
        told = save(plan, output(asked.save, (asked.file,)), asked.over)
        if not asked.json:
            print(told)
    if asked.json:
        from caller.evening.written import plan_document

        print_json({**plan_document(plan, requests), "open": [open_document(place) for place in there]})
    else:
        for place in there:
            warn(open_words(place))
    if asked.list:
        from caller.evening.plan import plan_lines, requests_line

        print(*plan_lines(plan), sep="\n")
        if requests and any(item.open for item in plan.items):
            print(requests_line(requests))
    return 0


def _run_live(asked: EveningOptions) -> int:
    """Until it is left; then, where that is before its end, how to go on."""
    kept: list[PlaceKeeping] = []
    status = run_live(lambda settings, begun: open_evening(lay(asked), asked, settings, begun, kept.append), asked)
    for keeping in kept:
        keeping.close()
        if (place := keeping.left) is not None:
            print(f"Left before its end: {open_words(place)}.")
    return status
